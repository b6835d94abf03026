"""A pane of glass drawn: its frame, the glass, and the lines that say how it opens."""

from __future__ import annotations

from collections.abc import Iterator

from criteria.drawing.elevations import Pane
from criteria.drawing.marks import Box, Path, Point, Strokes, rectangle
from criteria.drawing.pens import Fill, Pen, Tone
from criteria.drawing.walls_laid import Part

LINE_WIDE_MM = 0.01
"""How wide a line is that no words cross [mm]."""


def box_of(pane: Pane, part: Part, x: float, foot: float) -> Box:
    """Where a pane lies on paper."""
    mm = part.scale.mm
    left, low = x + mm(pane.left_m), foot - mm(pane.low_m)
    return left, low - mm(pane.high_m), left + mm(pane.wide_m), low


def edges(box: Box) -> Iterator[Box]:
    """The four lines of a box, which no words cross."""
    left, top, right, low = box
    yield from ((left, top, right, top + LINE_WIDE_MM), (left, low, right, low + LINE_WIDE_MM))
    yield from ((left, top, left + LINE_WIDE_MM, low), (right, top, right + LINE_WIDE_MM, low))


def _opening_lines(opens: str, box: Box) -> Iterator[tuple[Point, Point]]:
    """Lines from the corners to where a sash hangs; of a hand that no row says, none."""
    left, top, right, low = box
    x, y = (left + right) / 2, (top + low) / 2
    if opens == "top-hung":
        yield from (((left, low), (x, top)), ((right, low), (x, top)))
    elif opens == "bottom-hung":
        yield from (((left, top), (x, low)), ((right, top), (x, low)))
    elif opens == "pivot":
        yield from (((left, y), (x, top)), ((x, top), (right, y)))
        yield from (((left, y), (x, low)), ((x, low), (right, y)))
    elif opens == "louvre":
        yield from (
            ((left, top + n * (low - top) / 5), (right, top + n * (low - top) / 5))
            for n in range(1, 5)
        )


def draw_pane(pane: Pane, part: Part, box: Box, tone: Tone) -> Iterator[Path | Strokes]:
    """Draw a pane; dashed where its place is assumed."""
    left, top, right, low = box
    if pane.around_m:
        by, up = (part.scale.mm(each) / 2 for each in pane.around_m)
        around = rectangle((left - by, top - up, right + by, low + up))
        yield Path(points=around, pen=Pen.FINE, fill=Fill.PAPER, is_closed=True)
    yield Path(
        points=rectangle(box),
        pen=Pen.ASSUMED if pane.gap else Pen.SEEN,
        tone=tone,
        fill=Fill.GLASS,
        is_closed=True,
        gap=pane.gap,
    )
    if lines := tuple(_opening_lines(pane.opens, box)):
        yield Strokes(segments=lines, pen=Pen.HATCH, tone=Tone.GRAPHITE)
