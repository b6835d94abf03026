"""The running order as a juror sees it: which schemes, in which room, and how far each is."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import groupby

from django.db.models import Count, Q

from reviews import access
from reviews.models import Interest, JurySheet, Seat, Slot


@dataclass(frozen=True)
class OrderRow:
    """One scheme of the running order, as a juror sees it."""

    slot: Slot
    sheet: JurySheet | None
    levels: int
    criteria: int
    interest: Interest | None = None

    @property
    def state(self) -> str:
        """To come, in hand or locked."""
        if self.sheet is None:
            return "To come"
        return "Locked" if self.sheet.is_locked else "In hand"


@dataclass(frozen=True)
class Room:
    """A room's part of the running order; the room with no name is for all jurors."""

    name: str
    rows: list[OrderRow]


def running_order(seat: Seat) -> list[Room]:
    """The schemes that a juror sees, by room and in order."""
    is_given = Q(levels__level__isnull=False) | Q(levels__is_not_mine=True)
    sheets = {
        sheet.scheme_id: sheet
        for sheet in seat.sheets.annotate(given=Count("levels", filter=is_given))
    }
    criteria = seat.crit.criteria.count()
    interests = {interest.scheme_id: interest for interest in seat.interests.standing()}
    rooms = []
    for name, of_room in groupby(in_order(seat), key=lambda slot: slot.room):
        rows = []
        for slot in of_room:
            sheet = sheets.get(slot.scheme_id)
            given = getattr(sheet, "given", 0)
            rows.append(OrderRow(slot, sheet, given, criteria, interests.get(slot.scheme_id)))
        rooms.append(Room(name, rows))
    return rooms


def to_lock(rooms: Iterable[Room]) -> set[int]:
    """The schemes of which a juror has a sheet to lock yet."""
    rows = [row for room in rooms for row in room.rows]
    return {row.slot.scheme_id for row in rows if row.state != "Locked" and row.interest is None}


def in_order(seat: Seat) -> list[Slot]:
    """The slots that a juror sees, by room; a stable sort keeps the order of the day in each."""
    slots = access.seen_slots(seat).select_related("scheme")
    return sorted(slots, key=lambda slot: slot.room)


def neighbours(slots: list[Slot], slot: Slot) -> tuple[Slot | None, Slot | None]:
    """The scheme before and the scheme after, in the order of the list."""
    place = slots.index(slot)
    before, after = slots[:place], slots[place + 1 :]
    return before[-1] if before else None, after[0] if after else None
