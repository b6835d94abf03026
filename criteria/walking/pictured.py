"""What stands on a storey, as a drawing of it shows: rooms, doors, windows, furniture, and gaps.

It is for drawings, so what can't be read is left out and named. Places are the walker's own; a
window that says no place along its wall is set in the middle of it, and says that it isn't given.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from criteria.package import Package
from criteria.plans.of_package import wall_thickness_m
from criteria.schedules.access import Door
from criteria.schedules.climbs import Climb
from criteria.schedules.furniture import Furniture
from criteria.schedules.openings import Window
from criteria.schedules.rooms import Room
from criteria.typed.cells import Lacking
from criteria.typed.rows import Row
from criteria.walking.bodies import Body, Point
from criteria.walking.of_package import is_bed, storeys_of, wall_of
from criteria.walking.storeys import Gate, Storey


@dataclass(frozen=True)
class Missing:
    """A cell that a drawing would need, and what it says in its stead."""

    schedule: str
    mark: str
    column: str
    says: str


@dataclass(frozen=True)
class Standing:
    """A piece of furniture where it stands, by the name it has, and whether it is a made bed."""

    body: Body
    name: str
    kind: str
    is_made: bool


@dataclass(frozen=True)
class Hung:
    """A door where it stands: which way it swings, and at which end of it the leaf hangs.

    swing, hinge   words of the door schedule, "" where they aren't given
    """

    gate: Gate
    swing: str
    hinge: str


@dataclass(frozen=True)
class Glazed:
    """A window in its wall: both ends, left one first seen from inside, and the way out of it.

    missing   why its place is assumed
    """

    mark: str
    ends: tuple[Point, Point]
    out: Point
    missing: Missing | None


@dataclass(frozen=True)
class Climbing:
    """A stair or ladder on the plan of its foot, or of its head.

    foot, head   where somebody stands before its first step, and once up
    is_up        whether it leads up from this storey
    """

    mark: str
    foot: Point
    head: Point
    width_m: float
    risers: int
    is_up: bool


@dataclass(frozen=True)
class Pictured:
    """A storey with what stands on it.

    names    of its rooms, by mark
    wall_m   thickness of its outside walls; None where it isn't given
    turns    whether it is known which way it lies
    """

    storey: Storey
    names: tuple[tuple[str, str], ...]
    wall_m: float | None
    pieces: tuple[Standing, ...]
    doors: tuple[Hung, ...]
    windows: tuple[Glazed, ...]
    missing: tuple[Missing, ...]
    turns: bool
    climbs: tuple[Climbing, ...] = ()


def pictured(package: Package, storey: Storey) -> Pictured:
    """Return what a drawing of a storey shows."""
    here = {place.room for place in storey.places}
    rooms = [room for room in package.rows_of(Room) if room.mark in here]
    names = tuple((room.mark, _word(room, "name")) for room in rooms)
    missing: list[Missing] = []
    doors = tuple(_hung(package, storey, missing))
    windows = tuple(_glazed(package, storey, missing))
    wall_m = _wall_m(package, rooms, missing)
    missing += _left_out(package, storey)
    pieces = tuple(_standing(package, storey))
    turns = bool(storey.gates or windows)
    climbs = tuple(_climbing(package, storey))
    return Pictured(storey, names, wall_m, pieces, doors, windows, tuple(missing), turns, climbs)


def _word(row: Row, attribute: str) -> str:
    return str(row.if_given(attribute) or "")


def _missing(row: Row, attribute: str, says: str) -> Missing:
    cell = row.cell(attribute)
    return Missing(cell.schedule, cell.mark, cell.head, says)


def _hung(package: Package, storey: Storey, missing: list[Missing]) -> Iterator[Hung]:
    rows = {door.mark: door for door in package.rows_of(Door)}
    for gate in storey.gates:
        door = rows[gate.mark]
        swing, hinge = _word(door, "swing"), _word(door, "hinge")
        if not swing:
            missing.append(_missing(door, "swing", f"{gate.mark}: swing not given"))
        elif swing in ("in", "out") and not hinge:
            missing.append(_missing(door, "hinge", f"{gate.mark}: hinge not given"))
        yield Hung(gate, swing, hinge)


def _glazed(package: Package, storey: Storey, missing: list[Missing]) -> Iterator[Glazed]:
    here = {place.room for place in storey.places}
    for window in package.rows_of(Window):
        room, faces = _word(window, "room"), _word(window, "faces")
        if room not in here or faces == "up" or _word(window, "opens") == "roof light":
            continue
        wall = wall_of(storey, room, faces) if faces else None
        if wall is None:
            missing.append(
                _missing(window, "faces", f"{window.mark}: no wall of its room looks so")
            )
            continue
        width: float = window.glass_w_m
        count, left, gap = (window.if_given(name) for name in ("n", "left_m", "gap_m"))
        alike = count or 1
        unsaid = "left_m" if left is None else "gap_m" if gap is None and alike > 1 else ""
        says = _missing(window, unsaid, f"{window.mark}: place not given") if unsaid else None
        free = max(0.0, wall.length_m - alike * width)
        first = free / (alike + 1) if left is None else left
        between = (free - 2 * first) / max(1, alike - 1) if gap is None else gap
        for n in range(alike):
            at = min(first + n * (width + max(0.0, between)), wall.length_m - width)
            yield Glazed(window.mark, (wall.at(at), wall.at(at + width)), wall.out, says)


def _wall_m(package: Package, rooms: list[Room], missing: list[Missing]) -> float | None:
    for room in rooms:
        try:
            thick = wall_thickness_m(package, room)
        except Lacking:
            continue
        if thick:
            return thick
    missing.append(_missing(rooms[0], "wall_m", "walls: thickness not given, drawn as lines"))
    return None


def _left_out(package: Package, storey: Storey) -> Iterator[Missing]:
    furniture = {piece.mark for piece in package.rows_of(Furniture)}
    doors = {door.mark for door in package.rows_of(Door)}
    for mark, why in storey.left_out:
        schedule = "furniture" if mark in furniture else "doors" if mark in doors else "rooms"
        yield Missing(schedule, mark, "", f"{mark}: {why}" if schedule != "rooms" else why)


def _climbing(package: Package, storey: Storey) -> Iterator[Climbing]:
    """Stairs and ladders of which foot and head lie on the building's plan."""
    here, storeys = {place.room for place in storey.places}, storeys_of(package)
    for climb in package.rows_of(Climb):
        try:
            ends = climb.from_room, climb.room or ""
            rooms = [storeys.rooms[mark] for mark in ends if mark in storeys.rooms]
            if not here.intersection(ends) or len(rooms) < 2:
                continue
            foot, head = (
                (room.at_x_m + x, room.at_y_m + y)
                for room, (x, y) in zip(
                    rooms,
                    ((climb.foot_x_m, climb.foot_y_m), (climb.head_x_m, climb.head_y_m)),
                    strict=True,
                )
            )
            is_up = climb.from_room in here
            yield Climbing(climb.mark, foot, head, climb.width_m, climb.risers, is_up)
        except Lacking:
            continue


def _standing(package: Package, storey: Storey) -> Iterator[Standing]:
    rows = {piece.mark: piece for piece in package.rows_of(Furniture)}
    for body in storey.things:
        piece = rows[body.mark]
        try:
            is_made = is_bed(package, piece)
        except Lacking:
            is_made = False
        yield Standing(body, _word(piece, "item"), _word(piece, "kind"), is_made)
