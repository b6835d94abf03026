"""The plan walked by day and night: how far it is to outside, and where a wheelchair turns."""

import math
from dataclasses import dataclass, replace

from criteria.checks.check import Check
from criteria.checks.reading import gathered, of_each
from criteria.checks.ways import CAUTION, LIMITS, TOPIC, ask_doors
from criteria.checks.widths import (
    AGREES_M,
    NOISE_DIGITS,
    ask_places,
    begun,
    fronts_of,
    left_out,
    unclimbed,
    unplaced,
)
from criteria.findings import SAME, Amount, Measured, Rule, Step
from criteria.package import Package
from criteria.schedules.furniture import Furniture
from criteria.schedules.rooms import Room
from criteria.schedules.states import LIVED_KINDS
from criteria.sources import ADA_DOOR, ADA_TURN, PRACTICE, ROUTE, TRAVEL
from criteria.typed.cells import lacking, require_some
from criteria.units import DISTANCE, LENGTH
from criteria.walking.beside import places_of
from criteria.walking.bodies import Point
from criteria.walking.circles import Circle
from criteria.walking.climbs import Joined, joined
from criteria.walking.of_package import Storeys, gates_out, is_bed, start_of, storeys_of
from criteria.walking.shortest import ShortestWay
from criteria.walking.storeys import Storey, circle_reached, travels

CHAIR_M = 32 * 0.0254
"""Clear width that a wheelchair wants of a door [m]: 32 in. 2010 ADA Standards, 404.2.3."""
KEEPS_M = 0.2 * (1 - SAME)
"""Half of a walker's width [m]. Common practice."""
FAR_AGREES_M = 0.1
"""A way that was typed agrees with what is walked within this [m]. Ours."""


def _walked_out(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    pieces = [
        piece
        for piece in package.furniture
        if piece.kind in ("seat", "bed") or is_bed(package, piece)
    ]
    require_some(pieces, "beds and seats (furniture schedule)")
    storeys, fronts = storeys_of(package), fronts_of(pieces)

    def figure(piece: Furniture) -> Measured:
        storey, _ = storeys.of_piece(piece)
        gathered([piece], lambda row: row.front)
        stood = places_of(storey, fronts(storey))
        starts = tuple(beside.point for _, beside in stood)
        found = _to_outside(storeys, storey, starts)
        own = [way for (mark, _), way in zip(stood, found, strict=True) if mark == piece.mark]
        best = min(own, key=lambda way: way.length_m, default=_NO_WAY)
        if math.isinf(best.length_m):
            raise lacking(f"a way out as wide as a walker, 400 mm, from {piece.mark}")
        over = (Step(" over {}", (", ".join(best.over),)),) if best.over else ("",)
        figures = (piece.mark, best.by, *over, Amount(best.length_m, DISTANCE))
        step = Step("{} to outside by {}{}: {}", figures)
        return Measured(
            values=(round(best.length_m, NOISE_DIGITS),),
            steps=(step,),
            missing=unplaced(storey),
            notes=left_out(storey),
        )

    found = of_each(pieces, figure)
    said = None if "ways_out" in package.unread else package.ways_out.typed("furthest_m")
    known = [each for each in found if each.values]
    if said is None or not known:
        return found
    furthest = max(each.values[0] for each in known)
    if abs(said - furthest) <= FAR_AGREES_M:
        return found
    amounts = (Amount(said, DISTANCE), Amount(furthest, DISTANCE))
    note = Step("the schedule of ways out says {}, walked it is {}", amounts)
    return [replace(each, notes=(note, *each.notes)) for each in found]


@dataclass(frozen=True)
class _Out:
    """A way to outside: its length [m], by which door, over which climbs."""

    length_m: float
    by: str = ""
    over: tuple[str, ...] = ()


_NO_WAY = _Out(math.inf)


def _to_outside(
    storeys: Storeys,
    storey: Storey,
    starts: tuple[Point, ...],
    passed: tuple[Storey, ...] = (),
) -> list[_Out]:
    """The shortest way from each start to a door out of doors, over climbs where there is none."""
    outs = list(gates_out(storey))
    if outs:
        inner = {gate.mark for gate in storey.gates if gate.into}
        opened = frozenset(inner | {gate.mark for gate in outs})
        doors = {gate.middle: gate.mark for gate in outs}
        found = travels(storey, opened, starts, tuple(doors), KEEPS_M)
        return [_Out(way.length_m, doors.get(way.by[-1], "") if way.by else "") for way in found]
    if storey.of and not storey.level:
        ask_places(storeys.package, [storey.of])
    climbs = [climb for climb in joined(storeys, storey) if climb.beyond not in passed]
    if not climbs and storey.level:
        unclimbed(storeys, storey)
        raise lacking(f"a climb to level {storey.level} (climbs)")
    if not climbs:
        ask_doors(storeys.package)
        raise lacking("a door out of doors with its place (door schedule)")
    best = [_NO_WAY] * len(starts)
    for climb in climbs:
        (rest, *_) = _to_outside(storeys, climb.beyond, (climb.there,), (*passed, storey))
        found = travels(storey, storey.inner, starts, (climb.here,), KEEPS_M)
        best = [
            min(one, _over(climb, way, rest), key=lambda each: each.length_m)
            for one, way in zip(best, found, strict=True)
        ]
    return best


def _over(climb: Joined, way: ShortestWay, rest: _Out) -> _Out:
    length = way.length_m + climb.length_m + rest.length_m
    return _Out(length, rest.by, (climb.mark, *rest.over))


def _circle_reached(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    rooms = package.rooms_used_for(uses or ("day", "wc"))
    storeys = storeys_of(package)

    def figure(room: Room) -> Measured:
        storey = storeys.of(room.mark)
        if storey.level:
            over = Step("{} is on level {}, over a climb", (room.mark, storey.level))
            return _none(room, (over, *left_out(storey)))
        gate, opened = start_of(storey, package)
        if not storey.things:
            _ask_sizes(package, room)
        if max(g.width_m for g in storey.gates if g.mark in opened) < CHAIR_M * (1 - SAME):
            return _none(room, (*begun(storey, package), *left_out(storey)))
        found = [
            circle_reached(storey, opened, gate.before, CHAIR_M, place)
            for place in storey.places
            if place.room == room.mark
        ]
        best = max((each for each in found if each), key=_size, default=None)
        way = Amount(CHAIR_M, LENGTH)
        notes = (*begun(storey, package), *left_out(storey))
        if best is None:
            return _none(room, notes)
        size = Amount(best.diameter_m, LENGTH)
        step = Step("{}: {} by a way of {}", (room.mark, size, way))
        said = room.typed("turning_m")
        if said is not None and abs(said - best.diameter_m) > AGREES_M:
            claim = Step(
                "{} says a turning circle of {}, reached is {}",
                (room.mark, Amount(said, LENGTH), size),
            )
            notes = (claim, *notes)
        return Measured(
            values=(best.diameter_m,), steps=(step,), missing=unplaced(storey), notes=notes
        )

    legs = [room for room in rooms if room.part_of is None]
    found = of_each(legs, figure)
    # as of the circle that is drawn: one room of each use that lets a wheelchair turn is asked
    kept: list[Measured] = []
    for use in dict.fromkeys(each.use for each in found):
        alike = [each for each in found if each.use == use]
        known = [each for each in alike if each.values]
        kept += [max(known, key=lambda each: each.values)] if known else alike
    return kept


def _none(room: Room, notes: tuple[Step, ...]) -> Measured:
    way = Amount(CHAIR_M, LENGTH)
    step = Step("{}: no circle wider than {} by a way of that width", (room.mark, way))
    return Measured(values=(0.0,), steps=(step,), notes=(step, *notes))


def _size(circle: Circle) -> float:
    return circle.diameter_m


def _ask_sizes(package: Package, room: Room) -> None:
    """Ask a room's furniture where it stands: an empty plan turns anything."""
    pieces = [
        piece
        for piece in package.rows_of(Furniture)
        if piece.unless_blank("room") == room.mark and piece.kind != "hook"
    ]
    names = ("used_l_m", "used_w_m", "plan_x_m", "plan_y_m")
    gathered([(piece, name) for piece in pieces for name in names], lambda p: getattr(*p))


WALKED_CHECKS = (
    Check(
        slug="walked_out",
        title="Walked from bed and seat to outside",
        topic=TOPIC,
        kinds=LIVED_KINDS,
        scales=(DISTANCE,),
        measure=_walked_out,
        schedules=("furniture", "rooms", "doors", "climbs", "furniture_by_state", "ways_out"),
        rule=Rule.AT_MOST,
        formula="d = shortest way past all bodies",
        meaning="d from where somebody stands beside the bed or seat to the middle of the nearest "
        "door out of doors, 200 mm kept from everything [m]",
        citations=(TRAVEL, PRACTICE),
        limits=LIMITS
        + " Doors are shut behind oneself. Longer than the shortest by 0.5 % at most; a stair is "
        "as long as its "
        "slope, a ladder as one at 70°.",
        question="It is {value} from {name} to outside, against {target}, walked round what "
        "stands there. With smoke?",
        caution=CAUTION,
    ),
    Check(
        slug="circle_reached",
        title="Turning circle that is reached",
        topic=TOPIC,
        kinds=LIVED_KINDS,
        scales=(LENGTH,),
        measure=_circle_reached,
        schedules=("rooms", "doors", "furniture", "furniture_by_state"),
        uses=("day", "wc"),
        formula="d = max clear circle, by a way of 32 in",
        meaning="d largest clear circle in the day room and one toilet, doors shut, to which a way "
        "of 32 in leads from the main exit, doors open [mm]",
        citations=(ADA_TURN, ADA_DOOR, ROUTE),
        limits=LIMITS
        + " Doors are shut behind oneself. 36 in is wanted but for short places such as doors; "
        "knee space under a "
        "table isn't counted.",
        question="The circle in {name} that is reached is {value}, against {target}. Which chair "
        "gets there?",
        caution="A teaching check: the local access code and a licensed architect decide.",
    ),
)
