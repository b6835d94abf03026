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
from typing import Any

from criteria.checks.reading import gathered
from criteria.daylight import Obstruction, Seat, Wall
from criteria.daylight import Room as LitRoom
from criteria.daylight.view import SEATED_EYE_M
from criteria.package import Package
from criteria.plans.openings import SILL_M, frame_width_m, place_openings
from criteria.plans.plan import DoorPlace, NoPlan, RoomPlan, face_letters
from criteria.schedules.envelope import Layer
from criteria.schedules.openings import BEARINGS_DEG
from criteria.schedules.openings import Window as WindowRow
from criteria.schedules.rooms import Room as RoomRow
from criteria.typed.cells import Cell, Lacking
from criteria.typed.rows import Row

PROPORTION = 4 / 3
"""Length along the window wall over depth, where a room gives its floor alone [1]. Ours."""
WALL_M, ROOF_M = 0.25, 0.30
"""Thickness of wall and roof where neither room nor envelope gives one [m]. Ours."""
EYE_ABOVE_MATTRESS_M = 0.3
"""Eye of somebody who lies propped up, above the mattress [m]. Common practice."""
OUTER = 0.1
"""Least wall kept beside a frame when a room's length is proposed [m]. Ours."""


def room_plan(package: Package, mark: str) -> RoomPlan:
    """Draw a room of a package.

    Raises KeyError where no room has the mark, NoPlan where rows are too bare, and
    ImpossibleInput (from the plan's `room`) where what they say can't be built.
    """
    known = package.leniently
    if not any(room.mark == mark for room in known.rooms):
        raise KeyError(mark)
    try:
        plan = drawn(package, next(room for room in package.rooms if room.mark == mark))
    except Lacking as bare:
        raise NoPlan(tuple(map(str, bare.cells))) from None
    said = list(plan.assumed)
    doors, seats = _doors(known, plan, said), _seats(known, mark)
    return replace(plan, seats=seats, doors=doors, assumed=tuple(said))


def drawn(package: Package, row: RoomRow) -> RoomPlan:
    """Draw a room and its windows. Raises Lacking where rows are too bare or a cell was refused."""
    windows = [window for window in package.rows_of(WindowRow) if window.room == row.mark]
    sides = (row.unless_blank("depth_m"), row.unless_blank("width_m"))
    own = ("clear_height_m", "floor_m2") if None in sides else ("clear_height_m",)
    _ask((row, own), *((window, ("n", "glass_w_m", "glass_h_m")) for window in windows))
    said: list[str] = []
    turned = turned_deg(windows)
    walls = {window.mark: _wall_of(window, turned, said) for window in windows}
    length, width = _sides(row, windows, walls, said)
    given = wall_thickness_m(package, row)
    shell = LitRoom(
        length_m=length,
        width_m=width,
        height_m=row.clear_height_m,
        wall_thickness_m=_said_thickness(row, given, said),
        roof_thickness_m=_layers_m(package, "roof") or ROOF_M,
        north_bearing_deg=turned,
        **_surfaces(row, said),
        obstructions=_outside(windows, walls, WALL_M if given is None else given),
    )
    floor = row.unless_blank("floor_m2")
    plan = RoomPlan(
        mark=row.mark,
        name=row.if_given("name") or row.mark,
        use=row.if_given("use") or "",
        shell=shell,
        openings=(),
        floor_m2=shell.floor_m2 if floor is None else floor,
        proposed=_proposed(row, windows, given),
    )
    placed = place_openings(plan, windows, walls, said)
    return replace(plan, openings=placed, assumed=tuple(said))


@dataclass(frozen=True)
class Outline:
    """A room's rectangle on its plan, as rows give it and never as it is proposed.

    turned_deg      bearing that the plan's upper wall faces
    across_m, up_m  its sides on the plan [m]
    said            what was taken, a sentence each
    """

    turned_deg: float
    across_m: float
    up_m: float
    said: tuple[str, ...]


def outline(package: Package, row: RoomRow, *beside: RoomRow) -> Outline:
    """Return a room's rectangle. Raises Lacking where depth, width or windows are too bare.

    beside   rooms that lie on one plan with it, which lies as the windows of all do
    The plan lies as its windows do when the building is built: none is covered by then.
    """
    built = package.as_built or package
    marks = {row.mark, *(each.mark for each in beside)}
    among = [window for window in built.rows_of(WindowRow) if window.room in marks]
    windows = [window for window in among if window.room == row.mark]
    glass = ((window, ("n", "glass_w_m", "glass_h_m")) for window in windows)
    _ask((row, ("depth_m", "width_m")), *glass)
    said: list[str] = []
    turned = turned_deg(among)
    walls = {window.mark: _wall_of(window, turned, said) for window in windows}
    across, up = _sides(row, windows, walls, [])
    return Outline(turned, across, up, tuple(said))


def _ask(*wanted: tuple[Row, tuple[str, ...]]) -> None:
    """Ask rows for what no plan can do without. Raises Lacking with every cell."""
    pairs = ((row, attribute) for row, attributes in wanted for attribute in attributes)
    gathered(pairs, lambda pair: getattr(*pair))


def _proposed(row: RoomRow, windows: Sequence[WindowRow], wall_m: float | None) -> tuple[Cell, ...]:
    """The blank cells in whose stead the plan proposes something."""
    found = [row.cell(side) for side in ("depth_m", "width_m") if row.unless_blank(side) is None]
    found += [row.cell("wall_m")] if wall_m is None else []
    upright = [window for window in windows if not window.is_rooflight]
    return (
        *found,
        *(w.cell(x) for w in upright for x in ("faces", "sill_m") if w.unless_blank(x) is None),
    )


# Walls and sides


def _glass_m2(window: WindowRow) -> float:
    return window.n * window.glass_w_m * window.glass_h_m


def turned_deg(windows: Sequence[WindowRow]) -> float:
    """45 where more glass faces NE, SE, SW and NW than N, E, S and W."""
    straight, slanted = 0.0, 0.0
    for window in windows:
        if not window.is_rooflight and window.unless_blank("faces"):
            if BEARINGS_DEG[window.faces] % 90:
                slanted += _glass_m2(window)
            else:
                straight += _glass_m2(window)
    return 45.0 if slanted > straight else 0.0


def _wall_of(window: WindowRow, turned_deg: float, said: list[str]) -> Wall | None:
    """The wall a row stands in; None for a roof light."""
    if window.is_rooflight:
        said.append(f"{window.mark} is taken as level, in the ceiling")
        return None
    clockwise = (Wall.NORTH, Wall.EAST, Wall.SOUTH, Wall.WEST)
    if window.unless_blank("faces") is None:
        said.append(f"{window.mark} says no way it faces: taken in the lower wall")
        return Wall.SOUTH
    quarter = (BEARINGS_DEG[window.faces] - turned_deg) / 90
    wall = clockwise[math.floor(quarter) % 4]
    if quarter % 1:
        face = face_letters(90 * math.floor(quarter) + turned_deg)
        said.append(
            f"{window.mark} faces {window.faces}, which no wall of a rectangle with the others "
            f"does: taken in the {face} wall"
        )
    return wall


def _needs_m(windows: Sequence[WindowRow]) -> float:
    """Length of wall that frames side by side take, with a little between [m]."""
    count = sum(window.n for window in windows)
    return sum(w.n * frame_width_m(w) for w in windows) + OUTER * (count + 1) if count else 0.0


def _sides(
    row: RoomRow, windows: Sequence[WindowRow], walls: dict[str, Wall | None], said: list[str]
) -> tuple[float, float]:
    """Length and width of the plan [m]."""
    by_wall = {wall: [w for w in windows if walls[w.mark] is wall] for wall in Wall}
    main = max(Wall, key=lambda wall: (sum(map(_glass_m2, by_wall[wall])), wall is Wall.SOUTH))
    along, deep = row.unless_blank("width_m"), row.unless_blank("depth_m")
    if along is None and deep is None:
        along = _proposed_m(row.floor_m2, main, by_wall)
        deep = row.floor_m2 / along
        said.append(
            f"{row.mark} gives its floor alone: taken as a rectangle, {along:.2f} m along the "
            f"wall with most glass and {deep:.2f} m deep"
        )
    elif along is None or deep is None:
        other = row.floor_m2 / (along or deep)
        along, deep = (along or other), (deep or other)
        said.append(f"{row.mark} gives one side: the other is floor ÷ side, {other:.2f} m")
    elif (floor := row.unless_blank("floor_m2")) and not math.isclose(
        along * deep, floor, rel_tol=0.01
    ):
        said.append(
            f"width × depth of {row.mark} is {along * deep:.1f} m², its floor "
            f"{floor:.1f} m²: the plan takes the sides, the ratio the floor"
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


def _layers_m(package: Package, part: str) -> float:
    """Thickness of the envelope's layers of a part; 0 where it has none [m]."""
    return math.fsum(x.thickness_m for x in package.rows_of(Layer) if x.part == part)


def wall_thickness_m(package: Package, row: RoomRow) -> float | None:
    """Thickness of a room's outside walls: its own, or the envelope's; None without either [m]."""
    given: float | None = row.unless_blank("wall_m")
    return given if given is not None else _layers_m(package, "wall") or None


def _said_thickness(row: RoomRow, given: float | None, said: list[str]) -> float:
    """Thickness of the walls, and where it comes from [m]."""
    if given is None:
        said.append(f"walls are taken as {1000 * WALL_M:.0f} mm thick")
    elif row.unless_blank("wall_m") is None:
        said.append(f"walls are {1000 * given:.0f} mm thick, by the envelope's layers")
    return WALL_M if given is None else given


def _surfaces(row: RoomRow, said: list[str]) -> dict[str, Any]:
    given = {
        f"{surface}_reflectance": row.unless_blank(f"{surface}_light")
        for surface in ("floor", "wall", "ceiling")
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
        seen = [w for w in windows if walls[w.mark] is wall and w.sky_deg < 90]
        if not seen:
            continue
        least = min(seen, key=lambda w: (w.sky_deg, w.mark))
        angle = 90 - least.sky_deg
        if least.outside_m is None:
            found.append(Obstruction(wall=wall, angle_deg=min(angle, 89.9)))
            continue
        sill = least.unless_blank("sill_m")
        middle = (SILL_M if sill is None else sill) + least.glass_h_m / 2
        rise = math.tan(math.radians(min(angle, 89.9))) * (least.outside_m + thick_m)
        found.append(Obstruction(wall=wall, top_m=middle + rise, distance_m=least.outside_m))
    return tuple(found)


def _seats(package: Package, room: str) -> tuple[Seat, ...]:
    seats = []
    for item in package.furniture:
        x_m, y_m = item.plan_x_m, item.plan_y_m
        if item.room != room or item.kind not in ("seat", "bed", "desk") or None in (x_m, y_m):
            continue
        lying_m = (item.height_m or 0.45) + EYE_ABOVE_MATTRESS_M
        eye_m = lying_m if item.kind == "bed" else SEATED_EYE_M
        seats.append(Seat(mark=item.mark, x_m=x_m, y_m=y_m, eye_height_m=eye_m))
    return tuple(seats)


def _doors(package: Package, plan: RoomPlan, said: list[str]) -> tuple[DoorPlace, ...]:
    """The doors that say where they stand; one past its wall's end is left out and named."""
    found = []
    for door in package.doors:
        if door.room != plan.mark or None in (door.faces, door.left_m, door.leaf_w_m):
            continue
        if door.faces not in plan.faces:
            said.append(f"{door.mark} looks {door.faces}, as no wall of the plan does: not drawn")
            continue
        place = DoorPlace(
            mark=door.mark,
            face=door.faces,
            left_m=door.left_m or 0,
            width_m=door.leaf_w_m or 0,
            swing=door.swing or "in",
            hinge=door.hinge or "",
        )
        if place.left_m + place.width_m > plan.shell.wall_length_m(plan.wall_of(place.face)):
            said.append(f"{door.mark} ends past its wall: not drawn")
            continue
        found.append(place)
    return tuple(found)
