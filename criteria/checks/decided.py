"""Where on its plan the figure of a walked check lies: what its drawing picks out.

The figure is the check's own. Here only its place is found again, among the same ways, kept, that
the check went; where none of them comes to that figure, nothing is picked out.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from criteria.checks.before import STANDS_BEFORE
from criteria.checks.walked import CHAIR_M, KEEPS_M
from criteria.checks.way_to_use import SAT_AT
from criteria.checks.widths import INSIDE_M
from criteria.findings import SAME, Amount, Measured
from criteria.package import Package
from criteria.schedules.furniture import Furniture
from criteria.schedules.rooms import Room
from criteria.typed.cells import Lacking
from criteria.walking.beside import STANDS_M, distances, places_of, room_before, sides
from criteria.walking.bodies import Point
from criteria.walking.circles import Circle
from criteria.walking.climbs import joined
from criteria.walking.fronts import Front
from criteria.walking.of_package import gates_out, start_of, storeys_of
from criteria.walking.ribbon import ribbon
from criteria.walking.storeys import (
    Gate,
    Place,
    Storey,
    circle_in,
    circle_reached,
    plan,
    plan_to,
    travels,
    ways,
)


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
    at: Point | None = None
    counts: tuple[tuple[Point, int], ...] = ()
    sights: tuple[tuple[Point, Point], ...] = ()


WAYS = ("way_to_bed", "way_to_toilet", "second_way_out", "way_step_free", "way_to_use")
OVER_ROOMS = (
    "stove_clear",
    "exits_apart",
    "beds_out_of_sight",
    "passage_width",
    "place_alone",
    "turning_circle",
    "day_seats",
    "night_seats",
    "step_free_beds",
    "wet_hooks",
    "single_sided_depth",
)
"""Checks that are shown on a plan though their figure lies on no way."""
ONE_PLACE = ("stove_clear", "passage_width", "turning_circle", "single_sided_depth")
"""Of these, checks whose figure is of one room or piece."""
DRAWN = (
    *WAYS,
    *OVER_ROOMS,
    "walked_out",
    "circle_reached",
    "doors_open_fully",
    "room_before",
    "escape_at_night",
)
"""Checks whose figures are shown on a plan."""

REACHED = "{} is reached by {}, {}"
MEETS = "{} opens {} and meets {}"
BEFORE = "{}: {} before it to {}, of {}"
APART = "{} to {}: {} ÷ {} = {}"
SEEN = "{} and {} see each other"
BEHIND = "{} is behind {}, {} high before a sill of {}"
"""Lines of working that name a row and its figure."""


def decided(package: Package, check: str, measured: Measured) -> Decided | None:
    """Return where the figure of a check lies, in the package of its state.

    None where no plan can be made of the rows.
    """
    try:
        storey = _storey(package, check, measured)
    except Lacking:
        storey = None
    if storey is None:
        return None
    try:
        return _found(package, check, measured, storey) or Decided(storey)
    except Lacking:
        return Decided(storey)


def _storey(package: Package, check: str, measured: Measured) -> Storey | None:
    """The storey of the piece or room that was measured; of others, the first that there is."""
    storeys, mark = storeys_of(package), measured.subject
    piece = _row(package.rows_of(Furniture), mark)
    if piece is not None:
        return storeys.of(piece.room)
    is_any = not mark or check in OVER_ROOMS
    rooms = [room for room in package.rooms if room.mark == mark or is_any]
    rooms.sort(key=lambda room: room.mark != mark)
    return storeys.of(rooms[0].mark) if rooms else None


def _row(rows: Sequence[Furniture], mark: str) -> Furniture | None:
    return next((row for row in rows if mark and row.mark == mark), None)


def _said(measured: Measured, words: str) -> list[Sequence[Any]]:
    """The figures of all lines of the working that are in some words."""
    return [step.amounts for step in measured.steps if step.words == words]


def _found(package: Package, check: str, measured: Measured, storey: Storey) -> Decided | None:
    if check == "doors_open_fully":
        return _doors(storey, measured)
    if check == "room_before":
        return _before(package, storey, measured)
    if check == "escape_at_night":
        behind = _said(measured, BEHIND)
        return Decided(storey, met=tuple(str(amounts[1]) for amounts in behind))
    if not measured.values:
        return None
    if check in OVER_ROOMS:
        return _over_rooms(package, storey, check, measured)
    value = measured.values[0]
    if check == "circle_reached":
        return _circle(package, storey, measured.subject, value)
    if check == "walked_out":
        return _travel(package, storey, measured.subject, value)
    mark = next((str(amounts[0]) for amounts in _said(measured, REACHED)), measured.subject)
    ends = list(_ends(package, storey, mark))
    for start, opened in _starts(package, check, storey):
        found = ways(storey, opened, start, tuple(point for point, _ in ends))
        for (end, gate), way in zip(ends, found, strict=True):
            room = gate.width_m if gate else way.room_m
            if way.width_m is None or not _same(min(way.width_m, room), value):
                continue
            line = ribbon(plan_to(storey, opened, start, end), start, end, value)
            if way.narrowest is not None and way.width_m <= room:
                return Decided(storey, line, value, way.narrowest.at)
            if gate:
                return Decided(storey, line, value, gate.gap)
            return Decided(storey, line, value, circle=Circle(value, end))
    return None


def _ends(package: Package, storey: Storey, mark: str) -> Iterator[tuple[Point, Gate | None]]:
    """Where ways end: beside a piece, in a room's largest clear circle, or inside a door."""
    piece = _row(package.rows_of(Furniture), mark)
    if piece is not None:
        # a seat is got to by its ends too, and a table by the seats that stand at it
        fronts = [(mark, piece.front), (mark, "all")]
        fronts += [(seat, "all") for seat in _seats_at(package, storey, piece)]
        for front in fronts:
            yield from ((beside.point, None) for _, beside in places_of(storey, (front,)))
    for place in storey.places:
        circle = circle_in(storey, place) if place.room == mark else None
        if circle:
            yield circle.middle, None
    for gate in storey.gates:
        if gate.mark == mark:
            (x, y), (across, up) = gate.middle, gate.out
            yield (x - across * INSIDE_M, y - up * INSIDE_M), gate


def _seats_at(package: Package, storey: Storey, piece: Furniture) -> list[str]:
    """Marks of the seats that stand at a piece, where it is one that people sit at."""
    if piece.kind not in SAT_AT:
        return []
    _, body = storeys_of(package).of_piece(piece)
    seats = {row.mark for row in package.rows_of(Furniture) if row.kind == "seat"}
    near = [mark for mark, away in distances(storey, body) if away <= STANDS_M]
    return [mark for mark in near if mark in seats]


Start = tuple[Point, frozenset[str]]


def _starts(package: Package, check: str, storey: Storey) -> Iterator[Start]:
    """Where ways of a check begin on a storey, and which doors are open to them."""
    if check == "second_way_out":
        yield from _other_doors(package, storey)
    elif check == "way_to_toilet":
        toilets = {room.mark for room in package.rows_of(Room) if room.unless_blank("use") == "wc"}
        opened = storey.inner if storey.level else start_of(storey, package)[1]
        circles = [circle_in(storey, p) for p in storey.places if p.room in toilets]
        yield from ((circle.middle, opened) for circle in circles if circle)
    elif not storey.level:
        gate, opened = start_of(storey, package)
        yield gate.before, opened
    yield from ((climb.here, storey.inner) for climb in joined(storeys_of(package), storey))


def _other_doors(package: Package, storey: Storey) -> Iterator[Start]:
    others = [gate for gate in gates_out(storey) if not gate.is_main]
    if not storey.level and not any(gate.is_main for gate in storey.gates):
        _, begins = start_of(storey, package)
        others = [gate for gate in others if gate.mark not in begins]
    inner = {gate.mark for gate in storey.gates if gate.into and not gate.is_main}
    opened = frozenset(inner | {gate.mark for gate in others})
    widest = sorted(others, key=lambda gate: -gate.width_m)
    yield from ((gate.before, opened) for gate in widest)


def _travel(package: Package, storey: Storey, mark: str, value: float) -> Decided | None:
    outs = list(gates_out(storey))
    piece = _row(package.rows_of(Furniture), mark)
    if piece is None or not outs:
        return None
    opened = frozenset({gate.mark for gate in storey.gates if gate.into} | {g.mark for g in outs})
    starts = tuple(beside.point for _, beside in places_of(storey, ((mark, piece.front),)))
    found = travels(storey, opened, starts, tuple(gate.middle for gate in outs), KEEPS_M)
    ways_out = (way for way in found if _same(way.length_m, value))
    return next((Decided(storey, way.by, 2 * KEEPS_M) for way in ways_out), None)


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


def _doors(storey: Storey, measured: Measured) -> Decided:
    here = {gate.mark for gate in storey.gates}
    said = [amounts for amounts in _said(measured, MEETS) if amounts[0] in here]
    leaves = tuple(Leaf(mark, opens) for mark, opens, _ in said)
    return Decided(storey, leaves=leaves, met=tuple(str(other) for *_, other in said))


def _before(package: Package, storey: Storey, measured: Measured) -> Decided:
    bodies = {body.mark: body for body in storey.things}
    pieces = {piece.mark: piece for piece in package.rows_of(Furniture)}
    strips: list[Strip] = []
    for mark, depth, _, wanted in _said(measured, BEFORE):
        if mark in bodies:
            piece, body = pieces[mark], bodies[mark]
            kinds = STANDS_BEFORE.get(piece.kind, ())
            beside = tuple(each.mark for each in pieces.values() if each.kind in kinds)
            used = sides(body, piece.front)
            free = [(room_before(storey, body, side, beside).depth_m, side) for side in used]
            held = [side for free_m, side in free if _same(free_m, depth.si)]
            strips += [Strip(mark, side, depth.si, wanted.si) for side in held[:1]]
    return Decided(storey, strips=tuple(strips))


# Figures of rooms and pieces as they stand, without a way


def _over_rooms(package: Package, storey: Storey, check: str, measured: Measured) -> Decided | None:
    middles = {body.mark: body.middle for body in storey.things}
    if check == "exits_apart":
        gates = {gate.mark: gate.middle for gate in storey.gates}
        pairs = [(gates[one], gates[other]) for one, other, *_ in _said(measured, APART)]
        return Decided(storey, across=pairs[0] if pairs else None)
    if check == "beds_out_of_sight":
        seen = [marks for marks in _said(measured, SEEN) if {*marks} <= {*middles}]
        return Decided(storey, sights=tuple((middles[a], middles[b]) for a, b in seen))
    if check in ONE_PLACE:
        rooms = {place.room: middle_of(place) for place in storey.places}
        return Decided(storey, at=middles.get(measured.subject) or rooms.get(measured.subject))
    return None


def middle_of(place: Place) -> Point:
    """Return the middle of a room."""
    return (place.low[0] + place.high[0]) / 2, (place.low[1] + place.high[1]) / 2
