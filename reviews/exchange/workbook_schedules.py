"""Schedules as one workbook: a sheet each, named by its slug, that comes in again as it went out.

Row 1 holds the heads, by which columns are known; row 2 what they are called, starred where a cell
is required; row 3 their units; rows follow. All is formatted as text, so that 3/4 stays 3/4 and is
no date. Lists of words only warn: 4'-6" must stay typable.
"""

from __future__ import annotations

import io
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from typing import Any

from xlsxwriter import Workbook
from xlsxwriter.worksheet import Worksheet

from criteria.typed.columns import Column, Kind
from criteria.typed.rows import Schedule
from criteria.typed.tables import MOST_ROWS
from criteria.units import System
from reviews.exchange.workbook import workbook_into
from reviews.exchange.workbook_cells import (
    LONGEST_CELL,
    place_of,
    stands_as_number,
)

ABOUT, WORDS = "about", "words"
"""Sheets of a workbook of ours that hold no rows: what it is, and the words of its lists."""

FIRST_ROW = 3
"""Rows of a schedule begin here, counted from 0."""

_NARROWEST, _WIDEST = 9, 30
_LONGEST_NOTE = 900


@dataclass(frozen=True, kw_only=True)
class Told:
    """What a workbook says of itself, and what its cells may hold beside their columns.

    title     of the whole
    lines     what else stands on its first sheet, each a line of cells
    system    whose units the bare figures are in
    marks     marks that references may take of schedules that aren't in it, by slug
    example   what a first row might hold, for a column
    made_at   when it was issued; None where it says so of no moment
    """

    title: str
    lines: Sequence[Sequence[str]] = ()
    system: System = System.METRIC
    marks: Mapping[str, Sequence[str]] = field(default_factory=dict)
    example: Callable[[Column], str] = lambda column: column.example
    made_at: datetime | None = None


Table = tuple[Schedule, Iterable[Mapping[str, str]]]


def schedules_workbook(tables: Sequence[Table], told: Told) -> bytes:
    """Write schedules with their rows, cells as they stand under heads of the system's units."""
    out = io.BytesIO()
    with workbook_into(out, told.title, told.made_at) as book:
        _Written(book, tables, told)
    return out.getvalue()


class _Written:
    """A workbook as it is written."""

    def __init__(self, book: Workbook, tables: Sequence[Table], told: Told) -> None:
        self.told = told
        self.here = {schedule.slug: schedule for schedule, _ in tables}
        self.text = book.add_format({"num_format": "@"})
        self.head = book.add_format({"num_format": "@", "font_color": "#595959"})
        self.label = book.add_format({"num_format": "@", "bold": True, "text_wrap": True})
        self.unit = book.add_format({"num_format": "@", "italic": True, "bottom": 1})
        self.lists: dict[tuple[str, ...], str] = {}
        self._about(book.add_worksheet(ABOUT))
        for schedule, records in tables:
            self._sheet(book.add_worksheet(schedule.slug), schedule, records)
        self._words(book.add_worksheet(WORDS))

    def _about(self, sheet: Worksheet) -> None:
        sheet.set_column(0, 0, 24, self.text)
        sheet.set_column(1, 1, 90, self.text)
        sheet.write_string(0, 0, self.told.title, self.label)
        for row, line in enumerate(self.told.lines, start=1):
            for column, cell in enumerate(line):
                _write(sheet, row, column, cell, self.text)

    def _sheet(
        self, sheet: Worksheet, schedule: Schedule, records: Iterable[Mapping[str, str]]
    ) -> None:
        sheet.freeze_panes(FIRST_ROW, 1 if schedule.keys else 0)
        for at, column in enumerate(schedule.columns):
            self._head(sheet, at, column)
        last = FIRST_ROW
        for row, record in enumerate(records, start=FIRST_ROW):
            last = row
            for at, column in enumerate(schedule.columns):
                text = record.get(column.head) or ""
                if text and column.is_number and stands_as_number(text):
                    sheet.write_number(row, at, float(text), self.text)
                elif text:
                    _write(sheet, row, at, text, self.text)
        corner = place_of(last, len(schedule.columns) - 1)
        sheet.ignore_errors({"number_stored_as_text": f"A1:{corner}"})

    def _head(self, sheet: Worksheet, at: int, column: Column) -> None:
        label = f"{column.label} *" if column.required else column.label
        width = min(max(len(column.head), len(column.label), _NARROWEST) + 3, _WIDEST)
        sheet.set_column(at, at, width, self.text)
        sheet.write_string(0, at, column.head, self.head)
        sheet.write_string(1, at, label, self.label)
        sheet.write_string(2, at, column.unit(self.told.system), self.unit)
        note = self._note(column)
        lines = sum(1 + len(line) // 40 for line in note.split("\n"))
        shape = {"author": "", "x_scale": 2.2, "y_scale": 0.4 + 0.2 * lines}
        sheet.write_comment(1, at, note, shape)
        if taken := self._taken(column):
            rules: dict[str, Any] = {
                "validate": "list",
                "source": taken,
                "error_type": "warning",
                "error_title": "Not in the list",
                "error_message": column.expected(self.told.system)[:200],
            }
            last = FIRST_ROW + MOST_ROWS - 1
            sheet.data_validation(FIRST_ROW, at, last, at, rules)

    def _note(self, column: Column) -> str:
        takes = column.expected(self.told.system)
        example = self.told.example(column)
        lines = [column.help, f"Takes {takes}."] + ([f"Example: {example}"] if example else [])
        return "\n".join(line for line in lines if line)[:_LONGEST_NOTE]

    def _taken(self, column: Column) -> str:
        """Where the words lie that a cell is offered, as a spreadsheet says it; or nothing."""
        if column.kind is Kind.YES_NO:
            return self._list(("yes", "no"))
        if column.kind is Kind.WORD:
            return self._list(column.choices)
        if column.kind is not Kind.REFERENCE:
            return ""
        other = self.here.get(column.refers_to)
        if other and other.mark_head:
            at = other.heads.index(other.mark_head)
            return f"={other.slug}!{_down(at, FIRST_ROW, FIRST_ROW + MOST_ROWS - 1)}"
        marks = tuple(self.told.marks.get(column.refers_to, ()))
        return self._list(marks) if marks else ""

    def _list(self, words: tuple[str, ...]) -> str:
        if words not in self.lists:
            self.lists[words] = f"={WORDS}!{_down(len(self.lists), 0, len(words) - 1)}"
        return self.lists[words]

    def _words(self, sheet: Worksheet) -> None:
        for column, words in enumerate(self.lists):
            for row, word in enumerate(words):
                _write(sheet, row, column, word, self.text)
        sheet.hide()


def _down(column: int, first: int, last: int) -> str:
    """Cells of a column, fixed: $A$4:$A$1003."""
    letters = place_of(0, column)[:-1]
    return f"${letters}${first + 1}:${letters}${last + 1}"


def _write(sheet: Worksheet, row: int, column: int, text: str, style: Any) -> None:
    """Write a text, never a formula or a link; what no cell can hold ends with “…”."""
    if len(text) > LONGEST_CELL:
        text = text[: LONGEST_CELL - 1] + "…"
    sheet.write_string(row, column, text, style)
