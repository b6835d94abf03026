"""The plan walked at night: how wide the way is to beds, to the toilet and to a second door."""

import math
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import partial
from types import MappingProxyType
from typing import Any

from criteria.checks.check import Check
from criteria.checks.reading import gathered, of_each
from criteria.findings import Amount, Measured, Step, listed
from criteria.package import Package
from criteria.schedules.access import Door
from criteria.schedules.furniture import Furniture
from criteria.schedules.rooms import Room
from criteria.schedules.states import NIGHT
from criteria.sources import IRC_HALL, PRACTICE, ROUTE
from criteria.typed.cells import Lacking, require_some
from criteria.typed.rows import Row
from criteria.units import LENGTH
from criteria.walking.beside import Beside, places_of
from criteria.walking.bodies import Body, Point
from criteria.walking.circles import FINE_M
from criteria.walking.of_package import (
    AT,
    STANDS,
    gates_out,
    is_bed,
    lost_door_cells,
    start_of,
    storeys_of,
)
from criteria.walking.storeys import (
    Gate,
    Place,
    Storey,
    circle_in,
    kept,
    ways,
)
from criteria.walking.widest import WidestWay

TOPIC = "The plan walked"
CAUTION = (
    "Ways out: a teaching check of a plan as typed, no approval. Local codes, the fire authority "
    "and a licensed architect decide."
)
LIMITS = (
    "Bodies between 50 mm and 2,030 mm above the floor, as typed: cushions, open drawers, bags on "
    "the floor and the leaves of open doors are not in it. Walls stand at the inside faces."
)

AGREES_M = 0.025
"""A width that was typed agrees with what is computed within this [m]. Ours."""


NOWHERE: Point = (math.nan, math.nan)
"""Where a way is narrow that is none."""


@dataclass(frozen=True)
class Reached:
    """How wide a place is reached: the width [m], what it is between, and where that is."""

    width_m: float
    between: Step
    at: Point


def beds_of(package: Package) -> tuple[Furniture, ...]:
    """Return what lies there as a bed: made, slept on, or a bed of which nothing is said."""
    beds = storeys_of(package).beds
    require_some(beds, "beds (furniture schedule)")
    return beds


def beds_in(package: Package, room: Room) -> list[Furniture]:
    """Return what lies in a room as a bed."""
    pieces = package.rows_of(Furniture)
    here = [piece for piece in pieces if piece.unless_blank("room") == room.mark]
    return [piece for piece in here if is_bed(package, piece)]


def left_out(storey: Storey) -> tuple[Step, ...]:
    """Say what isn't on a plan, so that the way past it may be another."""
    said = [Step("{} ({})", each) for each in storey.left_out]
    return (Step("not on the plan: {}", (listed(said, "; "),)),) if said else ()


def unplaced(storey: Storey) -> tuple[str, ...]:
    """Name the furniture that isn't on a plan: what meets a target without it might not with it."""
    return tuple(f"a place for {mark} on its plan: {why}" for mark, why in storey.unplaced)


def begun(storey: Storey, gate: Gate) -> tuple[Step, ...]:
    """Say where ways begin, where that isn't the main exit."""
    if storey.of:
        return (Step("reckoned from {}: {} has no place on one plan", (gate.mark, storey.of)),)
    if not gate.is_main:
        return (Step("no main exit is said: reckoned from {}, the widest", (gate.mark,)),)
    return ()


def fronts_on(storey: Storey, pieces: Iterable[Furniture]) -> tuple[tuple[str, str], ...]:
    """Return from where each piece on a storey is used; what can't be read is left to itself."""
    found = []
    for piece in pieces:
        try:
            if piece.mark in storey.marks:
                found.append((piece.mark, piece.front))
        except Lacking:  # it says so itself, where it is measured
            continue
    return tuple(found)


def _best(
    storey: Storey,
    mark: str,
    stood: Iterable[tuple[Beside, WidestWay]],
) -> Reached:
    """Return the best place beside a piece: what holds is its way, or the room to stand there."""
    nothing = Reached(
        0.0,
        Step("nothing is free before the sides that {} is used from", (mark,)),
        NOWHERE,
    )
    best = nothing
    for beside, way in stood:
        if way.width_m is None:
            continue
        width = min(way.width_m, way.room_m)
        if width <= best.width_m and best is not nothing:
            continue
        if way.narrowest is None or way.room_m < way.width_m:
            best = Reached(width, _between(storey, mark, beside.other), beside.point)
        else:
            (x, y), (to_x, to_y) = way.narrowest.at
            middle = ((x + to_x) / 2, (y + to_y) / 2)
            first, second = way.narrowest.first, way.narrowest.second
            best = Reached(width, _narrow(storey, first, second, middle), middle)
    return best


@kept(MappingProxyType({}))
def _reached(
    storey: Storey, fronts: tuple[tuple[str, str], ...], opened: frozenset[str], start: Point
) -> Mapping[str, Reached]:
    """Of several pieces the widest way from a start to the best place beside each, in one pass."""
    stood = places_of(storey, fronts)
    found = ways(storey, opened, start, tuple(beside.point for _, beside in stood))
    beside_each: dict[str, list[tuple[Beside, WidestWay]]] = {mark: [] for mark, _ in fronts}
    for (mark, beside), way in zip(stood, found, strict=True):
        beside_each[mark].append((beside, way))
    return {mark: _best(storey, mark, each) for mark, each in beside_each.items()}


def _narrow(storey: Storey, first: Body, second: Body, middle: Point) -> Step:
    if not {first.mark, second.mark} & storey.marks:
        for gate in storey.gates:
            if math.dist(middle, gate.middle) < gate.width_m:
                return Step("in {}", (gate.mark,))
    return _between(storey, first.mark, second.mark)


def _between(storey: Storey, first: str, second: str) -> Step:
    return Step("between {} and {}", (_called(storey, first), _called(storey, second)))


def _called(storey: Storey, mark: str) -> Step | str:
    if not mark:
        return "what is before it"
    is_wall = any(place.room == mark for place in storey.places)
    return Step("a wall of {}", (mark,)) if is_wall else mark


def width_of(
    package: Package,
    storey: Storey,
    mark: str,
    reached: Reached,
    notes: Sequence[Step],
) -> Measured:
    """Measure how wide a piece is reached, and hold to it what its room says of its passage."""
    if not reached.width_m and (cells := lost_door_cells(storey, package)):
        raise Lacking(*cells)
    width = Amount(reached.width_m, LENGTH)
    step = Step("{} is reached by {}, {}", (mark, width, reached.between))
    where = storey.where(reached.at)
    room = next((room for room in package.rooms if room.mark == where), None)
    said = room.typed("passage_m") if room else None
    claim: tuple[Step, ...] = ()
    if said is not None and abs(said - reached.width_m) > AGREES_M:
        claim = (
            Step("{} says a passage of {}, walked it is {}", (where, Amount(said, LENGTH), width)),
        )
    return Measured(
        values=(reached.width_m,),
        steps=(step,),
        missing=unplaced(storey),
        notes=(step, *claim, *notes, *left_out(storey)),
    )


To = Callable[[Storey, frozenset[str], Point], Reached]
"""Tells how wide one piece is reached on a storey, with some doors open, from a start."""


def _each_bed(
    package: Package, figure: Callable[[Furniture, Storey, To], Measured]
) -> list[Measured]:
    beds, storeys = beds_of(package), storeys_of(package)
    return of_each(
        beds, lambda bed: figure(bed, storeys.of_piece(bed)[0], partial(to_each, beds, bed))
    )


def to_each(
    pieces: Sequence[Furniture],
    piece: Furniture,
    storey: Storey,
    opened: frozenset[str],
    start: Point,
) -> Reached:
    """The widest way from a start to the best place beside a piece, one of several."""
    gathered([piece], lambda row: row.front)
    found = _reached(storey, fronts_on(storey, pieces), opened, start)
    return found.get(piece.mark) or _best(storey, piece.mark, ())


def to_toilet(storey: Storey, place: Place, opened: frozenset[str], start: Point) -> Reached:
    """The widest way from a start to the middle of the largest clear circle in a toilet room."""
    circle = circle_in(storey, place)
    if circle is None:
        return Reached(0.0, Step("nobody stands in {}", (place.room,)), NOWHERE)
    found = ways(storey, opened, start, (circle.middle,))
    stood = zip([Beside(circle.middle, place.room)], found, strict=False)
    reached = _best(storey, place.room, stood)
    if circle.diameter_m > reached.width_m + FINE_M:
        return reached
    return Reached(reached.width_m, Step("in {} itself", (place.room,)), circle.middle)


def _way_to_bed(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    def figure(bed: Furniture, storey: Storey, to: To) -> Measured:
        gate, opened = start_of(storey, package)
        reached = to(storey, opened, gate.before)
        return width_of(package, storey, bed.mark, reached, begun(storey, gate))

    return _each_bed(package, figure)


def _way_to_toilet(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    toilets = [room for room in package.rooms if room.use == "wc"]
    require_some(toilets, "a toilet, a room of use wc (room schedule)")
    storeys = storeys_of(package)

    def figure(bed: Furniture, storey: Storey, to: To) -> Measured:
        here = [room for room, on in storeys.of_rooms(toilets) if on == storey]
        if not here:
            ask_places(package, [bed.room, *(room.mark for room in toilets)])
        _, opened = start_of(storey, package)
        found = []
        for place in storey.places:
            circle = circle_in(storey, place) if place.room in {r.mark for r in here} else None
            if circle is None:
                continue
            reached = to(storey, opened, circle.middle)
            if circle.diameter_m < reached.width_m:
                within = Step("in {} itself", (place.room,))
                reached = Reached(circle.diameter_m, within, circle.middle)
            found.append(reached)
        none = Reached(0.0, Step("nobody stands in {}", (here[0].mark,)), NOWHERE)
        best = max(found, key=lambda each: each.width_m, default=none)
        return width_of(package, storey, bed.mark, best, ())

    return _each_bed(package, figure)


def ask_places(package: Package, marks: Iterable[str]) -> None:
    """Ask rooms for their places on one plan: without them nobody knows what lies between."""
    rooms = [room for room in package.rooms if room.mark in {*marks}]
    gathered(
        [(room, name) for room in rooms for name in AT], lambda pair: getattr(pair[0], pair[1])
    )


def _second_way_out(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    def figure(bed: Furniture, storey: Storey, to: To) -> Measured:
        others = [gate for gate in gates_out(storey) if not gate.is_main]
        if not others and storey.of and len(package.rooms) > 1:
            ask_places(package, [bed.room])
        if not any(gate.is_main for gate in storey.gates):
            _, begins = start_of(storey, package)
            others = [gate for gate in others if gate.mark not in begins]
        if not others:
            ask_doors(package)
            none = Reached(0.0, Step("no door out but the first", ()), NOWHERE)
            return width_of(package, storey, bed.mark, none, ())
        inner = {gate.mark for gate in storey.gates if gate.into and not gate.is_main}
        opened = frozenset(inner | {gate.mark for gate in others})
        widest = max(others, key=lambda gate: gate.width_m)
        reached = to(storey, opened, widest.before)
        by = Step("by {}, the main exit taken as a wall", (", ".join(g.mark for g in others),))
        return width_of(package, storey, bed.mark, reached, (by,))

    return _each_bed(package, figure)


def ask_doors(package: Package) -> None:
    """Ask other doors out of doors for their places."""
    doors = [
        door
        for door in package.rows_of(Door)
        if door.role != "main exit"
        and (door.role in ("second exit", "other exit") or door.is_outside)
    ]
    gathered([(d, name) for d in doors for name in STANDS], lambda pair: given(*pair))


def given(row: Row, name: str) -> Any:
    """Return a cell whose blank is none elsewhere, but where it is needed lacks."""
    value = getattr(row, name)
    if value is None:
        raise Lacking(row.cell(name))
    return value


_MEANING = (
    "w diameter of the largest disc that comes from {} to where somebody stands beside the bed, at "
    "the better of its sides [mm]"
)
_FORMULA = "w = max over ways of min(gap along the way)"
_way = partial(
    Check,
    topic=TOPIC,
    kinds=(NIGHT,),
    scales=(LENGTH,),
    schedules=("furniture", "rooms", "doors", "furniture_by_state"),
    formula=_FORMULA,
    limits=LIMITS,
    caution=CAUTION,
)

WAY_CHECKS = (
    _way(
        slug="way_to_bed",
        title="Way to each bed",
        measure=_way_to_bed,
        meaning=_MEANING.format("before the main exit"),
        citations=(ROUTE, IRC_HALL, PRACTICE),
        question="{name} is reached by {value}, against {target}. Who gets out first?",
    ),
    _way(
        slug="way_to_toilet",
        title="Way from each bed to the toilet",
        measure=_way_to_toilet,
        meaning=_MEANING.format("the middle of the toilet room"),
        citations=(ROUTE, PRACTICE),
        question="All beds made, the way from {name} to the toilet is {value}, against {target}. "
        "In the dark?",
    ),
    _way(
        slug="second_way_out",
        title="Second way out from each bed",
        measure=_second_way_out,
        meaning=_MEANING.format("another door out of doors, the main exit taken as a wall,"),
        citations=(IRC_HALL, PRACTICE),
        question="Fire at the main door: the other way from {name} is {value}, against {target}. "
        "Past what?",
    ),
)
