"""The scribe's pages: which slot is on, one line to type, and what was read of each line."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any
from uuid import UUID, uuid4

from criteria.drawing.running_order import Turn
from reviews import access_day, clock
from reviews.access import Viewer
from reviews.deeds.crit_spoken import initials_at, named_seats, read_again
from reviews.models import Crit, Revision, Seat, Slot
from reviews.models.spoken import SpokenNote
from reviews.pages.sheet_views import SheetView, sheet_view
from reviews.reading.crit_day import turns_of
from reviews.reading.crit_sheets import revision_shown


@dataclass(frozen=True)
class SlotLine:
    """A slot of which notes may be taken, and whose turn it is.

    lines   how many lines stand, of those that the viewer reads
    """

    slot: Slot
    turn: Turn
    lines: int = 0

    @property
    def is_on(self) -> bool:
        """Whether it is on now."""
        return self.turn is Turn.ON


@dataclass(frozen=True)
class Trouble:
    """Why a line wasn't kept, and what stands."""

    why: str
    kept: str = ""
    sent: str = ""


@dataclass(frozen=True)
class LineShown:
    """One line of a slot: as typed, as read, and the form that puts it right.

    who      the juror's initials; blank where nobody is known
    unread   what looked like a part and couldn't be read; nothing once it was put right
    """

    note: SpokenNote
    who: str
    unread: tuple[str, ...]
    form: Any
    is_open: bool
    trouble: Trouble | None = None

    @property
    def id(self) -> str:
        """Of its element on the page."""
        return line_id(self.note.key)

    @property
    def became(self) -> str:
        """What its juror made of it; blank where nothing yet."""
        if self.note.comment_id:
            return "Confirmed by its juror"
        if self.note.removed_at:
            return "Taken off by its juror" if self.note.removed_by_seat else "Taken off"
        return ""


def line_id(key: UUID) -> str:
    """The id of a line's element."""
    return f"line-{key}"


@dataclass(frozen=True)
class Jurors:
    """The jurors of a crit by their initials; those who sit where a slot is shown come first."""

    here: dict[str, Seat]
    elsewhere: dict[str, Seat]

    @property
    def all(self) -> dict[str, Seat]:
        """Everybody."""
        return self.here | self.elsewhere


def jurors_of(crit: Crit, slot: Slot) -> Jurors:
    """Whom a scribe may name at a slot."""
    short = initials_at(crit)
    seats = {short[seat.pk]: seat for seat in named_seats(crit)}
    here = {each: seat for each, seat in seats.items() if slot.is_before(seat)}
    return Jurors(here, {each: seat for each, seat in seats.items() if each not in here})


@dataclass(frozen=True)
class ScribePage:
    """One slot as its scribe has it.

    of        the key of the revision that is shown; 0 where there is none
    sheets    its sheets; none where the scribe may not see them
    numbers   of all its sheets
    """

    slot: Slot
    slots: list[SlotLine]
    revision: Revision | None
    sheets: list[SheetView]
    numbers: list[str]
    jurors: Jurors
    lines: list[LineShown]
    new_key: UUID

    @property
    def of(self) -> int:
        """The key of the revision that is shown."""
        return self.revision.pk if self.revision else 0

    @cached_property
    def turn(self) -> Turn:
        """Whether it is on, to come or done."""
        return next((each.turn for each in self.slots if each.slot == self.slot), Turn.WAITING)

    @property
    def on_elsewhere(self) -> list[SlotLine]:
        """Other slots that are on."""
        return [each for each in self.slots if each.is_on and each.slot != self.slot]

    @property
    def before(self) -> Slot | None:
        """The slot before, of those of which notes may be taken."""
        place = self._place
        return self.slots[place - 1].slot if place else None

    @property
    def after(self) -> Slot | None:
        """The slot after."""
        rest = self.slots[self._place + 1 :]
        return rest[0].slot if rest else None

    @property
    def _place(self) -> int:
        return [each.slot for each in self.slots].index(self.slot)


def slot_lines(viewer: Viewer, crit: Crit) -> list[SlotLine]:
    """The slots of which a person may take notes, in the order of the day, with their turn."""
    slots = access_day.noted_slots(viewer, crit)
    turns = turns_of(crit, list(crit.slots.select_related("scheme")), clock.now())
    return [
        SlotLine(slot, turns[slot.pk], access_day.lines_of(viewer, slot).kept().count())
        for slot in slots
    ]


def scribe_page(
    viewer: Viewer,
    slot: Slot,
    form_of: Callable[[SpokenNote, Jurors], Any],
    *,
    can_see: Callable[[Revision], bool],
    shown: Sequence[LineShown] = (),
) -> ScribePage:
    """One slot with the lines that its scribe may read; `shown` stands in place of its own."""
    crit = slot.crit
    revision = revision_shown(crit, slot.scheme)
    hung = list(revision.sheets.select_related("file").defer("lettering")) if revision else []
    jurors = jurors_of(crit, slot)
    lines = [
        line_shown(note, jurors, form_of(note, jurors))
        for note in access_day.lines_of(viewer, slot).with_places().order_by("-said_at", "-pk")
    ]
    instead = {each.note.pk: each for each in shown}
    return ScribePage(
        slot=slot,
        slots=slot_lines(viewer, crit),
        revision=revision,
        sheets=[sheet_view(sheet) for sheet in hung] if revision and can_see(revision) else [],
        numbers=[sheet.number for sheet in hung],
        jurors=jurors,
        lines=[instead.get(line.note.pk, line) for line in lines],
        new_key=uuid4(),
    )


def line_shown(
    note: SpokenNote, jurors: Jurors, form: Any, trouble: Trouble | None = None
) -> LineShown:
    """One line with what was read of it."""
    who = next((short for short, seat in jurors.all.items() if seat.pk == note.seat_id), "")
    is_open = note.comment_id is None and not note.slot.crit.is_released
    unread = read_again(note).unread if note.version == 1 and not note.is_gap else ()
    return LineShown(note, who, unread, form, is_open, trouble)


def say_heard(heard: Any, jurors: Jurors) -> str:
    """What a line says, in words: OST, Prove, 06·C2: 765kg wet?"""
    who = next((short for short, seat in jurors.all.items() if seat == heard.seat), "???")
    head = ", ".join(part for part in (who, heard.kind, str(heard.place)) if part)
    return f"{head}: {heard.words or 'no words'}"
