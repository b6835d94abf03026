"""How a crit's rooms stand this moment, for all devices that ask again and again.

Answers are told apart by a fingerprint of what was pressed and planned: while nobody presses
anything it stays, for a device counts down by itself to the moment at which a part ends.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from criteria.drawing.running_order import Turn
from reviews import clock
from reviews.models import Attendance, Crit, Crossing, Interest, JurySheet, Slot
from reviews.reading.crit_day import Timed, minutes_late, timed, turn_of
from reviews.worked_out import fingerprint, kept_for

POLL_S = 1.0
"""How old an answer to a poll may be [s]."""


@dataclass(frozen=True)
class Room:
    """A room this moment: its slots in order, what is on, what comes next, minutes behind."""

    name: str
    slots: tuple[Timed, ...]
    on: Timed | None
    next: Timed | None
    late: int | None


@dataclass(frozen=True)
class Live:
    """A crit's rooms this moment, and what tells this from another."""

    rooms: tuple[Room, ...]
    fingerprint: str

    def room(self, name: str) -> Room | None:
        """One room."""
        return next((room for room in self.rooms if room.name == name), None)

    @property
    def slots(self) -> list[Timed]:
        """Every slot once, in the order of the day."""
        return list({each.slot.pk: each for room in self.rooms for each in room.slots}.values())


def live_of(crit: Crit, now: datetime) -> Live:
    """Read how a crit's rooms stand."""
    slots = crit.slots.select_related("scheme", "crit")
    day = timed(crit, slots, now)
    names = sorted({slot.room for each in day if (slot := each.slot).room}) or [""]
    rooms = tuple(room_of(name, day, now) for name in names)
    told = [(each.slot, each.slot.scheme, each.minutes, each.entries) for each in day]
    return Live(rooms, fingerprint(told, [room.late for room in rooms]))


@kept_for(POLL_S)
def polled(crit_id: int) -> Live:
    """How a crit's rooms stand, read at most once a second by each process."""
    return live_of(Crit.objects.get(pk=crit_id), clock.now())


def room_of(name: str, day: Sequence[Timed], now: datetime) -> Room:
    """What stands in one room; what all jurors see stands in each."""
    here = tuple(each for each in day if each.slot.room in ("", name))
    return Room(name, here, on_in(here), next_in(here), minutes_late(here, now))


def on_in(slots: Sequence[Timed]) -> Timed | None:
    """What is on; of two at once, what was begun last."""
    on = [each for each in slots if each.clock.runs]
    return max(on, key=lambda each: each.began_at, default=None)


def next_in(slots: Sequence[Timed]) -> Timed | None:
    """What comes next: what was called, else the first that waits."""
    waits = [each for each in slots if turn_of(each.clock) is Turn.WAITING]
    called = [each for each in waits if each.clock.state == "called"]
    return next(iter(called or waits), None)


def seen_live(live: Live, slots: set[int]) -> tuple[Timed | None, Timed | None]:
    """Of some slots, such as those that a juror sees: what is on, and what comes next."""
    seen = [each for each in live.slots if each.slot.pk in slots]
    return on_in(seen), next_in(seen)


def is_there(crit: Crit, room: str) -> bool:
    """Whether a crit has a room: one of its order, or the one for all."""
    return not room or Slot.objects.filter(crit=crit, room=room).exists()


def side_told(crit: Crit) -> list[Any]:
    """What tells what a leader sees at the side from another moment, besides the clock."""
    sheets = JurySheet.objects.filter(seat__crit=crit)
    of = (
        Attendance.objects.filter(seat__crit=crit).values_list("pk"),
        sheets.values_list("pk", "locked_at"),
        crit.duties.values_list("pk"),
        Crossing.objects.standing().filter(slot__crit=crit).values_list("pk"),
        Interest.objects.standing().filter(seat__crit=crit).values_list("pk"),
    )
    return [[list(row) for row in rows.order_by("pk")] for rows in of]
