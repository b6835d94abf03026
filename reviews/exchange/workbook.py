"""Tables as one spreadsheet file: Office Open XML, ISO/IEC 29500, which every spreadsheet reads."""

from __future__ import annotations

import io
from collections.abc import Iterable, Sequence

from openpyxl import Workbook
from openpyxl.cell.cell import ILLEGAL_CHARACTERS_RE

from criteria.typed.csv_cells import harmless

Cell = str | int | float | None

LONGEST_NAME = 31
"""Characters of a sheet's name that spreadsheets take."""


def workbook_of(sheets: Iterable[tuple[str, Iterable[Sequence[Cell]]]]) -> bytes:
    """Write sheets of lines of cells, heads and all; figures stay figures.

    Text that a spreadsheet would run is made harmless as in a CSV, and signs that no such file may
    hold are replaced.
    """
    book = Workbook(write_only=True)
    for name, lines in sheets:
        sheet = book.create_sheet(name[:LONGEST_NAME])
        for line in lines:
            sheet.append([_cell(cell) for cell in line])
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def _cell(cell: Cell) -> Cell:
    return harmless(ILLEGAL_CHARACTERS_RE.sub("\ufffd", cell)) if isinstance(cell, str) else cell
