"""Lay out a re-crit: the schemes that show again, their slots, and the criteria still open."""

from __future__ import annotations

from collections.abc import Collection
from datetime import datetime, time, timedelta

from django.db import transaction

from reviews.deeds.crit_criteria_keeping import PARTS
from reviews.deeds.crit_running_order import breaks_of, keep_order, lines_of, whole_of
from reviews.deeds.record_versions import version_of
from reviews.models import Crit, Criterion, Person
from reviews.models.briefs import Frozen
from reviews.reading.recrit_scope import scopes_of, sheet_of


def seen_of(crit: Crit) -> int:
    """The version of a re-crit's order that a page shows."""
    return version_of(whole_of(crit))


@transaction.atomic
def lay_out(
    crit: Crit,
    schemes: Collection[int],
    seen: int,
    by: Person,
    *,
    first_at: time | None = None,
) -> Crit:
    """Give each scheme a slot, in the order proposed, and copy the criteria still open.

    A scheme that has a slot keeps its place and hour. A criteria sheet that is there is added to
    and nothing of it changed; once a juror has begun it is fixed.
    Raises Newer where the order isn't as it was seen; Frozen once it is released.

    first_at   when the first begins; the others follow without a break; None sets no hour
    """
    held = Crit.objects.hold(crit.pk)
    if held.follows is None:
        raise Frozen("This re-crit follows no crit yet. Choose which, then what is shown again.")
    scopes = {each.scheme.pk: each for each in scopes_of(held)}
    there = {line["scheme"]: line for line in lines_of(held)}
    lines = [line for pk, line in there.items() if pk in schemes]
    new = [pk for pk in scopes if pk in schemes and pk not in there]
    last = max((line["position"] for line in lines), default=0)
    for n, pk in enumerate(new):
        at = _after(held, first_at, n) if first_at else None
        lines.append({"scheme": pk, "position": last + n + 1, "room": "", "starts_at": at})
    keep_order(held, lines, seen, by=by, lot=held.drawn_seed, breaks=breaks_of(held))
    _copy_criteria(held, {code for pk in schemes if pk in scopes for code in scopes[pk].open_codes})
    return held


def _after(crit: Crit, first_at: time, slots: int) -> time:
    start = datetime.combine(crit.day, first_at)
    return (start + timedelta(minutes=slots * crit.slot_parts.slot_min)).time()


def _copy_criteria(held: Crit, codes: Collection[str]) -> None:
    there = {each.code for each in held.criteria.all()}
    missing = [each for each in sheet_of(held) if each.code in codes and each.code not in there]
    if not missing:
        return
    if held.is_filed:
        raise Frozen("A juror has begun. The criteria sheet is fixed.")
    for each in missing:
        line = {name: getattr(each, name) for name in PARTS}
        Criterion.objects.create(crit=held, position=each.position, **line)
