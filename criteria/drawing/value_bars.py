"""Figures as bars along one axis: limits as heavy ticks, what lacks or is over hatched beside."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from criteria.drawing.drawing import Field
from criteria.drawing.hatching import hatched
from criteria.drawing.held import Held
from criteria.drawing.lettering import ANSWER_MM, LEAST_MM, fitted, width_mm, wrapped
from criteria.drawing.marks import Lettering, Mark, Path, Strokes, Touch, rectangle
from criteria.drawing.pens import Fill, Pen, Tone
from criteria.drawing.picture import Asked
from criteria.units import System

SIDE_MM, GAP_MM = 2.0, 2.0
BAR_MM, TICK_MM, BREAK_MM = 2.2, 4.0, 1.4
SAME_MM = 1e-6
"""What words may be wider than their room: the arithmetic's own error [mm]."""
ROW_MM, STACKED_MM, LINE_MM = 5.4, 9.4, 4.0
"""A line of a wide drawing; of a narrow one, where words stand over their bar; of words [mm]."""
NAMES, WORDS = 0.34, 0.5
"""As much of a wide drawing names take at most, and where words begin at the earliest [1]."""
AFTER_LIMIT, FAR = 1.25, 2.0
"""How far an axis goes past its furthest limit, and from where on it breaks what is longer [1]."""


@dataclass(frozen=True)
class Axis:
    """A line along which figures lie: where it begins on paper, and how long one of them is.

    end   the figure at its right end [SI]
    """

    left_mm: float
    right_mm: float
    end: float

    def x(self, value: float) -> float:
        """Where a figure lies; what is past either end, at that end [mm]."""
        share = min(max(value / self.end, 0.0), 1.0)
        return self.left_mm + share * (self.right_mm - self.left_mm)


@dataclass(frozen=True, kw_only=True)
class Bar:
    """A figure, its name, and what is lettered beside it.

    row         schedule and mark of the row that it leads to
    is_strong   whether it is the one that is picked out
    """

    name: str
    held: Held
    words: str
    row: tuple[str, str] | None = None
    is_strong: bool = False


def end_of(figures: Sequence[Held]) -> float:
    """Return where an axis ends that shows every limit, and what isn't far beyond them [SI]."""
    limits = [limit for each in figures for limit in _limits(each)]
    values = [each.amount.si for each in figures]
    if not limits:
        return max([*values, 0.0]) or 1.0
    most = max(limits)
    return max([most * AFTER_LIMIT, *(each for each in values if each <= FAR * most)]) or 1.0


def answer(
    asked: Asked, held: Held | None, width_mm_: float, system: System
) -> tuple[list[Mark], float]:
    """Letter the figure that is asked for, over a drawing; say how much of it that takes [mm].

    held   the same figure with its limits; None where it is no number or has no value
    """
    measured = asked.measured
    words = held.write(system) if held else measured.shown or "no data"
    says = asked.title
    if held and held.write_limits(system):
        says = f"{says}, {held.write_limits(system)}"
    tone = asked.tone if held or measured.shown else Tone.GRAPHITE
    room = width_mm_ - 2 * SIDE_MM
    words = fitted(words, ANSWER_MM, room)
    after = SIDE_MM + width_mm(words, ANSWER_MM) + GAP_MM
    at = (SIDE_MM, ANSWER_MM + 0.6)
    marks: list[Mark] = [Lettering(words=words, at=at, cap_mm=ANSWER_MM, tone=tone, is_strong=True)]
    if after + width_mm(says, LEAST_MM) <= width_mm_ - SIDE_MM:
        return [*marks, Lettering(words=says, at=(after, at[1]))], at[1] + 2.4
    lines = wrapped(says, LEAST_MM, room)
    for n, line in enumerate(lines):
        marks.append(Lettering(words=line, at=(SIDE_MM, at[1] + 4.8 + n * LINE_MM)))
    return marks, at[1] + 3.0 + len(lines) * LINE_MM


def height_mm(bars: Sequence[Bar], *, is_stacked: bool) -> float:
    """How high bars are under one another [mm]."""
    return len(bars) * (STACKED_MM if is_stacked else ROW_MM)


def draw_bars(
    bars: Sequence[Bar], top_mm: float, axis: Axis, width_mm_: float, *, is_stacked: bool
) -> Iterator[Mark]:
    """Draw bars under one another, each with its name before and its words after it.

    is_stacked   whether name and words stand over the bar
    """
    step = STACKED_MM if is_stacked else ROW_MM
    for n, bar in enumerate(bars):
        middle = top_mm + (n + 1) * step - TICK_MM / 2 - 0.6
        marks = (*_bar(bar, middle, axis), *_words(bar, middle, axis, width_mm_, is_stacked))
        if bar.row:
            says = f"{bar.name}, {bar.words}"
            yield Touch(schedule=bar.row[0], mark=bar.row[1], says=says, marks=marks)
        else:
            yield from marks


def strip(
    bars: Sequence[Bar], top_mm: float, field: Field, *, is_each_its_own: bool = False
) -> Iterator[Mark]:
    """Draw bars on an axis of their own, as long as their names and words leave paper for.

    is_each_its_own   whether each has its own axis, where they aren't of one unit
    """
    left, right = SIDE_MM, field.width_mm - SIDE_MM
    if bars and not field.is_narrow:
        names, words = (
            max(width_mm(each, LEAST_MM) for each in column)
            for column in zip(*((bar.name, bar.words) for bar in bars), strict=True)
        )
        left = min(left + names + GAP_MM, field.width_mm * NAMES)
        right = max(right - words - GAP_MM, field.width_mm * WORDS)
    is_stacked = field.is_narrow
    for group in [[bar] for bar in bars] if is_each_its_own else [bars]:
        axis = Axis(left, right, end_of([bar.held for bar in group]))
        yield from draw_bars(group, top_mm, axis, field.width_mm, is_stacked=is_stacked)
        top_mm += height_mm(group, is_stacked=is_stacked)


def _words(
    bar: Bar, middle: float, axis: Axis, width_mm_: float, is_stacked: bool
) -> Iterator[Lettering]:
    foot = middle - TICK_MM / 2 - 0.9 if is_stacked else middle + LEAST_MM / 2
    right = width_mm_ - SIDE_MM
    words = fitted(
        bar.words, LEAST_MM, right - (SIDE_MM if is_stacked else axis.right_mm) + SAME_MM
    )
    room = right - width_mm(words, LEAST_MM) - SIDE_MM if is_stacked else axis.left_mm - SIDE_MM
    name = fitted(bar.name, LEAST_MM, room - GAP_MM + SAME_MM)
    yield Lettering(words=name, at=(SIDE_MM, foot), is_strong=bar.is_strong)
    tone = bar.held.tone
    yield Lettering(words=words, at=(right, foot), anchor="end", tone=tone, is_strong=bar.is_strong)


def _bar(bar: Bar, middle: float, axis: Axis) -> Iterator[Path | Strokes]:
    held, half = bar.held, BAR_MM / 2
    value, state, tone = held.amount.si, held.part.state, held.tone
    end = axis.x(value)
    top, foot = middle - half, middle + half
    line = (axis.left_mm, middle), (axis.right_mm, middle)
    yield Path(points=line, pen=Pen.HATCH, tone=Tone.GRAPHITE)
    box = (axis.left_mm, top, end, foot)
    fill = Fill.INK if state.is_met else Fill.PAPER if state.is_missed else Fill.TRACE
    yield Path(points=rectangle(box), pen=Pen.SEEN, tone=tone, fill=fill, is_closed=True)
    if value > axis.end:
        yield from _broken(end, middle)
    if held.lacks and held.part.limit is not None:
        one, other = sorted((end, axis.x(held.part.limit)))
        lacking = rectangle((one, top, other, foot))
        yield Path(points=lacking, pen=Pen.FINE, tone=tone, fill=Fill.PAPER, is_closed=True)
        yield hatched(lacking, 1.1, tone)
    for limit in _limits(held):
        x = axis.x(limit)
        ends = (x, middle - TICK_MM / 2), (x, middle + TICK_MM / 2)
        yield Path(points=ends, pen=Pen.CUT)


def _broken(end: float, middle: float) -> Iterator[Path | Strokes]:
    """Two strokes across a bar that goes on past its axis."""
    box = (end - 2 * BREAK_MM - 1.0, middle - BAR_MM, end - 1.0, middle + BAR_MM)
    left, top, right, foot = box
    slanted = (left, foot), (left + BREAK_MM, top), (right, top), (right - BREAK_MM, foot)
    yield Path(points=slanted, pen=None, fill=Fill.PAPER, is_closed=True)
    yield Strokes(segments=((slanted[0], slanted[1]), (slanted[3], slanted[2])), pen=Pen.FINE)


def _limits(held: Held) -> list[float]:
    return [limit for limit in (held.part.target, held.part.not_over) if limit is not None]
