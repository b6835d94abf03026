"""Water on its floor, drawn: each tank as high as it is full, and what that presses with."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from criteria.checks.standing import WET
from criteria.drawing.answering import SIDE_MM, answer
from criteria.drawing.drawing import Drawing, Field, Figure
from criteria.drawing.forces import arrow
from criteria.drawing.held import Held, held
from criteria.drawing.lettering import LEAST_MM, width_mm
from criteria.drawing.marks import Gap, Lettering, Mark, Path, Touch, rectangle
from criteria.drawing.pens import Fill, Pen, Tone
from criteria.drawing.picture import Picture, Ready, Seen
from criteria.drawing.scales import largest, lettered
from criteria.drawing.value_bars import Bar, height_mm, strip
from criteria.findings import Amount
from criteria.schedules.water import Tank
from criteria.units import ROOM_LENGTH, SHARE

TALL_MM, WIDE_MM, APART_MM, ARROW_MM = 36.0, 12.0, 4.0, 7.0
"""How high tanks are at most, how wide each is drawn, between them, and what presses [mm]."""
MOST = 8
WIDTH = Gap(schedule="tanks", mark="", column="litres", says="width of tanks: not given")


def draw_columns(tanks: tuple[Tank, ...], gaps: tuple[Gap, ...], seen: Seen, on: Field) -> Drawing:
    """Draw tanks side by side on their floor."""
    return _Columns(tanks, seen, on).drawing(gaps)


class _Columns:
    def __init__(self, tanks: tuple[Tank, ...], seen: Seen, field: Field) -> None:
        self.seen, self.field = seen, field
        self.head = answer(seen, field)
        self.pressing = {each.measured.subject: each for each in held(seen, "floor_under_water")}
        tanks = tuple(sorted(tanks, key=lambda tank: -self._presses(tank)))
        wide = field.width_mm - 2 * SIDE_MM
        step = max(WIDE_MM, max(width_mm(self._says(tank), LEAST_MM) for tank in tanks)) + APART_MM
        count = max(1, min(MOST, int((wide + APART_MM) / step)))
        self.tanks, self.rest, self.step = tanks[:count], tanks[count:], step
        tall = max(tank.height_m for tank in tanks)
        self.scale = largest((0.01, tall), (wide, TALL_MM), field.system, ratio=20)
        self.floor = self.head.height_mm + 3.0 + self.scale.mm(tall)
        self.figures: list[Figure] = []

    def _presses(self, tank: Tank) -> float:
        found = self.pressing.get(tank.mark)
        return found.amount.si if found else 0.0

    def _says(self, tank: Tank) -> str:
        """How high it is full, as typed."""
        high = lettered(Amount(tank.height_m, ROOM_LENGTH), self.field.system)
        if tank.full_share == 1:
            return high
        return f"{high}, {SHARE.write(tank.full_share, self.field.system)} full"

    def drawing(self, gaps: tuple[Gap, ...]) -> Drawing:
        """Draw the answer, the tanks on their floor, and the pressures beside their limit."""
        marks: list[Mark] = [*self.head.letters]
        for n, tank in enumerate(self.tanks):
            marks.append(self._tank(tank, SIDE_MM + n * self.step))
        ends = (SIDE_MM, self.floor), (self.field.width_mm - SIDE_MM, self.floor)
        marks.append(Path(points=ends, pen=Pen.CUT))
        top = self.floor + ARROW_MM + 3 * LEAST_MM + 4.0
        at = (self.field.width_mm - SIDE_MM, top)
        words = f"{self.scale.name}; width not given"
        marks.append(Lettering(words=words, at=at, anchor="end", tone=Tone.GRAPHITE, gap=WIDTH))
        bars = self._bars()
        where = f", {self.seen.asked.situation}" if self.seen.asked.situation else ""
        marks += strip(bars, top + 1.5, self.field)
        return Drawing(
            title=f"Water on its floor{where}",
            says=self.head.says,
            width_mm=self.field.width_mm,
            height_mm=round(top + 3.0 + height_mm(bars, is_stacked=self.field.is_narrow), 2),
            marks=tuple(marks),
            figures=(*self.head.figures, *self.figures),
            scale=self.scale.name,
            left_out=gaps,
            key=tuple(tank.mark for tank in self.rest),
        )

    def _tank(self, tank: Tank, left: float) -> Touch:
        """A tank of some width: only its height is known, and what stands in it."""
        top = self.floor - self.scale.mm(tank.height_m)
        water = self.floor - self.scale.mm(tank.height_m * tank.full_share)
        right, middle = left + WIDE_MM, left + WIDE_MM / 2
        box = rectangle((left, water, right, self.floor))
        marks: list[Path | Lettering] = [
            Path(points=box, pen=None, fill=Fill.GLASS, is_closed=True)
        ]
        for x in (left, right):
            side = (x, top), (x, self.floor)
            marks.append(Path(points=side, pen=Pen.ASSUMED, gap=WIDTH))
        for y in (top, water):
            marks.append(Path(points=((left, y), (right, y)), pen=Pen.SEEN))
        found = self.pressing.get(tank.mark)
        tone = found.tone if found else Tone.INK
        foot = self.floor + ARROW_MM
        if found and found.amount.si:
            marks += arrow((middle, self.floor + 0.6), (middle, foot), pen=Pen.SEEN, tone=tone)
        y = foot + LEAST_MM + 1.0
        marks.append(Lettering(words=tank.mark, at=(left, y), is_strong=True))
        words = self._says(tank)
        marks.append(Lettering(words=words, at=(left, y + LEAST_MM + 1.6)))
        amount = Amount(tank.height_m, ROOM_LENGTH)
        self.figures.append(Figure(what=f"{tank.mark}, height as typed", amount=amount))
        says = f"{tank.mark}, {words}"
        return Touch(schedule="tanks", mark=tank.mark, says=says, marks=tuple(marks))

    def _bars(self) -> list[Bar]:
        """What each presses with, as its check holds it."""
        known = [self.pressing[tank.mark] for tank in self.tanks if tank.mark in self.pressing]
        return [self._bar(each) for each in known]

    def _bar(self, each: Held) -> Bar:
        words = each.write_beside(self.field.system, is_narrow=self.field.is_narrow)
        mark = each.measured.subject
        self.figures.append(Figure(what=f"{mark} presses", amount=each.amount, lettered=words))
        is_picked = each.measured == self.seen.asked.measured
        row = ("tanks", mark)
        return Bar(name=f"{mark} presses", held=each, words=words, row=row, is_strong=is_picked)


def _gaps(seen: Seen) -> Iterator[Gap]:
    for tank in seen.package.leniently.tanks:
        for name, column in (("height_m", "h_m"), ("full_share", "full")):
            if tank.holds in WET and getattr(tank, name) is None:
                what = "height" if column == "h_m" else "how full it is"
                says = f"{tank.mark}: {what} not given"
                yield Gap(schedule="tanks", mark=tank.mark, column=column, says=says)


def _ready(seen: Seen) -> Ready | None:
    rows = seen.package.leniently.tanks
    wet = [tank for tank in rows if tank.holds in WET]
    known = tuple(tank for tank in wet if None not in (tank.height_m, tank.full_share))
    return Ready(partial(draw_columns, known, tuple(_gaps(seen)), seen)) if known else None


WATER_COLUMNS = Picture(
    ready=_ready,
    wants="tanks want the height of what they hold",
    checks=("floor_under_water",),
)
