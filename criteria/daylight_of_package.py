"""The plan of a room for daylight, made from schedule rows: what they say, and what is assumed.

Schedules seldom say where a window stands. Where they don't, a place is proposed by a fixed
rule, so that the same rows always give the same plan, and the plan says in words what it took:

    room        a rectangle of its floor, 4 along the wall with most glass to 3 deep, drawn out
                where that wall's windows need more
    windows     in the wall that each faces, evenly spread, in schedule order from the left
    roof lights level, evenly spread along the middle of the ceiling

The opening that light comes through is the clear glass, so frames are not counted twice.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import pairwise

from criteria.checks.check import blank
from criteria.checks.daylight import CLEAR_DOUBLE, KEPT
from criteria.daylight import Obstruction, Rooflight, Seat, Wall, Window
from criteria.daylight import Room as LitRoom
from criteria.errors import InputError
from criteria.package import Package
from criteria.schedules.openings import BEARINGS_DEG
from criteria.schedules.openings import Window as WindowRow
from criteria.schedules.rooms import Room as RoomRow

PROPORTION = 4 / 3
"""Length along the window wall over depth, where a room gives its floor alone [1]. Ours."""
WALL_M, ROOF_M = 0.25, 0.30
"""Thickness of wall and roof where neither room nor envelope gives one [m]. Ours."""
SILL_M = 0.9
"""Sill taken where none is given [m]. Common practice."""
EYE_ABOVE_MATTRESS_M = 0.3
"""Eye of somebody who lies propped up, above the mattress [m]. Common practice."""
EYE_SITTING_M = 1.2
"""Eye of somebody who sits, above the floor [m]. EN 17037. From memory."""
OUTER = 0.1
"""Least wall kept beside a frame when a room's length is proposed [m]. Ours."""


class NoPlan(InputError):
    """Rows that are too bare to draw a room from; `missing` names the cells."""

    def __init__(self, missing: tuple[str, ...]) -> None:
        super().__init__(f"no plan yet; still needs {', '.join(missing)}")
        self.missing = missing


@dataclass(frozen=True, kw_only=True)
class Placed:
    """One window or roof light where it stands.

    mark            its own: W1, and W1b, W1c for others of the same row
    row             mark of the schedule row it comes from; "" for one that a trial adds
    face            compass letters of its wall, or "up" for a roof light
    left_m          left end of the wall, seen from inside, to the glass; of a roof light, from
                    the plan's left [m]
    sill_m          floor to glass; of a roof light, from the plan's lower wall [m]
    width_m, height_m       of the glass [m]
    frame_m         how much wider and higher the frame is than the glass [m, m]
    shutter_m2k_w   resistance that its closed shutter adds; None where it has none [m²K/W]
    """

    mark: str
    row: str
    face: str
    left_m: float
    sill_m: float
    width_m: float
    height_m: float
    frame_m: tuple[float, float] | None = None
    u_w_m2k: float | None = None
    shutter_m2k_w: float | None = None
    transmittance: float = CLEAR_DOUBLE
    kept_share: float = KEPT
    solar_factor: float | None = None
    is_assumed: bool = False

    @property
    def is_rooflight(self) -> bool:
        """Whether it lies in the ceiling."""
        return self.face == "up"

    @property
    def glass_m2(self) -> float:
        """Clear glass [m²]."""
        return self.width_m * self.height_m

    @property
    def frame_m2(self) -> float | None:
        """Whole window, frame included [m²]; None where the frame is blank."""
        if self.frame_m is None:
            return None
        return (self.width_m + self.frame_m[0]) * (self.height_m + self.frame_m[1])


@dataclass(frozen=True, kw_only=True)
class RoomPlan:
    """A room as a rectangle with its openings placed; hashable, so that its light can be kept.

    shell       the room without openings
    turned_deg  bearing that the plan's upper wall faces: 0, or 45 for walls that face NE, SE …
    floor_m2    as the schedule gives it [m²]
    assumed     what was taken, a sentence each
    """

    mark: str
    name: str
    use: str
    floor_m2: float
    shell: LitRoom
    openings: tuple[Placed, ...]
    seats: tuple[Seat, ...] = ()
    assumed: tuple[str, ...] = ()

    @cached_property
    def room(self) -> LitRoom:
        """The room with its openings; raises ImpossibleInput where they can't stand so."""
        windows = tuple(self._window(each) for each in self.upright)
        lights = tuple(
            Rooflight(
                mark=each.mark, x_m=each.left_m, y_m=each.sill_m, size_x_m=each.width_m,
                size_y_m=each.height_m, transmittance=each.transmittance,
                maintenance=each.kept_share,
            )
            for each in self.openings
            if each.is_rooflight
        )  # fmt: skip
        return self.shell.with_openings(windows=windows, rooflights=lights)

    @property
    def upright(self) -> tuple[Placed, ...]:
        """The windows in walls: the order of `room.windows`."""
        return tuple(each for each in self.openings if not each.is_rooflight)

    @property
    def in_order(self) -> tuple[Placed, ...]:
        """The openings in the order of `room.openings`: windows first."""
        return (*self.upright, *(each for each in self.openings if each.is_rooflight))

    @property
    def faces(self) -> tuple[str, ...]:
        """The way that each wall faces, clockwise from the upper one."""
        return tuple(self.face_of(wall) for wall in (Wall.NORTH, Wall.EAST, Wall.SOUTH, Wall.WEST))

    def face_of(self, wall: Wall) -> str:
        """Compass letters of a wall."""
        return _letters(self.shell.facing_deg(wall))

    def wall_of(self, face: str) -> Wall:
        """The wall that faces a way."""
        return next(wall for wall in Wall if self.face_of(wall) == face)

    def with_openings(self, openings: Sequence[Placed]) -> "RoomPlan":
        """The same room with other openings: what a trial needs."""
        return replace(self, openings=tuple(openings))

    def offset_m(self, placed: Placed) -> float:
        """From the plan's own end of its wall to the glass [m]."""
        wall = self.wall_of(placed.face)
        if wall in (Wall.NORTH, Wall.WEST):
            return placed.left_m
        # seen from inside, the left of these walls is the far end of the plan's axis
        return self.shell.wall_length_m(wall) - placed.left_m - placed.width_m

    def _window(self, placed: Placed) -> Window:
        return Window(
            mark=placed.mark, wall=self.wall_of(placed.face), offset_m=self.offset_m(placed),
            sill_m=placed.sill_m, width_m=placed.width_m, height_m=placed.height_m,
            transmittance=placed.transmittance, maintenance=placed.kept_share,
        )  # fmt: skip


def room_plan(package: Package, mark: str) -> RoomPlan:
    """Draw a room of a package.

    Raises KeyError where no room has the mark, NoPlan where rows are too bare, and
    ImpossibleInput (from the plan's `room`) where what they say can't be built.
    """
    row = next((room for room in package.rooms if room.mark == mark), None)
    if row is None:
        raise KeyError(mark)
    windows = package.windows_of(row)
    missing = blank(RoomRow.schedule, row, "clear_height_m")
    if row.floor_m2 is None and (row.depth_m is None or row.width_m is None):
        missing += blank(RoomRow.schedule, row, "floor_m2")
    for window in windows:
        missing += blank(WindowRow.schedule, window, "n", "glass_w", "glass_h")
    if missing:
        raise NoPlan(tuple(missing))
    said: list[str] = []
    turned = _turned_deg(windows)
    walls = {window.mark: _wall_of(window, turned, said) for window in windows}
    length, width = _sides(row, windows, walls, said)
    thick = _thickness(package, "wall", row.wall_m, WALL_M, said)
    shell = LitRoom(
        length_m=length, width_m=width, height_m=row.clear_height_m or 0,
        wall_thickness_m=thick, roof_thickness_m=_thickness(package, "roof", None, ROOF_M, []),
        north_bearing_deg=turned, **_surfaces(row, said),
        obstructions=_outside(windows, walls, thick),
    )  # fmt: skip
    plan = RoomPlan(
        mark=row.mark, name=row.name, use=row.use or "", shell=shell, openings=(),
        floor_m2=row.floor_m2 if row.floor_m2 is not None else shell.floor_m2,
        seats=_seats(package, row),
    )  # fmt: skip
    placed = _place(plan, windows, walls, said)
    return replace(plan, openings=placed, assumed=tuple(said))


# Walls and sides


def _letters(bearing_deg: float) -> str:
    return next(f for f, b in BEARINGS_DEG.items() if math.isclose(b, bearing_deg % 360))


def is_rooflight(window: WindowRow) -> bool:
    """Whether a row is of roof lights."""
    return window.opens == "roof light" or window.faces == "up"


def _glass_m2(window: WindowRow) -> float:
    return (window.n or 0) * (window.glass_w_m or 0) * (window.glass_h_m or 0)


def _turned_deg(windows: Sequence[WindowRow]) -> float:
    """45 where more glass faces NE, SE, SW and NW than N, E, S and W."""
    straight, slanted = 0.0, 0.0
    for window in windows:
        if window.faces and not is_rooflight(window):
            if BEARINGS_DEG[window.faces] % 90:
                slanted += _glass_m2(window)
            else:
                straight += _glass_m2(window)
    return 45.0 if slanted > straight else 0.0


def _wall_of(window: WindowRow, turned_deg: float, said: list[str]) -> Wall | None:
    """The wall a row stands in; None for a roof light."""
    if is_rooflight(window):
        said.append(f"{window.mark} is taken as level, in the ceiling")
        return None
    clockwise = (Wall.NORTH, Wall.EAST, Wall.SOUTH, Wall.WEST)
    if window.faces is None:
        said.append(f"{window.mark} says no way it faces: taken in the lower wall")
        return Wall.SOUTH
    quarter = (BEARINGS_DEG[window.faces] - turned_deg) / 90
    wall = clockwise[math.floor(quarter) % 4]
    if quarter % 1:
        face = _letters(90 * math.floor(quarter) + turned_deg)
        said.append(
            f"{window.mark} faces {window.faces}, which no wall of a rectangle with the others "
            f"does: taken in the {face} wall"
        )
    return wall


def _needs_m(windows: Sequence[WindowRow]) -> float:
    """Length of wall that frames side by side take, with a little between [m]."""
    count = sum(window.n or 0 for window in windows)
    return sum((w.n or 0) * _frame_w(w) for w in windows) + OUTER * (count + 1) if count else 0.0


def _frame_w(window: WindowRow) -> float:
    return max(window.frame_w_m or 0, window.glass_w_m or 0)


def _sides(
    row: RoomRow, windows: Sequence[WindowRow], walls: dict[str, Wall | None], said: list[str]
) -> tuple[float, float]:
    """Length and width of the plan [m]."""
    by_wall = {wall: [w for w in windows if walls[w.mark] is wall] for wall in Wall}
    main = max(Wall, key=lambda wall: (sum(map(_glass_m2, by_wall[wall])), wall is Wall.SOUTH))
    along, deep = row.width_m, row.depth_m
    if along is None and deep is None:
        along = _proposed_m(row.floor_m2 or 0, main, by_wall)
        deep = (row.floor_m2 or 0) / along
        said.append(
            f"{row.mark} gives its floor alone: taken as a rectangle, {along:.2f} m along the "
            f"wall with most glass and {deep:.2f} m deep"
        )
    elif along is None or deep is None:
        given = along or deep or 1.0
        other = (row.floor_m2 or 0) / given
        along, deep = (along or other), (deep or other)
        said.append(f"{row.mark} gives one side: the other is floor ÷ side, {other:.2f} m")
    elif row.floor_m2 and not math.isclose(along * deep, row.floor_m2, rel_tol=0.01):
        said.append(
            f"width × depth of {row.mark} is {along * deep:.1f} m², its floor "
            f"{row.floor_m2:.1f} m²: the plan takes the sides, the ratio the floor"
        )
    return (along, deep) if main in (Wall.SOUTH, Wall.NORTH) else (deep, along)


def _proposed_m(floor_m2: float, main: Wall, by_wall: dict[Wall, list[WindowRow]]) -> float:
    """Length along the main wall: 4 to 3, or what windows on either pair of walls need [m]."""
    pair = {main, main.opposite}
    needs = max(_needs_m(by_wall[wall]) for wall in pair)
    beside = max(_needs_m(found) for wall, found in by_wall.items() if wall not in pair)
    most = floor_m2 / beside if beside else math.inf
    along = max(min(math.sqrt(floor_m2 * PROPORTION), most), needs)
    return max(round(along, 2), 0.01)


def _thickness(
    package: Package, part: str, given: float | None, taken: float, said: list[str]
) -> float:
    """Thickness of wall or roof [m]."""
    if given is not None:
        return given
    layers = [x.thickness_m for x in package.envelope if x.part == part and x.thickness_m]
    total = math.fsum(layers)
    if layers:
        said.append(f"{part}s are {1000 * total:.0f} mm thick, by the envelope's layers")
        return total
    said.append(f"{part}s are taken as {1000 * taken:.0f} mm thick")
    return taken


def _surfaces(row: RoomRow, said: list[str]) -> dict[str, float]:
    given = {
        "floor_reflectance": row.floor_light,
        "wall_reflectance": row.wall_light,
        "ceiling_reflectance": row.ceiling_light,
    }
    known = {name: value for name, value in given.items() if value is not None}
    if taken := [name for name in given if name not in known]:
        words = ", ".join(
            f"{name.removesuffix('_reflectance')} {getattr(LitRoom, name):g}" for name in taken
        )
        said.append(f"surfaces give back, as usual in a pale room: {words}")
    return known


def _outside(
    windows: Sequence[WindowRow], walls: dict[str, Wall | None], thick_m: float
) -> tuple[Obstruction, ...]:
    """What stands outside each wall, by the window that sees least sky."""
    found = []
    for wall in Wall:
        seen = [w for w in windows if walls[w.mark] is wall and (w.sky_deg or 90) < 90]
        if not seen:
            continue
        least = min(seen, key=lambda w: (w.sky_deg or 90, w.mark))
        angle = 90 - (least.sky_deg or 0)
        if least.outside_m is None:
            found.append(Obstruction(wall=wall, angle_deg=min(angle, 89.9)))
            continue
        middle = (least.sill_m or SILL_M) + (least.glass_h_m or 0) / 2
        rise = math.tan(math.radians(min(angle, 89.9))) * (least.outside_m + thick_m)
        found.append(Obstruction(wall=wall, top_m=middle + rise, distance_m=least.outside_m))
    return tuple(found)


def _seats(package: Package, row: RoomRow) -> tuple[Seat, ...]:
    return tuple(
        Seat(
            mark=item.mark, x_m=item.plan_x_m, y_m=item.plan_y_m,
            eye_height_m=(item.height_m or 0.45) + EYE_ABOVE_MATTRESS_M
            if item.kind == "bed" else EYE_SITTING_M,
        )
        for item in package.furniture
        if item.room == row.mark and item.kind in ("seat", "bed", "desk")
        and item.plan_x_m is not None and item.plan_y_m is not None
    )  # fmt: skip


# Openings


def twin_mark(mark: str, which: int) -> str:
    """Mark of one of several alike: the first keeps the row's.

    >>> twin_mark("W1", 0), twin_mark("W1", 1), twin_mark("W1", 27)
    ('W1', 'W1b', 'W1-28')
    """
    if which == 0:
        return mark
    return f"{mark}{chr(ord('a') + which)}" if which < 26 else f"{mark}-{which + 1}"


def _place(
    plan: RoomPlan, windows: Sequence[WindowRow], walls: dict[str, Wall | None], said: list[str]
) -> tuple[Placed, ...]:
    found: dict[str, list[Placed]] = {}
    for wall in Wall:
        own = [window for window in windows if walls[window.mark] is wall]
        for placed in _along(plan, wall, own):
            found.setdefault(placed.row, []).append(placed)
    for placed in _overhead(plan, [w for w in windows if walls[w.mark] is None]):
        found.setdefault(placed.row, []).append(placed)
    openings = tuple(each for window in windows for each in found.get(window.mark, ()))
    if spread := list(dict.fromkeys(each.row for each in openings if each.is_assumed)):
        said.insert(0, f"{', '.join(spread)}: no place given, evenly spread along the wall")
    if sills := [w.mark for w in windows if w.sill_m is None and walls[w.mark] is not None]:
        said.append(f"{', '.join(sills)}: no sill given, taken at 900 mm or as high as it fits")
    if kept := [w.mark for w in windows if w.transmittance is None]:
        said.append(f"{', '.join(kept)}: no transmittance given, {CLEAR_DOUBLE:g} taken")
    return openings


def _along(plan: RoomPlan, wall: Wall, windows: Sequence[WindowRow]) -> list[Placed]:
    """Stand the windows of one wall: those with a place at it, the others in what is left."""
    length = plan.shell.wall_length_m(wall)
    face = plan.face_of(wall)
    placed = [
        _stood(plan, window, face, which, left)
        for window in windows
        if window.left_m is not None
        for which, left in enumerate(_lefts(window, length))
    ]
    loose = [
        (window, which)
        for window in windows
        if window.left_m is None
        for which in range(window.n or 0)
    ]
    if not loose:
        return placed
    start, end = longest_gap_m(placed, length)
    free = end - start - sum(_frame_w(window) for window, _ in loose)
    gap, at = free / (len(loose) + 1), start
    for window, which in loose:
        at += gap
        side = (_frame_w(window) - (window.glass_w_m or 0)) / 2
        placed.append(
            replace(_stood(plan, window, face, which, round(at + side, 3)), is_assumed=True)
        )
        at += _frame_w(window)
    return placed


def _lefts(window: WindowRow, length_m: float) -> list[float]:
    """Where each of a placed row's windows begins [m]."""
    left, n, wide = window.left_m or 0, window.n or 0, window.glass_w_m or 0
    if n < 2:
        return [left] * n
    step = wide + window.gap_m if window.gap_m is not None else (
        (length_m - 2 * left - wide) / (n - 1)
    )  # fmt: skip
    return [round(left + which * step, 4) for which in range(n)]


def longest_gap_m(placed: Sequence[Placed], length_m: float) -> tuple[float, float]:
    """The longest stretch of a wall without a window, the leftmost of those as long [m, m]."""
    taken = sorted((each.left_m, each.left_m + each.width_m) for each in placed)
    edges = [(0.0, 0.0), *taken, (length_m, length_m)]
    gaps = [(end, start) for (_, end), (start, _) in pairwise(edges)]
    return max(gaps, key=lambda gap: round(gap[1] - gap[0], 6))


def _stood(plan: RoomPlan, window: WindowRow, face: str, which: int, left_m: float) -> Placed:
    high = window.glass_h_m or 0
    fitting = max(min(SILL_M, plan.shell.height_m - high), 0.0)
    return Placed(
        mark=twin_mark(window.mark, which), row=window.mark, face=face, left_m=left_m,
        sill_m=window.sill_m if window.sill_m is not None else fitting,
        **_pane(window),
    )  # fmt: skip


def _pane(window: WindowRow) -> dict[str, object]:
    wide, high = window.glass_w_m or 0, window.glass_h_m or 0
    frame = None
    if window.frame_w_m is not None and window.frame_h_m is not None:
        frame = (max(window.frame_w_m - wide, 0.0), max(window.frame_h_m - high, 0.0))
    given = {"transmittance": window.transmittance, "kept_share": window.kept_share}
    return {
        "width_m": wide,
        "height_m": high,
        "frame_m": frame,
        "u_w_m2k": window.u_w_m2k,
        "shutter_m2k_w": window.shutter_m2k_w,
        "solar_factor": window.solar_factor,
        **{name: value for name, value in given.items() if value is not None},
    }


def _overhead(plan: RoomPlan, windows: Sequence[WindowRow]) -> list[Placed]:
    """Lay the roof lights of a room into its ceiling."""
    each = [(window, which) for window in windows for which in range(window.n or 0)]
    room, found = plan.shell, []
    free = room.length_m - sum(window.glass_w_m or 0 for window, _ in each)
    gap, at = free / (len(each) + 1), 0.0
    for window, which in each:
        wide, high = window.glass_w_m or 0, window.glass_h_m or 0
        at += gap
        is_given = window.left_m is not None and window.from_wall_m is not None
        lefts = _lefts(window, room.length_m) if is_given else []
        found.append(
            Placed(
                mark=twin_mark(window.mark, which), row=window.mark, face="up",
                left_m=lefts[which] if is_given else round(at, 3),
                sill_m=(window.from_wall_m or 0) if is_given
                else round((room.width_m - high) / 2, 3),
                is_assumed=not is_given, **_pane(window),
            )
        )  # fmt: skip
        at += wide
    return found
