"""Cells of a workbook: which text may stand there as a number, and what a number reads as."""

from __future__ import annotations

import re
from decimal import Decimal

from criteria.typed import quantities

LONGEST_CELL = 32_767
"""Letters that a cell of a spreadsheet holds (ECMA-376 leaves it to the programs; from memory)."""

_FIGURE = re.compile(r"-?\d{1,15}(\.\d{1,15})?", re.ASCII)


def text_of(number: float) -> str:
    """Write a number as the text that is kept: in as many figures as a spreadsheet shows.

    >>> text_of(1200.0), text_of(0.1 + 0.2), text_of(1e-7), text_of(1.234)
    ('1200', '0.3', '0.0000001', '1.2340')
    """
    return quantities.plain(f"{Decimal(f'{number:.15g}'):f}")


def stands_as_number(text: str) -> bool:
    """Tell whether a number cell reads as the same text: only then is one written.

    >>> [stands_as_number(text) for text in ("1200", "1.20", "007", "-0.0", "1e5", "3/4", "22,4")]
    [True, False, False, False, False, False, False]
    """
    return bool(_FIGURE.fullmatch(text)) and text_of(float(text)) == text


def place_of(row: int, column: int) -> str:
    """Name a cell as a spreadsheet does, of its row and column counted from 0.

    >>> place_of(3, 2), place_of(0, 27)
    ('C4', 'AB1')
    """
    letters, rest = "", column + 1
    while rest:
        rest, letter = divmod(rest - 1, 26)
        letters = chr(ord("A") + letter) + letters
    return f"{letters}{row + 1}"
