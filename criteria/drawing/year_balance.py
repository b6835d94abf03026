"""The heat of a span of hours as a section: what leaves through each part, what brings it.

Arrows are as wide as what they carry, all at one scale, so that those into the room are together as
wide as those out of it. Means of the hours; what a part gives back points inwards.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from criteria.drawing.drawing import Drawing, Field, Figure
from criteria.drawing.hatching import hatched
from criteria.drawing.lettering import LEAST_MM, fitted
from criteria.drawing.marks import Lettering, Mark, Path, Point, rectangle
from criteria.drawing.pens import Fill, Pen, Tone
from criteria.drawing.scales import per_mm, stands_for
from criteria.drawing.value_bars import LINE_MM, SIDE_MM
from criteria.drawing.year_frame import heading, notes
from criteria.findings import Amount
from criteria.hourly.worst import MISSED_K, Span, flows
from criteria.hourly.year import Year
from criteria.units import POWER, TEMPERATURE

WIDEST_MM, LEAST_WIDE_MM = 11.0, 0.5
"""How wide an arrow is at most; and how wide one is drawn at least [mm]."""
LONG_MM, INSIDE_MM, HEAD_MM = 13.0, 4.0, 0.9
"""How far an arrow goes outside and inside of a part; how far its head stands out [mm]."""
WALL_MM, EAVES_MM, ROW_MM = 2.2, 3.0, 1.6
ROOF, FLOOR = "roof", "floor"
LEFT, RIGHT = ("walls", "doors"), ("glass", "air", "open windows")
INSIDE = ("plant", "people", "loads", "blinds", "things", "room air")
NONE_W = 0.5
"""What carries less is in the table alone [W]."""


def draw_balance(year: Year, span: Span, field: Field) -> Drawing:
    """Draw the heat of some hours of the drawn run."""
    return _Balance(year, span, field).drawing()


class _Balance:
    def __init__(self, year: Year, span: Span, field: Field) -> None:
        self.year, self.span, self.field = year, span, field
        self.flows = flows(year.drawn, span)
        carried = {name: watts for name, watts in self.flows.items() if abs(watts) >= NONE_W}
        unit = POWER.unit(field.system)
        most = max([abs(watts) for watts in carried.values()], default=1.0)
        self.per = per_mm(lambda per: float(unit.from_si(most)) / per <= WIDEST_MM, field.system)
        self.scale = stands_for(self.per, unit.symbol, field.system)
        others = [n for n in carried if n not in (*LEFT, *RIGHT, *INSIDE, ROOF, FLOOR)]
        self.left = _some(carried, (*LEFT, *others))
        self.right, self.inside = _some(carried, RIGHT), _some(carried, INSIDE)
        self.up, self.down = carried.get(ROOF), carried.get(FLOOR)
        house = 40.0 if field.is_narrow else 78.0
        self.x0, self.x1 = (field.width_mm - house) / 2, (field.width_mm + house) / 2
        self.high = max(24.0, *map(self._side_high, (self.left, self.right)), self._rows_high())

    def _wide(self, watts: float) -> float:
        wide = abs(float(POWER.unit(self.field.system).from_si(watts))) / self.per
        return max(wide, LEAST_WIDE_MM)

    def _side_high(self, side: Mapping[str, float]) -> float:
        return sum(self._slot(watts) for watts in side.values()) + 2.0

    def _slot(self, watts: float) -> float:
        return 2 * LINE_MM + self._wide(watts) + 2 * HEAD_MM + 1.4

    def _row(self, watts: float) -> float:
        wide = self._wide(watts) + 2 * HEAD_MM
        return (wide + LINE_MM if self.field.is_narrow else max(wide, LEAST_MM + 1.0)) + ROW_MM

    def _rows_high(self) -> float:
        return sum(self._row(watts) for watts in self.inside.values()) + 4.0

    def drawing(self) -> Drawing:
        answer, says, tone = self._answer()
        marks, top = heading(answer, says, tone, self.field)
        ridge = top + (LONG_MM if self.up else 2.0)
        eaves = ridge + (6.0 if self.field.is_narrow else 9.0)
        foot = eaves + self.high
        marks += self._house(ridge, eaves, foot)
        middle = self.field.width_mm / 2
        if self.up:
            yield_ = (middle, ridge + WALL_MM + INSIDE_MM), (middle, top)
            marks += self._flow(ROOF, self.up, *yield_, beside=True)
        if self.down:
            ends = (middle, foot - 1.0), (middle, foot + LONG_MM)
            marks += self._flow(FLOOR, self.down, *ends, beside=True)
        marks += self._side(self.left, self.x0, eaves, is_left=True)
        marks += self._side(self.right, self.x1, eaves, is_left=False)
        marks += self._rows(eaves + 2.0)
        top = foot + (LONG_MM + 1.0 if self.down else WALL_MM)
        comes = sum(watts for watts in self.flows.values() if watts > 0)
        total = POWER.write(comes, self.field.system)
        key = [
            f"means of these hours: {total} into the room, as much out of it; {self.scale}",
            "plain: into the room; hatched: out of it; things: what stands inside and gives back",
        ]
        said, top = notes(key, top, self.field)
        return Drawing(
            title="Heat of the coldest night",
            says=f"{answer}: {says}. {self._most()}",
            width_mm=self.field.width_mm,
            height_mm=round(top + 1.6, 2),
            marks=(*marks, *said),
            figures=tuple(self._figures()),
            scale=self.scale,
        )

    def _answer(self) -> tuple[str, str, Tone]:
        at, system = self.span.at, self.field.system
        inside = float(self.year.drawn.operative_k[at].mean())
        outside = float(self.year.weather.air_k[at].mean())
        says = f"mean inside, {self.span.words}; outside {TEMPERATURE.write(outside, system)}"
        is_cold = inside < float(self.year.warm_k[at].mean()) - MISSED_K
        return TEMPERATURE.write(inside, system), says, Tone.SHORT if is_cold else Tone.INK

    def _most(self) -> str:
        name, watts = min(self.flows.items(), key=lambda each: each[1])
        return f"Most leaves by {name}: {POWER.write(-watts, self.field.system)}."

    def _figures(self) -> Iterator[Figure]:
        system = self.field.system
        for name, watts in self.flows.items():
            amount = Amount(watts, POWER)
            lettered = POWER.write(abs(watts), system) if abs(watts) >= NONE_W else ""
            yield Figure(
                what=f"{name.capitalize()}, into the room", amount=amount, lettered=lettered
            )
        total = Amount(round(sum(self.flows.values()), 6), POWER)
        yield Figure(what="All together", amount=total)

    def _house(self, ridge: float, eaves: float, foot: float) -> Iterator[Mark]:
        """Floor, walls and roof, cut."""
        x0, x1, middle = self.x0, self.x1, self.field.width_mm / 2
        for box in (
            (x0, foot, x1, foot + WALL_MM),
            (x0, eaves, x0 + WALL_MM, foot),
            (x1 - WALL_MM, eaves, x1, foot),
        ):
            yield Path(points=rectangle(box), pen=Pen.SEEN, fill=Fill.CUT, is_closed=True)
        under = (x0 - EAVES_MM, eaves), (middle, ridge + WALL_MM), (x1 + EAVES_MM, eaves)
        over = [(x, y - WALL_MM) for x, y in reversed(under)]
        yield Path(points=(*under, *over), pen=Pen.SEEN, fill=Fill.CUT, is_closed=True)

    def _flow(
        self, name: str, watts: float, inner: Point, outer: Point, *, beside: bool = False
    ) -> Iterator[Mark]:
        """An arrow between the room and the outside, its words over it, or beside one upright."""
        wide = self._wide(watts)
        yield from _arrow(*((outer, inner) if watts > 0 else (inner, outer)), wide, watts > 0)
        words = POWER.write(abs(watts), self.field.system)
        if beside:
            x = outer[0] + wide / 2 + HEAD_MM + 1.2
            y = max(inner[1], outer[1]) - 1.2 if outer[1] > inner[1] else outer[1] + LINE_MM
            yield Lettering(words=f"{name} {words}", at=(x, y))
            return
        at, anchor = outer[0], "start" if outer[0] < inner[0] else "end"
        y = outer[1] - wide / 2 - HEAD_MM - 1.0
        room = self.x0 - SIDE_MM - 1.0
        yield Lettering(words=fitted(name, LEAST_MM, room), at=(at, y - LINE_MM), anchor=anchor)
        yield Lettering(words=words, at=(at, y), anchor=anchor)

    def _side(
        self, flows_w: Mapping[str, float], wall: float, eaves: float, *, is_left: bool
    ) -> Iterator[Mark]:
        """Arrows through a wall, under one another."""
        spare = (self.high - self._side_high(flows_w)) / (len(flows_w) + 1)
        y = eaves + 1.0
        out = -1.0 if is_left else 1.0
        long = min(wall if is_left else self.field.width_mm - wall, 24.0) - SIDE_MM
        for name, watts in flows_w.items():
            y += spare + self._slot(watts)
            at = y - HEAD_MM - self._wide(watts) / 2
            inner = (wall - out * (WALL_MM + 0.8), at)
            yield from self._flow(name, watts, inner, (wall + out * long, at))

    def _rows(self, top: float) -> Iterator[Mark]:
        """What stands in the room: arrows to the right give, to the left take."""
        left, long = self.x0 + WALL_MM + 4.0, 7.0 if self.field.is_narrow else 12.0
        spare = (self.high - self._rows_high()) / 2
        y = top + spare
        for name, watts in self.inside.items():
            row = self._row(watts)
            over = LINE_MM if self.field.is_narrow else 0.0
            middle = y + over + (row - over - ROW_MM) / 2
            start, end = (left, middle), (left + long, middle)
            ways = (start, end) if watts > 0 else (end, start)
            yield from _arrow(*ways, self._wide(watts), watts > 0)
            words = f"{name} {POWER.write(abs(watts), self.field.system)}"
            at = (left + long + 1.4, middle + LEAST_MM / 2)
            if self.field.is_narrow:
                at = (self.x0 + WALL_MM + 1.0, y + LINE_MM - 1.0)
            yield Lettering(words=words, at=at)
            y += row


def _some(flows_w: Mapping[str, float], names: Sequence[str]) -> dict[str, float]:
    return {name: flows_w[name] for name in names if name in flows_w}


def _arrow(start: Point, end: Point, wide: float, is_gain: bool) -> Iterator[Mark]:
    """An arrow along one axis of the paper."""
    long = abs(end[0] - start[0]) + abs(end[1] - start[1])
    head = min(long / 2, wide / 2 + 1.6)
    half, out = wide / 2, wide / 2 + HEAD_MM
    along = [(0.0, -half), (long - head, -half), (long - head, -out), (long, 0.0)]
    outline = [*along, *((a, -b) for a, b in reversed(along[:-1]))]
    ux, uy = (end[0] - start[0]) / long, (end[1] - start[1]) / long
    points = tuple((start[0] + a * ux - b * uy, start[1] + a * uy + b * ux) for a, b in outline)
    fill = Fill.TRACE if is_gain else Fill.GLASS
    yield Path(points=points, pen=Pen.FINE, fill=fill, is_closed=True)
    if not is_gain and wide > 1.0:
        shaft = (points[0], points[1], points[-2], points[-1])
        yield hatched(shaft, 1.4, Tone.INK)
