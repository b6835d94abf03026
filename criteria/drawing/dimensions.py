"""Dimensions and level marks, as ISO 129-1 has them (from memory).

Oblique strokes end a dimension; its figure stands over the line, read from the foot or the right.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from criteria.drawing.lettering import LEAST_MM
from criteria.drawing.marks import Lettering, Path, Point, Strokes
from criteria.drawing.pens import Fill, Pen, Tone

AWAY_MM, PAST_MM, STROKE_MM, OVER_MM = 1.0, 1.2, 0.9, 0.9
"""From the object to its extension lines; how far these pass the line; half a stroke; from the
line to its figure [mm]."""
LEVEL_MM = 2.2
"""Height of the triangle of a level mark [mm]."""


def across(
    left: float,
    right: float,
    y: float,
    words: str,
    *,
    of: float | None = None,
    tone: Tone = Tone.INK,
) -> Iterator[Path | Strokes | Lettering]:
    """Dimension a width.

    left, right, y   where the line lies
    of               where the object ends, from which extension lines come; none without
    """
    yield from _ruled([(x, y) for x in (left, right)], (0.0, 1.0), of, tone)
    yield Lettering(words=words, at=((left + right) / 2, y - OVER_MM), anchor="middle", tone=tone)


def upwards(
    top: float,
    foot: float,
    x: float,
    words: str,
    *,
    of: float | None = None,
    tone: Tone = Tone.INK,
) -> Iterator[Path | Strokes | Lettering]:
    """Dimension a height.

    top, foot, x   where the line lies
    of             where the object ends, from which extension lines come; none without
    """
    yield from _ruled([(x, y) for y in (top, foot)], (1.0, 0.0), of, tone)
    at = x - OVER_MM, (top + foot) / 2
    yield Lettering(words=words, at=at, anchor="middle", tone=tone, is_turned=True)


def _ruled(
    ends: Sequence[Point], off: Point, of: float | None, tone: Tone
) -> Iterator[Path | Strokes]:
    """A line between two ends with oblique strokes, and the lines that lead to it.

    off   the way from the object to the line: down or to the right
    of    where the object ends, along it
    """
    yield _line(ends[0], ends[1], tone)
    strokes = [((x - STROKE_MM, y + STROKE_MM), (x + STROKE_MM, y - STROKE_MM)) for x, y in ends]
    yield Strokes(segments=tuple(strokes), pen=Pen.SEEN, tone=tone)
    if of is None:
        return
    for end in ends:
        away = end[0] * off[0] + end[1] * off[1]
        sign = 1 if away > of else -1
        start, stop = of + sign * AWAY_MM - away, sign * PAST_MM
        one, other = ((end[0] + by * off[0], end[1] + by * off[1]) for by in (start, stop))
        yield _line(one, other, tone)


def level(at: Point, words: str, *, tone: Tone = Tone.INK) -> Iterator[Path | Lettering]:
    """Mark a level: an open triangle that stands on it, on a short line, its figure beside it."""
    x, y = at
    half = LEVEL_MM / 2
    corners = ((x, y), (x - half, y - LEVEL_MM), (x + half, y - LEVEL_MM))
    yield Path(points=corners, pen=Pen.FINE, tone=tone, fill=Fill.PAPER, is_closed=True)
    yield _line((x - LEVEL_MM, y), (x + LEVEL_MM, y), tone)
    yield Lettering(words=words, at=(x + LEVEL_MM, y - (LEVEL_MM - LEAST_MM) / 2 - 0.3), tone=tone)


def _line(one: Point, other: Point, tone: Tone) -> Path:
    return Path(points=(one, other), pen=Pen.FINE, tone=tone)
