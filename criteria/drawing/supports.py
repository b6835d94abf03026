"""The stand, drawn: legs on the slope, their travel beside what it needs, pads, wind and snow."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import partial

from criteria.checks.ground import GROUND_CHECKS
from criteria.checks.holding import HOLDING_CHECKS
from criteria.drawing.answering import SIDE_MM, answer
from criteria.drawing.dimensions import across, level
from criteria.drawing.drawing import Drawing, Field, Figure
from criteria.drawing.forces import arrow
from criteria.drawing.hatching import hatched
from criteria.drawing.lettering import LEAST_MM, width_mm
from criteria.drawing.marks import Gap, Lettering, Mark, Path, Point, Strokes, rectangle
from criteria.drawing.pens import Fill, Pen, Tone
from criteria.drawing.picture import Picture, Ready, Seen
from criteria.drawing.scales import largest, lettered
from criteria.findings import SAME, Amount, Measured, State
from criteria.package import Package
from criteria.schedules.structure import Supports
from criteria.typed.cells import Lacking
from criteria.units import FORCE, MASS, PRESSURE, ROOM_LENGTH, Scale

TALL_MM, BESIDE_MM, GAUGE_MM = 50.0, 52.0, 30.0
"""How tall the stand is at most, what is kept beside it, how tall the travel is at most."""
CHECKS = {check.slug: check for check in (*GROUND_CHECKS, *HOLDING_CHECKS)}
ALONG = ("leg_travel", "bearing_ratio")
"""Checks that are drawn along the diagonal of the building, down the slope; others across it."""
BLOWN, LOADED = ("overturning", "sliding"), ("held_down", "snow_on_legs")
"""Checks of wind on its side, and of what lifts or lies on its roof."""
ARROW_MM, EARTH_MM, PAST_MM = 9.0, 1.8, 6.0
MOST_LEGS = 6


@dataclass(frozen=True)
class Stand:
    """What is drawn: the row, how wide it is seen, and how far the ground falls under that [m].

    fall_m    None where nobody says how steep the ground is
    travel_m  of a leg, beside what the slope needs; None where either isn't known
    """

    row: Supports
    wide_m: float
    fall_m: float | None
    needed_m: float | None


def stand_of(seen: Seen) -> Stand | None:
    """Return the stand as its row gives it; None without the building's sizes."""
    row = seen.package.leniently.supports
    if None in (row.length_m, row.width_m, row.height_m, row.clear_m):
        return None
    if seen.check not in ALONG:
        return Stand(row, row.width_m, 0.0, None)
    diagonal = math.hypot(row.length_m, row.width_m)
    slope = seen.package.leniently.site.slope
    needed = _needed(seen.package)
    return Stand(row, diagonal, None if slope is None else slope * diagonal, needed)


def _needed(package: Package) -> float | None:
    """What the slope needs of a leg, as its check says; None where it can't say."""
    try:
        (found,) = CHECKS["leg_travel"].measure(package, ())
    except Lacking:
        return None
    lengths = [each.si for each in amounts_of(found, ROOM_LENGTH)]
    return lengths[2] if lengths else 0.0


def amounts_of(found: Measured, scale: Scale) -> Sequence[Amount]:
    """Return the figures of a scale in the working of another, in their order."""
    amounts = [each for step in found.steps for each in step.amounts]
    return [each for each in amounts if isinstance(each, Amount) and each.scale == scale]


def draw_stand(stand: Stand, seen: Seen, field: Field) -> Drawing:
    """Draw a building on its legs."""
    return _Drawn(stand, seen, field).drawing()


class _Drawn:
    def __init__(self, stand: Stand, seen: Seen, field: Field) -> None:
        self.stand, self.seen, self.field = stand, seen, field
        self.head = answer(seen, field)
        self.fall = stand.fall_m or 0.0
        row = stand.row
        tall = row.height_m + row.clear_m + self.fall
        clear = lettered(Amount(row.clear_m, ROOM_LENGTH), field.system)
        self.left = SIDE_MM + (22.0 if seen.check in BLOWN else 10.0)
        is_beside = seen.check in ALONG and not field.is_narrow
        after = width_mm(clear, LEAST_MM) + 9.0 + (BESIDE_MM if is_beside else 0.0)
        wide = field.width_mm - self.left - after - SIDE_MM
        self.scale = largest((stand.wide_m, tall), (wide, TALL_MM), field.system, ratio=50)
        self.right = self.left + self.scale.mm(stand.wide_m)
        self.top = self.head.height_mm + (ARROW_MM + 3.0 if seen.check in LOADED else 3.0)
        self.under = self.top + self.scale.mm(row.height_m)
        self.foot = self.under + self.scale.mm(row.clear_m + self.fall)
        self.low = self.ground(self.left - PAST_MM) + EARTH_MM
        self.figures: list[Figure] = []
        self.gaps: list[Gap] = []
        self.beside_foot = 0.0

    def drawing(self) -> Drawing:
        """Draw the ground, the legs, the building, what pushes it, and what is beside it."""
        marks: list[Mark] = [*self.head.letters, *self._ground(), *self._legs()]
        box = rectangle((self.left, self.top, self.right, self.under))
        marks.append(Path(points=box, fill=Fill.PAPER, is_closed=True))
        marks += [*self._sizes(), *self._arrows()]
        marks += self._gauge() if self.seen.check == "leg_travel" else ()
        marks += self._pad() if self.seen.check == "bearing_ratio" else ()
        is_along = self.seen.check in ALONG
        return Drawing(
            title="The stand along the building's diagonal" if is_along else "The stand, across",
            says=self.head.says,
            width_mm=self.field.width_mm,
            height_mm=round(max(self.low + 12.5, self.beside_foot), 2),
            marks=tuple(marks),
            figures=(*self.head.figures, *self.figures),
            scale=self.scale.name,
            left_out=tuple(self.gaps),
        )

    def _write(self, amount: Amount, what: str) -> str:
        words = lettered(amount, self.field.system)
        self.figures.append(Figure(what=what, amount=amount, lettered=words))
        return words

    # The building on its ground

    def ground(self, x: float) -> float:
        """Where the ground lies under a place across the paper: it falls to the left."""
        share = (x - self.left) / (self.right - self.left)
        return self.foot - self.scale.mm(self.fall) * share

    def _ground(self) -> Iterator[Mark]:
        ends = self.left - PAST_MM, self.right + PAST_MM
        line = tuple((x, self.ground(x)) for x in ends)
        if self.stand.fall_m is None:
            says = "slope of the ground: not given"
            gap = Gap(schedule="site", mark="", column="slope", says=says)
            yield Path(points=line, pen=Pen.ASSUMED, gap=gap)
            at = (self.left - PAST_MM, self.low + 5.5)
            yield Lettering(words="slope not given", at=at, gap=gap, tone=Tone.GRAPHITE)
            return
        yield Path(points=line, pen=Pen.CUT)
        xs = [ends[0] + (n + 1) * EARTH_MM for n in range(int((ends[1] - ends[0]) / EARTH_MM))]
        short = [((x, self.ground(x)), (x - EARTH_MM, self.ground(x) + EARTH_MM)) for x in xs]
        yield Strokes(segments=tuple(short))

    def _legs(self) -> Iterator[Mark]:
        """Legs at both ends and between: nobody types their places here, so they are dashed."""
        row = self.stand.row
        count = max(2, min(MOST_LEGS, (row.legs or 2) // 2))
        says = "places of the legs: not given here, drawn evenly"
        gap = Gap(schedule="supports", mark="", column="legs", says=says)
        half = self.scale.mm(row.pad_l_m or 0.0) / 2
        inset = self._inset()
        span = self.right - self.left - 2 * inset
        for n in range(count):
            x = self.left + inset + span * n / (count - 1)
            foot = self.ground(x)
            yield Path(points=((x, self.under), (x, foot)), pen=Pen.ASSUMED, gap=gap)
            if half:
                yield Path(points=((x - half, foot), (x + half, foot)), pen=Pen.CUT)
        words = "places of legs not given"
        at = (self.left - PAST_MM, self.low + 11.0)
        yield Lettering(words=words, at=at, gap=gap, tone=Tone.GRAPHITE)

    def _inset(self) -> float:
        """How far outer legs stand in: by the base, seen across."""
        base = self.stand.row.base_m
        if self.seen.check in ALONG or base is None or base > self.stand.wide_m:
            return 2.0
        return self.scale.mm(self.stand.wide_m - base) / 2

    def _sizes(self) -> Iterator[Mark]:
        row = self.stand.row
        words = self._write(Amount(row.clear_m, ROOM_LENGTH), "clear under, as typed")
        yield from level((self.right + 5.0, self.under), words)
        amount, middle = Amount(row.height_m, ROOM_LENGTH), (self.left + self.right) / 2
        says = f"{lettered(amount, self.field.system)} high"
        if width_mm(says, LEAST_MM) + 4 < self.right - self.left:
            at = (middle, (self.top + self.under) / 2 + LEAST_MM / 2)
            yield Lettering(words=says, at=at, anchor="middle")
            self.figures.append(Figure(what="building, as typed", amount=amount, lettered=says))
        if self.seen.check not in ALONG and row.base_m is not None:
            words = self._write(Amount(row.base_m, ROOM_LENGTH), "base, as typed")
            inset = self._inset()
            y = self.foot + 7.0
            yield from across(self.left + inset, self.right - inset, y, words, of=self.foot)

    def _arrows(self) -> Iterator[Mark]:
        """What pushes, lifts or lies on it, with the figure of its own working."""
        check, middle = self.seen.check, (self.top + self.under) / 2
        found = self.seen.asked.measured
        if check in BLOWN:
            yield from arrow((self.left - ARROW_MM, middle), (self.left - 0.5, middle))
            forces = amounts_of(found, FORCE)
            at = (SIDE_MM, middle - 1.6)
            yield from self._force(forces, "wind on the long side", at)
        elif check in LOADED:
            ends = self.top - 0.5, self.top - ARROW_MM
            for share in (0.2, 0.5, 0.8):
                x = self.left + share * (self.right - self.left)
                start, end = ends if check == "held_down" else ends[::-1]
                yield from arrow((x, start), (x, end))
            is_lift = check == "held_down"
            amounts = amounts_of(found, FORCE if is_lift else MASS)
            what = "lift of the wind" if is_lift else "snow on each leg"
            yield from self._force(amounts, what, self._over())

    def _over(self) -> Point:
        return self.left + 0.8 * (self.right - self.left) + 2.0, self.top - ARROW_MM / 2

    def _force(self, found: Sequence[Amount], what: str, at: Point) -> Iterator[Mark]:
        if found:
            words = self._write(found[0], what)
            yield Lettering(words=words, at=at)

    # Beside it: what a leg travels of what it must, the pad of what it would take

    def _beside(self) -> Point:
        if self.field.is_narrow:
            return SIDE_MM, self.low + 16.0
        return self.field.width_mm - BESIDE_MM - SIDE_MM + 6.0, self.head.height_mm + 2.0

    def _gauge(self) -> Iterator[Mark]:
        travel, needed = self.stand.row.travel_m, self.stand.needed_m
        if travel is None or needed is None:
            return
        x, top = self._beside()
        scale = largest((0.01, max(travel, needed)), (5.0, GAUGE_MM), self.field.system, ratio=5)
        foot = top + GAUGE_MM + 2.0
        self.beside_foot = foot + 8.0
        upper = foot - scale.mm(travel)
        box = rectangle((x, upper, x + 5.0, foot))
        yield Path(points=box, fill=Fill.TRACE, is_closed=True)
        yield Path(points=((x - 1.5, foot), (x + 9.0, foot)), pen=Pen.SEEN)
        mark = foot - scale.mm(needed)
        if needed > travel * (1 + SAME):
            over = rectangle((x, mark, x + 5.0, upper))
            yield Path(points=over, tone=Tone.SHORT, is_closed=True)
            yield hatched(over, 1.1, Tone.SHORT)
        yield Path(points=((x - 1.5, mark), (x + 9.0, mark)), pen=Pen.CUT)
        words = self._write(Amount(travel, ROOM_LENGTH), "leg travel, as typed")
        yield Lettering(words=f"travels {words}", at=(x + 10.5, foot))
        words = self._write(Amount(needed, ROOM_LENGTH), "needed on the slope")
        y = min(mark + LEAST_MM / 2, foot - 4.4)
        yield Lettering(words=f"at least {words}", at=(x + 10.5, y))
        yield Lettering(words=scale.name, at=(x - 1.5, foot + 5.0), tone=Tone.GRAPHITE)

    def _pad(self) -> Iterator[Mark]:
        row, asked = self.stand.row, self.seen.asked
        if row.pad_l_m is None or row.pad_w_m is None:
            return
        x, top = self._beside()
        limit, value = asked.limit, asked.amount
        grown = 1.0
        if limit and value and asked.state is State.OVER and limit.si > 0:
            grown = math.sqrt(value.si / limit.si)
        sizes = row.pad_l_m * grown, row.pad_w_m * grown
        scale = largest(sizes, (GAUGE_MM, GAUGE_MM), self.field.system, ratio=5)
        wide, tall = scale.mm(row.pad_l_m), scale.mm(row.pad_w_m)
        if grown > 1:
            would = rectangle((x, top, x + wide * grown, top + tall * grown))
            yield Path(points=would, tone=Tone.SHORT, is_closed=True)
            yield hatched(would, 1.1, Tone.SHORT)
        pad = rectangle((x, top, x + wide, top + tall))
        yield Path(points=pad, pen=Pen.SEEN, fill=Fill.PAPER, is_closed=True)
        y = top + tall * grown + LEAST_MM + 1.5
        lines = [f"pad, {scale.name}"]
        pressures = amounts_of(asked.measured, PRESSURE)[1:3]
        for amount, what in zip(pressures, ("presses", "may"), strict=False):
            lines.append(f"{what} {lettered(amount, self.field.system)}")
            self.figures.append(Figure(what=what, amount=amount, lettered=lines[-1]))
        for n, words in enumerate(lines):
            yield Lettering(words=words, at=(x, y + n * 4.4))
        self.beside_foot = y + len(lines) * 4.4


def _ready(seen: Seen) -> Ready | None:
    stand = stand_of(seen)
    return Ready(partial(draw_stand, stand, seen)) if stand else None


SUPPORTS = Picture(
    ready=_ready,
    wants="supports want the building's length, width and height, and what is clear under it",
    checks=tuple(CHECKS),
    schedules=("supports",),
    main="leg_travel",
)
