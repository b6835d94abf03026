"""A hut in section with doors in its long wall, each lettered: a picture of no package."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from criteria.drawing.drawing import Drawing, Field
from criteria.drawing.hatching import hatched
from criteria.drawing.lettering import LEAST_MM, NAME_MM, fitted
from criteria.drawing.marks import Disc, Lettering, Mark, Path, Point, rectangle
from criteria.drawing.pens import Fill, Pen, Tone
from criteria.drawing.scales import largest
from criteria.units import System

LONG_M, SHORT_M, HIGH_M = 13.0, 8.6, 5.1
"""What is drawn, ground and air among it [m]; on a telephone a shorter hut without windows."""
GROUND_M, FLOOR_M, EAVES_M, RIDGE_M = 0.35, 0.95, 3.65, 4.45
WALL_M, SLAB_M, ROOF_M, AIR_M, POST_M = 0.22, 0.3, 0.3, 0.32, 0.08
BAYS = 3
DOOR_M = (0.9, 2.05)
"""Width and height of a leaf [m]."""
KEY_MM = 2.3


def draw_hut(doors: Sequence[str], field: Field) -> Drawing:
    """Draw the hut with a door for each name, evenly along its wall; narrow, doors have numbers."""
    return _Hut(doors, field).drawing()


class _Hut:
    def __init__(self, doors: Sequence[str], field: Field) -> None:
        self.doors, self.field = doors, field
        self.long_m = SHORT_M if field.is_narrow else LONG_M
        self.scale = largest((self.long_m, HIGH_M), (field.width_mm, field.width_mm), System.METRIC)
        self.ends = AIR_M, self.long_m - AIR_M
        self.bay_m = self.long_m / len(doors)
        self.middles = [self.bay_m * (n + 0.5) for n in range(len(doors))]

    def at(self, x_m: float, up_m: float) -> Point:
        """A place on paper; metres go from the left end, and up from the foot of the drawing."""
        left = (self.field.width_mm - self.scale.mm(self.long_m)) / 2
        return left + self.scale.mm(x_m), self.scale.mm(HIGH_M - up_m)

    def shape(self, *places: Point, pen: Pen = Pen.SEEN, fill: Fill = Fill.NONE) -> Path:
        points = tuple(self.at(*place) for place in places)
        return Path(points=points, pen=pen, fill=fill, is_closed=True)

    def box(
        self, left: float, foot: float, right: float, top: float, fill: Fill = Fill.PAPER
    ) -> Path:
        pen = Pen.CUT if fill is Fill.CUT else Pen.SEEN
        return self.shape(*rectangle((left, top, right, foot)), pen=pen, fill=fill)

    def drawing(self) -> Drawing:
        between = [(one + other) / 2 for one, other in pairwise(self.middles)]
        stove = len(between) // 2
        windows = [] if self.field.is_narrow else between[:stove] + between[stove + 1 :]
        marks = [
            *self._ground(),
            *(mark for x in windows for mark in self._window(x)),
            *(self._stove(between[stove]) if between else ()),
            *(mark for n, x in enumerate(self.middles) for mark in self._door(n, x)),
            *self._cut(),
        ]
        return Drawing(
            title="A hut in section",
            says=f"Its doors: {', '.join(self.doors)}.",
            width_mm=self.field.width_mm,
            height_mm=round(self.scale.mm(HIGH_M), 2),
            marks=tuple(marks),
            scale=self.scale.name,
        )

    def _ground(self) -> Iterator[Mark]:
        """The ground, cut, and a drift against the windward end."""
        earth = rectangle((*self.at(0, GROUND_M), *self.at(self.long_m, 0)))
        yield hatched(earth, 2.4, Tone.GRAPHITE)
        wall = self.ends[0]
        drift = (0.0, GROUND_M), (0.0, 0.7), (0.15, 1.3), (wall, 1.6), (wall, GROUND_M)
        yield self.shape(*drift, pen=Pen.SEEN, fill=Fill.PAPER)
        line = self.at(0, GROUND_M), self.at(self.long_m, GROUND_M)
        yield Path(points=line, pen=Pen.CUT)
        for n in range(BAYS + 1):
            x = 0.8 + n * (self.long_m - 1.6) / BAYS
            yield self.box(x - POST_M, GROUND_M, x + POST_M, FLOOR_M - SLAB_M)

    def _under_roof(self, x_m: float) -> float:
        """How high the roof's underside is over the foot of the drawing [m]."""
        left, right = self.ends
        return EAVES_M + (RIDGE_M - EAVES_M) * (x_m - left) / (right - left)

    def _cut(self) -> Iterator[Mark]:
        left, right = self.ends
        yield self.box(left, FLOOR_M - SLAB_M, right, FLOOR_M, Fill.CUT)
        for start, end in ((left, left + WALL_M), (right - WALL_M, right)):
            foot = (end, FLOOR_M), (start, FLOOR_M)
            head = (start, self._under_roof(start)), (end, self._under_roof(end))
            yield self.shape(*foot, *head, pen=Pen.CUT, fill=Fill.CUT)
        start, end = left - AIR_M, right + AIR_M
        under = (start, self._under_roof(start)), (end, self._under_roof(end))
        over = [(x, up + ROOF_M) for x, up in reversed(under)]
        yield self.shape(*under, *over, pen=Pen.CUT, fill=Fill.CUT)

    def _window(self, x: float) -> Iterator[Mark]:
        yield self.box(x - 0.6, FLOOR_M + 1.0, x + 0.6, FLOOR_M + 1.95)
        for side in (-1, 1):
            ends = sorted((x + side * 0.04, x + side * 0.54))
            yield self.box(ends[0], FLOOR_M + 1.06, ends[1], FLOOR_M + 1.89, Fill.GLASS)
        yield self.box(x - 0.85, FLOOR_M + 0.39, x + 0.85, FLOOR_M + 0.45)
        for leg in (x - 0.75, x + 0.69):
            yield self.box(leg, FLOOR_M, leg + 0.06, FLOOR_M + 0.39)

    def _stove(self, x: float) -> Iterator[Mark]:
        top = self._under_roof(x) + ROOF_M + 0.6
        yield self.box(x - 0.07, FLOOR_M + 0.85, x + 0.07, top)
        yield self.box(x - 0.28, FLOOR_M + 0.15, x + 0.28, FLOOR_M + 0.85)
        yield self.box(x - 0.18, FLOOR_M + 0.3, x + 0.18, FLOOR_M + 0.6, Fill.GLASS)
        for leg in (x - 0.25, x + 0.19):
            yield self.box(leg, FLOOR_M, leg + 0.06, FLOOR_M + 0.15)

    def _door(self, n: int, x: float) -> Iterator[Mark]:
        wide, high = DOOR_M
        yield self.box(x - wide / 2 - 0.06, FLOOR_M, x + wide / 2 + 0.06, FLOOR_M + high + 0.06)
        yield self.box(x - wide / 2, FLOOR_M, x + wide / 2, FLOOR_M + high, Fill.TRACE)
        handle = self.at(x + wide / 2 - 0.12, FLOOR_M + 1.0)
        yield Disc(middle=handle, radius_mm=self.scale.mm(0.05), fill=Fill.INK)
        key = self.at(x, FLOOR_M + 1.5)
        yield Disc(middle=key, radius_mm=KEY_MM, fill=Fill.PAPER)
        foot = (key[0], key[1] + LEAST_MM / 2)
        yield Lettering(words=f"{n + 1}", at=foot, anchor="middle", is_strong=True)
        if not self.field.is_narrow:
            at = self.at(x, FLOOR_M + high + 0.2)
            words = fitted(self.doors[n], NAME_MM, self.scale.mm(self.bay_m) - 2.0)
            yield Lettering(words=words, at=at, anchor="middle", cap_mm=NAME_MM, is_strong=True)
