"""Adopt a trial of a room's windows into the window schedule, as one change that can be undone."""

from __future__ import annotations

from uuid import UUID

from criteria.plans.plan import RoomPlan
from criteria.plans.trial import adopted_records
from criteria.schedules.openings import Window
from criteria.units import System
from reviews.daylight_pages import change_words
from reviews.keeping import bring_in
from reviews.models import Change, Package, Person

WINDOWS = Window.schedule.slug


def adopt(
    package: Package, own: RoomPlan, trial: RoomPlan, by: Person, *, seen: int, key: UUID | None
) -> Change | None:
    """Write a trial down: each window of the room in a row and a place of its own.

    seen   the last change of the window schedule that whoever adopts had seen (0: none)

    Raises Newer where the schedule was changed since, Refused where it would grow too long.
    """
    records = package.records().get(WINDOWS, [])
    return bring_in(
        package, WINDOWS, adopted_records(records, own, trial), by, is_replacing=True, seen=seen,
        key=key, what=change_words(own, trial, System.METRIC),
    )  # fmt: skip
