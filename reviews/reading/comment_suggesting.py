"""Which comments of a scheme could be read side by side: opposed, or alike. Suggested, never said.

The place decides, or the criterion; words aren't read for it. Common practice.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from itertools import combinations

from reviews.models import Comment
from reviews.reading.comment_rulings import Rulings

Kind = Comment.Kind

MOST = 4
"""Suggestions of each sort that a page shows: the nearest first."""

AGAINST = (Kind.REWORK, Kind.HAZARD)
"""What stands against a Keep."""

Pair = tuple[Comment, Comment]


def _juror(comment: Comment) -> int:
    return comment.jury_sheet.seat_id


def _square(comment: Comment) -> tuple[int, str] | None:
    on = comment.issued_sheet_id
    return (on, comment.zone) if on and comment.zone else None


def opposed_maybe(comments: Sequence[Comment], rulings: Rulings) -> list[Pair]:
    """Pairs of two jurors, a Keep beside a Rework or a Hazard, of one square or one criterion."""
    paired = {frozenset((pair.first_id, pair.second_id)) for pair in rulings.pairs}
    near: list[Pair] = []
    far: list[Pair] = []
    for one, other in combinations(comments, 2):
        kinds = {one.kind, other.kind}
        is_against = Kind.KEEP in kinds and kinds & set(AGAINST)
        if not is_against or _juror(one) == _juror(other) or {one.pk, other.pk} in paired:
            continue
        if _square(one) and _square(one) == _square(other):
            near.append((one, other))
        elif one.criterion_id and one.criterion_id == other.criterion_id:
            far.append((one, other))
    return (near + far)[:MOST]


def alike_maybe(comments: Iterable[Comment], rulings: Rulings) -> list[list[Comment]]:
    """Comments of several jurors on one square, or of one kind and criterion on one sheet.

    What stands against each other isn't alike, and what is grouped already isn't named.
    """
    by: dict[tuple[object, ...], list[Comment]] = defaultdict(list)
    for comment in comments:
        is_against = comment.kind in AGAINST
        if square := _square(comment):
            by["square", *square, comment.kind == Kind.KEEP, is_against].append(comment)
        if comment.criterion_id and comment.issued_sheet_id and comment.kind:
            of = comment.issued_sheet_id, comment.criterion_id, comment.kind
            by["criterion", *of].append(comment)
    grouped = [set(each.seats) for each in rulings.groups]
    found: list[list[Comment]] = []
    for said in by.values():
        keys = {each.pk for each in said}
        is_new = not any(keys <= other for other in grouped)
        if is_new and len({_juror(each) for each in said}) > 1:
            grouped.append(keys)
            found.append(said)
    return found[:MOST]
