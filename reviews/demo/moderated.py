"""What the demo's leader made of comments before each release: other words, pairs with rulings."""

from __future__ import annotations

from datetime import datetime, timedelta

from reviews.deeds.comment_rewording import answer_offer, offer_rewording
from reviews.deeds.comment_ruling import RulingSent, pair_comments, rule_pair
from reviews.deeds.crit_moderating import hold_comment
from reviews.demo.day import comment_key
from reviews.demo.studios import leader
from reviews.demo.tables import read_csv
from reviews.models import Comment, Crit, Rewording

REWORDED_NO = "16"
HELD_REASON = "It is about the student and not about the sheet."

RULINGS = {
    ("3", "8"): "Your decision. Argue it with the fog-day approach drawn.",
    ("26", "27"): "The hazard stands whatever one feels about the idea.",
}
"""By the numbers of two comments that oppose each other."""

BEFORE = timedelta(hours=20)
"""How long before a release its leader decided."""


def words_of(row: dict[str, str]) -> str:
    """A comment's own words as its juror wrote them; none of a stub."""
    words = row["words"]
    if row["no"] == REWORDED_NO:
        return words.split('"')[1]
    return "" if words.startswith("(stub") else words


def moderate(crit: Crit, released_at: datetime) -> None:
    """Hold what was held, have it reworded, and rule on what opposes, before a release."""
    at = released_at - BEFORE
    comments = {
        number: comment
        for row in read_csv("comments")
        if (number := row["no"])
        and (comment := Comment.objects.filter(key=comment_key(number)).first())
        and comment.jury_sheet.seat.crit_id == crit.pk
    }
    if comment := comments.get(REWORDED_NO):
        _reword(comment, at)
    for (one, other), ruling in RULINGS.items():
        if one in comments and other in comments:
            both = [comments[one], comments[other]]
            pair = pair_comments(crit, both[0].jury_sheet.scheme, both, leader(), at=at)
            rule_pair(pair, leader(), RulingSent(ruling), seen=pair.version, at=at)


def _reword(comment: Comment, at: datetime) -> None:
    row = next(row for row in read_csv("comments") if row["no"] == REWORDED_NO)
    held = hold_comment(comment, leader(), HELD_REASON, at=at)
    offer = offer_rewording(held, leader(), row["words"].rsplit('"', 2)[1], at=at)
    answer_offer(offer, Rewording.Reply.TAKEN, at=at + timedelta(hours=3))
