"""The storeys of a package in one state, made of its rooms, doors and furniture.

Rooms that say where they lie share one plan; each of the others is a plan of its own, walked from
its door. What has no place or size is left out and named; what can't be read stops the plan.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import cached_property

from criteria.checks.reading import gathered
from criteria.package import Package
from criteria.plans.of_package import Outline, outline
from criteria.schedules.access import Door
from criteria.schedules.by_state import FurnitureState
from criteria.schedules.furniture import Furniture
from criteria.schedules.openings import BEARINGS_DEG
from criteria.schedules.rooms import Room
from criteria.typed.cells import Cell, Lacking, is_supposed, require_some
from criteria.typed.rows import Row
from criteria.walking.bodies import Body, Point, disc, rectangle
from criteria.walking.storeys import SIDES, Gate, Place, Storey, WallOf, facing, one_of_alike

LOW_M, HIGH_M = 0.05, 2.03
"""What lies lower is stepped over, what hangs higher is walked under [m]. The higher is the 80 in
of 2010 ADA Standards, 307.4 (from memory), the lower common practice."""

SIZES = ("used_l_m", "used_w_m")
AT = ("at_x_m", "at_y_m")
PLACE = ("plan_x_m", "plan_y_m")
ROUNDING_M = 1e-6
"""By how much a door may end past its wall: sizes are typed in two units [m]."""
STANDS = ("room", "faces", "left_m")
"""What says where a door stands."""


def storeys_of(package: Package) -> Storeys:
    """Return the storeys of a package, which keeps them: every check walks the same."""
    if is_supposed():
        return Storeys(package)
    if "_storeys" not in package.__dict__:
        package.__dict__["_storeys"] = Storeys(package)
    made: Storeys = package.__dict__["_storeys"]
    return made


SWUNG = ("in", "out")
"""How a door opens whose leaf swings."""


class Storeys:
    """The storeys of a package in a state, each made once it is asked for."""

    def __init__(self, package: Package) -> None:
        self.package = package
        self.rooms: dict[str, Room] = {room.mark: room for room in package.rooms}
        self._made: dict[tuple[str, int], Storey] = {}
        self._of: dict[str, Storey] = {}

    def of(self, mark: str) -> Storey:
        """Return the storey that a room is on. Raises Lacking where it can't be made."""
        if mark in self._of and not is_supposed():
            return self._of[mark]
        room = self.rooms[self.whole(mark)]
        if any(leg.part_of == room.mark for leg in self.rooms.values()):
            _ask_all(room, AT)
        key = "" if _is_placed(room) else room.mark, room.level
        if is_supposed():
            return self._storey(*key)
        if key not in self._made:
            self._made[key] = one_of_alike(self._storey(*key))
        self._of[mark] = self._made[key]
        return self._of[mark]

    def whole(self, mark: str) -> str:
        """Return the room that a rectangle is a leg of, or itself."""
        room = self.rooms[mark]
        return room.part_of if room.part_of in self.rooms else mark

    def at(self, mark: str, point: Point) -> tuple[Storey, Point]:
        """Return the storey of a room, and a point of that room's plan on it. Raises Lacking."""
        x, y = self._own(mark).low
        return self.of(mark), (x + point[0], y + point[1])

    def of_piece(self, piece: Furniture) -> tuple[Storey, Body]:
        """Return the storey and the body of a piece of furniture. Raises Lacking."""
        _ask_all(piece, ("room", *needs(piece), *PLACE))
        storey = self.of(piece.room)
        body = next((body for body in storey.things if body.mark == piece.mark), None)
        if body is None:
            body = _body(piece, self._own(piece.room))
        return storey, body

    @cached_property
    def beds(self) -> tuple[Furniture, ...]:
        """What lies there as a bed. Raises Lacking."""
        return tuple(piece for piece in self.package.furniture if is_bed(self.package, piece))

    def _own(self, mark: str) -> Place:
        """Return a room's own rectangle on its storey."""
        return next(place for place in self.of(mark).places if place.row == mark)

    def of_rooms(self, rooms: Sequence[Room]) -> list[tuple[Room, Storey]]:
        """Return rooms each with its storey. Raises Lacking with what all of them lack."""
        return gathered(rooms, lambda room: (room, self.of(room.mark)))

    def _storey(self, own: str, level: int) -> Storey:
        rooms = [self.rooms[own]] if own else self._placed(level)
        gathered(rooms, lambda room: outline(self.package, room))
        outlines = [outline(self.package, room, *rooms) for room in rooms]
        pairs = list(zip(rooms, outlines, strict=True))
        said = [(room.mark, words) for room, each in pairs for words in each.said]
        places = tuple(_place(room, each, bool(own)) for room, each in pairs)
        storey = Storey(own, level, places, (), (), turned_deg=outlines[0].turned_deg)
        gates, lost = self._gates(storey)
        things, left_out = self._things(storey)
        return replace(
            storey,
            gates=gates,
            things=things,
            left_out=(*said, *left_out, *lost),
            unplaced=tuple(left_out),
            lost_doors=tuple(mark for mark, _ in lost),
        )

    def _placed(self, level: int) -> list[Room]:
        """Return the rooms on the plan of a level. Raises Lacking where one has half a place."""

        def is_on(room: Room) -> bool:
            whole = self.rooms[self.whole(room.mark)]
            if whole is not room:
                _ask_all(whole, AT)
            return _is_placed(room) and whole.level == level

        placed = gathered(self.rooms.values(), is_on)
        return [room for room, here in zip(self.rooms.values(), placed, strict=True) if here]

    def _gates(self, storey: Storey) -> tuple[tuple[Gate, ...], list[tuple[str, str]]]:
        """Stand the doors in their walls; those that have no place are named, and why."""
        gates: list[Gate] = []
        lost: list[tuple[str, str]] = []
        cells: list[Cell] = []
        for door in self.package.rows_of(Door):
            try:
                where = [door.unless_blank(name) for name in STANDS]
                if where[0] is not None and _frame(storey, where[0]) is None:
                    continue
                if None in where:
                    lost += [] if storey.of else [(door.mark, "it has no place")]
                    continue
                gate = _gate(storey, door)
            except Lacking as lacks:
                cells += lacks.cells
                continue
            if isinstance(gate, str):
                lost.append((door.mark, gate))
            else:
                gates.append(gate)
        if cells:
            raise Lacking(*cells)
        return tuple(gates), lost

    def _things(self, storey: Storey) -> tuple[tuple[Body, ...], list[tuple[str, str]]]:
        """Stand what stops a walker; what has no place or size is named, and why."""
        bodies: list[Body] = []
        left_out: list[tuple[str, str]] = []
        cells: list[Cell] = []
        for piece in self.package.rows_of(Furniture):
            try:
                if stops(piece):
                    _stand(storey, piece, bodies, left_out)
            except Lacking as lacks:
                cells += lacks.cells
        if cells:
            raise Lacking(*cells)
        return tuple(bodies), left_out


def is_bed(package: Package, piece: Furniture) -> bool:
    """Tell whether a piece lies there as a bed. Raises Lacking where that can't be read."""
    state = package.state.state if package.state else ""
    rows = package.rows_of(FurnitureState)
    over = next((row for row in rows if (row.mark, row.state) == (piece.mark, state)), None)
    if over is not None and over.is_made is not None:
        return bool(over.is_made)
    sleeps = piece.unless_blank("night")
    return bool(sleeps) if sleeps is not None else piece.kind == "bed"


def stops(piece: Furniture) -> bool:
    """Tell whether a piece stands in the way of whoever walks. Raises Lacking."""
    height = piece.unless_blank("height_m")
    is_flat = height is not None and height <= LOW_M
    return piece.unless_blank("kind") != "hook" and not is_flat and piece.under_m < HIGH_M


def needs(piece: Furniture) -> tuple[str, ...]:
    """Return which sizes a piece is drawn by: a round one by its length alone."""
    return SIZES[:1] if piece.is_round else SIZES


def lost_door_cells(storey: Storey, package: Package) -> tuple[Cell, ...]:
    """Return the cells that keep doors off a plan, so that what isn't reached may yet be."""
    doors = [door for door in package.rows_of(Door) if door.mark in storey.lost_doors]
    return tuple(
        door.cell(name) for door in doors for name in STANDS if door.unless_blank(name) is None
    )


def _is_placed(room: Room) -> bool:
    """Whether a room has a place on the building's plan; half a place is a gap, and a leg's."""
    given = [room.unless_blank(name) is not None for name in AT]
    if room.part_of or any(given):
        _ask_all(room, AT)
    return all(given)


def _ask_all(row: Row, attributes: Sequence[str]) -> None:
    gathered(attributes, lambda name: getattr(row, name))


def _place(room: Room, outline: Outline, is_own: bool) -> Place:
    x, y = (0.0, 0.0) if is_own else (room.at_x_m, room.at_y_m)
    return Place(
        room.part_of or room.mark, room.mark, (x, y), (x + outline.across_m, y + outline.up_m)
    )


def _frame(storey: Storey, room: str) -> Place | None:
    """Return the rectangle that a room's things are measured in, None where it is elsewhere."""
    return next((place for place in storey.places if place.row == room), None)


def _stand(
    storey: Storey, piece: Furniture, bodies: list[Body], left_out: list[tuple[str, str]]
) -> None:
    room = piece.unless_blank("room")
    if room is None:
        left_out.append((piece.mark, "it is in no room"))
        return
    place = _frame(storey, room)
    if place is None:
        return
    for lack, names in (("size", needs(piece)), ("place", PLACE)):
        if None in [piece.unless_blank(name) for name in names]:
            left_out.append((piece.mark, f"it has no {lack}"))
            return
    if (alike := piece.unless_blank("n") or 1) > 1:
        left_out.append((piece.mark, f"{alike - 1} of {alike} have no place"))
    bodies.append(_body(piece, place))


def _body(piece: Furniture, place: Place) -> Body:
    x, y = place.low[0] + piece.plan_x_m, place.low[1] + piece.plan_y_m
    half = piece.used_l_m / 2
    if piece.is_round:
        return disc(x, y, half, piece.mark)
    deep = piece.used_w_m / 2
    return rectangle((x - half, x + half), (y - deep, y + deep), piece.turn_deg, piece.mark)


def _gate(storey: Storey, door: Door) -> Gate | str:
    """Stand a door in its wall, or say why it can't be."""
    clear, leaf = door.clear_w_m, door.unless_blank("leaf_w_m")
    leaf = clear if leaf is None else max(leaf, clear)
    wall = wall_of(storey, door.room or "", door.faces)
    if wall is None:
        return f"no wall of its plan looks {door.faces}"
    if door.left_m + leaf > wall.length_m + ROUNDING_M:
        return "it ends past its wall"
    swing = door.unless_blank("swing")
    hinge = door.unless_blank("hinge") or "" if swing in (None, *SWUNG) else ""
    spare = {"left": leaf - clear, "right": 0.0}.get(hinge, (leaf - clear) / 2)
    gap_left = door.left_m + spare
    gap = (wall.at(gap_left), wall.at(gap_left + clear))
    into = facing(storey.places, wall, wall.at(gap_left + clear / 2))
    is_main = door.role == "main exit"
    is_outside = is_main or door.role in ("second exit", "other exit")
    if into is None and not is_outside:
        is_outside = door.is_outside
        if not is_outside and not storey.of:
            return "what it opens to has no place on the plan"
    ends = wall.at(door.left_m), wall.at(door.left_m + leaf)
    swung = swing if swing in SWUNG else ""
    return Gate(
        door.mark, wall.place, wall.out, *ends, gap, into, is_outside, is_main, swung, hinge
    )


def wall_of(storey: Storey, room: str, faces: str) -> WallOf | None:
    """Return the wall of a room that looks some way, None where none of its plan does."""
    quarter = (BEARINGS_DEG[faces] - storey.turned_deg) / 90
    place = _frame(storey, room)
    return None if quarter % 1 or place is None else WallOf(place, SIDES[int(quarter) % 4])


def gates_out(storey: Storey) -> Iterator[Gate]:
    """Give the doors that lead out of doors."""
    return (gate for gate in storey.gates if gate.is_outside and gate.into is None)


def start_of(storey: Storey, package: Package) -> tuple[Gate, frozenset[str]]:
    """Return the door that ways begin before, and which doors are open to them.

    The main exit; where none is said, the widest door out; in a room's own plan else its door.
    Raises Lacking where there is none, or where the main exit has no place.
    """
    mains = [gate for gate in storey.gates if gate.is_main]
    if not mains and not storey.of:
        for door in package.rows_of(Door):
            if door.role == "main exit":
                _ask_all(door, STANDS)
        mains = sorted(gates_out(storey), key=lambda gate: -gate.width_m)[:1]
    begins = mains or [gate for gate in storey.gates if gate.mark in storey.inner]
    begins = begins or sorted(storey.gates, key=lambda gate: -gate.width_m)[:1]
    where = f"of {storey.of}" if storey.of else "out of doors"
    require_some(begins, f"a door {where} with its wall, its left end and its room (door schedule)")
    return begins[0], storey.inner | {gate.mark for gate in mains or begins}
