"""Doors, drawn: each from inside and in plan, its clear width against what is asked, its swing."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import partial

from criteria.drawing.answering import answer
from criteria.drawing.drawing import Drawing, Field, Figure
from criteria.drawing.hatching import hatched
from criteria.drawing.held import Held, held
from criteria.drawing.leaves import Leaf, Leaves, leaves_of
from criteria.drawing.lettering import LEAST_MM, fitted, width_mm
from criteria.drawing.marks import Gap, Lettering, Mark, Path, Point, Strokes, Touch, rectangle
from criteria.drawing.pens import Fill, Pen, Tone
from criteria.drawing.picture import Picture, Ready, Seen
from criteria.drawing.plan_parts import scale_bar
from criteria.drawing.scales import METRIC, US, DrawnScale, lettered
from criteria.findings import Amount
from criteria.typed.cells import Lacking
from criteria.units import LENGTH, System

SIDE_MM, TITLE_MM, APART_MM, BETWEEN_MM, FOOT_MM = 2.0, 5.0, 1.5, 3.0, 8.0
CELL_MM, CELL_MOST_MM, LINE_MM, RULED_MM = 22.0, 32.0, LEAST_MM + 1.4, 3.0
"""Least and most that words of a door take, from line to line, and its dimension [mm]."""
TALL_MM, TALLEST_MM = 95.0, 155.0
"""Of which height doors are where they can, and never more [mm]."""
LARGEST, SMALLEST, SMALLEST_NARROW, MOST_DOORS = 48, 100, 200, 24
ARC = 8
SLIDES_MM = 0.8


@dataclass(frozen=True)
class Row:
    """Doors beside each other: how high their leaves, their plans and their words are [mm]."""

    leaves: tuple[Leaf, ...]
    high_mm: float
    plan_mm: float
    lines: int

    @property
    def height_mm(self) -> float:
        """What they take."""
        said = self.lines * LINE_MM
        return TITLE_MM + self.high_mm + RULED_MM + self.plan_mm + said + BETWEEN_MM


def _rows(leaves: Sequence[Leaf], scale: DrawnScale, field: Field) -> list[Row]:
    rows: list[list[Leaf]] = []
    left = 0.0
    for leaf in leaves:
        wide = _wide(leaf, scale, field.system)
        if not rows or wide > left + 1e-9:
            rows.append([])
            left = field.width_mm - 2 * SIDE_MM
        rows[-1].append(leaf)
        left -= wide + APART_MM
    return [
        Row(
            tuple(row),
            scale.mm(max(leaf.high_m for leaf in row)),
            scale.mm(max((leaf.wide_m for leaf in row if leaf.is_hung), default=0.0)) + 4.0,
            1 + max(len(list(_said(leaf, field.system))) for leaf in row),
        )
        for row in rows
    ]


def _wide(leaf: Leaf, scale: DrawnScale, system: System) -> float:
    said = max((width_mm(words, LEAST_MM) for words, _ in _said(leaf, system)), default=0.0)
    return max(CELL_MM, scale.mm(leaf.wide_m) + 4.0, min(said, CELL_MOST_MM))


def _said(leaf: Leaf, system: System) -> Iterator[tuple[str, Gap | None]]:
    """What stands under a door: how it opens, its threshold, what isn't given."""
    if leaf.swing:
        yield f"opens {leaf.swing}" if leaf.swing in ("in", "out") else leaf.swing, None
    if leaf.threshold_m:
        yield f"threshold {lettered(Amount(leaf.threshold_m, LENGTH), system)}", None
    for gap in leaf.gaps:
        yield gap.says.partition(": ")[2], gap


def draw_doors(doors: Leaves, seen: Seen, field: Field) -> Drawing:
    """Draw each door in elevation from inside, and in plan under it, inside at the foot."""
    return _Doors(doors, seen, field).drawing()


class _Doors:
    """A drawing of doors while it is drawn."""

    def __init__(self, doors: Leaves, seen: Seen, field: Field) -> None:
        self.doors, self.seen, self.field, self.system = doors, seen, field, field.system
        self.head = answer(seen, field)
        self.widths = _by_door(seen, "step_free_doors")
        self.picked = _by_door(seen, seen.check) or {}
        self.kept = list(doors.drawn)
        self.scale, self.rows = self._laid_out()
        self.figures = list(self.head.figures)

    def _laid_out(self) -> tuple[DrawnScale, list[Row]]:
        ladder = [s for s in (US if self.system is System.US else METRIC) if s.ratio >= LARGEST]
        first, room = self.seen.asked.measured.subject, self.field.width_mm - 2 * SIDE_MM
        beside = [leaf for leaf in self.kept if leaf.mark != first][:MOST_DOORS]
        self.kept = [leaf for leaf in self.kept if leaf.mark == first or leaf in beside]
        smallest = SMALLEST_NARROW if self.field.is_narrow else SMALLEST
        while True:
            fits = [
                scale
                for scale in ladder
                if all(_wide(leaf, scale, self.system) <= room for leaf in self.kept)
            ]
            usual = [scale for scale in fits if scale.ratio <= smallest] or fits[:1]
            tried = [(scale, _rows(self.kept, scale, self.field)) for scale in usual]
            for most in (TALL_MM, TALLEST_MM):
                for scale, rows in tried:
                    if sum(row.height_mm for row in rows) <= most:
                        return scale, rows
            later = [leaf for leaf in self.kept if leaf.mark != first]
            self.kept.remove(later[-1])

    def drawing(self) -> Drawing:
        """Draw the answer, the doors row by row, and the scale."""
        marks: list[Mark] = [*self.head.letters]
        y = self.head.height_mm
        for row in self.rows:
            x = SIDE_MM
            for leaf in row.leaves:
                marks += self._door(leaf, row, x, y)
                x += _wide(leaf, self.scale, self.system) + APART_MM
            y += row.height_mm
        height = y + FOOT_MM
        bar = scale_bar((SIDE_MM, height - 4.0), self.scale, self.field.width_mm / 4, self.system)
        at = (SIDE_MM + bar.length_mm + 1.5, height - 2.3)
        marks += [*bar.marks, Lettering(words=bar.says, at=at, tone=Tone.GRAPHITE)]
        left_out = [gap for leaf in self.kept for gap in leaf.gaps] + [*self.doors.left_out]
        over = [leaf.mark for leaf in self.doors.drawn if leaf not in self.kept]
        gaps = "; ".join(gap.says for gap in left_out)
        return Drawing(
            title=f"Doors from inside: {self.seen.asked.title}".removesuffix(": "),
            says=f"{self.head.says} Not given: {gaps}." if gaps else self.head.says,
            width_mm=self.field.width_mm,
            height_mm=round(height, 2),
            marks=tuple(marks),
            figures=tuple(self.figures),
            scale=self.scale.name,
            left_out=tuple(left_out),
            key=(", ".join(over),) if over else (),
        )

    def _door(self, leaf: Leaf, row: Row, x: float, y: float) -> Iterator[Mark]:
        wide = _wide(leaf, self.scale, self.system)
        title = fitted(f"{leaf.mark} {leaf.place}".strip(), LEAST_MM, wide)
        is_picked = self.seen.asked.measured.subject == leaf.mark
        tone = self.picked[leaf.mark].tone if leaf.mark in self.picked else Tone.INK
        at = (x, y + LEAST_MM + 0.6)
        foot = y + TITLE_MM + row.high_mm
        marks = [
            Lettering(words=title, at=at, tone=tone, is_strong=is_picked),
            *self._leaf(leaf, x, foot),
            *self._clear(leaf, x, foot),
            *self._plan(leaf, x, foot + RULED_MM, row.plan_mm),
        ]
        size = lettered(Amount(leaf.wide_m, LENGTH), self.system)
        yield Touch(
            schedule="doors", mark=leaf.mark, says=f"{leaf.mark}, {size} wide", marks=tuple(marks)
        )
        line = foot + RULED_MM + row.plan_mm + LEAST_MM
        yield from self._width(leaf, (x, line))
        line += LINE_MM
        for words, gap in _said(leaf, self.system):
            look = Tone.GRAPHITE if gap else Tone.INK
            yield Lettering(words=fitted(words, LEAST_MM, wide), at=(x, line), tone=look, gap=gap)
            line += LINE_MM

    def _leaf(self, leaf: Leaf, x: float, foot: float) -> Iterator[Path | Strokes | Lettering]:
        """The leaf from inside; lines from its latch to the middle of where it hangs."""
        wide, high = self.scale.mm(leaf.wide_m), self.scale.mm(leaf.high_m)
        right, top = x + wide, foot - high
        assumed = [gap for gap in leaf.gaps if gap.column in ("leaf_w", "height")]
        gap = assumed[0] if assumed else None
        box = rectangle((x, top, right, foot))
        pen = Pen.ASSUMED if gap else Pen.SEEN
        yield Path(points=box, pen=pen, fill=Fill.PAPER, is_closed=True, gap=gap)
        yield Path(points=((x - 1.0, foot), (right + 1.0, foot)), pen=Pen.CUT)
        if leaf.is_hung:
            hinge, latch = (x, right) if leaf.hinge == "left" else (right, x)
            middle = hinge, (top + foot) / 2
            lines = (((latch, top), middle), ((latch, foot), middle))
            yield Strokes(segments=lines, pen=Pen.HATCH, tone=Tone.GRAPHITE)

    def _clear(self, leaf: Leaf, x: float, foot: float) -> Iterator[Path | Strokes | Lettering]:
        """What is left between stop and open leaf, from the latch, and what is asked of it."""
        if leaf.clear_m is None:
            return
        wide, clear = self.scale.mm(leaf.wide_m), self.scale.mm(leaf.clear_m)
        latch, sign = (x + wide, -1.0) if leaf.hinge == "left" else (x, 1.0)
        y = foot + RULED_MM / 2 + 0.4
        end = latch + sign * clear
        standing = self.widths.get(leaf.mark)
        tone = standing.tone if standing else Tone.INK
        yield Path(points=((latch, y), (end, y)), pen=Pen.SEEN, tone=tone)
        ticks = tuple(((at, y - 0.9), (at, y + 0.9)) for at in (latch, end))
        yield Strokes(segments=ticks, pen=Pen.SEEN, tone=tone)
        if standing and standing.part.target is not None:
            wanted = self.scale.mm(standing.part.target)
            most = _wide(leaf, self.scale, self.system)
            at = latch + sign * min(wanted, most)  # what is longer is cut off, without its tick
            at = max(at, 0.0)
            if standing.lacks:
                box = rectangle((min(at, end), y - 0.9, max(at, end), y + 0.9))
                yield Path(points=box, pen=Pen.FINE, tone=tone, is_closed=True)
                yield hatched(box, 0.8, tone)
            if wanted <= most:
                yield Path(points=((at, y - 1.4), (at, y + 1.4)), pen=Pen.CUT)

    def _width(self, leaf: Leaf, at: Point) -> Iterator[Lettering]:
        """Its clear width, fine enough to be told from a limit that it misses."""
        if leaf.clear_m is None:
            return
        standing = self.widths.get(leaf.mark)
        amount, more, tone = Amount(leaf.clear_m, LENGTH), 0, Tone.INK
        if standing:
            amount, more, tone = standing.amount, standing.part.finer(self.system), standing.tone
        words = lettered(amount, self.system, more)
        self.figures.append(Figure(what=f"{leaf.mark} clear", amount=amount, lettered=words))
        yield Lettering(words=words, at=at, tone=tone, is_strong=True)

    def _plan(self, leaf: Leaf, x: float, top: float, tall: float) -> Iterator[Path | Strokes]:
        """The opening in its wall and the leaf as it stands open; inside lies at the foot."""
        wide = self.scale.mm(leaf.wide_m)
        right = x + wide
        y = top + tall - 1.0 if leaf.swing == "out" else top + 1.0
        for one, other in ((x - 1.2, x), (right, right + 1.2)):
            yield Path(points=((one, y), (other, y)), pen=Pen.CUT)
        if leaf.is_hung:
            hinge, latch = (x, right) if leaf.hinge == "left" else (right, x)
            down = -1.0 if leaf.swing == "out" else 1.0
            end = hinge, y + down * wide
            yield Path(points=((hinge, y), end), pen=Pen.SEEN)
            yield Path(points=tuple(_arc((hinge, y), (latch, y), end)), pen=Pen.FINE)
        elif leaf.swing == "slides":
            line = y + SLIDES_MM
            yield Path(points=((x, line), (right, line)), pen=Pen.SEEN)
            arrow = ((right - 2.0, line + 1.2), (right - 0.4, line + 2.0))
            back = ((right - 2.0, line + 2.8), (right - 0.4, line + 2.0))
            shaft = ((x + 0.4, line + 2.0), (right - 0.4, line + 2.0))
            yield Strokes(segments=(arrow, back, shaft), pen=Pen.FINE)


def _by_door(seen: Seen, check: str) -> Mapping[str, Held]:
    return {each.measured.subject: each for each in held(seen, check)}


def _arc(hinge: Point, latch: Point, end: Point) -> Iterator[Point]:
    """The way of a leaf's edge from shut to open."""
    for n in range(ARC + 1):
        turn = math.pi / 2 * n / ARC
        cos, sin = math.cos(turn), math.sin(turn)
        yield (
            hinge[0] + (latch[0] - hinge[0]) * cos + (end[0] - hinge[0]) * sin,
            hinge[1] + (latch[1] - hinge[1]) * cos + (end[1] - hinge[1]) * sin,
        )


def _ready(seen: Seen) -> Ready | None:
    try:
        doors = leaves_of(seen.package)
    except Lacking:
        return None
    return Ready(partial(draw_doors, doors, seen)) if doors.drawn else None


DOORS = Picture(
    ready=_ready,
    wants="doors want the width of their leaf, or what is clear of it",
    checks=("step_free_doors", "step_free_thresholds", "door_swings"),
    schedules=("doors",),
    main="step_free_doors",
)
