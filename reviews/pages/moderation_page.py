"""The leader's table, made ready only where a process hasn't kept what it shows."""

from __future__ import annotations

from functools import cached_property
from itertools import count

from reviews.models import Comment
from reviews.pages.jury_numbers import Numbers, chosen_words, numbers_page
from reviews.pages.moderation_strips import Strips, strips_of
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


class RowSaid:
    """One scheme's row, each comment with the number of its flag, and the sheets under them."""

    def __init__(self, row: SchemeRow | None) -> None:
        number = count(1)
        self.cells: list[tuple[Cell, list[Said]]] = [
            (cell, [_said(c, next(number), cell) for c in cell.comments if isinstance(c, Comment)])
            for cell in (row.seen if row else ())
        ]

    @cached_property
    def sheets(self) -> list[TracedSheet]:
        """The sheets that something was said of."""
        return traced_sheets(each for _, said in self.cells for each in said)


def _said(comment: Comment, number: int, cell: Cell) -> Said:
    return Said(comment, str(number), cell.seat.name, f"comment-{comment.pk}")
