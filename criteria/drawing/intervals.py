"""Differences with their intervals on one scale: a line each, so that lines under each other agree.

What tells two groups apart is a full line about a lozenge, what doesn't a dashed one about a ring.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from criteria.drawing.drawing import Drawing
from criteria.drawing.marks import Disc, Lettering, Mark, Path, Point, Strokes
from criteria.drawing.pens import Fill, Pen, Tone

WIDTH_MM, LINE_MM, SCALE_MM = 110.0, 6.0, 7.0
SIDE_MM = 5.0
"""Kept on either side, for the figures at the scale's ends [mm]."""
MOST = 4
"""No scale reaches further to either side: what lies beyond ends in an arrow there [1]."""
TICK_MM, MARK_MM = 1.3, 1.2
DASH_MM, GAP_MM = 2.0, 1.1
FIGURE_MM = 3.0
CLOSE_MM, LETTER_MM = 4.2, 2.5
"""Between several differences of one thing, and their letters [mm]."""


@dataclass(frozen=True, kw_only=True)
class Interval:
    """A difference, and between which ends it lies; in one unit for all that share a scale."""

    value: float
    low: float
    high: float
    is_apart: bool


def reach(intervals: Iterable[Interval]) -> int:
    """Return how far a scale for all of them reaches to either side, in whole units.

    >>> reach([Interval(value=1.9, low=1.0, high=2.8, is_apart=True)]), reach([])
    (3, 1)
    """
    ends = [abs(end) for each in intervals for end in (each.low, each.high)]
    return min(MOST, math.ceil(max([1.0, *ends])))


def draw_interval(interval: Interval, to: int, title: str, says: str) -> Drawing:
    """Draw one difference on a scale that reaches so far to either side."""
    y = LINE_MM / 2
    marks = [*_grid(to, LINE_MM), *_line(interval, to, y), *_middle(interval, to, y)]
    return Drawing(title=title, says=says, width_mm=WIDTH_MM, height_mm=LINE_MM, marks=tuple(marks))


def draw_intervals(
    intervals: Mapping[str, Interval | None], to: int, title: str, says: str
) -> Drawing:
    """Draw several differences of one thing under each other, each with its letter at the left.

    Where there is none its place stays empty, so that a letter stands at one height in all of them.
    """
    tall = CLOSE_MM * len(intervals)
    marks = list(_grid(to, tall))
    for n, (letter, interval) in enumerate(intervals.items()):
        y = (n + 0.5) * CLOSE_MM
        foot = y + LETTER_MM / 2
        marks.append(Lettering(words=letter, at=(0.0, foot), cap_mm=LETTER_MM, tone=Tone.GRAPHITE))
        if interval is not None:
            marks += [*_line(interval, to, y), *_middle(interval, to, y)]
    return Drawing(title=title, says=says, width_mm=WIDTH_MM, height_mm=tall, marks=tuple(marks))


def draw_scale(to: int, title: str) -> Drawing:
    """Draw the scale that the lines share."""
    foot = SCALE_MM - 1.5
    ticks = tuple(((_x(n, to), foot), (_x(n, to), SCALE_MM)) for n in _whole(to))
    letters = [
        Lettering(
            words=f"{'−' * (n < 0)}{'+' * (n > 0)}{abs(n)}",
            at=(_x(n, to), foot - 1.2),
            anchor="middle",
            cap_mm=FIGURE_MM,
            tone=Tone.GRAPHITE,
        )
        for n in _whole(to)
    ]
    ends = ((_x(-to, to), SCALE_MM - 0.2), (_x(to, to), SCALE_MM - 0.2))
    return Drawing(
        title=title,
        says=f"From −{to} to +{to}.",
        width_mm=WIDTH_MM,
        height_mm=SCALE_MM,
        marks=(Strokes(segments=ticks, pen=Pen.FINE), Path(points=ends, pen=Pen.FINE), *letters),
    )


def _whole(to: int) -> range:
    return range(-to, to + 1)


def _x(value: float, to: int) -> float:
    return WIDTH_MM / 2 + max(-to, min(to, value)) / to * (WIDTH_MM / 2 - SIDE_MM)


def _grid(to: int, tall_mm: float) -> Iterator[Mark]:
    lines = tuple(((_x(n, to), 0.0), (_x(n, to), tall_mm)) for n in _whole(to) if n)
    yield Strokes(segments=lines, tone=Tone.GRAPHITE)
    yield Path(points=((_x(0, to), 0.0), (_x(0, to), tall_mm)), pen=Pen.SEEN)


def _line(interval: Interval, to: int, y: float) -> Iterator[Mark]:
    left, right = _x(interval.low, to), _x(interval.high, to)
    if interval.is_apart:
        yield Path(points=((left, y), (right, y)), pen=Pen.CUT)
    else:
        yield Strokes(segments=tuple(_dashes(left, right, y)), pen=Pen.FINE)
    pen = Pen.SEEN if interval.is_apart else Pen.FINE
    ends = (*_end(left, y, interval.low < -to, -1), *_end(right, y, interval.high > to, 1))
    yield Strokes(segments=ends, pen=pen)


def _dashes(left: float, right: float, y: float) -> Iterator[tuple[Point, Point]]:
    for n in range(math.ceil((right - left) / (DASH_MM + GAP_MM))):
        start = left + n * (DASH_MM + GAP_MM)
        yield (start, y), (min(start + DASH_MM, right), y)


def _end(x: float, y: float, is_beyond: bool, way: int) -> tuple[tuple[Point, Point], ...]:
    """A tick where an interval ends, an arrow where it goes on past the scale."""
    if not is_beyond:
        return (((x, y - TICK_MM), (x, y + TICK_MM)),)
    tip, back = (x + way * 2.0, y), x - way * 0.2
    return ((back, y - TICK_MM), tip), ((back, y + TICK_MM), tip)


def _middle(interval: Interval, to: int, y: float) -> Iterator[Mark]:
    if abs(interval.value) > to:
        return
    x = _x(interval.value, to)
    if not interval.is_apart:
        yield Disc(middle=(x, y), radius_mm=MARK_MM, pen=Pen.FINE, fill=Fill.PAPER)
        return
    corners = ((x - MARK_MM, y), (x, y - MARK_MM), (x + MARK_MM, y), (x, y + MARK_MM))
    yield Path(points=corners, pen=Pen.FINE, fill=Fill.INK, is_closed=True)
