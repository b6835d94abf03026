"""Who sits before each scheme this moment: rooms, crossings, interests, and who is there."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import datetime, time

from django.utils import timezone

from criteria.crit_day.panels import Absence, Panel, Sees
from criteria.crit_day.timetable import Turn
from reviews.models import Attendance, Crit, Seat
from reviews.reading.crit_clock import WAITS
from reviews.reading.crit_day import Timed, slot_min
from reviews.reading.crit_panels import CritPanels

AWAY = (Attendance.State.ABSENT, Attendance.State.GONE)
"""How a juror is seen who isn't there."""


def sees_of(crit: Crit, seats: Sequence[Seat], day: Sequence[Timed], now: datetime) -> Sees:
    """Put together who sees what, of seats whose interests, crossings, attendance are at hand.

    Turns count in minutes of the day: what is on from when it began, what waits from now at the
    earliest. Who is absent or gone is so from when it was seen.
    """
    minutes = slot_min(crit)
    planned = CritPanels(crit, tuple(seats), tuple(each.slot for each in day), ()).sees
    return replace(
        planned,
        turns=tuple(_turn(each, minutes, now) for each in day),
        absences=tuple(
            Absence(seat.name, since=_minute(timezone.localtime(last.at).time()))
            for seat in seats
            if (last := last_seen(seat)) and last.state in AWAY
        ),
    )


def _turn(each: Timed, minutes: int, now: datetime) -> Turn:
    slot, starts = each.slot, None
    if each.clock.runs and each.clock.began_at:
        starts = _minute(timezone.localtime(each.clock.began_at).time())
    elif slot.starts_at:
        starts = _minute(slot.starts_at)
        if each.clock.state in WAITS and timezone.localtime(now).date() == slot.crit.day:
            starts = max(starts, _minute(timezone.localtime(now).time()))
    return Turn(slot.scheme.number, slot.room, starts, None if starts is None else starts + minutes)


def last_seen(seat: Seat) -> Attendance | None:
    """How a juror was last seen, read from the attendance at hand."""
    return max(seat.attendance.all(), key=lambda each: (each.at, each.pk), default=None)


def _minute(hour: time) -> int:
    return hour.hour * 60 + hour.minute


def short_of(sees: Sees, slots: Iterable[Timed]) -> list[tuple[Timed, Panel]]:
    """Of some slots, those before which fewer than three set levels."""
    panels = [(each, sees.panel(each.slot.scheme.number)) for each in slots]
    return [(each, panel) for each, panel in panels if panel.is_short]
