"""The way to what is used in each room: beds, seats, tables, worktops, toilets, other doors out."""

import math
from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import partial

from criteria.checks.check import Check
from criteria.checks.reading import of_each
from criteria.checks.ways import CAUTION, LIMITS, TOPIC
from criteria.checks.widths import (
    Fronts,
    Reached,
    To,
    begun,
    from_main_exit,
    fronts_of,
    to_door,
    to_each,
    to_toilet,
    unclimbed,
    widest,
    width_of,
)
from criteria.findings import Measured
from criteria.package import Package
from criteria.schedules.access import Door
from criteria.schedules.furniture import Furniture
from criteria.schedules.rooms import Room
from criteria.schedules.states import LIVED_KINDS
from criteria.sources import IRC_HALL, PRACTICE, ROUTE
from criteria.typed.cells import Cell, Lacking, lacking, require_some
from criteria.units import LENGTH
from criteria.walking.beside import STANDS_M, distances
from criteria.walking.bodies import Point
from criteria.walking.of_package import is_bed, start_of, storeys_of
from criteria.walking.storeys import Storey

FIXTURES = ("toilet", "basin", "shower")
USED = ("seat", "bed", "table", "worktop", "desk", "stove", *FIXTURES)
"""Kinds of furniture that somebody goes to."""
SAT_AT = ("table", "desk", "worktop")
"""Kinds that are got to by the seats that stand at them, too."""


def _way_to_use(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    storeys, origins = storeys_of(package), from_main_exit(package)
    used = [p for p in package.rows_of(Furniture) if p.kind in USED or is_bed(package, p)]
    used = [piece for piece in used if piece.typed("front") != "none"]
    fronts = fronts_of(used)
    all_round = fronts_of([p.but(front="all") for p in used if p.kind == "seat"])
    doors = [door for door in package.rows_of(Door) if _leads_out(door)]

    def ends(room: Room) -> list[Furniture | Door | Room]:
        every: list[Furniture | Door] = [*used, *doors]
        own = [row for row in every if row.unless_blank("room") == room.mark]
        return [*own, *([room] if room.use == "wc" and room.part_of is None else [])]

    def to(end: Furniture | Door | Room, storey: Storey) -> To:
        if isinstance(end, Furniture):
            placed = storeys.of_piece(end)
            near = dict(distances(*placed, STANDS_M)) if end.kind in SAT_AT else {}
            at = [p for p in used if p.kind == "seat" and near.get(p.mark, math.inf) <= STANDS_M]
            return partial(
                _to_any, [partial(_to_piece, fronts, all_round, piece) for piece in (end, *at)]
            )
        if isinstance(end, Room):
            return partial(_to_toilet, end.mark)
        gate = next((gate for gate in storey.gates if gate.mark == end.mark), None)
        if gate is None:
            raise lacking(f"a place for {end.mark} on its plan")
        return partial(to_door, gate)

    def figure(room: Room) -> Measured:
        storey = storeys.of(room.mark)
        notes = begun(storey, package)
        first = "" if storey.level else start_of(storey, package)[0].mark
        found: list[Measured] = []
        cells: list[Cell] = []
        for end in ends(room):
            if end.mark == first:
                continue
            try:
                best = widest(storeys, storey, origins, to(end, storey))
                reached = best or unclimbed(storeys, storey)
                found.append(width_of(package, storey, end.mark, reached, notes))
            except Lacking as lacks:
                cells += lacks.cells
        if not found:
            raise Lacking(*cells)
        found.sort(key=lambda each: each.values)
        steps = tuple(step for each in found for step in each.steps)
        missing = (*found[0].missing, *map(str, cells))
        return replace(found[0], steps=steps, missing=missing)

    rooms = [room for room in package.rooms if ends(room)]
    require_some(rooms, "furniture that is used, in a room (furniture schedule)")
    return of_each(rooms, figure)


def _leads_out(door: Door) -> bool:
    """Whether a door leads out of doors beside the main exit."""
    return door.role in ("second exit", "other exit") or (door.role is None and door.is_outside)


def _to_piece(
    fronts: Callable[[Storey], Fronts],
    all_round: Callable[[Storey], Fronts],
    piece: Furniture,
    storey: Storey,
    opened: frozenset[str],
    start: Point,
) -> Reached:
    """The way to a piece from the sides it is used from, to a seat from its ends too."""
    reached = to_each(fronts, piece, storey, opened, start)
    if piece.kind != "seat":
        return reached
    ends = to_each(all_round, piece, storey, opened, start)
    return max(reached, ends, key=_width_m)


def _to_any(to: Sequence[To], storey: Storey, opened: frozenset[str], start: Point) -> Reached:
    return max((each(storey, opened, start) for each in to), key=_width_m)


def _width_m(reached: Reached) -> float:
    return reached.width_m


def _to_toilet(mark: str, storey: Storey, opened: frozenset[str], start: Point) -> Reached:
    own = [place for place in storey.places if place.room == mark]
    found = [to_toilet(place, storey, opened, start) for place in own]
    return max(found, key=_width_m)


WAY_TO_USE = Check(
    slug="way_to_use",
    title="Way to what is used in each room",
    topic=TOPIC,
    kinds=LIVED_KINDS,
    scales=(LENGTH,),
    measure=_way_to_use,
    schedules=("rooms", "furniture", "doors", "climbs", "furniture_by_state"),
    formula="w = min over what is used of max over ways of min(gap along the way)",
    meaning="w diameter of the largest disc that comes from before the main exit to each bed, "
    "seat, table, desk, worktop, stove and fixture of the room, to its toilet and to its other "
    "doors out; the narrowest decides [mm]",
    citations=(ROUTE, IRC_HALL, PRACTICE),
    limits="To the better place at a side that is used, 600 mm off at most, and to the middle of "
    "a toilet room; a seat is got to by its ends too, a table by the seats at it. " + LIMITS,
    question="What is narrowest in {name} is reached by {value}, against {target}. Past whom?",
    caution=CAUTION,
)
