"""The plan walked at night: how wide the way is to beds, to the toilet and to a second door."""

from collections.abc import Callable
from functools import partial
from typing import Any

from criteria.checks.check import Check
from criteria.checks.reading import gathered, of_each
from criteria.checks.widths import (
    NOWHERE,
    Begin,
    Reached,
    To,
    ask_places,
    begun,
    from_main_exit,
    fronts_of,
    to_each,
    unclimbed,
    widest,
    width_of,
)
from criteria.findings import Measured, Step
from criteria.package import Package
from criteria.schedules.access import Door
from criteria.schedules.climbs import Climb
from criteria.schedules.furniture import Furniture
from criteria.schedules.rooms import Room
from criteria.schedules.states import NIGHT
from criteria.sources import IRC_HALL, PRACTICE, ROUTE
from criteria.typed.cells import Lacking, require_some
from criteria.typed.rows import Row
from criteria.units import LENGTH
from criteria.walking.of_package import STANDS, gates_out, is_bed, start_of, storeys_of
from criteria.walking.storeys import Gate, Place, Storey, circle_in

TOPIC = "The plan walked"
CAUTION = (
    "Ways out: a teaching check of a plan as typed, no approval. Local codes, the fire authority "
    "and a licensed architect decide."
)
LIMITS = (
    "Bodies between 50 mm and 2,030 mm above the floor, as typed: cushions, open drawers and bags "
    "on the floor are not in it. Doors that say how they swing and hang stand open at 90°, 40 mm "
    "thick, where a way leads through them. Walls stand at the inside faces."
)


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


def _each_bed(
    package: Package, figure: Callable[[Furniture, Storey, To], Measured]
) -> list[Measured]:
    beds, storeys = beds_of(package), storeys_of(package)
    fronts = fronts_of(beds)
    return of_each(
        beds, lambda bed: figure(bed, storeys.of_piece(bed)[0], partial(to_each, fronts, bed))
    )


def _way_to_bed(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    storeys, origins = storeys_of(package), from_main_exit(package)

    def figure(bed: Furniture, storey: Storey, to: To) -> Measured:
        reached = widest(storeys, storey, origins, to) or unclimbed(storeys, storey)
        return width_of(package, storey, bed.mark, reached, begun(storey, package))

    return _each_bed(package, figure)


def _way_to_toilet(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    toilets = [room for room in package.rooms if room.use == "wc"]
    require_some(toilets, "a toilet, a room of use wc (room schedule)")
    storeys = storeys_of(package)
    marks = {room.mark for room in toilets}

    def in_toilets(storey: Storey) -> list[Begin]:
        here = [place for place in storey.places if place.room in marks]
        opened = storey.inner if storey.level or not here else start_of(storey, package)[1]
        return [_in_toilet(storey, place, opened) for place in here]

    def figure(bed: Furniture, storey: Storey, to: To) -> Measured:
        on = [here for _, here in storeys.of_rooms(toilets)]
        reached = widest(storeys, storey, in_toilets, to)
        if reached is None:
            if package.rows_of(Climb) or storey.level in {here.level for here in on}:
                ask_places(package, storeys.rooms)
            upper = max([storey, *on], key=lambda each: each.level)
            reached = unclimbed(storeys, upper)
        return width_of(package, storey, bed.mark, reached, ())

    return _each_bed(package, figure)


def _in_toilet(storey: Storey, place: Place, opened: frozenset[str]) -> Begin:
    circle = circle_in(storey, place)
    if circle is None:
        return Begin(
            NOWHERE, opened, Reached(0.0, Step("nobody stands in {}", (place.room,)), NOWHERE)
        )
    within = Step("in {} itself", (place.room,))
    return Begin(circle.middle, opened, Reached(circle.diameter_m, within, circle.middle))


def _second_way_out(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    storeys = storeys_of(package)

    def others_on(storey: Storey) -> list[Gate]:
        others = [gate for gate in gates_out(storey) if not gate.is_main]
        if storey.level:
            return others
        if not others and storey.of and len(package.rooms) > 1:
            ask_places(package, [storey.of])
        if any(gate.is_main for gate in storey.gates):
            return others
        _, begins = start_of(storey, package)
        return [gate for gate in others if gate.mark not in begins]

    def is_by_another(storey: Storey) -> bool:
        """Whether the other door out is on another level, so that the way leads over a climb."""
        if storey.level or not package.rows_of(Climb):
            return bool(storey.level)
        upper = {on for _, on in storeys.of_rooms(package.rooms) if on.level}
        return any(others_on(on) for on in upper)

    def before_others(storey: Storey) -> list[Begin]:
        others = others_on(storey)
        if not others and is_by_another(storey):
            return []
        if not others:
            ask_doors(package)
            none = Reached(0.0, Step("no door out but the first", ()), NOWHERE)
            return [Begin(NOWHERE, frozenset(), none)]
        inner = {gate.mark for gate in storey.gates if gate.into and not gate.is_main}
        opened = frozenset(inner | {gate.mark for gate in others})
        return [Begin(max(others, key=lambda gate: gate.width_m).before, opened)]

    def figure(bed: Furniture, storey: Storey, to: To) -> Measured:
        reached = widest(storeys, storey, before_others, to) or unclimbed(storeys, storey)
        marks = ", ".join(gate.mark for gate in others_on(storey))
        by = (Step("by {}, the main exit taken as a wall", (marks,)),) if marks else ()
        return width_of(package, storey, bed.mark, reached, by)

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
    schedules=("furniture", "rooms", "doors", "climbs", "furniture_by_state"),
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
