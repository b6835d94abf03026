"""A building cut along its length, for a hung sheet, of the same rows as the drawings of pages."""

from __future__ import annotations

from collections.abc import Iterator

from criteria.drawing.dimensions import level
from criteria.drawing.drawing import Drawing, Field
from criteria.drawing.lettering import NAME_MM
from criteria.drawing.marks import Lettering, Mark, Path, Strokes, around, rectangle
from criteria.drawing.pens import Fill, Pen, Tone
from criteria.drawing.plan_parts import Sheet, scale_bar
from criteria.drawing.scales import largest
from criteria.package import Package
from criteria.schedules.furniture import Furniture
from criteria.schedules.openings import Window
from criteria.schedules.rooms import Room
from criteria.walking.pictured import Pictured
from criteria.walking.storeys import Place
from reviews.demo.site_map import FOOT_MM, HEAD_MM, WALL_M, box_m, storeys

FLOOR_M, ROOF_M, BESIDE_M = 0.25, 0.3, 1.0
"""Floor and roof as they are cut, and the ground drawn at either end [m]."""
LEVELS_MM = 16.0
"""Kept at the right for levels [mm]."""


def section(package: Package, field: Field) -> Drawing:
    """Cut the building along its length: rooms, levels, windows behind, ground and feet."""
    return _Section(package, field).drawing()


class _Section:
    """A building cut along the plan's x, looking to the wall that most windows are in."""

    def __init__(self, package: Package, field: Field) -> None:
        self.package, self.field = package, field
        self.floors = storeys(package)
        ground = self.floors[0]
        self.cut_y = self._busiest(ground)
        self.box = box_m(ground)
        self.rooms = {room.mark: room.leniently for room in package.rows_of(Room)}
        self.lift_m = package.leniently.supports.clear_m or 0.3
        self.tall_m = self.lift_m + FLOOR_M + self._eaves() + ROOF_M + 0.1
        size = self.box[2] - self.box[0] + 2 * BESIDE_M, self.tall_m + 0.4
        tall = (field.tallest_mm or 120.0) - HEAD_MM - FOOT_MM
        room = (field.width_mm - LEVELS_MM, tall)
        self.scale = largest(size, room, field.system)
        left = (field.width_mm - LEVELS_MM - self.scale.mm(size[0])) / 2
        self.sheet = Sheet(self.scale, self.box[0] - BESIDE_M, self.tall_m, left, HEAD_MM)
        self.foot_mm = HEAD_MM + self.scale.mm(size[1])

    def _busiest(self, shown: Pictured) -> float:
        """The line that cuts the longest run of rooms."""
        lines = {(place.low[1] + place.high[1]) / 2 for place in shown.storey.places}
        return max(sorted(lines), key=lambda y: sum(p.high[0] - p.low[0] for p in _at(shown, y)))

    def _eaves(self) -> float:
        """From the lowest floor to the highest ceiling [m]."""
        return max(base + high for _, base, high in self._cells())

    def _cells(self) -> Iterator[tuple[Place, float, float]]:
        """Rooms that are cut, with their floor's height and their own [m]."""
        for shown in self.floors:
            rooms = self.rooms
            under = [rooms[p.room].clear_height_m or 2.4 for p in _at(self.floors[0], self.cut_y)]
            base = (min(under) + FLOOR_M) * min(shown.storey.level, 1) if under else 0.0
            for place in _at(shown, self.cut_y) or (
                shown.storey.places if shown.storey.level else ()
            ):
                yield place, base, rooms[place.room].clear_height_m or 2.4

    def drawing(self) -> Drawing:
        """Draw what is cut over what is seen."""
        marks = [*self._ground(), *self._shell(), *self._inside(), *self._levels(), *self._foot()]
        return Drawing(
            title="Section along the building",
            says="Rooms cut along the building's length, over its ground",
            width_mm=self.field.width_mm,
            height_mm=self.foot_mm + FOOT_MM,
            marks=tuple(marks),
            scale=self.scale.name,
        )

    def _z(self, over_floor_m: float) -> float:
        return self.lift_m + FLOOR_M + over_floor_m

    def _box(
        self, x: float, low: float, to_x: float, high: float
    ) -> tuple[tuple[float, float], ...]:
        return self.sheet.all(*rectangle((x, self._z(high), to_x, self._z(low))))

    def _ground(self) -> Iterator[Mark]:
        slope = self.package.leniently.site.slope or 0.0
        left, right = self.box[0] - BESIDE_M, self.box[2] + BESIDE_M
        fall = min(0.5, slope * (right - left))
        line = self.sheet.all((left, 0.0), (right, -fall))
        yield Path(points=line, pen=Pen.CUT)
        count = int((line[1][0] - line[0][0]) / 3.0)
        ticks = []
        for n in range(count):
            x = line[0][0] + n * 3.0
            y = line[0][1] + (line[1][1] - line[0][1]) * n / count
            ticks.append(((x + 2.0, y + 0.4), (x, y + 2.4)))
        yield Strokes(segments=tuple(ticks))
        legs = max(3, round((self.box[2] - self.box[0]) / 2.5))
        for n in range(legs):
            x = self.box[0] + 0.4 + n * (self.box[2] - self.box[0] - 0.8) / (legs - 1)
            ground = -fall * (x - left) / (right - left)
            corners = self.sheet.all(*rectangle((x - 0.06, self.lift_m, x + 0.06, ground)))
            yield Path(points=corners, pen=Pen.SEEN, fill=Fill.PAPER, is_closed=True)
            pad = self.sheet.all(*rectangle((x - 0.22, ground + 0.05, x + 0.22, ground)))
            yield Path(points=pad, pen=Pen.SEEN, fill=Fill.INK, is_closed=True)

    def _shell(self) -> Iterator[Mark]:
        """Floor, walls and roof as they are cut: one dark shape with the rooms taken out."""
        thick = self.floors[0].wall_m or WALL_M
        for place, base, high in self._cells():
            x, to_x = place.low[0] - thick, place.high[0] + thick
            corners = self._box(x, base - FLOOR_M, to_x, base + high + ROOF_M)
            yield Path(points=corners, pen=Pen.SEEN, fill=Fill.CUT, is_closed=True)
        for place, base, high in self._cells():
            corners = self._box(place.low[0], base, place.high[0], base + high)
            yield Path(points=corners, pen=Pen.SEEN, fill=Fill.PAPER, is_closed=True)

    def _inside(self) -> Iterator[Mark]:
        """Windows in the walls behind the cut, beds and tables by their heights, and names."""
        windows = {row.mark: row.leniently for row in self.package.rows_of(Window)}
        cells = [*self._cells()]
        for shown in self.floors:
            for glazed in shown.windows:
                row, (one, other) = windows[glazed.mark], glazed.ends
                x, to_x = sorted((one[0], other[0]))
                inside = [c for c in cells if c[0].low[0] <= x and to_x <= c[0].high[0]]
                if not (to_x > x and inside and row.sill_m is not None and row.glass_h_m):
                    continue
                _, base, high = inside[0]
                if row.sill_m + row.glass_h_m <= high:
                    low = base + row.sill_m
                    glass = self._box(x, low, to_x, low + row.glass_h_m)
                    if glazed.out[1] > 0:
                        yield Path(points=glass, pen=Pen.SEEN, fill=Fill.GLASS, is_closed=True)
                    else:  # in the wall that is cut away
                        yield Path(points=glass, pen=Pen.DATUM, is_closed=True)
        yield from self._furniture(cells)
        for place, base, high in cells:
            x, y = self.sheet.at(((place.low[0] + place.high[0]) / 2, self._z(base + high)))
            yield Lettering(words=place.room, at=(x, y + 5.0), anchor="middle", cap_mm=NAME_MM)
            words = f"{high:.2f}"
            yield Lettering(words=words, at=(x, y + 9.5), anchor="middle", tone=Tone.GRAPHITE)

    def _furniture(self, cells: list[tuple[Place, float, float]]) -> Iterator[Mark]:
        """What stands behind the cut, as high as its row says."""
        rows = {row.mark: row.leniently for row in self.package.rows_of(Furniture)}
        for place, base, high in cells:
            for piece in (piece for shown in self.floors for piece in shown.pieces):
                row = rows.get(piece.body.mark)
                x, _, to_x, to_y = around(list(piece.body.corners))
                is_in = place.low[0] <= x and to_x <= place.high[0] and to_y > self.cut_y
                if row and is_in and row.room == place.room and row.height_m:
                    top = base + min(row.height_m, high)
                    yield Path(points=self._box(x, base, to_x, top), pen=Pen.FINE, is_closed=True)

    def _levels(self) -> Iterator[Mark]:
        """Level marks beside the building: ground, floors and the highest ceiling."""
        x, _ = self.sheet.at((self.box[2] + BESIDE_M, 0.0))
        levels = {0.0, self._eaves(), *(base for _, base, _ in self._cells())}
        for height in sorted(levels):
            _, y = self.sheet.at((0.0, self._z(height)))
            yield from level((x + 2.0, y), f"{height:+.2f}" if height else "±0.00")

    def _foot(self) -> Iterator[Mark]:
        y = self.foot_mm + 6.0
        bar = scale_bar((2.0, y), self.scale, 60.0, self.field.system)
        yield from bar.marks
        yield Lettering(words=bar.says, at=(bar.length_mm + 5.0, y + 1.9))


def _at(shown: Pictured, y: float) -> list[Place]:
    """The rectangles of a storey that a line across meets, from the left."""
    there = [p for p in shown.storey.places if p.low[1] < y < p.high[1]]
    return sorted(there, key=lambda place: place.low[0])
