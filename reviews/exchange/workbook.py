"""Tables as one spreadsheet file: Office Open XML, ISO/IEC 29500, which every spreadsheet reads."""

from __future__ import annotations

import io
import re
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from datetime import datetime

from xlsxwriter import Workbook

from criteria.typed.csv_cells import harmless

Cell = str | int | float | None

LONGEST_NAME = 31
"""Characters of a sheet's name that spreadsheets take."""

LONG_AGO = datetime(1980, 1, 1)
"""When a file says it was made that says of no moment: so the same tables are the same bytes."""

_NOT_IN_NAMES = re.compile(r"[\[\]:*?/\\]")
_NOT_IN_XML = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\ufffe\uffff]")
"""Signs that no XML 1.0 may hold (2.2)."""


@contextmanager
def workbook_into(
    out: io.BytesIO, title: str = "", made_at: datetime | None = None
) -> Iterator[Workbook]:
    """Open a workbook that is written whole as it is left; no cell of it becomes a formula."""
    book = Workbook(out, {"in_memory": True})
    moment = made_at.replace(tzinfo=None) if made_at else LONG_AGO
    book.set_properties({"title": title, "author": "Muntin", "created": moment})
    yield book
    book.close()


def workbook_of(sheets: Iterable[tuple[str, Iterable[Sequence[Cell]]]]) -> bytes:
    """Write sheets of lines of cells, heads and all; figures stay figures.

    Text that a spreadsheet would run is made harmless as in a CSV, for tables are often kept as
    one later, and signs that no such file may hold are replaced.
    """
    out = io.BytesIO()
    with workbook_into(out) as book:
        for name, lines in sheets:
            sheet = book.add_worksheet(_NOT_IN_NAMES.sub(" ", name)[:LONGEST_NAME])
            for row, line in enumerate(lines):
                for column, cell in enumerate(line):
                    if isinstance(cell, str):
                        text = harmless(_NOT_IN_XML.sub("\ufffd", cell))
                        sheet.write_string(row, column, text)
                    elif cell is not None:
                        sheet.write_number(row, column, cell)
    return out.getvalue()
