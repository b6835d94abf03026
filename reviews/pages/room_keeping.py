"""What the timekeeper's page offers: one large button for what comes next, and all the others."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from uuid import UUID, uuid4

from criteria.drawing.running_order import Turn
from reviews.models import ClockEntry, Crit, Slot
from reviews.pages.room_now import (
    RoomNow,
    hour_words,
    planned_words,
    room_now,
    state_words,
)
from reviews.reading.adjustments import effects_of
from reviews.reading.crit_clock import WORDS, State, part_after
from reviews.reading.crit_day import Timed, turn_of
from reviews.reading.crit_live import Room

Deed = ClockEntry.Deed
MOVE_UP = "move up"
"""What is sent where the rest of a room moves up."""


@dataclass(frozen=True)
class Button:
    """One thing that can be pressed.

    key    of this press: sent twice it is one
    seen   the slot's last entry that this page showed
    to     what of the clock it names: the part that begins
    """

    words: str
    deed: str
    slot: Slot
    seen: UUID | None
    to: str = ""
    key: UUID = field(default_factory=uuid4)


@dataclass(frozen=True)
class Line:
    """A slot in the room's list, with what can be done of it."""

    slot: Slot
    hour: str
    state: str
    is_on: bool
    waits: bool
    is_down: bool
    seen: UUID | None
    buttons: list[Button]
    odd: list[str]
    effects: list[str]
    move_key: UUID = field(default_factory=uuid4)
    down_key: UUID = field(default_factory=uuid4)


@dataclass(frozen=True)
class Last:
    """What was pressed last in the room, which can be taken back."""

    key: UUID
    words: str


@dataclass(frozen=True)
class KeepingPage:
    """A room as its timekeeper holds it."""

    crit: Crit
    now: RoomNow
    main: Button | None
    beside: list[Button]
    extra: Button | None
    lines: list[Line]
    last: Last | None


def keeping_page(crit: Crit, room: Room) -> KeepingPage:
    """Make ready a room for its timekeeper."""
    on, after = room.on, room.next
    told = effects_of(crit, [each.slot for each in room.slots])
    return KeepingPage(
        crit=crit,
        now=room_now(room),
        main=_main(on, after),
        beside=_beside(on, after),
        extra=_button("Extra minutes", Deed.EXTRA, on) if on else None,
        lines=[_line(each, told.get(each.slot.pk, []), is_free=on is None) for each in room.slots],
        last=_last(room.slots),
    )


def _button(words: str, deed: str, each: Timed, to: str = "") -> Button:
    return Button(words, deed, each.slot, each.last.key if each.last else None, to)


def _main(on: Timed | None, after: Timed | None) -> Button | None:
    """What is most likely pressed next."""
    if on:
        if on.clock.is_paused:
            return _button("Go on", Deed.WENT_ON, on)
        to = part_after(on.clock.part, on.minutes)
        if to is None:
            return _button(f"End {on.slot.scheme.number}", Deed.ENDED, on)
        return _button(WORDS[to], Deed.NEXT_PART, on, to)
    if after is None:
        return None
    if after.clock.state is State.CALLED:
        return _button(f"Start {after.slot.scheme.number}", Deed.STARTED, after)
    return _button(f"Call {after.slot.scheme.number}", Deed.CALLED, after)


def _beside(on: Timed | None, after: Timed | None) -> list[Button]:
    found = []
    if on:
        if not on.clock.is_paused:
            found.append(_button("Pause", Deed.PAUSED, on))
        if part_after(on.clock.part, on.minutes):
            found.append(_button(f"End {on.slot.scheme.number} now", Deed.ENDED, on))
    if after and (on or after.clock.state is not State.CALLED):
        number = after.slot.scheme.number
        if on and after.clock.state is not State.CALLED:
            found.append(_button(f"Call {number}", Deed.CALLED, after))
        elif not on:
            found.append(_button(f"Start {number} uncalled", Deed.STARTED, after))
    return found


def _line(each: Timed, effects: list[str], *, is_free: bool) -> Line:
    turn, clock = turn_of(each.clock), each.clock
    buttons = []
    if turn is Turn.STOOD_DOWN:
        if clock.state is State.OFFERED:
            buttons += [
                _button("Takes it", Deed.TAKEN, each),
                _button("Declines", Deed.DECLINED, each),
            ]
        elif clock.offer is None:
            buttons.append(_button("Offer the first free time", Deed.OFFERED, each))
        if each.slot.room:
            buttons.append(_button("Move the rest up", MOVE_UP, each))
    if not clock.began_at and clock.state is not State.CALLED:
        again = turn is Turn.STOOD_DOWN
        buttons.append(_button("Call again" if again else "Call", Deed.CALLED, each))
    if turn is Turn.WAITING and is_free:
        buttons.append(_button("Start", Deed.STARTED, each))
    return Line(
        slot=each.slot,
        hour=planned_words(each.slot.starts_at),
        state=state_words(clock),
        is_on=clock.runs,
        waits=turn is Turn.WAITING,
        is_down=turn is Turn.STOOD_DOWN,
        seen=each.last.key if each.last else None,
        buttons=buttons,
        effects=effects,
        odd=[f"{Deed(e.deed).label} {hour_words(e.at)}" for e in clock.passed_over],
    )


def _last(slots: Iterable[Timed]) -> Last | None:
    """The last press of the room, over all its slots."""
    rows = [each.last for each in slots if each.last]
    if not rows:
        return None
    row = max(rows, key=lambda each: (each.at, each.pk))
    of = next(each.slot.scheme.number for each in slots if each.slot.pk == row.slot_id)
    words = f"{row.get_deed_display()}, {of}, {hour_words(row.at)} by {row.by}"
    return Last(row.key, words)
