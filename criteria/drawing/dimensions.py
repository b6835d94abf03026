"""Dimensions and level marks, as ISO 129-1 has them (from memory).

Oblique strokes end a dimension; its figure stands over the line, read from the foot or the right.
"""

from __future__ import annotations

from collections.abc import Iterator

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
    yield _line((left, y), (right, y), tone)
    ends = [((x - STROKE_MM, y + STROKE_MM), (x + STROKE_MM, y - STROKE_MM)) for x in (left, right)]
    yield Strokes(segments=tuple(ends), pen=Pen.SEEN, tone=tone)
    if of is not None:
        sign = 1 if y > of else -1
        for x in (left, right):
            yield _line((x, of + sign * AWAY_MM), (x, y + sign * PAST_MM), tone)
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
    yield _line((x, top), (x, foot), tone)
    ends = [((x - STROKE_MM, y + STROKE_MM), (x + STROKE_MM, y - STROKE_MM)) for y in (top, foot)]
    yield Strokes(segments=tuple(ends), pen=Pen.SEEN, tone=tone)
    if of is not None:
        sign = 1 if x > of else -1
        for y in (top, foot):
            yield _line((of + sign * AWAY_MM, y), (x + sign * PAST_MM, y), tone)
    at = x - OVER_MM, (top + foot) / 2
    yield Lettering(words=words, at=at, anchor="middle", tone=tone, is_turned=True)


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
