"""What follows the demo's releases: comments closed, a talk written down, an appeal decided."""

from __future__ import annotations

from datetime import datetime, timedelta
from uuid import NAMESPACE_URL, UUID, uuid5

from reviews.deeds.comment_closing import close_comments
from reviews.deeds.conversation_keeping import TalkSent, keep_conversation
from reviews.deeds.crit_appealing import Decision, add_words, decide, decision_seen, make_appeal
from reviews.demo.day import comment_key
from reviews.demo.studios import leader
from reviews.demo.tables import read_csv
from reviews.models import Appeal, Comment, Crit, Person, Studio

CLOSED_WORDS = {
    "5": "Agreed: the borrowed light is drawn, and the reason holds.",
    "24": "Agreed: nobody counts barnacles after three in November.",
    "26": "The statement on sheet 01 names who may not stay. The hazard is answered.",
}
"""What the leader wrote to comments that aren't closed without a word."""

GROUNDS = (
    "Three jurors set levels on our scheme, and four on every other. We were told of it when the "
    "levels came. We ask that the making be read again with that in mind."
)
ADDED = (
    "The interest was declared before the order was drawn, and the panel check showed three. "
    "Three is the least that this studio releases."
)
REASONS = (
    "The interest was declared as the rules ask, before the order was drawn; three jurors read the "
    "making, and their levels stand. That the panel was short should have been said on the day: "
    "from the next crit on the running order names it."
)


def follow_up(studio: Studio) -> None:
    """Let a studio's leader close what the scenario has closed, and what followed one release."""
    _close(studio)
    crit = studio.crits.released().filter(kind=Crit.Kind.FINAL).first()
    if crit is None or crit.released_at is None:
        return
    _talk(crit, "E13", crit.released_at + timedelta(days=2, hours=5))
    _appeal(crit, "E05", crit.released_at + timedelta(days=3))


def _close(studio: Studio) -> None:
    for row in read_csv("answers"):
        if not row["result"].startswith("closed") or row["result"].endswith("re-crit"):
            continue
        of = Comment.objects.filter(jury_sheet__scheme__studio=studio)
        comment = of.filter(key=comment_key(row["comment"])).select_related("answer").first()
        if comment is None:
            continue
        crit, answer = comment.jury_sheet.seat.crit, comment.answer
        words = CLOSED_WORDS.get(row["comment"], "")
        at = answer.answered_at + timedelta(days=3)
        close_comments(crit, leader(), {comment.pk: answer.version}, words, at=at)


def _key(what: str) -> UUID:
    return uuid5(NAMESPACE_URL, f"muntin-demo-{what}")


def _talk(crit: Crit, number: str, at: datetime) -> None:
    """A student asks to talk, and both write down what was said."""
    scheme = crit.studio.schemes.get(number=number)
    student = scheme.members.all()[0]
    ask = TalkSent("No plan at 1:50 was handed in, and I would like to say why, and what now.")
    keep_conversation(crit, scheme, _key(f"{number} asks"), ask, student, at=at)
    later, day = at + timedelta(days=1), (at + timedelta(days=1)).date()
    told = "The plotter stood still at four. I had the plan at 1:100 and thought it would do."
    own = TalkSent(told, day, 15, "The plan at 1:50 by the end of the month.")
    keep_conversation(crit, scheme, _key(f"{number} own"), own, student, at=later)
    said = "The furniture was never in doubt; nobody could see it. First a plan at 1:50."
    theirs = TalkSent(said, day, 15)
    hour = later + timedelta(hours=1)
    keep_conversation(crit, scheme, _key(f"{number} leader"), theirs, leader(), at=hour)


def _appeal(crit: Crit, number: str, at: datetime) -> None:
    """A student appeals, the leader adds to it, a coordinator decides."""
    scheme = crit.studio.schemes.get(number=number)
    student = scheme.members.all()[0]
    ground = Appeal.Ground.PROCEDURE
    appeal = make_appeal(crit, scheme, student, _key(f"{number} appeal"), ground, GROUNDS, at=at)
    add_words(appeal, leader(), ADDED, at=at + timedelta(days=1))
    by = Person.objects.filter(is_coordinator=True).order_by("pk")[0]
    decision = Decision(Appeal.Outcome.PART, REASONS)
    decide(appeal, by, decision, decision_seen(appeal), at=at + timedelta(days=7))
