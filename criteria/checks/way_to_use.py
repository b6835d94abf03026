"""The way to what is used in each room: beds, seats, tables, worktops, toilets, other doors out."""

from collections.abc import Callable
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
from criteria.walking.bodies import Point
from criteria.walking.of_package import is_bed, start_of, storeys_of
from criteria.walking.storeys import Storey

FIXTURES = ("toilet", "basin", "shower")
USED = ("seat", "bed", "table", "worktop", "desk", "stove", *FIXTURES)
"""Kinds of furniture that somebody goes to."""
END_ON = "seat"
"""A kind that is got to by its end, where a table stands before it."""


def _way_to_use(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    storeys, origins = storeys_of(package), from_main_exit(package)
    used = [p for p in package.rows_of(Furniture) if p.kind in USED or is_bed(package, p)]
    fronts = fronts_of(used)
    doors = [door for door in package.rows_of(Door) if _leads_out(door)]

    def ends(room: Room) -> list[Furniture | Door | Room]:
        every: list[Furniture | Door] = [*used, *doors]
        own = [row for row in every if row.unless_blank("room") == room.mark]
        return [*own, *([room] if room.use == "wc" and room.part_of is None else [])]

    def to(end: Furniture | Door | Room, storey: Storey) -> To:
        if isinstance(end, Furniture):
            storeys.of_piece(end)
            return partial(_to_piece, fronts, end)
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
    piece: Furniture,
    storey: Storey,
    opened: frozenset[str],
    start: Point,
) -> Reached:
    """The way to a piece from the sides it is used from; a seat at a table is got to by its end."""
    reached = to_each(fronts, piece, storey, opened, start)
    if reached.width_m or piece.kind != END_ON:
        return reached
    return to_each(fronts_of([piece.but(front="all")]), piece, storey, opened, start)


def _to_toilet(mark: str, storey: Storey, opened: frozenset[str], start: Point) -> Reached:
    own = [place for place in storey.places if place.room == mark]
    found = [to_toilet(place, storey, opened, start) for place in own]
    return max(found, key=lambda each: each.width_m)


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
    "a toilet room; a seat with a table before it is got to by its end. " + LIMITS,
    question="What is narrowest in {name} is reached by {value}, against {target}. Past whom?",
    caution=CAUTION,
)
