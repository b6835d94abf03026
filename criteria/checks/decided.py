"""Where on its plan the figure of a walked check lies: what its drawing picks out.

The figure is the check's own. Here only its place is found again, among the same ways, kept, that
the check went; where none of them comes to that figure, nothing is picked out.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from criteria.checks.before import STANDS_BEFORE
from criteria.checks.walked import CHAIR_M, KEEPS_M
from criteria.checks.ways import fronts_on, is_bed
from criteria.findings import SAME, Amount, Measured
from criteria.package import Package
from criteria.schedules.furniture import Furniture
from criteria.schedules.rooms import Room
from criteria.typed.cells import Lacking
from criteria.walking.beside import places_of, room_before, sides
from criteria.walking.bodies import Point
from criteria.walking.circles import Circle
from criteria.walking.fronts import Front
from criteria.walking.of_package import Storeys, gates_out, start_of
from criteria.walking.ribbon import ribbon
from criteria.walking.storeys import Storey, circle_in, circle_reached, plan, travels, ways


@dataclass(frozen=True)
class Strip:
    """Floor that is kept free before a side, how deep it is and how deep it is wanted [m]."""

    mark: str
    front: Front
    depth_m: float
    wanted_m: float


@dataclass(frozen=True)
class Leaf:
    """A door's leaf that meets something: how far it opens."""

    mark: str
    opens: Amount


@dataclass(frozen=True)
class Decided:
    """What decided a figure, on a storey.

    way, way_m   the line of a way, and how wide it is drawn [m]
    across       both ends of its narrowest place
    circle       the room to stand, or to turn
    leaves       doors that don't open fully
    strips       floor before what is used
    met          marks of what stands in the way
    """

    storey: Storey
    way: tuple[Point, ...] = ()
    way_m: float = 0.0
    across: tuple[Point, Point] | None = None
    circle: Circle | None = None
    leaves: tuple[Leaf, ...] = ()
    strips: tuple[Strip, ...] = ()
    met: tuple[str, ...] = ()


DRAWN = (
    "way_to_bed",
    "way_to_toilet",
    "second_way_out",
    "way_step_free",
    "walked_out",
    "circle_reached",
    "doors_open_fully",
    "room_before",
    "escape_at_night",
)
"""Checks whose figures are shown on a plan."""


def decided(package: Package, check: str, measured: Measured) -> Decided | None:
    """Return where the figure of a check lies, in the package of its state.

    None where no plan can be made of the rows.
    """
    storeys = Storeys(package)
    try:
        storey = _storey(package, storeys, measured)
    except Lacking:
        return None
    if storey is None:
        return None
    bare = Decided(storey)
    try:
        return _found(package, check, measured, storey) or bare
    except Lacking:
        return bare


def _storey(package: Package, storeys: Storeys, measured: Measured) -> Storey | None:
    """The storey of the row that was measured; of all rows, the first that there is."""
    room = next((room for room in package.rooms if room.mark == measured.subject), None)
    piece = _piece(package, measured.subject)
    if piece is not None and piece.unless_blank("room"):
        return storeys.of(piece.room)
    if room is not None:
        return storeys.of(room.mark)
    for each in package.rooms:
        try:
            return storeys.of(each.mark)
        except Lacking:
            continue
    return None


def _piece(package: Package, mark: str) -> Furniture | None:
    rows = package.rows_of(Furniture)
    return next((piece for piece in rows if mark and piece.mark == mark), None)


def _found(package: Package, check: str, measured: Measured, storey: Storey) -> Decided | None:
    if check == "doors_open_fully":
        return _doors(storey, measured)
    if check == "room_before":
        return _before(package, storey, measured)
    if check == "escape_at_night":
        return _escape(storey, measured)
    if not measured.values:
        return None
    value, piece = measured.values[0], _piece(package, measured.subject)
    if check == "circle_reached":
        return _circle(package, storey, measured.subject, value)
    if check == "walked_out":
        return _travel(package, storey, measured.subject, value)
    if piece is None:
        return _to_room(package, storey, measured.subject, value)
    for opened, start in _starts(package, check, storey):
        if found := _to_piece(package, storey, piece, opened, start, value):
            return found
    return None


Start = tuple[frozenset[str], Point]


def _starts(package: Package, check: str, storey: Storey) -> Iterator[Start]:
    """Where ways of a check begin, and which doors are open to them."""
    if check == "second_way_out":
        others = [gate for gate in gates_out(storey) if not gate.is_main]
        if not any(gate.is_main for gate in storey.gates):
            _, begins = start_of(storey, package)
            others = [gate for gate in others if gate.mark not in begins]
        inner = {gate.mark for gate in storey.gates if gate.into and not gate.is_main}
        opened = frozenset(inner | {gate.mark for gate in others})
        yield from ((opened, gate.before) for gate in others)
        return
    gate, opened = start_of(storey, package)
    if check != "way_to_toilet":
        yield opened, gate.before
        return
    toilets = {room.mark for room in package.rows_of(Room) if room.unless_blank("use") == "wc"}
    for place in storey.places:
        circle = circle_in(storey, place) if place.room in toilets else None
        if circle:
            yield opened, circle.middle


def _to_piece(
    package: Package,
    storey: Storey,
    piece: Furniture,
    opened: frozenset[str],
    start: Point,
    value: float,
) -> Decided | None:
    pieces = [row for row in package.rows_of(Furniture) if is_bed(package, row)]
    stood = places_of(storey, fronts_on(storey, pieces or [piece]))
    found = ways(storey, opened, start, tuple(beside.point for _, beside in stood))
    for (mark, beside), way in zip(stood, found, strict=True):
        if mark != piece.mark or way.width_m is None:
            continue
        width = min(way.width_m, way.room_m)
        if not _same(width, value) and not (value < width and way.narrowest is None):
            continue
        line = ribbon(plan(storey, opened), start, beside.point, value)
        is_room = way.narrowest is None or way.room_m < way.width_m
        across = None if is_room or way.narrowest is None else way.narrowest.at
        circle = Circle(value, beside.point) if is_room else None
        return Decided(storey, line, value, across, circle)
    return None


def _to_room(package: Package, storey: Storey, mark: str, value: float) -> Decided | None:
    gate, opened = start_of(storey, package)
    for place in storey.places:
        circle = circle_in(storey, place) if place.room == mark else None
        if circle is None:
            continue
        way = ways(storey, opened, gate.before, (circle.middle,))[0]
        if way.width_m is None or not _same(min(way.width_m, way.room_m), value):
            continue
        line = ribbon(plan(storey, opened), gate.before, circle.middle, value)
        is_way = way.narrowest is not None and way.width_m <= way.room_m
        across = way.narrowest.at if is_way and way.narrowest else None
        return Decided(storey, line, value, across, None if is_way else circle)
    return None


def _travel(package: Package, storey: Storey, mark: str, value: float) -> Decided | None:
    outs = list(gates_out(storey))
    opened = frozenset({gate.mark for gate in storey.gates if gate.into} | {g.mark for g in outs})
    pieces = [
        row
        for row in package.rows_of(Furniture)
        if row.unless_blank("kind") in ("seat", "bed") or is_bed(package, row)
    ]
    stood = places_of(storey, fronts_on(storey, pieces))
    starts = tuple(beside.point for _, beside in stood)
    found = travels(storey, opened, starts, tuple(gate.middle for gate in outs), KEEPS_M)
    for (own, _), way in zip(stood, found, strict=True):
        if own == mark and _same(way.length_m, value):
            return Decided(storey, way.by, 2 * KEEPS_M)
    return None


def _circle(package: Package, storey: Storey, mark: str, value: float) -> Decided | None:
    gate, opened = start_of(storey, package)
    for place in storey.places:
        if place.room != mark:
            continue
        circle = circle_reached(storey, opened, gate.before, CHAIR_M, place)
        if circle and _same(circle.diameter_m, value):
            line = ribbon(plan(storey, opened), gate.before, circle.middle, CHAIR_M)
            return Decided(storey, line, CHAIR_M, circle=circle)
    return None


def _same(one: float, other: float) -> bool:
    return abs(one - other) <= SAME * max(1.0, abs(other))


# What is said of all rows at once: each line of the working names its row and its figures


def _said(measured: Measured, words: str) -> Iterator[Sequence[object]]:
    return (step.amounts for step in measured.steps if step.words == words)


def _marks(*said: object) -> Iterator[str]:
    """The marks that a line names, those of walls left out."""
    return (each for each in said if isinstance(each, str) and each)


def _doors(storey: Storey, measured: Measured) -> Decided:
    leaves: list[Leaf] = []
    met: list[str] = []
    here = {gate.mark for gate in storey.gates}
    for mark, opens, other in _said(measured, "{} opens {} and meets {}"):
        if mark in here and isinstance(mark, str) and isinstance(opens, Amount):
            leaves.append(Leaf(mark, opens))
            met += _marks(other)
    return Decided(storey, leaves=tuple(leaves), met=tuple(met))


def _before(package: Package, storey: Storey, measured: Measured) -> Decided:
    bodies = {body.mark: body for body in storey.things}
    pieces = {piece.mark: piece for piece in package.rows_of(Furniture)}
    strips: list[Strip] = []
    for mark, depth, _, wanted in _said(measured, "{}: {} before it to {}, of {}"):
        if not isinstance(depth, Amount) or not isinstance(wanted, Amount) or mark not in bodies:
            continue
        piece = pieces[str(mark)]
        kinds = STANDS_BEFORE.get(piece.kind, ())
        beside = tuple(each.mark for each in pieces.values() if each.kind in kinds)
        for side in sides(bodies[piece.mark], piece.front):
            if _same(room_before(storey, bodies[piece.mark], side, beside).depth_m, depth.si):
                strips.append(Strip(piece.mark, side, depth.si, wanted.si))
                break
    return Decided(storey, strips=tuple(strips))


def _escape(storey: Storey, measured: Measured) -> Decided:
    met = [
        str(amounts[1])
        for amounts in _said(measured, "{} is behind {}, {} high before a sill of {}")
    ]
    return Decided(storey, met=tuple(met))
