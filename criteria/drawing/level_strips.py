"""A scheme's levels by juror on one strip from 1 to 5: a dot each, and how far they lie apart.

A full dot is a locked sheet, an open one is still in hand and counts for nothing yet. Where jurors
lie wide apart the strip is a wide line between them; where they don't, it is a hair line.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace

from criteria.drawing.drawing import Drawing
from criteria.drawing.lettering import width_mm
from criteria.drawing.marks import Box, Disc, Lettering, Mark, Path, Strokes, meet
from criteria.drawing.pens import Fill, Pen, Tone

WIDTH_MM, LEAST_MM, SIDE_MM = 110.0, 3.2, 5.0
"""Of a strip: its width, what it takes at least over and under its line, and at either end [mm]."""
CAP_MM, DOT_MM = 2.8, 1.3
ROWS_MM = (-2.6, 5.4, -6.4, 9.2)
"""Where initials stand over and under the strip's line, nearest first [mm]."""
APART_MM, EDGE_MM = 0.8, 0.6
LEVELS = range(1, 6)


@dataclass(frozen=True, kw_only=True)
class Dot:
    """One juror's weighted level [1 to 5], and whether the sheet counts."""

    initials: str
    level: float
    counts: bool


@dataclass(frozen=True, kw_only=True)
class Strip:
    """A scheme: its jurors' dots, and whether they lie so far apart that somebody must decide."""

    name: str
    says: str
    is_wide: bool
    dots: tuple[Dot, ...] = field(default=())


def level_x(level: float) -> float:
    """Where a level lies on a strip [mm]."""
    return SIDE_MM + (level - 1) / 4 * (WIDTH_MM - 2 * SIDE_MM)


def draw_strip(strip: Strip) -> Drawing:
    """Draw one scheme."""
    lettered, left_over = _lettered(strip.dots)
    boxes = [each.box for each in lettered]
    y = max([LEAST_MM, *(EDGE_MM - top for _, top, _, _ in boxes)])
    tall = y + max([LEAST_MM, *(foot + EDGE_MM for _, _, _, foot in boxes)])
    letters = [replace(each, at=(each.at[0], each.at[1] + y)) for each in lettered]
    counted = [level_x(dot.level) for dot in strip.dots if dot.counts]
    marks: list[Mark] = [
        Strokes(segments=tuple(((level_x(n), 0.0), (level_x(n), tall)) for n in LEVELS)),
        Path(points=((level_x(1), y), (level_x(5), y)), pen=Pen.HATCH, tone=Tone.GRAPHITE),
    ]
    if strip.is_wide and counted:
        marks.append(Path(points=((min(counted), y), (max(counted), y)), pen=Pen.CUT))
    marks += [
        Disc(
            middle=(level_x(dot.level), y),
            radius_mm=DOT_MM,
            fill=Fill.INK if dot.counts else Fill.PAPER,
        )
        for dot in strip.dots
    ]
    return Drawing(
        title=strip.name,
        says=strip.says,
        width_mm=WIDTH_MM,
        height_mm=round(tall, 2),
        marks=(*marks, *letters),
        key=tuple(left_over),
    )


def draw_levels() -> Drawing:
    """Draw the scale over the strips: five level marks, each with its figure."""
    return Drawing(
        title="Levels",
        says="Levels 1 to 5, from left to right.",
        width_mm=WIDTH_MM,
        height_mm=CAP_MM + 2.6,
        marks=tuple(_scale()),
    )


def _scale() -> Iterator[Mark]:
    foot = CAP_MM + 1.5
    for n in LEVELS:
        x = level_x(n)
        corners = ((x, foot), (x - 1.6, foot - 2.4), (x + 1.6, foot - 2.4))
        yield Path(points=corners, pen=Pen.FINE, is_closed=True)
        yield Lettering(words=str(n), at=(x + 2.2, foot), cap_mm=CAP_MM, is_strong=True)


def _lettered(dots: Sequence[Dot]) -> tuple[list[Lettering], list[str]]:
    """Letter each dot about a line at 0, where nothing else stands; and who found no place."""
    taken: list[Box] = []
    letters, left_over = [], []
    for dot in sorted(dots, key=lambda dot: (dot.level, dot.initials)):
        half = width_mm(dot.initials, CAP_MM) / 2
        x = min(max(level_x(dot.level), half), WIDTH_MM - half)
        tone = Tone.INK if dot.counts else Tone.NEAR
        tried = (
            Lettering(words=dot.initials, at=(x, down), anchor="middle", cap_mm=CAP_MM, tone=tone)
            for down in ROWS_MM
        )
        free = next((each for each in tried if not any(meet(_wide(each), b) for b in taken)), None)
        if free is None:
            left_over.append(dot.initials)
        else:
            letters.append(free)
            taken.append(free.box)
    return letters, left_over


def _wide(lettering: Lettering) -> Box:
    left, top, right, foot = lettering.box
    return left - APART_MM, top, right + APART_MM, foot
