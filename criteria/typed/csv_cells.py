"""Cells of a CSV that no spreadsheet runs, and that come back as they were typed.

A spreadsheet takes a cell for a formula by its first sign. Such a cell gets an apostrophe before
it (common practice), whatever its column holds, and loses it again where it is read. A plain
number is no formula: −5 typed as -5 stays a number. A sign alone does nothing.
"""

import csv
import io
import re
from collections.abc import Iterable

_RUNS = r"[\s']*[=+\-@＝＋－＠]|'*[\t\r\n]"
"""How a formula begins: also after blanks, which some trim, and in full width."""

_PLAIN = re.compile(r"[+-]?(\d+([.,]\d+)*|[.,]\d+)([eE][+-]?\d+)?|[=+\-@]?", re.ASCII)
_BEGINS = re.compile(_RUNS)
_GUARDED = re.compile(rf"'(?:{_RUNS})")


def harmless(text: str) -> str:
    """Return a cell as it is written.

    >>> [harmless(text) for text in ("=1+1", "-5", "-5 °C", "-", "'@", "Lee")]
    ["'=1+1", '-5', "'-5 °C", '-', "''@", 'Lee']
    """
    return f"'{text}" if _BEGINS.match(text) and not _PLAIN.fullmatch(text) else text


def as_typed(cell: str) -> str:
    """Return a cell that is read as it was before it was made harmless.

    >>> [as_typed(cell) for cell in ("'=1+1", "-5", "''@", "'5")]
    ['=1+1', '-5', "'@", "'5"]
    """
    return cell[1:] if _GUARDED.match(cell) else cell


def csv_of(lines: Iterable[Iterable[str]]) -> str:
    """Write lines of cells, heads and all, as CSV."""
    out = io.StringIO()
    csv.writer(out, lineterminator="\r\n").writerows([harmless(c) for c in line] for line in lines)
    return out.getvalue()
