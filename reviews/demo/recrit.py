"""Let one scheme of the demo show again: a small panel, a hazard closed, one answer still owed."""

from __future__ import annotations

from datetime import time
from uuid import NAMESPACE_URL, uuid5

from reviews.deeds.crit_jury_keeping import (
    CommentSent,
    keep_comment,
    keep_impression,
    keep_level,
    lock_sheet,
)
from reviews.deeds.crit_releasing import release_crit
from reviews.deeds.recrit_closing import Decided, decide_comments, keep_second_look
from reviews.deeds.recrit_scoping import lay_out, seen_of
from reviews.demo.crits import set_times
from reviews.demo.scenario import HUT, Calendar, StudioStory, email_of
from reviews.demo.studios import leader
from reviews.models import (
    Answer,
    Closing,
    Comment,
    Crit,
    JurySheet,
    Seat,
    SecondLook,
    Studio,
    Verdict,
)
from reviews.places import Place
from reviews.reading.recrit_scope import shown_comments

NUMBER = "H07"
DAY = (2026, 11, 12)
CAP = 3
PANEL = {"Odell Brannick": (3, "in-house"), "Marek Ostrey": (4, "industry")}
"""One who judged it at the interim and one who didn't: what each gave, and the kind of juror."""

VERDICT_WORDS = "Show the second way out and four in the morning, and the numbers behind both."
RELEASE_WORDS = "You showed what was asked and nothing else, and the second way out is there."
CLOSED_WORDS = "Both places have two ways. Seen on the drawing of the stair, sheet 03."
OPEN_WORDS = "The loft at four in the morning is still to be drawn; bring it to the final."
KEPT = "The gable door gives the loft a view as well as a way out. Keep both."


def show_again(studio: Studio, story: StudioStory, calendar: Calendar) -> None:
    """Hold the re-crit of the running studio's interim, and release it."""
    if story is not HUT:
        return
    interim = studio.crits.get(kind=Crit.Kind.INTERIM)
    scheme = studio.schemes.get(number=NUMBER)
    if not Verdict.objects.standing().filter(crit=interim, scheme=scheme).exists():
        Verdict.objects.create(
            crit=interim,
            scheme=scheme,
            kind=Verdict.Kind.AGAIN,
            criteria=["I3", "I4"],
            words=VERDICT_WORDS,
            by=leader(),
            at=calendar.working(*story.interim_released),
        )
    crit = Crit.objects.create(
        studio=studio,
        kind=Crit.Kind.RECRIT,
        day=calendar.day(*DAY),
        pens_down=calendar.at(2026, 11, 11, "18:00"),
        follows=interim,
        level_cap=CAP,
    )
    lay_out(crit, {scheme.pk}, seen_of(crit), leader(), first_at=time(10))
    at = calendar.at(*DAY, "10:12")
    settled = {each.pk: _is_settled(each) for each in shown_comments(crit, scheme.pk)}
    for name, (level, kind) in PANEL.items():
        seat = Seat.objects.create(crit=crit, name=name, kind=kind, email=email_of(name))
        keep_impression(seat, scheme, level, 0)
        for criterion in crit.criteria.all():
            keep_level(seat, scheme, criterion, level, 0)
        for pk, is_closed in settled.items():
            keep_second_look(seat, scheme, pk, is_closed, 0)
        if kind == "in-house":
            key = uuid5(NAMESPACE_URL, f"{NUMBER} shown again")
            keep_comment(seat, scheme, key, CommentSent("Keep", Place(), None, KEPT), 0)
        lock_sheet(seat, scheme)
    set_times(crit, at)
    SecondLook.objects.filter(jury_sheet__in=JurySheet.objects.filter(seat__crit=crit)).update(
        kept_at=at
    )
    decided = {
        pk: Decided(is_closed, CLOSED_WORDS if is_closed else OPEN_WORDS)
        for pk, is_closed in settled.items()
    }
    decide_comments(crit, scheme, decided, leader())
    Closing.objects.filter(crit=crit).update(at=calendar.at(*DAY, "11:00"))
    Verdict.objects.create(
        crit=crit,
        scheme=scheme,
        kind=Verdict.Kind.CORRECTIONS,
        words=OPEN_WORDS,
        by=leader(),
        at=calendar.at(*DAY, "11:05"),
    )
    release_crit(crit, leader(), RELEASE_WORDS, at=calendar.working(2026, 11, 13, "10:00"))


def _is_settled(comment: Comment) -> bool:
    """Whether its answer took it up whole: that closes it in the story."""
    answer = Answer.objects.filter(comment=comment).first()
    return answer is not None and answer.kind == Answer.Kind.TAKEN_UP
