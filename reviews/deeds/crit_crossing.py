"""Let a juror sit in another room for one slot, or be away from the own one; kept and taken back.

What a juror has begun stays theirs: nobody is sent away from a sheet that has an entry.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import NamedTuple

from django.db import transaction

from reviews import clock
from reviews.models import Crit, Crossing, Person, Seat, Slot
from reviews.models.briefs import Frozen


class Move(NamedTuple):
    """One juror and one slot: they come to its room, or are away from it."""

    seat: Seat
    slot: Slot
    comes: bool


@transaction.atomic
def keep_crossings(
    crit: Crit, moves: Iterable[Move], by: Person, reason: str = ""
) -> list[Crossing]:
    """Keep crossings, all or none; what stands already stays, its contrary is taken back.

    Raises Frozen where the crit is released, or a juror has begun a sheet that they would leave.
    """
    held = _unreleased(crit.pk)
    return [_keep(held, move, by, reason) for move in moves]


def _keep(held: Crit, move: Move, by: Person, reason: str) -> Crossing:
    seat, slot = move.seat, move.slot
    assert seat.crit_id == slot.crit_id == held.pk
    stands = Crossing.objects.standing().filter(seat=seat, slot=slot).first()
    if stands and stands.comes == move.comes:
        return stands
    if not move.comes:
        _require_not_begun(seat, slot)
    if stands:
        _take_back(stands, by)
    return Crossing.objects.create(
        seat=seat, slot=slot, comes=move.comes, reason=reason.strip(), at=clock.now(), by=by
    )


@transaction.atomic
def take_back(crossing: Crossing, by: Person) -> Crossing:
    """Take a crossing back: the juror sees what their room sees; the row stays.

    Raises Frozen where the crit is released, or the juror came and has begun the sheet.
    """
    _unreleased(crossing.seat.crit_id)
    crossing.refresh_from_db()
    if crossing.taken_back_at is None:
        if crossing.comes:
            _require_not_begun(crossing.seat, crossing.slot)
        _take_back(crossing, by)
    return crossing


def replace_crossings(crit: Crit, moves: Sequence[Move], by: Person, reason: str) -> None:
    """Let a plan's crossings stand in place of those before it; inside the plan's transaction.

    Of a sheet begun, the crossing that stands stays.
    """
    asked = {(move.seat.pk, move.slot.pk, move.comes) for move in moves}
    for stands in Crossing.objects.standing().filter(seat__crit=crit).select_related("seat"):
        is_asked = (stands.seat_id, stands.slot_id, stands.comes) in asked
        if not is_asked and not _has_begun(stands.seat, stands.slot):
            _take_back(stands, by)
    for move in moves:
        if move.comes or not _has_begun(move.seat, move.slot):
            _keep(crit, move, by, reason)


def _unreleased(crit_id: int) -> Crit:
    held = Crit.objects.hold(crit_id)
    if held.is_released:
        raise Frozen("The crit is released. Who saw what stays as it was.")
    return held


def _has_begun(seat: Seat, slot: Slot) -> bool:
    return seat.sheets.filter(scheme=slot.scheme_id).exists()


def _require_not_begun(seat: Seat, slot: Slot) -> None:
    if _has_begun(seat, slot):
        raise Frozen(f"{seat} has begun the sheet of {slot.scheme}. It stays theirs.")


def _take_back(crossing: Crossing, by: Person) -> None:
    crossing.taken_back_at, crossing.taken_back_by = clock.now(), by
    crossing.save(update_fields=["taken_back_at", "taken_back_by"])
