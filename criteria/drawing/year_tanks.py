"""Rain in the tank, day by day: how full it is, and the days on which it can't give what is asked.

A part for each people case; its lines are the ways in which a month's rain may have fallen.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from criteria.drawing.drawing import Drawing, Field, Figure
from criteria.drawing.lettering import LEAST_MM, width_mm
from criteria.drawing.marks import Lettering, Mark, Path, Strokes
from criteria.drawing.pens import Pen, Tone
from criteria.drawing.value_bars import LINE_MM, SIDE_MM
from criteria.drawing.year_frame import frame, heading, month_axis, notes, tick_words, ticks_of
from criteria.findings import Amount
from criteria.hourly.rain_tank import is_short
from criteria.hourly.worst import DAYS, when
from criteria.hourly.year import TankYear
from criteria.units import COUNT, LITRES

PART_MM, GAP_MM = 18.0, 4.0
"""How high a case is drawn, and between cases [mm]."""
PENS = (Pen.SEEN, Pen.DATUM, Pen.FINE)
PEN_WORDS = ("full line", "broken line", "fine line")
SHORT_MM = 1.0


def short_days(tank: TankYear) -> int:
    """Return on how many days it gives less than is asked."""
    return int(is_short(tank).sum())


def draw_tanks(tanks: Sequence[TankYear], field: Field) -> Drawing:
    """Draw one tank through a year, for each case and each way in which rain may fall."""
    return _Tanks(tanks, field).drawing()


class _Tanks:
    def __init__(self, tanks: Sequence[TankYear], field: Field) -> None:
        self.tanks, self.field = tanks, field
        self.unit = LITRES.unit(field.system)
        self.most = self._shown(max(each.capacity_m3 for each in tanks)) or 1.0
        self.ticks = ticks_of(0.0, self.most)
        words = [tick_words(each, field.system) for each in self.ticks]
        self.left = SIDE_MM + max(width_mm(each, LEAST_MM) for each in words) + 1.2
        self.right = field.width_mm - SIDE_MM
        self.cases: dict[str, list[TankYear]] = {}
        for each in tanks:
            self.cases.setdefault(each.case, []).append(each)

    def _shown(self, m3: float) -> float:
        return float(self.unit.from_si(m3))

    def drawing(self) -> Drawing:
        worst = max(self.tanks, key=short_days)
        days = short_days(worst)
        answer = f"{days} days short" if days != 1 else "1 day short"
        says = "water that the year's rain gives of what is asked, at worst: " + _of(worst)
        marks, top = heading(answer, says, Tone.SHORT if days else Tone.INK, self.field)
        for case, tanks in self.cases.items():
            marks += self._case(case, tanks, top)
            top += LINE_MM + PART_MM + GAP_MM
        foot = top - GAP_MM
        marks += month_axis(self.left, self.right, foot, self.field)
        rains = list(dict.fromkeys(each.rains for each in self.tanks))
        key = [f"{PEN_WORDS[n % 3]}: rain {words}" for n, words in enumerate(rains)]
        key.append("heavy along the foot: days that lack water, one line for each")
        said, top = notes(["; ".join(key)], foot + LINE_MM + 1.0, self.field)
        return Drawing(
            title="Rain in the tank, day by day",
            says=f"{answer}: {says}.",
            width_mm=self.field.width_mm,
            height_mm=round(top + 1.6, 2),
            marks=(*marks, *said),
            figures=tuple(self._figures()),
        )

    def _case(self, case: str, tanks: Sequence[TankYear], top: float) -> Iterator[Mark]:
        title = f"{case or 'in the tank'}, {self.unit.symbol}"
        top += LINE_MM
        foot = top + PART_MM
        yield Lettering(words=title, at=(self.left, top - 1.2), tone=Tone.GRAPHITE)
        per = PART_MM / self.most
        grid = tuple(
            ((self.left, foot - each * per), (self.right, foot - each * per)) for each in self.ticks
        )
        yield Strokes(segments=grid, pen=Pen.HATCH, tone=Tone.GRAPHITE)
        for each in self.ticks:
            at = (self.left - 1.2, foot - each * per + LEAST_MM / 2)
            words = tick_words(each, self.field.system)
            yield Lettering(words=words, at=at, anchor="end", tone=Tone.GRAPHITE)
        yield frame(self.left, top, self.right, foot)
        day_mm = (self.right - self.left) / DAYS
        for n, tank in enumerate(tanks):
            points = tuple(
                (self.left + (day + 0.5) * day_mm, foot - min(self._shown(m3), self.most) * per)
                for day, m3 in enumerate(tank.stored_m3)
            )
            yield Path(points=points, pen=PENS[n % 3])
            lacks = np.flatnonzero(is_short(tank))
            y = foot - SHORT_MM * (n + 0.6)
            if lacks.size:
                runs = np.split(lacks, np.flatnonzero(np.diff(lacks) > 1) + 1)
                segments = tuple(
                    ((self.left + run[0] * day_mm, y), (self.left + (run[-1] + 1) * day_mm, y))
                    for run in runs
                )
                yield Strokes(segments=segments, pen=Pen.CUT, tone=Tone.SHORT)

    def _figures(self) -> Iterator[Figure]:
        for tank in self.tanks:
            of, days = _of(tank), short_days(tank)
            yield Figure(what=f"Days short, {of}", amount=Amount(days, COUNT))
            if days:
                first = when(24 * int(np.argmax(is_short(tank)))).rsplit(" ", 1)[0]
                lacking = Amount(float(tank.short_m3.sum()), LITRES)
                yield Figure(what=f"Lacking, first on {first}, {of}", amount=lacking)
            least = int(tank.stored_m3.argmin())
            day = when(24 * least).rsplit(" ", 1)[0]
            amount = Amount(float(tank.stored_m3[least]), LITRES)
            yield Figure(what=f"Least in the tank, {day}, {of}", amount=amount)


def _of(tank: TankYear) -> str:
    """For whom and of which rain."""
    return ", ".join(part for part in (tank.case, f"rain {tank.rains}") if part)
