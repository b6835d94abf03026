"""Pair comments that oppose each other and rule on them; group those that say the same.

What is said stays as it is said: a pair or group is a leader's row beside it. Until the release it
can be changed and taken back; from then on students have read it, and it stays.
"""

from __future__ import annotations

from collections.abc import Collection
from datetime import date, datetime
from typing import NamedTuple

from django.db import transaction

from reviews import clock
from reviews.deeds.audit_keeping import Deed, about, record
from reviews.models import AlikeGroup, Comment, Crit, OpposedPair, Person, Scheme
from reviews.models.briefs import Frozen
from reviews.versions import is_new

FEWEST = 2
"""Comments that a group has at least, and a pair exactly."""


class RulingSent(NamedTuple):
    """What a leader sends about a pair.

    ruling     in words; it may leave the decision to the students
    argue_by   the day until which these argue it
    """

    ruling: str = ""
    argue_by: date | None = None


def _hold(crit: Crit) -> Crit:
    crit = Crit.objects.hold(crit.pk)
    if crit.is_released:
        raise Frozen("The crit is released. Students have read how its comments stand together.")
    return crit


def _told(crit: Crit, scheme: Scheme, by: Person, what: str, at: datetime | None = None) -> None:
    record(Deed.MODERATED, crit.studio_id, by=by, about=about(crit, scheme, what), at=at)


def _still_read(crit: Crit, scheme: Scheme, comments: Collection[Comment]) -> list[Comment]:
    """The comments, held anew; Frozen where one of them isn't read any more."""
    keys = {comment.pk for comment in comments}
    read = list(Comment.objects.standing().of(crit, scheme).filter(pk__in=keys))
    if len(read) < len(keys):
        raise Frozen("A comment was left off, or its sheet opened again, since the page was made.")
    return read


@transaction.atomic
def pair_comments(
    crit: Crit,
    scheme: Scheme,
    comments: Collection[Comment],
    by: Person,
    *,
    at: datetime | None = None,
) -> OpposedPair:
    """Pair two comments of a scheme as opposed; two that are paired stay so."""
    crit = _hold(crit)
    first, second = sorted(_still_read(crit, scheme, comments), key=lambda each: each.pk)
    stands = OpposedPair.objects.standing().filter(crit=crit, first=first, second=second).first()
    if stands:
        return stands
    at = at or clock.now()
    pair = OpposedPair(crit=crit, scheme=scheme, first=first, second=second, by=by, at=at)
    pair.save()
    _told(crit, scheme, by, "two comments paired as opposed", at)
    return pair


@transaction.atomic
def rule_pair(
    pair: OpposedPair, by: Person, sent: RulingSent, seen: int, *, at: datetime | None = None
) -> OpposedPair:
    """Write what a leader rules; Newer where another leader ruled since it was seen."""
    crit = _hold(pair.crit)
    pair = OpposedPair.objects.select_for_update(of=("self",)).get(pk=pair.pk)
    if pair.taken_back_at:
        raise Frozen("The pair was taken back since the page was made.")
    now = RulingSent(pair.ruling, pair.argue_by)
    if is_new(pair, now, sent, stands_at=pair.version, seen=seen):
        pair.ruling, pair.argue_by = sent
        pair.version += 1
        pair.by, pair.at = by, at or clock.now()
        pair.save()
        _told(crit, pair.scheme, by, "a ruling on two opposed comments", pair.at)
    return pair


@transaction.atomic
def take_back_pair(pair: OpposedPair, by: Person) -> None:
    """Let two comments stand for themselves again; what was ruled stays with the row."""
    crit = _hold(pair.crit)
    pair = OpposedPair.objects.select_for_update(of=("self",)).get(pk=pair.pk)
    if pair.taken_back_at is None:
        _take_back(pair, by)
        _told(crit, pair.scheme, by, "a pair of opposed comments taken back")


@transaction.atomic
def group_alike(
    crit: Crit,
    scheme: Scheme,
    comments: Collection[Comment],
    by: Person,
    heading: str = "",
    *,
    at: datetime | None = None,
) -> AlikeGroup:
    """Group comments that say the same; whatever was grouped with one of them joins.

    What is grouped so already stays as it is, under a heading that is given anew.
    """
    crit = _hold(crit)
    read = {comment.pk for comment in _still_read(crit, scheme, comments)}
    standing = AlikeGroup.objects.standing().filter(crit=crit, scheme=scheme)
    joined = {each: {*each.comments.values_list("pk", flat=True)} for each in standing}
    met = {each: keys for each, keys in joined.items() if keys & read}
    whole = read.union(*met.values())
    heading = heading.strip() or next((each.heading for each in met if each.heading), "")
    for each, keys in met.items():
        if keys == whole and each.heading == heading:
            return each
        _take_back(each, by)
    at = at or clock.now()
    group = AlikeGroup.objects.create(crit=crit, scheme=scheme, heading=heading, by=by, at=at)
    group.comments.set(whole)
    _told(crit, scheme, by, f"{len(whole)} comments grouped as alike", at)
    return group


@transaction.atomic
def ungroup(group: AlikeGroup, by: Person) -> None:
    """Let the comments of a group stand each for itself again."""
    crit = _hold(group.crit)
    group = AlikeGroup.objects.select_for_update(of=("self",)).get(pk=group.pk)
    if group.taken_back_at is None:
        _take_back(group, by)
        _told(crit, group.scheme, by, "a group of alike comments taken apart")


def _take_back(row: OpposedPair | AlikeGroup, by: Person) -> None:
    row.taken_back_at, row.taken_back_by = clock.now(), by
    row.version += 1
    row.save(update_fields=["taken_back_at", "taken_back_by", "version"])
