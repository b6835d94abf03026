"""Forces as arrows, and where something weighs: how both are drawn."""

from __future__ import annotations

import math
from collections.abc import Iterator

from criteria.drawing.marks import Disc, Path, Point
from criteria.drawing.pens import Fill, Pen, Tone

HEAD_MM, CENTRE_MM = 1.6, 1.7
"""How wide the head of an arrow is; radius of the mark of a centre of mass [mm]."""
_ROUND = 6
"""Points of a quarter of a circle."""


def arrow(start: Point, end: Point, *, pen: Pen = Pen.CUT, tone: Tone = Tone.INK) -> Iterator[Path]:
    """Draw an arrow: a line, and a filled head at its end."""
    length = math.dist(start, end)
    along = (end[0] - start[0]) / length, (end[1] - start[1]) / length
    back = end[0] - along[0] * 2 * HEAD_MM, end[1] - along[1] * 2 * HEAD_MM
    side = -along[1] * HEAD_MM / 2, along[0] * HEAD_MM / 2
    yield Path(points=(start, back), pen=pen, tone=tone)
    head = (end, (back[0] + side[0], back[1] + side[1]), (back[0] - side[0], back[1] - side[1]))
    yield Path(points=head, pen=Pen.FINE, tone=tone, fill=Fill.INK, is_closed=True)


def centre_of_mass(at: Point, tone: Tone = Tone.INK) -> Iterator[Disc | Path]:
    """Mark a centre of mass: a circle of which two quarters are filled."""
    yield Disc(middle=at, radius_mm=CENTRE_MM, pen=Pen.FINE, tone=tone, fill=Fill.PAPER)
    for begin in (0.0, math.pi):
        turns = [begin + n / _ROUND * math.pi / 2 for n in range(_ROUND + 1)]
        rim = [
            (at[0] + CENTRE_MM * math.cos(turn), at[1] + CENTRE_MM * math.sin(turn))
            for turn in turns
        ]
        yield Path(points=(at, *rim), pen=Pen.FINE, tone=tone, fill=Fill.INK, is_closed=True)
