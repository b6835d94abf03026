"""What a room's pages show of this moment: what is on, its part and minutes, and what is next."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, time

from django.utils import timezone

from criteria.drawing.running_order import Turn
from reviews.models import Seat, Slot
from reviews.reading.crit_clock import OVER_S, WORDS, Part, Reading, State, parts_in
from reviews.reading.crit_day import Timed, called, turn_of
from reviews.reading.crit_live import Live, Room, seen_live

LOW_S = 60.0
"""From when the minutes left are shown as few [s]."""


@dataclass(frozen=True)
class PartLine:
    """A part of a slot: its words, its minutes, whether it is the one that is on."""

    words: str
    minutes: str
    is_now: bool


@dataclass(frozen=True)
class Now:
    """A slot that is on.

    left       minutes and seconds as they stood when the page was made
    ends_ms    when its part ends, in milliseconds since 1970; blank while it is paused
    """

    slot: Slot
    part: str
    left: str
    ends_ms: str
    is_low: bool
    is_over: bool
    is_paused: bool
    is_silent: bool
    parts: list[PartLine]
    extra: int
    began: str


@dataclass(frozen=True)
class Coming:
    """A slot that comes next: its hour is planned, `is_called` is what somebody did."""

    slot: Slot
    hour: str
    is_called: bool
    was: str


@dataclass(frozen=True)
class RoomNow:
    """A room this moment."""

    name: str
    called: str
    on: Now | None
    next: Coming | None
    late: str
    is_over: bool = False


def room_now(room: Room) -> RoomNow:
    """What a room's projector shows."""
    ended = all(turn_of(each.clock) in (Turn.DONE, Turn.STOOD_DOWN) for each in room.slots)
    return RoomNow(
        name=room.name,
        called=called(room.name),
        on=now_of(room.on) if room.on else None,
        next=coming(room.next) if room.next else None,
        late=late_words(room.late),
        is_over=bool(room.slots) and ended,
    )


@dataclass(frozen=True)
class JuryNow:
    """What a juror's thumb bar shows: what is on where they sit, and whether it is this page's."""

    on: Now | None
    next: Coming | None
    room: str
    is_here: bool
    offers: Slot | None


def jury_now(live: Live, seat: Seat, seen: set[int], of: int) -> JuryNow:
    """What is on for a juror.

    seen   keys of the slots that the juror sees
    of     key of the scheme whose page it is; 0 for none
    """
    on, after = seen_live(live, seen)
    shown = on or (after if after and after.clock.state is State.CALLED else None)
    offers = shown.slot if shown and shown.slot.scheme_id != of else None
    room = on.slot.room or seat.room if on else seat.room
    return JuryNow(
        on=now_of(on) if on else None,
        next=coming(after) if after else None,
        room=called(room),
        is_here=bool(on and on.slot.scheme_id == of),
        offers=offers,
    )


def now_of(each: Timed) -> Now:
    """Make ready a slot that is on."""
    clock, left = each.clock, each.clock.left_s or 0.0
    return Now(
        slot=each.slot,
        part=WORDS[clock.part] if clock.part else "",
        left=left_words(left),
        ends_ms=f"{clock.ends_at.timestamp() * 1000:.0f}" if clock.ends_at else "",
        is_low=0 <= left < LOW_S,
        is_over=left < 0,
        is_paused=clock.is_paused,
        is_silent=clock.part is Part.WRITING,
        parts=part_lines(each),
        extra=clock.extra_min,
        began=hour_words(clock.began_at),
    )


def part_lines(each: Timed) -> list[PartLine]:
    """The parts that a slot has, with the minutes planned of each."""
    return [
        PartLine(WORDS[part], f"{each.minutes[part]:g}", part is each.clock.part)
        for part in parts_in(each.minutes)
    ]


def coming(each: Timed) -> Coming:
    """Make ready a slot that comes next."""
    moved = [entry for entry in each.entries if entry.starts_at and entry.was_at]
    was = f"{moved[-1].was_at:%H:%M}" if moved else ""
    return Coming(each.slot, planned_words(each.slot.starts_at), each.clock.state == "called", was)


def planned_words(hour: time | None) -> str:
    """Write an hour of the plan; nothing where there is none."""
    return f"{hour:%H:%M}" if hour else ""


def hour_words(at: datetime | None) -> str:
    """Write the hour of a moment to the second; nothing where there is none."""
    return f"{timezone.localtime(at):%H:%M:%S}" if at else ""


def left_words(seconds: float) -> str:
    """Write minutes and seconds that are left, or by how much it is over.

    >>> left_words(421.2), left_words(-32.0), left_words(0.4)
    ('7:02', '+0:32', '0:01')
    """
    whole = int(-(-seconds // 1)) if seconds >= 0 else int(-seconds)
    minutes, rest = divmod(whole, 60)
    return f"{'+' if seconds < 0 and whole else ''}{minutes}:{rest:02}"


def given_words(seconds: float) -> str:
    """Write what was given, to the second.

    >>> given_words(754.6)
    '12:35'
    """
    return "{}:{:02}".format(*divmod(round(seconds), 60))


def late_words(late: int | None) -> str:
    """Say whether a room is behind its plan; nothing where nothing tells."""
    if late is None:
        return ""
    if late == 0:
        return "on time"
    return f"{abs(late)} min {'behind' if late > 0 else 'ahead'}"


def state_words(clock: Reading) -> str:
    """Say how a slot stands, in words."""
    words = str(clock.state)
    if clock.state is State.OFFERED and clock.offer and clock.offer.starts_at:
        words += f": {clock.offer.starts_at:%H:%M}, no answer yet"
    elif clock.offer and clock.offer.is_taken is False:
        words += "; declined the time offered"
    if clock.is_paused:
        words += ", paused"
    if clock.over_s > OVER_S:
        words += f", {given_words(clock.over_s)} over"
    return words
