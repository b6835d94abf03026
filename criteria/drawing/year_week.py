"""The worst week of a year, hour by hour: outside and inside over sun, and what the battery holds.

Lines differ by pen and are lettered where they end; each part has its own axis of round figures.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from criteria.drawing.drawing import Drawing, Field, Figure
from criteria.drawing.lettering import LEAST_MM, width_mm
from criteria.drawing.marks import Lettering, Mark, Path, Point, Strokes
from criteria.drawing.pens import Fill, Pen, Tone
from criteria.drawing.value_bars import LINE_MM, SIDE_MM
from criteria.drawing.year_carpet import counted_hours
from criteria.drawing.year_frame import ends, frame, heading, notes, tick_words, ticks_of
from criteria.findings import Amount
from criteria.hourly.weather import Hours
from criteria.hourly.worst import Span, below, dark, when
from criteria.hourly.year import PowerYear, Year
from criteria.units import ELECTRIC_POWER, STORED_ENERGY, SUN, TEMPERATURE, Scale

WARMTH_MM, PART_MM, GAP_MM = 42.0, 20.0, 7.0
"""How high temperatures are drawn, and sun and battery each; between them [mm]."""
DAY_H = 24
DARK_MM = 0.8
"""How far over the foot of its part dark hours are drawn [mm]."""


@dataclass(frozen=True, kw_only=True)
class Line:
    """A line of figures by hour, and how it is drawn."""

    name: str
    values: Hours
    pen: Pen
    tone: Tone = Tone.INK


def draw_week(
    year: Year, span: Span, sun_w_m2: Hours, field: Field, before: Year | None = None
) -> Drawing:
    """Draw some days of a year.

    sun_w_m2   sun on level ground through the year [W/m²], shape (8760,)
    before     the year before something was changed, drawn dashed beside it
    """
    return _Week(year, span, sun_w_m2, field, before).drawing()


class _Week:
    def __init__(
        self, year: Year, span: Span, sun_w_m2: Hours, field: Field, before: Year | None
    ) -> None:
        self.year, self.span, self.field, self.before = year, span, field, before
        self.sun = sun_w_m2[span.at]
        self.lines = [
            Line(name="inside", values=year.drawn.operative_k[span.at], pen=Pen.CUT),
            Line(name="outside", values=year.weather.air_k[span.at], pen=Pen.FINE),
            Line(name="wanted", values=year.warm_k[span.at], pen=Pen.DATUM),
        ]
        if before is not None:
            was = before.drawn.operative_k[span.at]
            self.lines.append(Line(name="before", values=was, pen=Pen.BEFORE))
        self.lines = [each for each in self.lines if not np.isnan(each.values).all()]
        names = max(width_mm(each.name, LEAST_MM) for each in self.lines)
        self.left = SIDE_MM + width_mm("1,000", LEAST_MM) + 1.2
        self.right = field.width_mm - SIDE_MM - names - 1.2
        self.hour_mm = (self.right - self.left) / span.hours

    def drawing(self) -> Drawing:
        year, at, system = self.year, self.span.at, self.field.system
        cold = int(below(year.drawn, year)[at].sum())
        inside = self.lines[0].values
        least = Amount(float(inside.min()), TEMPERATURE)
        words = least.write(system)
        says = (
            f"the coldest hour of the worst week, {self.span.words}; "
            f"{counted_hours(cold, system)} too cold"
        )
        if self.before is not None:
            was = Amount(float(self.before.drawn.operative_k[at].min()), TEMPERATURE)
            says += f"; before {was.write(system)}"
        marks, top = heading(words, says, Tone.SHORT if cold else Tone.INK, self.field)
        parts, top = self._warmth(top)
        marks += parts
        parts, top = self._sun(top + GAP_MM)
        marks += parts
        if year.power is not None or self._power_before is not None:
            parts, top = self._battery(top + GAP_MM)
            marks += parts
        marks += self._days(top)
        key = ["inside: as felt, with the plant that is drawn; means of each hour"]
        if self.before is not None:
            key.append("dashed: before the trial")
        if year.power is not None:
            key.append("in the battery, heavy: essential loads dark; broken line: used down to")
        said, top = notes(key, top + LINE_MM + 1.0, self.field)
        return Drawing(
            title="The worst week",
            says=f"{words}: {says}.",
            width_mm=self.field.width_mm,
            height_mm=round(top + 1.6, 2),
            marks=(*marks, *said),
            figures=tuple(self._figures(words)),
        )

    def _warmth(self, top: float) -> tuple[list[Mark], float]:
        unit = TEMPERATURE.unit(self.field.system)
        shown = [
            Line(name=each.name, values=_in(TEMPERATURE, each.values, self), pen=each.pen)
            for each in self.lines
        ]
        low = min(float(np.nanmin(each.values)) for each in shown)
        high = max(float(np.nanmax(each.values)) for each in shown)
        more = max(0.5, (high - low) * 0.05)
        reach = low - more, high + more
        return self._part(f"warmth, {unit.symbol}", shown, reach, top, WARMTH_MM)

    def _sun(self, top: float) -> tuple[list[Mark], float]:
        values = _in(SUN, self.sun, self)
        title = f"sun on level ground, {SUN.unit(self.field.system).symbol}"
        line = Line(name="", values=values, pen=Pen.FINE)
        return self._part(title, [line], (0.0, float(values.max())), top, PART_MM, is_filled=True)

    @property
    def _power_before(self) -> PowerYear | None:
        return None if self.before is None else self.before.power

    def _battery(self, top: float) -> tuple[list[Mark], float]:
        """What the battery holds; before a trial beside it, where there was one."""
        both = [(self.year.power, "", Pen.SEEN), (self._power_before, "before", Pen.BEFORE)]
        told = [(power, name, pen) for power, name, pen in both if power is not None]
        lines = [
            Line(name=name, values=self._kwh(power.stored_j[self.span.at]), pen=pen)
            for power, name, pen in told
        ]
        high = max(
            max(float(self._kwh(power.most_j)), float(line.values.max()))
            for (power, _, _), line in zip(told, lines, strict=True)
        )
        title = f"in the battery, {STORED_ENERGY.unit(self.field.system).symbol}"
        marks, foot = self._part(title, lines, (0.0, high), top, PART_MM)
        if self.year.power is not None:
            per = PART_MM / (high or 1.0)
            marks += self._used(foot, float(self._kwh(self.year.power.least_j)) * per)
        return marks, foot

    def _kwh(self, joules: Hours | float) -> Hours:
        return np.asarray(joules) / float(STORED_ENERGY.unit(self.field.system).factor)

    def _used(self, foot: float, least_mm: float) -> Iterator[Mark]:
        """Down to where a battery is used, and the hours in which essential loads are dark."""
        least = foot - least_mm
        if least < foot:
            path = (self.left, least), (self.right, least)
            yield Path(points=path, pen=Pen.DATUM, tone=Tone.GRAPHITE)
        out = dark(self.year)[self.span.at]
        places = [self.left + int(n) * self.hour_mm for n in np.flatnonzero(out)]
        y = foot - DARK_MM
        if places:
            hours = tuple(((x, y), (x + self.hour_mm, y)) for x in places)
            yield Strokes(segments=hours, pen=Pen.CUT, tone=Tone.SHORT)

    def _part(
        self,
        title: str,
        lines: Sequence[Line],
        reach: tuple[float, float],
        top: float,
        high_mm: float,
        *,
        is_filled: bool = False,
    ) -> tuple[list[Mark], float]:
        """Some lines on one axis under a title; and where that ends."""
        low, high = reach
        top += LINE_MM
        marks: list[Mark] = [Lettering(words=title, at=(self.left, top - 1.2), tone=Tone.GRAPHITE)]
        foot = top + high_mm
        per = high_mm / ((high - low) or 1.0)
        marks += self._grid(ticks_of(low, high), lambda value: foot - (value - low) * per)
        marks.append(frame(self.left, top, self.right, foot))
        for each in lines:
            heights = foot - (each.values - low) * per
            points = tuple(self._points(heights))
            if is_filled:
                base = (self.right, foot), (self.left, foot)
                yes = Path(points=(*points, *base), pen=each.pen, fill=Fill.TRACE, is_closed=True)
                marks.append(yes)
                continue
            marks += [Path(points=run, pen=each.pen) for run in _unbroken(points)]
        named = {
            each.name: float(foot - (_last(each.values) - low) * per) for each in lines if each.name
        }
        marks += ends(named, self.right + 1.2, top, foot)
        return marks, foot

    def _points(self, heights: Hours) -> Iterator[Point]:
        for n, y in enumerate(heights):
            yield self.left + (n + 0.5) * self.hour_mm, float(y)

    def _grid(self, ticks: Sequence[float], y_of: Callable[[float], float]) -> Iterator[Mark]:
        segments = tuple(((self.left, y_of(each)), (self.right, y_of(each))) for each in ticks)
        yield Strokes(segments=segments, pen=Pen.HATCH, tone=Tone.GRAPHITE)
        for each in ticks:
            at = (self.left - 1.2, y_of(each) + LEAST_MM / 2)
            words = tick_words(each, self.field.system)
            yield Lettering(words=words, at=at, anchor="end", tone=Tone.GRAPHITE)

    def _days(self, foot: float) -> Iterator[Mark]:
        days = range(0, self.span.hours + 1, DAY_H)
        places = [self.left + hour * self.hour_mm for hour in days]
        yield Strokes(segments=tuple(((x, foot), (x, foot + 1.4)) for x in places), pen=Pen.FINE)
        for hour, x in zip(days[:-1], places, strict=False):
            day, month, _ = when(self.span.first + hour).split()
            words = day if self.field.is_narrow else f"{day} {month}"
            yield Lettering(words=words, at=(x + 0.8, foot + LINE_MM))

    def _figures(self, lettered: str) -> Iterator[Figure]:
        year, at = self.year, self.span.at
        inside, outside = year.drawn.operative_k[at], year.weather.air_k[at]
        coldest = Amount(float(inside.min()), TEMPERATURE)
        yield Figure(what="Inside, coldest hour", amount=coldest, lettered=lettered)
        for n in range(self.span.hours // DAY_H):
            hours = slice(n * DAY_H, (n + 1) * DAY_H)
            day = " ".join(when(self.span.first + n * DAY_H).split()[:2])
            for what, value, scale in (
                ("inside, least", float(inside[hours].min()), TEMPERATURE),
                *self._was(at[hours]),
                ("outside, least", float(outside[hours].min()), TEMPERATURE),
                ("sun on level ground, mean", float(self.sun[hours].mean()), SUN),
                *self._of_power(at[hours]),
            ):
                yield Figure(what=f"{day}, {what}", amount=Amount(value, scale))

    def _was(self, at: NDArray[np.int64]) -> Iterator[tuple[str, float, Scale]]:
        if self.before is not None:
            least = float(self.before.drawn.operative_k[at].min())
            yield "inside before the trial, least", least, TEMPERATURE

    def _of_power(self, at: NDArray[np.int64]) -> Iterator[tuple[str, float, Scale]]:
        power = self.year.power
        if power is not None:
            yield "battery, least", float(power.stored_j[at].min()), STORED_ENERGY
            yield "made, mean", float(power.made_w[at].mean()), ELECTRIC_POWER


def _in(scale: Scale, values: Hours, week: _Week) -> Hours:
    """Figures in the reader's unit."""
    unit = scale.unit(week.field.system)
    return (values - float(unit.offset)) / float(unit.factor)


def _last(values: Hours) -> float:
    return float(values[~np.isnan(values)][-1])


def _unbroken(points: Sequence[Point]) -> Iterator[tuple[Point, ...]]:
    """Lines through what is known, broken where it isn't."""
    run: list[Point] = []
    for point in points:
        if np.isnan(point[1]):
            if len(run) > 1:
                yield tuple(run)
            run = []
        else:
            run.append(point)
    if len(run) > 1:
        yield tuple(run)
