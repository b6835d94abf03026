"""The leader's table, made ready only where a process hasn't kept what it shows."""

from __future__ import annotations

from collections.abc import Iterable
from functools import cached_property
from itertools import count

from reviews.models import Comment, SpokenNote
from reviews.pages.jury_numbers import Numbers, chosen_words, numbers_page
from reviews.pages.moderation_strips import Strips, strips_of
from reviews.pages.spoken_read import UNKNOWN_SPEAKER, SpokenRead
from reviews.pages.traced_sheets import Said, TracedSheet, traced_sheets
from reviews.reading.crit_levels_read import LevelsRead
from reviews.reading.crit_moderation_table import Cell, SchemeRow, Table, table_of
from reviews.worked_out import fingerprint


class ModerationPage:
    """A crit's table and the jury's numbers; its fingerprint is of all that both read."""

    def __init__(self, read: LevelsRead) -> None:
        self._read = read
        self.fingerprint = fingerprint(read.fingerprint, chosen_words(read.crit))

    @cached_property
    def table(self) -> Table:
        """Schemes by jurors."""
        return table_of(self._read)

    @cached_property
    def strips(self) -> Strips:
        """What asks for a decision, a strip a scheme."""
        return strips_of(self.table)

    @cached_property
    def numbers(self) -> Numbers:
        """What the locked levels say together."""
        return numbers_page(self.table)


class Spoken(SpokenRead):
    """One spoken note as its leader reads it, whatever became of it."""

    @property
    def became(self) -> str:
        """What became of it."""
        note = self.note
        if note.comment:
            return f"confirmed, as {note.comment}"
        if note.removed_at:
            return f"taken off by {'its juror' if note.removed_by_seat else 'a scribe'}"
        return "missed" if note.is_gap else "unconfirmed"

    @property
    def is_open(self) -> bool:
        """Whether students would read it as it stands."""
        return not (self.note.comment or self.note.removed_at)


class RowSaid:
    """One scheme's row, each comment with the number of its flag, and the sheets under them.

    heard   what was said of it aloud
    """

    def __init__(self, row: SchemeRow | None, heard: Iterable[SpokenNote] = ()) -> None:
        number = count(1)
        self.cells: list[tuple[Cell, list[Said]]] = [
            (cell, [_said(c, next(number), cell) for c in cell.comments if isinstance(c, Comment)])
            for cell in (row.seen if row else ())
        ]
        is_closed = row is None or row.is_closed
        self.spoken = [
            Spoken(note, f"S{n}", note.seat.name if note.seat else UNKNOWN_SPEAKER)
            for n, note in enumerate(() if is_closed else heard, start=1)
        ]

    @property
    def said(self) -> list[Said]:
        """Comments, and the spoken notes that no comment stands for."""
        said = [each for _, comments in self.cells for each in comments]
        return said + [each.said for each in self.spoken if each.is_open]

    @cached_property
    def sheets(self) -> list[TracedSheet]:
        """The sheets that something was said of."""
        return traced_sheets(self.said)


def _said(comment: Comment, number: int, cell: Cell) -> Said:
    return Said(comment, str(number), cell.seat.name, f"comment-{comment.pk}")
