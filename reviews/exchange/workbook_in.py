"""Read a workbook (XLSX): a sheet for each schedule, named by its slug, heads by name.

What a formula came to is shown as worked out in the sheet; what nobody has worked out, dates and
errors are left out and said. A blank cell says nothing.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from typing import Any

import python_calamine

from criteria.errors import Refused
from criteria.schedules import BY_SLUG
from criteria.targets.reading import TARGETS
from criteria.typed.columns import Column
from criteria.typed.rows import Schedule, folded
from criteria.typed.tables import MOST_ROWS
from reviews.exchange.criteria_table import CRITERIA
from reviews.exchange.proposed import How, Proposal, ProposedCell, ProposedRow
from reviews.exchange.table_lines import UNITS_ASKED, Lines, Told, asked_units, listed, rows_of
from reviews.exchange.workbook_cells import place_of, text_of
from reviews.exchange.workbook_parts import XLSX, Parts, Sheet
from reviews.exchange.workbook_schedules import ABOUT, FIRST_ROW, WORDS

KIND = "workbook"

MOST_COLUMNS = 256
"""Columns that are looked at: the widest schedule has 32."""

_OURS = (ABOUT, WORDS)
"""Sheets that say nothing of rows, in workbooks of ours."""

_SCHEDULES = (*BY_SLUG.values(), TARGETS, CRITERIA)
"""What a sheet may be: a schedule of a package or a brief, or what else a brief has as a table."""

_DATES = (datetime, date, time, timedelta)


def read(path: str, answers: Mapping[str, str]) -> Proposal:
    """Read a workbook. Raises Refused for a file that is none, is too large, or holds macros."""
    parts = Parts(path)
    try:
        book = python_calamine.CalamineWorkbook.from_path(path)
        names = book.sheet_names
    except python_calamine.CalamineError:
        raise Refused("a workbook that can’t be read to its end", XLSX) from None
    except (OSError, ValueError):
        raise Refused("a workbook that can’t be read to its end", XLSX) from None
    rows: list[ProposedRow] = []
    said: list[str] = []
    bare: list[tuple[Column, str]] = []
    unknown: list[str] = []
    for name in names:
        schedule = _schedule(name)
        if schedule is None:
            unknown += [name] if name not in _OURS else []
            continue
        lines = _sheet(book, parts, name, schedule, answers.get(UNITS_ASKED, ""))
        rows += lines.rows
        said += lines.said
        bare += lines.bare
    if unknown:
        said.append(f"No schedule is called {listed(unknown)}: left out.")
    question = asked_units(bare, answers.get(UNITS_ASKED, ""))
    return Proposal(
        kind=KIND, rows=tuple(rows), said=tuple(said), questions=(question,) if question else ()
    )


def _schedule(name: str) -> Schedule | None:
    called = folded(name)
    return next((s for s in _SCHEDULES if called in (folded(s.slug), folded(s.title))), None)


@dataclass
class _Noted:
    """What can't be taken over of a sheet, or has to be looked at, each by its place."""

    reckoned: list[str]
    unworked: list[str]
    errors: list[str]
    dates: list[str]

    def said(self) -> list[str]:
        """The same in sentences."""
        told = (
            (self.reckoned, "Worked out in the sheet, to be looked at: {}."),
            (self.unworked, "Left out, for no spreadsheet has worked out their formulas: {}."),
            (self.errors, "Left out, for they hold an error: {}."),
            (self.dates, "Left out: read a date in {}; expected it written as text."),
        )
        return [words.format(listed(places)) for places, words in told if places]


def _sheet(book: Any, parts: Parts, name: str, schedule: Schedule, units: str) -> Lines:
    xml = parts.sheet(name)
    rows, columns = xml.last
    if rows >= FIRST_ROW + MOST_ROWS or columns >= MOST_COLUMNS:
        furthest = place_of(FIRST_ROW + MOST_ROWS - 1, MOST_COLUMNS - 1)
        raise Refused(
            f"{name}, a cell as far as {place_of(rows, columns)}", f"none beyond {furthest}"
        )
    values = book.get_sheet_by_name(name).to_python(skip_empty_area=False)
    noted = _Noted([], [], [], [])

    def where(row: int, column: int) -> str:
        return f"{name}, {place_of(row, column)}"

    def text(row: int, column: int, value: Any) -> str:
        """The text of a cell; blank where it is left out, which is noted."""
        if (row, column) in xml.errors:
            noted.errors.append(where(row, column))
        elif isinstance(value, _DATES):
            noted.dates.append(where(row, column))
        elif (row, column) in xml.unworked or _is_unset(parts, xml, (row, column), value):
            noted.unworked.append(where(row, column))
        elif (row, column) in xml.percent and isinstance(value, int | float):
            return f"{text_of(100 * value)} %"
        else:
            return _text(value)
        return ""

    def cell(row: int, column: int, text: str) -> ProposedCell:
        if (row, column) not in xml.worked_out:
            return ProposedCell(text=text)
        noted.reckoned.append(f"{where(row, column)}: {text[:20]}")
        return ProposedCell(text=text, how=How.RECKONED, beside=f"worked out in the sheet: {text}")

    grid = [[text(r, c, value) for c, value in enumerate(line)] for r, line in enumerate(values)]
    lines = rows_of(schedule, grid, Told(where=where, cell=cell), units)
    return Lines(lines.rows, (*lines.said, *noted.said()), lines.bare)


def _is_unset(parts: Parts, xml: Sheet, at: tuple[int, int], value: Any) -> bool:
    """Whether a formula reads 0 in a file whose writer worked nothing out: then it is no 0."""
    return at in xml.worked_out and parts.is_to_be_worked_out and value in (0, "")


def _text(value: Any) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, int | float):
        return text_of(float(value))
    return str(value)
