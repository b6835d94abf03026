"""Adopt a trial of a room's windows into the window schedule, as one change that can be undone."""

from __future__ import annotations

from uuid import UUID

from criteria.plans.plan import Placed, RoomPlan
from criteria.plans.trial import adopted_records
from criteria.schedules.openings import Window
from reviews.deeds.package_keeping import bring_in
from reviews.models import Change, Package, Person

WINDOWS = Window.schedule.slug


def adopt(
    package: Package, own: RoomPlan, trial: RoomPlan, by: Person, *, seen: int, key: UUID | None
) -> Change | None:
    """Write a trial down: each window of the room in a row and a place of its own.

    seen   the last change of the window schedule that whoever adopts had seen (0: none)

    Raises Newer where the schedule was changed since, Refused where it would grow too long.
    """
    rows = adopted_records(package.records().get(WINDOWS, []), own, trial)
    what = change_words(own, trial)
    return bring_in(package, WINDOWS, rows, by, is_replacing=True, seen=seen, key=key, what=what)


def change_words(own: RoomPlan, trial: RoomPlan) -> str:
    """What a trial does, for the schedule's last change: R2, trial adopted: W1 moved, W7 added."""
    was = {placed.mark: placed for placed in own.openings}
    now = {placed.mark: placed for placed in trial.openings}
    moved = [
        mark
        for mark, placed in now.items()
        if mark in was and _place_of(placed) != _place_of(was[mark])
    ]
    resized = [
        mark
        for mark, placed in now.items()
        if mark in was and _size_of(placed) != _size_of(was[mark])
    ]
    parts = [
        f"{', '.join(marks)} {word}"
        for marks, word in (
            (moved, "moved"),
            (resized, "resized"),
            ([mark for mark in now if mark not in was], "added"),
            ([mark for mark in was if mark not in now], "dropped"),
        )
        if marks
    ]
    return f"{own.mark}, trial adopted: {', '.join(parts) or 'places written down'}"


def _place_of(placed: Placed) -> tuple[object, ...]:
    return placed.face, placed.left_m, placed.sill_m


def _size_of(placed: Placed) -> tuple[float, float]:
    return placed.width_m, placed.height_m
