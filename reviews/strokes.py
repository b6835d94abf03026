"""Points and strokes that a device sends of a sheet, bounded and checked before anything is kept.

Both are parts of the picture's width and height, from its upper left: 0 to 1, to four places, which
on a sheet of 841 mm is less than a pencil's line. As text, numbers stand apart by spaces, each
stroke's behind a semicolon; a straight stroke is one of two points.
"""

from __future__ import annotations

import re
from collections.abc import Iterable

from criteria.errors import Refused
from reviews.places import Point

Strokes = tuple[tuple[Point, ...], ...]

MOST_STROKES, MOST_POINTS, MOST_IN_ALL = 60, 400, 2_000
"""Most strokes of a comment, points of a stroke, and points of a comment."""

_PART = re.compile(r"[01](?:\.[0-9]{1,20})?")
_SHOWN = 24


def read_point(text: str) -> Point | None:
    """Read a point; blank is none.

    Raises Refused where it is none, or lies off the sheet.

    >>> read_point("0.41207 0.33"), read_point("")
    (Point(x=0.4121, y=0.33), None)
    """
    if not text.strip():
        return None
    points = _points(text)
    if len(points) != 1:
        raise Refused(text[:_SHOWN], "one point: two parts from 0 to 1")
    return points[0]


def read_strokes(text: str) -> Strokes:
    """Read strokes; blank is none.

    Raises Refused where one can't be read, is endless, or leaves the sheet.

    >>> read_strokes("0 0 1 0.5; 0.25 0.25 0.3 0.25")[1]
    (Point(x=0.25, y=0.25), Point(x=0.3, y=0.25))
    """
    strokes = [part for part in text.split(";") if part.strip()]
    if len(strokes) > MOST_STROKES:
        raise Refused(f"{len(strokes)} strokes", f"at most {MOST_STROKES} with one comment")
    read = tuple(_stroke(part) for part in strokes)
    if (points := sum(map(len, read))) > MOST_IN_ALL:
        raise Refused(
            f"strokes of {points} points", f"at most {MOST_IN_ALL} with one comment; begin another"
        )
    return read


def _stroke(text: str) -> tuple[Point, ...]:
    points = len(text.split()) // 2
    if points > MOST_POINTS:
        raise Refused(f"a stroke of {points} points", f"at most {MOST_POINTS}: draw shorter ones")
    if points < 2:
        raise Refused(text.strip()[:_SHOWN], "a stroke of at least two points")
    return _points(text)


def _points(text: str) -> tuple[Point, ...]:
    parts = [_part(each) for each in text.split()]
    if len(parts) % 2:
        raise Refused(f"{len(parts)} numbers", "an even number: each point is two")
    return tuple(map(Point, parts[::2], parts[1::2]))


def _part(text: str) -> float:
    if not _PART.fullmatch(text) or float(text) > 1:
        raise Refused(text[:_SHOWN], "a part of the sheet from 0 to 1")
    return round(float(text), 4)


def strokes_kept(kept: Iterable[Iterable[Iterable[float]]]) -> Strokes:
    """Strokes as they lie in the database, as points again."""
    return tuple(tuple(Point(*point) for point in stroke) for stroke in kept)


def write_points(points: Iterable[Point]) -> str:
    """Points as text, as `read_strokes` reads them.

    >>> write_points([Point(0.5, 1.0), Point(0, 0.25)])
    '0.5 1 0 0.25'
    """
    return " ".join(f"{part:g}" for point in points for part in point)


def write_strokes(strokes: Strokes) -> str:
    """Strokes as text, as `read_strokes` reads them."""
    return ";".join(map(write_points, strokes))
