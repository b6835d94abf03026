"""A crit's day: the clock of each slot, whose turn it is in each room, and where there is room yet.

An hour of the running order is a plan. Who is on, and who was, is what the timekeeper set.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, time

from django.utils import timezone

from criteria.drawing.running_order import Turn
from reviews.models import ClockEntry, Crit, Slot
from reviews.reading.adjustments import extra_minutes_of
from reviews.reading.crit_clock import (
    RUNS,
    STOOD_DOWN,
    Entry,
    Minutes,
    Part,
    Reading,
    State,
    read,
)

LAST_MIN = 24 * 60 - 1
"""The last minute of a day."""


@dataclass(frozen=True)
class Timed:
    """A slot with its clock and the minutes of its parts; entries as they stand."""

    slot: Slot
    minutes: Minutes
    clock: Reading
    entries: tuple[ClockEntry, ...]

    @property
    def last(self) -> ClockEntry | None:
        """What was done last."""
        return self.entries[-1] if self.entries else None

    @property
    def began_at(self) -> datetime:
        """When it was begun; what wasn't is before all others."""
        return self.clock.began_at or datetime.min.replace(tzinfo=UTC)


def minutes_of(crit: Crit) -> Minutes:
    """How long each part of a crit's slots takes [min]."""
    parts = crit.slot_parts
    return {
        Part.PRESENT: parts.present_min,
        Part.DISCUSS: parts.discuss_min,
        Part.WRITING: parts.writing_min,
    }


def slot_min(crit: Crit) -> int:
    """How long a slot takes, the change over with it [min]."""
    return crit.slot_parts.slot_min


def entry_of(row: ClockEntry) -> Entry:
    """A kept entry, as the clock is read of it."""
    return Entry(row.deed, row.at, row.minutes, row.words, row.starts_at, row.room)


def timed(crit: Crit, slots: Iterable[Slot], now: datetime) -> list[Timed]:
    """Some of a crit's slots with their clocks; the entries of all are asked for once.

    Whoever has more time to present has it on the clock from the start.
    """
    slots = list(slots)
    of_slot: dict[int, list[ClockEntry]] = defaultdict(list)
    for row in ClockEntry.objects.standing().filter(slot__crit=crit).select_related("by"):
        of_slot[row.slot_id].append(row)
    usual, extra = minutes_of(crit), extra_minutes_of(slots)
    found = []
    for slot in slots:
        rows = of_slot[slot.pk]
        minutes = {**usual, Part.PRESENT: usual[Part.PRESENT] + extra.get(slot.pk, 0)}
        clock = read(map(entry_of, rows), minutes, now)
        found.append(Timed(slot, minutes, clock, tuple(rows)))
    return found


def turn_of(clock: Reading) -> Turn:
    """Whose turn a slot's clock makes it."""
    if clock.state in RUNS:
        return Turn.ON
    if clock.state in STOOD_DOWN:
        return Turn.STOOD_DOWN
    return Turn.DONE if clock.state is State.DONE else Turn.WAITING


def turns_of(crit: Crit, slots: Sequence[Slot], now: datetime) -> dict[int, Turn]:
    """Whose turn it is, by slot, as the timekeeper set it.

    On the day nothing is on before somebody starts it. Of an earlier day without any clock all is
    over: nobody kept the time.
    """
    read_of = timed(crit, slots, now)
    kept = any(each.entries for each in read_of)
    if not kept and crit.day < timezone.localtime(now).date():
        return {slot.pk: Turn.DONE for slot in slots}
    return {each.slot.pk: turn_of(each.clock) for each in read_of}


def planned_now(crit: Crit, slots: Iterable[Slot], now: datetime) -> Slot | None:
    """Of one room's slots, the one that the running order has at this hour: a plan, no fact."""
    here = timezone.localtime(now)
    if here.date() != crit.day:
        return None
    begun = [slot for slot in slots if slot.starts_at and slot.starts_at <= here.time()]
    last = max(begun, key=lambda slot: slot.starts_at or time(), default=None)
    is_over = last and last.starts_at and _minute(here.time()) >= _ends(last, crit)
    return None if is_over else last


def by_room(slots: Iterable[Slot]) -> dict[str, list[Slot]]:
    """What each room sees, in the order of the hour; what all jurors see is seen in each."""
    listed = list(slots)
    rooms = sorted({slot.room for slot in listed if slot.room}) or [""]
    return {room: [slot for slot in listed if slot.room in ("", room)] for room in rooms}


def called(room: str) -> str:
    """What a room is called; that of no name is everybody's."""
    return f"Room {room}" if room else "All jurors"


def minutes_late(of_room: Sequence[Timed], now: datetime) -> int | None:
    """By how many minutes a room is behind its plan, below nothing where it is ahead.

    Counted by what is on, else by what comes next once its hour is past. What was moved up into the
    place of a slot that stood down is held to the hour of that place. None where nothing tells.
    """
    for n, each in enumerate(of_room):
        if each.clock.runs and each.clock.began_at and (due := _place(of_room, n)) is not None:
            return _minute(timezone.localtime(each.clock.began_at).time()) - due
    waits = [each for each in of_room if turn_of(each.clock) is Turn.WAITING]
    if not waits or waits[0].slot.starts_at is None:
        return None
    past = _minute(timezone.localtime(now).time()) - _minute(waits[0].slot.starts_at)
    begun = any(each.clock.began_at for each in of_room)
    return max(0, past) if begun or past > 0 else None


def _place(of_room: Sequence[Timed], n: int) -> int | None:
    hour = of_room[n].slot.starts_at
    moved = any(entry.deed == ClockEntry.Deed.MOVED for entry in of_room[n].entries)
    while moved and n and turn_of(of_room[n - 1].clock) is Turn.STOOD_DOWN:
        n -= 1
        hour = of_room[n].slot.starts_at or hour
    return _minute(hour) if hour else None


def first_free(
    crit: Crit, slots: Iterable[Slot], room: str, after: time, offered: Iterable[time | None] = ()
) -> time | None:
    """The first hour from which a room has a whole slot free; None where the day has none.

    What stood down holds no hour; breaks do, and what is offered to somebody else. Slots are those
    that keep their hours.
    """
    length = slot_min(crit)
    taken = [(_minute(slot.starts_at), _ends(slot, crit)) for slot in slots if slot.starts_at]
    taken += [
        (_minute(each.starts_at), _minute(each.starts_at) + each.minutes)
        for each in crit.breaks.all()
        if each.room in ("", room)
    ]
    taken += [(_minute(hour), _minute(hour) + length) for hour in offered if hour]
    begin = _minute(after)
    for start, end in sorted(taken):
        if start >= begin + length:
            break
        begin = max(begin, end)
    return time(*divmod(begin, 60)) if begin + length <= 24 * 60 else None


def places_up(of_room: Sequence[Timed], freed: Timed, now: datetime) -> list[tuple[Slot, time]]:
    """Who moves up, and to which hour, where a slot stood down: those until the next break.

    The first takes the freed hour, or the next full minute where that is past; each other the hour
    of the one before. Nobody who is begun moves.
    """
    crit, hour = freed.slot.crit, freed.slot.starts_at
    if hour is None:
        return []
    here = timezone.localtime(now)
    past = _minute(here.time()) + (here.second > 0)
    free, ends, moved = (
        max(hour, time(*divmod(min(past, LAST_MIN), 60))),
        _ends(freed.slot, crit),
        [],
    )
    for each in of_room:
        at = each.slot.starts_at
        if at is None or at <= hour:
            continue
        if _minute(at) > ends or turn_of(each.clock) is not Turn.WAITING:
            break
        if free < at:
            moved.append((each.slot, free))
        free, ends = at, _ends(each.slot, crit)
    return moved


def _minute(hour: time) -> int:
    return hour.hour * 60 + hour.minute


def _ends(slot: Slot, crit: Crit) -> int:
    assert slot.starts_at is not None
    return _minute(slot.starts_at) + slot_min(crit)
