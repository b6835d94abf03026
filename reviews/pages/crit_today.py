"""The day of a crit as it stands on its readers' homes: drawn, with what is on and what is next."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from datetime import datetime

from django.utils.safestring import SafeString

from criteria.drawing.drawing import MIDDLE_MM, NARROW_MM, Field
from criteria.drawing.running_order import Line, Showing, Turn, draw_running_order
from reviews import clock
from reviews.drawn.svg import as_svg
from reviews.models import Crit, Slot
from reviews.reading.crit_day import by_room, called, planned_now, turns_of


@dataclass(frozen=True)
class RoomNow:
    """What is on in a room, and what comes after it.

    planned   what the running order has at this hour, where nobody keeps the time yet
    """

    room: str
    on: Slot | None
    next: Slot | None
    planned: Slot | None = None


@dataclass(frozen=True)
class Today:
    """A crit whose day it is, drawn as a sheet and a telephone have it.

    to_lock   how many schemes that were shown, or are, have sheets to lock; None where nobody is
              told
    """

    crit: Crit
    rooms: list[RoomNow]
    wide: SafeString
    narrow: SafeString
    key: tuple[str, ...]
    to_lock: int | None


def today_of(
    crit: Crit | None,
    key: str = "seen",
    *,
    own: Collection[int] = (),
    room: str = "",
    unlocked: Collection[int] | None = None,
    only: Collection[int] | None = None,
) -> Today | None:
    """Draw the day of a crit; None on another day, or where no hour is set.

    key        tells it from others on the same page
    own        schemes that are the reader's
    room       the one that the reader sits in; blank for all
    unlocked   schemes with sheets that aren't locked; None where nobody is told
    only       schemes that the reader is told of; None for all
    """
    now = clock.here()
    if crit is None or crit.day != now.date():
        return None
    slots = list(crit.slots.select_related("scheme"))
    if only is not None:
        slots = [slot for slot in slots if slot.scheme_id in only]
    turns = turns_of(crit, slots, now)
    rooms = {name: of for name, of in by_room(slots).items() if not room or name in ("", room)}
    lines = []
    for name, of_room in rooms.items():
        shown = [
            _showing(slot, turns[slot.pk], own, unlocked) for slot in of_room if slot.starts_at
        ]
        if shown:
            lines.append(Line(room=called(name), shown=sorted(shown, key=lambda s: s.minute)))
    if not lines:
        return None
    minute = now.hour * 60 + now.minute
    wide, narrow = (
        draw_running_order(lines, minute, Field(width_mm=width)) for width in (MIDDLE_MM, NARROW_MM)
    )
    return Today(
        crit=crit,
        rooms=[_now(called(name), of_room, turns, crit, now) for name, of_room in rooms.items()],
        wide=as_svg(wide, f"{key}-{crit.pk}"),
        narrow=as_svg(narrow, f"{key}-{crit.pk}-narrow"),
        key=wide.key,
        to_lock=None if unlocked is None else _open(slots, turns, unlocked),
    )


def _open(slots: list[Slot], turns: dict[int, Turn], unlocked: Collection[int]) -> int:
    shown = (slot for slot in slots if turns[slot.pk] in (Turn.DONE, Turn.ON))
    return sum(slot.scheme_id in unlocked for slot in shown)


def _now(
    room: str, slots: list[Slot], turns: dict[int, Turn], crit: Crit, now: datetime
) -> RoomNow:
    on = [slot for slot in slots if turns[slot.pk] is Turn.ON]
    waiting = [slot for slot in slots if turns[slot.pk] is Turn.WAITING]
    kept = any(turn is not Turn.WAITING for turn in turns.values())
    planned = None if kept else planned_now(crit, slots, now)
    return RoomNow(room, on[-1] if on else None, waiting[0] if waiting else None, planned)


def _showing(
    slot: Slot, turn: Turn, own: Collection[int], unlocked: Collection[int] | None
) -> Showing:
    assert slot.starts_at is not None
    is_told = unlocked is not None and turn in (Turn.DONE, Turn.ON)
    return Showing(
        number=slot.scheme.number,
        name=slot.scheme.marked_name,
        minute=slot.starts_at.hour * 60 + slot.starts_at.minute,
        turn=turn,
        is_settled=slot.scheme_id not in (unlocked or ()) if is_told else None,
        is_own=slot.scheme_id in own,
    )
