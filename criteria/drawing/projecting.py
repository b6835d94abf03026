"""Boxes seen from a corner: the dimetric projection of ISO 5456-3, from memory.

Lengths run 7° down to the right and heights straight up, both true; widths run 42° up to the right,
halved.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from criteria.drawing.marks import Path, Point, Strokes
from criteria.drawing.pens import Fill, Pen, Tone
from criteria.drawing.scales import DrawnScale

LENGTH_DEG, WIDTH_DEG, WIDTH_SHARE = 7.0, 42.0, 0.5
_LENGTH = math.cos(math.radians(LENGTH_DEG)), math.sin(math.radians(LENGTH_DEG))
_WIDTH = (
    WIDTH_SHARE * math.cos(math.radians(WIDTH_DEG)),
    -WIDTH_SHARE * math.sin(math.radians(WIDTH_DEG)),
)
Sizes = tuple[float, float, float]
"""Length, width and height [m]."""


def extent_m(sizes_m: Sizes) -> tuple[float, float]:
    """Return how wide and how tall the view of a box is [m].

    >>> [round(each, 2) for each in extent_m((6.0, 2.3, 2.2))]
    [6.81, 3.7]
    """
    length, width, height = sizes_m
    return (
        length * _LENGTH[0] + width * _WIDTH[0],
        height + length * _LENGTH[1] - width * _WIDTH[1],
    )


@dataclass(frozen=True)
class Dimetric:
    """A view: its scale, and where the near left lower corner of what is seen lies on paper."""

    scale: DrawnScale
    corner: Point

    @classmethod
    def of(cls, sizes_m: Sizes, scale: DrawnScale, left_mm: float, top_mm: float) -> Dimetric:
        """Return the view of a box whose left and top end there on paper."""
        _, width, height = sizes_m
        return cls(scale, (left_mm, top_mm + scale.mm(height - width * _WIDTH[1])))

    def at(self, length_m: float, width_m: float, height_m: float) -> Point:
        """Return where a point lies on paper."""
        x = length_m * _LENGTH[0] + width_m * _WIDTH[0]
        y = length_m * _LENGTH[1] + width_m * _WIDTH[1] - height_m
        return self.corner[0] + self.scale.mm(x), self.corner[1] + self.scale.mm(y)

    def faces(self, low: Sizes, high: Sizes) -> tuple[tuple[Point, ...], ...]:
        """Return the corners of the three faces that are seen: near, upper, right end."""
        return self.front(low, high), self.top(low, high), self.end(low, high)

    def front(self, low: Sizes, high: Sizes) -> tuple[Point, ...]:
        """Return the corners of the near face of a box."""
        (x, y, z), (to_x, _, to_z) = low, high
        return self._all((x, y, z), (to_x, y, z), (to_x, y, to_z), (x, y, to_z))

    def top(self, low: Sizes, high: Sizes) -> tuple[Point, ...]:
        """Return the corners of its upper face."""
        (x, y, _), (to_x, to_y, z) = low, high
        return self._all((x, y, z), (to_x, y, z), (to_x, to_y, z), (x, to_y, z))

    def end(self, low: Sizes, high: Sizes) -> tuple[Point, ...]:
        """Return the corners of its right end."""
        (_, y, z), (x, to_y, to_z) = low, high
        return self._all((x, y, z), (x, to_y, z), (x, to_y, to_z), (x, y, to_z))

    def _all(self, *points: Sizes) -> tuple[Point, ...]:
        return tuple(self.at(*point) for point in points)

    def solid(self, sizes_m: Sizes, tone: Tone = Tone.INK) -> Iterator[Path]:
        """Draw the three faces that are seen of a box that stands in the near left corner."""
        for points in self.faces((0.0, 0.0, 0.0), sizes_m):
            yield Path(points=points, pen=Pen.SEEN, tone=tone, fill=Fill.PAPER, is_closed=True)

    def edges(self, sizes_m: Sizes) -> Strokes:
        """Draw all edges of a box that bounds what is seen, in long and short dashes."""
        length, width, height = sizes_m
        ends = ((0.0, length), (0.0, width), (0.0, height))
        along = [((0.0, y, z), (length, y, z)) for y in ends[1] for z in ends[2]]
        along += [((x, 0.0, z), (x, width, z)) for x in ends[0] for z in ends[2]]
        along += [((x, y, 0.0), (x, y, height)) for x in ends[0] for y in ends[1]]
        segments = tuple((self.at(*one), self.at(*other)) for one, other in along)
        return Strokes(segments=segments, pen=Pen.DATUM, tone=Tone.GRAPHITE)
