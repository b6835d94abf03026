"""How wide a place on a plan is reached: the widest way to it, and the room to stand there."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cache, partial
from types import MappingProxyType

from criteria.checks.reading import gathered
from criteria.findings import Amount, Measured, Step, listed
from criteria.package import Package
from criteria.schedules.furniture import Furniture
from criteria.typed.cells import Lacking
from criteria.units import LENGTH
from criteria.walking.beside import Beside, places_of
from criteria.walking.bodies import Body, Point
from criteria.walking.circles import FINE_M
from criteria.walking.climbs import Joined, joined
from criteria.walking.of_package import AT, Storeys, lost_door_cells, start_of
from criteria.walking.storeys import Gate, Place, Storey, circle_in, kept, ways
from criteria.walking.widest import WidestWay

NOISE_DIGITS = 9
"""Digits of a metre that are kept: beds as wide apart are told by their marks, not by 1e-16 m."""
AGREES_M = 0.025
"""A width that was typed agrees with what is computed within this [m]. Ours."""


INSIDE_M = 0.3
"""How far before a door somebody stands who opens it from inside [m]. Ours."""
NOWHERE: Point = (math.nan, math.nan)
"""Where a way is narrow that is none."""


@dataclass(frozen=True)
class Reached:
    """How wide a place is reached: the width [m], what it is between, and where that is."""

    width_m: float
    between: Step
    at: Point


To = Callable[[Storey, frozenset[str], Point], Reached]
"""Tells how wide one piece is reached on a storey, with some doors open, from a start."""


def left_out(storey: Storey) -> tuple[Step, ...]:
    """Say what isn't on a plan, so that the way past it may be another."""
    said = [Step("{} ({})", each) for each in storey.left_out]
    return (Step("not on the plan: {}", (listed(said, "; "),)),) if said else ()


def unplaced(storey: Storey) -> tuple[str, ...]:
    """Name the furniture that isn't on a plan: what meets a target without it might not with it."""
    return tuple(f"a place for {mark} on its plan: {why}" for mark, why in storey.unplaced)


def begun(storey: Storey, package: Package) -> tuple[Step, ...]:
    """Say where ways begin, where that isn't the main exit."""
    if storey.level:
        return ()
    gate, _ = start_of(storey, package)
    if storey.of:
        return (Step("reckoned from {}: {} has no place on one plan", (gate.mark, storey.of)),)
    if not gate.is_main:
        return (Step("no main exit is said: reckoned from {}, the widest", (gate.mark,)),)
    return ()


Fronts = tuple[tuple[str, str], ...]
"""Marks of pieces on a storey, each with the sides it is used from."""


def fronts_of(pieces: Sequence[Furniture]) -> Callable[[Storey], Fronts]:
    """Return what tells from where each piece on a storey is used, worked out once a storey."""
    return cache(partial(fronts_on, pieces))


def fronts_on(pieces: Iterable[Furniture], storey: Storey) -> Fronts:
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
    storey: Storey, fronts: Fronts, opened: frozenset[str], start: Point
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


def to_each(
    fronts: Callable[[Storey], Fronts],
    piece: Furniture,
    storey: Storey,
    opened: frozenset[str],
    start: Point,
) -> Reached:
    """The widest way from a start to the best place beside a piece, one of several."""
    gathered([piece], lambda row: row.front)
    found = _reached(storey, fronts(storey), opened, start)
    return found.get(piece.mark) or _best(storey, piece.mark, ())


def to_toilet(place: Place, storey: Storey, opened: frozenset[str], start: Point) -> Reached:
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


def to_door(gate: Gate, storey: Storey, opened: frozenset[str], start: Point) -> Reached:
    """The widest way from a start to a door from inside, and through it."""
    (x, y), (across, up) = gate.middle, gate.out
    at = x - across * INSIDE_M, y - up * INSIDE_M
    through = Reached(gate.width_m, Step("in {}", (gate.mark,)), gate.middle)
    found = [replace(way, room_m=math.inf) for way in ways(storey, opened, start, (at,))]
    stood = zip([Beside(at, gate.mark)], found, strict=False)
    return min(_best(storey, gate.mark, stood), through, key=lambda each: each.width_m)


@dataclass(frozen=True)
class Begin:
    """Where ways on a storey begin, doors open to them, and how narrow they are before that.

    so_far   None where nothing narrows them; where that is 0 nobody comes so far
    """

    point: Point
    opened: frozenset[str]
    so_far: Reached | None = None


Origins = Callable[[Storey], Sequence[Begin]]
"""Tells where ways begin on a storey itself; where they don't, they come over a climb."""


def from_main_exit(package: Package) -> Origins:
    """Let ways begin before the main exit, on the floor by the door."""

    def begin(storey: Storey) -> Sequence[Begin]:
        if storey.level:
            return ()
        gate, opened = start_of(storey, package)
        return (Begin(gate.before, opened),)

    return begin


def widest(storeys: Storeys, storey: Storey, origins: Origins, to: To) -> Reached | None:
    """Return how wide a place is reached from the best origin of ways; None where no climb leads.

    Raises Lacking with the cells of climbs that may lead there.
    """
    found = [_onward(begin, storey, to) for begin in begins(storeys, storey, origins)]
    return max(found, key=lambda each: each.width_m, default=None)


def begins(
    storeys: Storeys, storey: Storey, origins: Origins, passed: tuple[Storey, ...] = ()
) -> Iterator[Begin]:
    """Give where ways on a storey begin: at its own origins, else at ends of climbs to others."""
    if found := origins(storey):
        yield from found
        return
    for climb in joined(storeys, storey):
        if climb.beyond in passed:
            continue
        for begin in begins(storeys, climb.beyond, origins, (*passed, storey)):
            so_far = _onward(begin, climb.beyond, partial(_to_climb, climb))
            yield Begin(climb.here, storey.inner, so_far)


def _to_climb(climb: Joined, storey: Storey, opened: frozenset[str], start: Point) -> Reached:
    """How wide the way is to the end of a climb that lies on a storey, and on it."""
    found = ways(storey, opened, start, (climb.there,))
    stood = zip([Beside(climb.there, "")], found, strict=False)
    reached = _best(storey, climb.mark, stood)
    if reached.at == climb.there:
        reached = replace(reached, between=Step("at an end of {}", (climb.mark,)))
    on_it = Reached(climb.width_m, Step("on {}", (climb.mark,)), NOWHERE)
    return min(reached, on_it, key=lambda each: each.width_m)


def _onward(begin: Begin, storey: Storey, to: To) -> Reached:
    """How wide a place is reached from a beginning that may be narrower itself."""
    so_far = begin.so_far
    if so_far is not None and not so_far.width_m:
        return so_far
    reached = to(storey, begin.opened, begin.point)
    return reached if so_far is None or reached.width_m < so_far.width_m else so_far


def unclimbed(storeys: Storeys, storey: Storey) -> Reached:
    """Say that nothing leads to a storey. Raises Lacking where a room beside it may."""
    alike = [room for room in storeys.rooms.values() if room.level == storey.level]
    if storey.of and len(alike) > 1:
        ask_places(storeys.package, [storey.of])
    words = "not reached: no climb leads to level {}, a hazard to whoever sleeps there"
    return Reached(0.0, Step(words, (storey.level,)), NOWHERE)


def ask_places(package: Package, marks: Iterable[str]) -> None:
    """Ask rooms for their places on one plan: without them nobody knows what lies between."""
    rooms = [room for room in package.rooms if room.mark in {*marks}]
    gathered(
        [(room, name) for room in rooms for name in AT], lambda pair: getattr(pair[0], pair[1])
    )


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
    width_m = round(reached.width_m, NOISE_DIGITS)
    width = Amount(width_m, LENGTH)
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
        values=(width_m,),
        steps=(step,),
        missing=unplaced(storey),
        notes=(step, *claim, *notes, *left_out(storey)),
    )
