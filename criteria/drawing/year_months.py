"""A year month by month: heat and cooling needed and given, sun through glass, what is made.

All at one scale, so that one part can be held against another; what is needed and not given, and
what is made and spilled, is hatched.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from criteria.drawing.drawing import Drawing, Field, Figure
from criteria.drawing.hatching import hatched
from criteria.drawing.lettering import LEAST_MM, wrapped
from criteria.drawing.marks import Lettering, Mark, Path, rectangle
from criteria.drawing.pens import Fill, Pen, Tone
from criteria.drawing.scales import per_mm, stands_for
from criteria.drawing.value_bars import LINE_MM, SIDE_MM
from criteria.drawing.year_frame import BEGINS, heading, month_axis, notes
from criteria.findings import Amount
from criteria.hourly.weather import Hours
from criteria.hourly.year import Year
from criteria.schedules.site import MONTHS
from criteria.units import STORED_ENERGY

TALLEST_MM, LEAST_MM_HIGH, COLUMN = 26.0, 4.0, 0.36
"""How high the tallest column is at most, how high a part is at least [mm]; half a column [1]."""


@dataclass(frozen=True, kw_only=True)
class Part:
    """Columns of one kind: the whole of each month, and what of it is hatched [J], shape (12,)."""

    name: str
    whole_j: Hours
    hatched_j: Hours
    hatched: str
    fill: Fill


def draw_months(year: Year, field: Field) -> Drawing:
    """Draw what is needed, given, let in and made, month by month."""
    return _Months(year, field).drawing()


def monthly(hours_w: Hours) -> Hours:
    """Return the sums of each month [J], shape (12,), of powers by hour [W], shape (8760,)."""
    return np.add.reduceat(hours_w, [24 * day for day in BEGINS[:-1]]) * 3600.0


def parts_of(year: Year) -> list[Part]:
    """Return what is drawn of a year; what isn't told has no part."""
    lacks = "not given in its hour"
    heat, cool = year.held.heat_w, year.held.cool_w
    found = [
        Part(
            name=name,
            whole_j=monthly(needed),
            hatched_j=monthly(np.maximum(needed - given, 0.0)),
            hatched=lacks,
            fill=fill,
        )
        for name, needed, given, fill in (
            ("heat needed", heat, year.drawn.heat_w, Fill.INK),
            ("cooling needed", cool, year.drawn.cool_w, Fill.GLASS),
        )
    ]
    sun, power, none = year.drawn.sun_w, year.power, np.zeros(12)
    if sun is not None:
        name = "sun through glass"
        found.append(
            Part(name=name, whole_j=monthly(sun), hatched_j=none, hatched="", fill=Fill.TRACE)
        )
    if power is not None:
        found.append(
            Part(
                name="electricity made",
                whole_j=monthly(power.made_w),
                hatched_j=monthly(power.spilled_w),
                hatched="spilled",
                fill=Fill.TRACE,
            )
        )
    return found


class _Months:
    def __init__(self, year: Year, field: Field) -> None:
        self.field, self.parts = field, parts_of(year)
        unit = STORED_ENERGY.unit(field.system)
        most = max(float(unit.from_si(float(each.whole_j.max()))) for each in self.parts)
        self.per = per_mm(lambda per: most / per <= TALLEST_MM, field.system, 10)
        self.scale = stands_for(self.per, unit.symbol, field.system)
        self.left, self.right = SIDE_MM, field.width_mm - SIDE_MM

    def _high(self, joules: float) -> float:
        return float(STORED_ENERGY.unit(self.field.system).from_si(joules)) / self.per

    def drawing(self) -> Drawing:
        heat = self.parts[0]
        answer = self._sum(heat.whole_j)
        lacks = self._sum(heat.hatched_j)
        says = f"heat needed in the year; {lacks} of it not in its hour by the plant that is drawn"
        tone = Tone.SHORT if self._sum(heat.hatched_j) != self._sum(np.zeros(1)) else Tone.INK
        marks, top = heading(answer, says, tone, self.field)
        for part in self.parts:
            drawn, top = self._part(part, top)
            marks += drawn
        marks += month_axis(self.left, self.right, top, self.field)
        said, top = notes([f"all at one scale: {self.scale}"], top + LINE_MM, self.field)
        return Drawing(
            title="The year by months",
            says=f"{answer}: {says}.",
            width_mm=self.field.width_mm,
            height_mm=round(top + 1.6, 2),
            marks=(*marks, *said),
            figures=tuple(self._figures()),
            scale=self.scale,
        )

    def _sum(self, joules: Hours) -> str:
        return STORED_ENERGY.write(float(joules.sum()), self.field.system)

    def _part(self, part: Part, top: float) -> tuple[list[Mark], float]:
        words = f"{part.name} {self._sum(part.whole_j)}"
        if part.hatched_j.any():
            words = f"{words}; hatched: {part.hatched} {self._sum(part.hatched_j)}"
        marks: list[Mark] = []
        top += 0.8
        for line in wrapped(words, LEAST_MM, self.right - self.left):
            top += LINE_MM
            marks.append(Lettering(words=line, at=(self.left, top)))
        foot = top + 2.0 + max(LEAST_MM_HIGH, self._high(float(part.whole_j.max())))
        for n in range(12):
            marks += self._column(part, n, foot)
        marks.append(Path(points=((self.left, foot), (self.right, foot)), pen=Pen.SEEN))
        return marks, foot

    def _column(self, part: Part, month: int, foot: float) -> Iterator[Mark]:
        """One month's column, what is hatched at its head."""
        day_mm = (self.right - self.left) / BEGINS[-1]
        middle = self.left + (BEGINS[month] + BEGINS[month + 1]) / 2 * day_mm
        half = 30 * day_mm * COLUMN
        whole, lacks = (self._high(float(each[month])) for each in (part.whole_j, part.hatched_j))
        if whole < 0.05:
            return
        cut = foot - (whole - lacks)
        box = (middle - half, cut, middle + half, foot)
        if cut < foot:
            yield Path(points=rectangle(box), pen=Pen.FINE, fill=part.fill, is_closed=True)
        if lacks >= 0.05:
            head = rectangle((middle - half, foot - whole, middle + half, cut))
            yield Path(points=head, pen=Pen.FINE, fill=Fill.PAPER, is_closed=True)
            yield hatched(head, 1.2, Tone.SHORT if part.hatched != "spilled" else Tone.INK)

    def _figures(self) -> Iterator[Figure]:
        for part in self.parts:
            for what, joules in self._tabled(part):
                total = Amount(float(joules.sum()), STORED_ENERGY)
                lettered = total.write(self.field.system)
                yield Figure(what=f"Year, {what}", amount=total, lettered=lettered)
                for n, month in enumerate(MONTHS):
                    amount = Amount(float(joules[n]), STORED_ENERGY)
                    yield Figure(what=f"{month}, {what}", amount=amount)

    def _tabled(self, part: Part) -> Sequence[tuple[str, Hours]]:
        whole = [(part.name, part.whole_j)]
        return [*whole, (f"{part.name}: {part.hatched}", part.hatched_j)] if part.hatched else whole
