"""A room by daylight, drawn: lines of equal light on its plan, hatched the denser the darker.

Walls, windows and doors are drawn as on every plan. What is past the no-sky line sees no sky.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from criteria.daylight import Contour, Wall, no_sky_lines
from criteria.daylight.field import PLANE_HEIGHT_M
from criteria.daylight.hatching import hatching, lines_to_walls
from criteria.drawing.dimensions import across, upwards
from criteria.drawing.drawing import Drawing, Field, Figure
from criteria.drawing.hatching import hatched
from criteria.drawing.lettering import LEAST_MM, width_mm
from criteria.drawing.marks import (
    Disc,
    Flat,
    Lettering,
    Mark,
    Path,
    Point,
    Slide,
    Strokes,
    rectangle,
)
from criteria.drawing.pens import Fill, Pen, Tone
from criteria.drawing.placing import Look, Placing, about
from criteria.drawing.plan_parts import Sheet, gap_of, leaf, north, opening, scale_bar, window
from criteria.drawing.scales import DrawnScale, largest
from criteria.findings import Amount
from criteria.plans.figures import RoomLight
from criteria.plans.plan import DoorPlace, Placed, RoomPlan
from criteria.units import LENGTH, ROOM_LENGTH, System
from criteria.walking.pictured import Glazed, Hung, Missing
from criteria.walking.storeys import Gate, Place

SIDE_MM, SIDE_NARROW_MM, HEAD_MM, FOOT_MM, TALLEST_MM = 16.8, 11.0, 8.0, 26.0, 150.0
"""Kept beside a room for marks and sizes, over and under it; how tall it may be [mm]."""
LARGEST, THINNEST_M = 20, 0.05
"""No room is drawn larger than 1 to so much; a wall that says no thickness is so thick [m]."""
LEVELS_PCT = (0.1, 0.2, 0.5, 1, 2, 5, 10, 20)
TONES_PCT = (1, 2, 5)
MOST_LEVELS, SHORTEST_M, HATCH_MM = 6, 0.4, 1.8
"""Lines of light that are drawn, the shortest of them [m], and hatching lines apart [mm]."""
OUT = {Wall.NORTH: (0.0, 1.0), Wall.EAST: (1.0, 0.0), Wall.SOUTH: (0.0, -1.0),
       Wall.WEST: (-1.0, 0.0)}  # fmt: skip
WAYS = {Wall.NORTH: "x", Wall.SOUTH: "-x", Wall.WEST: "y", Wall.EAST: "-y"}


def place_words(placed: Placed, system: System) -> str:
    """Say where an opening stands: in the S wall, 970 mm from its left."""
    left = LENGTH.write(placed.left_m, system)
    if placed.is_rooflight:
        return f"in the ceiling, {left} from the left"
    return f"in the {placed.face} wall, {left} from its left"


def draw_daylight(
    light: RoomLight, field: Field, *, own: RoomPlan | None = None, is_moved: bool = False
) -> Drawing:
    """Draw a room by daylight.

    own        the schedule's plan, whose windows are shown where a trial's stand elsewhere
    is_moved   whether its windows can be moved
    """
    return _Room(light, field, is_moved=is_moved).drawing(own)


def scale_of(plan: RoomPlan, field: Field) -> DrawnScale:
    """Return the largest scale at which a room fits a field with what stands around it."""
    (left, low), (right, high) = _extent(plan)
    room = field.width_mm - 2 * _side(field), field.tallest_mm or TALLEST_MM
    size = right - left, high - low
    return largest(size, room, field.system, ratio=max(field.ratio, LARGEST))


def _side(field: Field) -> float:
    return SIDE_NARROW_MM if field.is_narrow else SIDE_MM


def _thick_m(plan: RoomPlan) -> float:
    return max(plan.shell.wall_thickness_m, THINNEST_M)


def _extent(plan: RoomPlan) -> tuple[Point, Point]:
    """The lower left and upper right corner of walls, and of leaves that swing out of them [m]."""
    by = dict.fromkeys(Wall, _thick_m(plan))
    for door in plan.doors:
        if door.swing == "out" and door.hinge:
            wall = plan.wall_of(door.face)
            by[wall] = max(by[wall], _thick_m(plan) + door.width_m)
    length, width = plan.shell.length_m, plan.shell.width_m
    return (-by[Wall.WEST], -by[Wall.SOUTH]), (length + by[Wall.EAST], width + by[Wall.NORTH])


class _Room:
    def __init__(self, light: RoomLight, field: Field, *, is_moved: bool) -> None:
        self.light, self.field, self.is_moved = light, field, is_moved
        self.plan, shell = light.plan, light.plan.shell
        self.size = shell.length_m, shell.width_m
        self.wall_m = _thick_m(self.plan)
        (left, low), (right, high) = _extent(self.plan)
        scale, side = scale_of(self.plan, field), _side(field)
        self.wide = 2 * side + scale.mm(right - left)
        self.high = HEAD_MM + scale.mm(high - low) + FOOT_MM
        self.sheet = Sheet(scale, left, high, side, HEAD_MM)
        self.unlettered: list[str] = []
        self.placing = Placing(self.wide, self.high)
        self.figures: list[Figure] = []

    def drawing(self, own: RoomPlan | None) -> Drawing:
        """Draw light, then walls and what stands in them, then sizes, north and scale."""
        plan = self.plan
        contours = [
            each
            for each in lines_to_walls(self.light.drawn, self._levels())
            if each.length_m >= SHORTEST_M
        ]
        foot = list(self._foot())
        marks: list[Mark] = [*self._walls(), *self._tones(), *self._lines(contours)]
        for door in plan.doors:
            hung = self._hung(door)
            marks += [*opening(self.wall_m, hung, self.sheet)]
            tone = Tone.INK if door.swing == "out" else Tone.ON_LIT
            marks += leaf(self.wall_m, hung, self.sheet, tone=tone)
            self._name(door.mark, self._ends(door), OUT[plan.wall_of(door.face)])
        for placed in self._elsewhere(own):
            ends, out = self._ends(placed), OUT[plan.wall_of(placed.face)]
            marks.append(Path(points=self._hole(ends, out), pen=Pen.DATUM, is_closed=True))
        for placed in plan.openings:
            marks += [self._slide(placed)] if self.is_moved else self._opening(placed)
        marks += [*self._seats(), *foot]
        self._levels_lettered(contours)
        return Drawing(
            title=f"Daylight plan of {plan.mark} {plan.name}",
            says=self._says(),
            width_mm=round(self.wide, 2),
            height_mm=round(self.high, 2),
            marks=(*marks, *self.placing.letters),
            figures=tuple(self.figures),
            scale=self.sheet.scale.name,
            key=tuple(self.unlettered),
        )

    def _says(self) -> str:
        system, drawn = self.field.system, self.light.drawn
        size = " by ".join(ROOM_LENGTH.write(x, system) for x in self.size)
        windows = "; ".join(
            f"{placed.mark} {place_words(placed, system)}, {100 * share:.0f} % of the light"
            for placed, share in zip(self.plan.in_order, self.light.shares, strict=True)
        )
        low, high = drawn.df_pct.min(), drawn.df_pct.max()
        levels = ", ".join(f"{level:g}" for level in self._levels()) or "no level"
        return (
            f"Scale {self.sheet.scale.name}, {size}. Daylight factor from {low:.2g} % to "
            f"{high:.2g} %, lines at {levels} %. {windows or 'No window'}."
        )

    # The light

    def _levels(self) -> list[float]:
        low, high = self.light.drawn.df_pct.min(), self.light.drawn.df_pct.max()
        return [level for level in LEVELS_PCT if low < level <= high][-MOST_LEVELS:]

    def _tones(self) -> Iterator[Strokes]:
        apart = HATCH_MM * self.sheet.scale.ratio / 1000
        lines = hatching(self.light.drawn, TONES_PCT, apart)
        at = self.sheet.at
        segments = tuple((at((a, b)), at((c, d))) for a, b, c, d in lines)
        yield Strokes(segments=segments, tone=Tone.SHADE)

    def _lines(self, contours: Sequence[Contour]) -> Iterator[Path]:
        room = self.plan.room
        if room.openings and 0 < self.light.field.no_sky_share < 1:
            for line in no_sky_lines(room, plane_height_m=PLANE_HEIGHT_M):
                yield Path(points=self.sheet.all(*line), pen=Pen.DATUM, tone=Tone.ON_LIT)
        for contour in contours:
            pen = Pen.SEEN if contour.level_pct in TONES_PCT else Pen.FINE
            line = self.sheet.all(*_smooth(contour.points))
            yield Path(points=line, pen=pen, tone=Tone.ON_LIT)

    def _levels_lettered(self, contours: Sequence[Contour]) -> None:
        """Letter each line that is long enough, where no other word stands."""
        for contour in sorted(contours, key=lambda each: -each.length_m):
            if self.sheet.scale.mm(contour.length_m) > 8.0:
                at, look = self.sheet.at(contour.label_point), Look(tone=Tone.ON_LIT)
                self.placing.letter(f"{contour.level_pct:g}", [at], look)

    # Walls, and what stands in them

    def _walls(self) -> Iterator[Path]:
        (length, width), t = self.size, self.wall_m
        outer = self.sheet.all(*rectangle((-t, -t, length + t, width + t)))
        inner = self.sheet.all(*rectangle((0.0, 0.0, length, width)))
        yield Path(points=outer, pen=Pen.CUT, fill=Fill.CUT, is_closed=True)
        yield Path(points=inner, pen=Pen.SEEN, fill=Fill.LIT, is_closed=True)

    def _ends(self, placed: Placed | DoorPlace) -> tuple[Point, Point]:
        """Both ends on the inside face of its wall, the left one first seen from inside."""
        wall, offset = self.plan.wall_of(placed.face), self.plan.offset_m(placed)
        (length, width), far = self.size, offset + placed.width_m
        return {
            Wall.NORTH: ((offset, width), (far, width)),
            Wall.EAST: ((length, far), (length, offset)),
            Wall.SOUTH: ((far, 0.0), (offset, 0.0)),
            Wall.WEST: ((0.0, offset), (0.0, far)),
        }[wall]

    def _hole(self, ends: tuple[Point, Point], out: Point) -> tuple[Point, ...]:
        (ax, ay), (bx, by) = ends
        x, y = out[0] * self.wall_m, out[1] * self.wall_m
        return self.sheet.all((ax, ay), (bx, by), (bx + x, by + y), (ax + x, ay + y))

    def _hung(self, door: DoorPlace) -> Hung:
        left, right = self._ends(door)
        out = OUT[self.plan.wall_of(door.face)]
        here = Place(self.plan.mark, self.plan.mark, (0.0, 0.0), self.size)
        gate = Gate(door.mark, here, out, left, right, (left, right))
        return Hung(gate=gate, swing=door.swing, hinge=door.hinge)

    def _opening(self, placed: Placed) -> Iterator[Flat]:
        if placed.is_rooflight:
            yield from self._overhead(placed)
            return
        says = f"{placed.mark}: place not given"
        row = placed.row or placed.mark
        missing = Missing("windows", row, "left", says) if placed.is_assumed else None
        ends, out = self._ends(placed), OUT[self.plan.wall_of(placed.face)]
        yield from window(self.wall_m, Glazed(placed.mark, ends, out, missing), self.sheet)
        self._name(placed.mark, ends, out, missing)

    def _overhead(self, placed: Placed) -> Iterator[Flat]:
        """A roof light lies above the cut: its outline, crossed as a void is."""
        left, low = placed.left_m, placed.sill_m
        right, high = left + placed.width_m, low + placed.height_m
        box = self.sheet.all(*rectangle((left, low, right, high)))
        tone, crossed = Tone.ON_LIT, ((box[0], box[2]), (box[1], box[3]))
        yield Path(points=box, pen=Pen.DATUM, tone=tone, is_closed=True)
        yield Strokes(segments=crossed, pen=Pen.FINE, tone=tone)
        middle = self.sheet.at(((left + right) / 2, high))
        places = about(middle, placed.mark, LEAST_MM, 1.5)
        self.placing.letter(placed.mark, places, Look(tone=tone))

    def _slide(self, placed: Placed) -> Slide:
        """An opening that is moved along its wall, a roof light along the room."""
        run, way = self.size[0], "x"
        if not placed.is_rooflight:
            wall = self.plan.wall_of(placed.face)
            run, way = self.plan.shell.wall_length_m(wall), WAYS[wall]
        return Slide(
            mark=placed.mark,
            place=place_words(placed, self.field.system),
            at_m=placed.left_m,
            most_m=max(0.0, run - placed.width_m),
            way=way,
            ratio=self.sheet.scale.ratio,
            marks=tuple(self._opening(placed)),
        )

    def _name(
        self,
        mark: str,
        ends: tuple[Point, Point],
        out: Point,
        missing: Missing | None = None,
    ) -> None:
        """Letter a mark outside its wall, and that its place isn't given."""
        (ax, ay), (bx, by) = ends
        by_m = self.wall_m
        x, y = self.sheet.at(((ax + bx) / 2 + out[0] * by_m, (ay + by) / 2 + out[1] * by_m))
        gap = gap_of(missing) if missing else None
        for words in (f"{mark} place not given", f"{mark} not given") if gap else (mark,):
            half = width_mm(words, LEAST_MM) / 2
            places = [
                (x + out[0] * (far + half), y - out[1] * (far + LEAST_MM / 2 + 0.4))
                for far in (1.2, 3.0, 6.0, 9.0)
            ]
            places += about((x, y), words, LEAST_MM, 1.5)
            if self.placing.letter(words, places, Look(gap=gap)):
                return
        self.unlettered.append(words)

    def _elsewhere(self, own: RoomPlan | None) -> list[Placed]:
        """The schedule's windows that a trial has elsewhere or not at all."""
        if own is None:
            return []
        stands = {(o.face, o.left_m, o.width_m) for o in self.plan.openings}
        return [o for o in own.upright if (o.face, o.left_m, o.width_m) not in stands]

    def _seats(self) -> Iterator[Disc]:
        for seat in self.plan.seats:
            at = self.sheet.at((seat.x_m, seat.y_m))
            yield Disc(middle=at, radius_mm=2.2, pen=Pen.FINE, tone=Tone.ON_LIT, fill=Fill.LIT)
            yield Disc(middle=at, radius_mm=0.6, pen=Pen.CUT, tone=Tone.ON_LIT)
            look = Look(tone=Tone.ON_LIT)
            self.placing.letter(seat.mark, about(at, seat.mark, LEAST_MM, 2.6), look)

    # What stands around it

    def _foot(self) -> Iterator[Mark]:
        system, sheet = self.field.system, self.sheet
        (length, width), t = self.size, self.wall_m
        left, foot = sheet.at((0.0, 0.0))
        right, top = sheet.at((length, width))
        _, under = sheet.at((0.0, -t))
        sizes = [Amount(si, ROOM_LENGTH) for si in (length, width)]
        written = [amount.write(system) for amount in sizes]
        for amount, words, what in zip(sizes, written, ("across", "up"), strict=True):
            self.figures.append(Figure(what=f"inside, {what}", amount=amount, lettered=words))
        beside = sheet.at((-t, 0.0))[0] - 6.5
        for mark in (
            *across(left, right, under + 12.0, written[0]),
            *upwards(top, foot, beside, written[1]),
        ):
            if isinstance(mark, Lettering):
                self.placing.keep_free(mark.box)
            yield mark
        y = self.high - 5.0
        bar = scale_bar((2.0, y), sheet.scale, self.wide * 0.4, system)
        yield from bar.marks
        self.placing.keep_free((2.0, y, 2.0 + bar.length_mm, y + 1.4))
        half = width_mm(bar.says, LEAST_MM) / 2
        places = [(3.5 + bar.length_mm + half, y + 0.7), (2 + half, y - 2.4)]
        self.placing.letter(bar.says, places, Look(tone=Tone.GRAPHITE))
        at = self.wide - 4.0, self.high - 5.0
        yield from north(at, self.plan.shell.north_bearing_deg)
        self.placing.keep_free((at[0] - 3.2, at[1] - 3.2, at[0] + 3.2, at[1] + 3.2))
        self.placing.letter("N", [(at[0] - 5.2, at[1])], Look(tone=Tone.GRAPHITE))


def _smooth(points: Sequence[Point]) -> list[Point]:
    """A line with its corners cut, each at a quarter of both its sides."""
    cut = []
    for (ax, ay), (bx, by) in pairwise(points):
        cut += [(ax + (bx - ax) * s, ay + (by - ay) * s) for s in (0.25, 0.75)]
    is_closed = points[0] == points[-1]
    return [*cut, cut[0]] if is_closed else [points[0], *cut, points[-1]]


def swatches() -> list[tuple[Drawing, str]]:
    """Return the key of the hatching: how each is drawn, and what it stands for."""
    steps = [(1, f"under {TONES_PCT[0]} %")]
    steps += [(2**n, f"{low} to {high} %") for n, (low, high) in enumerate(pairwise(TONES_PCT), 1)]
    steps.append((0, f"{TONES_PCT[-1]} % and over"))
    return [(_swatch(every * HATCH_MM, words), words) for every, words in steps]


def _swatch(apart_mm: float, words: str) -> Drawing:
    box = rectangle((0.1, 0.1, 8.7, 5.1))
    lines = (hatched(box, apart_mm, Tone.SHADE),) if apart_mm else ()
    floor = Path(points=box, pen=Pen.FINE, fill=Fill.LIT, is_closed=True)
    return Drawing(title=words, says="", width_mm=8.8, height_mm=5.2, marks=(floor, *lines))
