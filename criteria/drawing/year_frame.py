"""What drawings of a year share: the answer over them, days along their foot, notes, line ends."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence

from criteria.drawing.drawing import Field
from criteria.drawing.lettering import ANSWER_MM, LEAST_MM, fitted, width_mm, wrapped
from criteria.drawing.marks import Lettering, Mark, Path, Strokes
from criteria.drawing.pens import Pen, Tone
from criteria.drawing.value_bars import GAP_MM, LINE_MM, SIDE_MM
from criteria.hourly.dates import MONTH_DAYS
from criteria.schedules.site import MONTHS
from criteria.units import System, rounded

BEGINS = tuple(sum(MONTH_DAYS[:n]) for n in range(13))
"""The day with which each month begins, counted from 0, and the end of the year."""
MOST_TICKS = 5
TICKS = tuple(n * 10**e for e in range(-1, 7) for n in (1, 2, 5))


def heading(words: str, says: str, tone: Tone, field: Field) -> tuple[list[Mark], float]:
    """Letter the answer over a drawing and what it is beside it; say how much that takes [mm]."""
    room = field.width_mm - 2 * SIDE_MM
    shown = fitted(words, ANSWER_MM, room)
    foot = ANSWER_MM + 0.6
    marks: list[Mark] = [
        Lettering(words=shown, at=(SIDE_MM, foot), cap_mm=ANSWER_MM, tone=tone, is_strong=True)
    ]
    after = SIDE_MM + width_mm(shown, ANSWER_MM) + GAP_MM
    if after + width_mm(says, LEAST_MM) <= field.width_mm - SIDE_MM:
        return [*marks, Lettering(words=says, at=(after, foot))], foot + 3.2
    lines, foot = notes([says], foot + 0.6, field, Tone.INK)
    return [*marks, *lines], foot + 3.2


def notes(
    says: Iterable[str], top_mm: float, field: Field, tone: Tone = Tone.GRAPHITE
) -> tuple[list[Mark], float]:
    """Letter notes from some height on, and say where they end [mm]."""
    marks: list[Mark] = []
    for each in says:
        for line in wrapped(each, LEAST_MM, field.width_mm - 2 * SIDE_MM, 4):
            top_mm += LINE_MM
            marks.append(Lettering(words=line, at=(SIDE_MM, top_mm), tone=tone))
    return marks, top_mm


def month_axis(left: float, right: float, foot: float, field: Field) -> Iterator[Mark]:
    """Name the months under a year that goes from left to right, with a tick between them."""
    per_day = (right - left) / BEGINS[-1]
    ticks = tuple(((left + n * per_day, foot), (left + n * per_day, foot + 1.4)) for n in BEGINS)
    yield Strokes(segments=ticks, pen=Pen.FINE)
    for n, name in enumerate(MONTHS):
        middle = left + (BEGINS[n] + BEGINS[n + 1]) / 2 * per_day
        at = (middle, foot + LINE_MM)
        yield Lettering(words=name[0] if field.is_narrow else name, at=at, anchor="middle")


def ticks_of(low: float, high: float) -> list[float]:
    """Return round figures from one to another, few enough to be read beside an axis.

    >>> ticks_of(-12.3, 24.0), ticks_of(0, 7.9)
    ([-10, 0, 10, 20], [0, 2, 4, 6])
    """
    step = next((each for each in TICKS if (high - low) / each <= MOST_TICKS), TICKS[-1])
    first, last = math.ceil(low / step), math.floor(high / step)
    return [round(n * step, 6) for n in range(first, last + 1)]


def tick_words(figure: float, system: System) -> str:
    """Write a round figure beside an axis, with a minus that is as wide as a figure."""
    places = 0 if figure == int(figure) else 1
    return rounded(figure, places, system).replace("-", "−")


def ends(named: Mapping[str, float], x: float, top: float, foot: float) -> Iterator[Lettering]:
    """Letter lines at their right ends, in their order, none over another.

    named   the height at which each line ends, by what it is [mm]
    """
    heights = spread([*named.values()], LINE_MM, top + LEAST_MM / 2, foot - LEAST_MM / 2)
    for words, y in zip(named, heights, strict=True):
        yield Lettering(words=words, at=(x, y + LEAST_MM / 2))


def spread(heights: Sequence[float], apart: float, top: float, foot: float) -> list[float]:
    """Move heights as little as lets them stand apart, between top and foot where all have room.

    >>> spread([5, 5.5, 20], 4, 0, 22)
    [5, 9, 20]
    >>> spread([20, 21, 22], 4, 0, 22)
    [14, 18, 22]
    """
    order = sorted(range(len(heights)), key=lambda n: heights[n])
    found = [min(max(heights[n], top), foot) for n in order]
    for n in range(1, len(found)):
        found[n] = max(found[n], found[n - 1] + apart)
    below = foot
    for n in reversed(range(len(found))):
        found[n] = min(found[n], below)
        below = found[n] - apart
    placed = dict(zip(order, found, strict=True))
    return [placed[n] for n in range(len(heights))]


def frame(left: float, top: float, right: float, foot: float) -> Path:
    """Draw the edge of a field of figures."""
    corners = (left, top), (right, top), (right, foot), (left, foot)
    return Path(points=corners, pen=Pen.SEEN, is_closed=True)
