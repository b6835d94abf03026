"""Where on the sheets something is: sheet number and zone, as it is said, 02 C4; or a point."""

from __future__ import annotations

import re
from typing import NamedTuple

from criteria.errors import Refused

_SHEET = re.compile(r"(?:sheet\s+)?(?P<sheet>[0-9]{1,4}[A-Za-z]?)?[\s.,/-]*(?P<zone>[A-Za-z]\d+)?")
_ZONE = re.compile(r"[A-D][1-6]")
_LONGEST_NUMBER = 8

ROWS = "ABCD"
COLUMNS = "123456"
"""Letters down and numbers across the border of every sheet."""


class Place(NamedTuple):
    """A sheet's number and a zone of it; either may be blank."""

    sheet: str = ""
    zone: str = ""

    def __str__(self) -> str:
        return "·".join(part for part in self if part)


class Point(NamedTuple):
    """A point of a sheet: parts of its picture's width and height from the upper left, 0 to 1."""

    x: float
    y: float

    @property
    def zone(self) -> str:
        """The zone that it lies in; on a line between two, the one right of it or below.

        >>> Point(0, 0).zone, Point(0.5, 0.5).zone, Point(1, 1).zone
        ('A1', 'C4', 'D6')
        """
        row = min(int(self.y * len(ROWS)), len(ROWS) - 1)
        column = min(int(self.x * len(COLUMNS)), len(COLUMNS) - 1)
        return ROWS[row] + COLUMNS[column]


def middle_of(zone: str) -> Point:
    """The middle of a zone.

    >>> middle_of("A1"), middle_of("C4").zone
    (Point(x=0.0833, y=0.125), 'C4')
    """
    row, column = ROWS.index(zone[0]), COLUMNS.index(zone[1])
    x, y = (column + 0.5) / len(COLUMNS), (row + 0.5) / len(ROWS)
    return Point(round(x, 4), round(y, 4))


def read_place(text: str) -> Place:
    """Read a place: 02·C4, 02 C4, sheet 2 c4, 02, C4 or nothing.

    Raises Refused where it is none.

    >>> str(read_place("sheet 02, c4")), str(read_place("A-101·B2")), str(read_place("02"))
    ('02·C4', 'A-101·B2', '02')
    """
    typed = text.strip()
    if "·" in typed:
        number, zone = (part.strip() for part in typed.split("·", 1))
    elif match := _SHEET.fullmatch(typed):
        number, zone = match["sheet"] or "", match["zone"] or ""
    else:
        number, zone = "", typed
    zone = zone.upper()
    if len(number) > _LONGEST_NUMBER or (zone and not _ZONE.fullmatch(zone)):
        raise Refused(typed, "a sheet and a zone from A1 to D6: 02 C4")
    return Place(number, zone)
