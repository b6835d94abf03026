"""Hatching: lines at 45° inside a convex shape, cut where they leave it."""

from __future__ import annotations

from collections.abc import Sequence

from criteria.drawing.marks import Point, Strokes
from criteria.drawing.pens import Pen, Tone


def hatched(
    corners: Sequence[Point], apart_mm: float, tone: Tone, *, is_rising: bool = True
) -> Strokes:
    """Hatch a convex shape.

    apart_mm   between lines, along x
    """
    sign = 1.0 if is_rising else -1.0
    offsets = [y + sign * x for x, y in corners]
    sides = list(zip(corners, [*corners[1:], corners[0]], strict=True))
    found: list[tuple[Point, Point]] = []
    offset = min(offsets) + apart_mm / 2
    while offset < max(offsets):
        cuts = [cut for one, other in sides for cut in _cut(one, other, sign, offset)]
        found.append((min(cuts), max(cuts)))
        offset += apart_mm
    return Strokes(segments=tuple(found), pen=Pen.HATCH, tone=tone)


def _cut(one: Point, other: Point, sign: float, offset: float) -> list[Point]:
    start, end = one[1] + sign * one[0] - offset, other[1] + sign * other[0] - offset
    if start * end > 0 or start == end:
        return []
    share = start / (start - end)
    return [(one[0] + share * (other[0] - one[0]), one[1] + share * (other[1] - one[1]))]
