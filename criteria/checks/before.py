"""What stands before doors, furniture and windows, where each is used."""

import math
from collections.abc import Sequence
from dataclasses import replace

from criteria.checks.check import Check
from criteria.checks.escape import any_holds, escape_faults, slept_in
from criteria.checks.reading import all_without, gathered
from criteria.checks.ways import CAUTION, LIMITS, TOPIC, beds_in, given
from criteria.checks.widths import fronts_on, left_out, unplaced
from criteria.findings import SAME, Amount, Measured, Rule, Step
from criteria.package import Package
from criteria.schedules.access import Door
from criteria.schedules.climbs import Climb
from criteria.schedules.furniture import Furniture
from criteria.schedules.openings import Window
from criteria.schedules.rooms import Room
from criteria.schedules.states import LIVED_KINDS, NIGHT
from criteria.sources import IRC_ESCAPE, IRC_FIXTURES, PRACTICE
from criteria.typed.cells import Lacking, lacking, require_some
from criteria.units import ANGLE, IN, LENGTH
from criteria.walking.beside import nearest, places_of, room_before, sides
from criteria.walking.bodies import Body, Point
from criteria.walking.climbs import landing
from criteria.walking.doors import Leaf, Meeting, first_meeting, meet
from criteria.walking.fronts import Front, free_depth
from criteria.walking.of_package import STANDS, storeys_of, wall_of
from criteria.walking.storeys import Gate, Storey, depth, kept, plan, ways

OPEN_DEG = 85.0
"""A leaf that opens this far opens fully [°]: common practice, 90 less 5."""

INCH_M = float(IN.factor)
ZONES_M = {
    "seat": 0.45,
    "bed": 0.6,
    "table": 0.76,
    "desk": 0.75,
    "worktop": 0.9,
    "stove": 0.9,
    "toilet": 21 * INCH_M,
    "basin": 21 * INCH_M,
    "shower": 24 * INCH_M,
    "other": 0.7,
}
"""Room before what is used, by kind [m]: feet, a bedside, a chair that nobody passes behind, a
desk, a worktop, a stove, a drawer or cupboard by common practice; 21 in before a toilet or basin
and 24 in before a shower (IRC 2021, R307.1 and P2705.1, quoted from a secondary source)."""
AXIS_KINDS, AXIS_M = ("toilet", "basin"), 15 * INCH_M
"""What has as much free on either side of its middle [m]: 15 in (the same)."""
FOOT_M = 0.6
"""Diameter that is kept clear where somebody stands before a climb [m]. Common practice."""
STANDS_BEFORE = {
    "table": ("seat",),
    "desk": ("seat",),
    "worktop": ("seat",),
    "seat": ("table", "desk", "worktop"),
}
"""Kinds that belong before another, and take nothing from it."""

OUTSIDE = "the outside"
"""What is before a side that looks out of the building."""
WINDOW_M = 0.9
"""How deep it is kept free before a window that is climbed through [m]. Common practice."""
CLIMBED_M = 0.25
"""What is higher is climbed over, and said [m]. Common practice."""
WAY_M = 0.55
"""Width of the way to such a window [m]. Common practice."""


def _doors(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    storeys = storeys_of(package)
    steps: list[Step] = []
    doors = [door for door in package.doors if door.swing in ("in", "out")]
    require_some(doors, "a door with a leaf that swings (door schedule)")
    on: list[Storey] = []
    notes: list[Step] = []
    swung: list[tuple[str, Storey, Leaf]] = []

    def fault(door: Door) -> str | None:
        gathered((*STANDS, "leaf_w_m"), lambda name: given(door, name))
        storey = storeys.of(door.room or "")
        on.append(storey)
        gate = next((gate for gate in storey.gates if gate.mark == door.mark), None)
        if gate is None:
            why = dict(storey.left_out).get(door.mark, "it has no place")
            raise lacking(f"a place for {door.mark} on its plan: {why}")
        hinge = door.unless_blank("hinge")
        if hinge:
            leaf = gate.hung(door.swing, hinge)
            struck = [mark for mark, where, other in swung if where == storey and meet(leaf, other)]
            notes.extend(Step("{} and {} strike each other", (mark, door.mark)) for mark in struck)
            swung.append((door.mark, storey, leaf))
        met = [first_met(storey, gate, door.swing, end) for end in ([hinge] if hinge else ENDS)]
        if len({_is_short(each) for each in met}) > 1:
            raise Lacking(door.cell("hinge"))
        first = met[0]
        if first is None or not _is_short(first):
            steps.append(Step("{} opens fully", (door.mark,)))
            return None
        figures = (door.mark, Amount(first.angle_deg, ANGLE), _called(storey, first.body))
        steps.append(Step("{} opens {} and meets {}", figures))
        return f"meets {first.body.mark}"

    return [_beside_all(all_without(doors, fault, steps, notes), on)]


ENDS = ("left", "right")


def _is_short(met: Meeting | None) -> bool:
    return met is not None and met.angle_deg < OPEN_DEG


def _called(storey: Storey, body: Body) -> Step | str:
    is_wall = any(place.room == body.mark for place in storey.places)
    return Step("a wall of {}", (body.mark,)) if is_wall else body.mark


@kept(None)
def first_met(storey: Storey, gate: Gate, swing: str, end: str) -> Meeting | None:
    """Return what a leaf that hangs at one end meets first; of its own wall and the next none."""
    if swing == "out" and gate.into is None:
        return None
    leaf = gate.hung(swing, end)
    face = depth(leaf.hinge, gate.out)
    bodies = [
        body
        for body in plan(storey, frozenset()).bodies
        if len(body.corners) != 2
        or any(abs(depth(corner, gate.out) - face) > SAME for corner in body.corners)
    ]
    return first_meeting(leaf, bodies)


def _before(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    storeys = storeys_of(package)
    steps: list[Step] = []
    used = [piece for piece in package.furniture if piece.kind in ZONES_M]
    used = [piece for piece in used if piece.front != "none"]
    every: list[Furniture | Climb] = [*used, *package.rows_of(Climb)]
    require_some(every, "furniture that is used from a side (furniture schedule)")
    kinds = {piece.mark: piece.kind for piece in package.furniture}
    on: list[Storey] = []

    def at_foot(climb: Climb) -> str | None:
        storey, foot = landing(storeys, climb, "foot")
        on.append(storey)
        free, other = nearest(storey, foot)
        called = _called(storey, other) if other else ""
        sizes = (Amount(2 * free, LENGTH), called, Amount(FOOT_M, LENGTH))
        steps.append(Step("{}: {} at its foot beside {}, of {}", (climb.mark, *sizes)))
        if 2 * free >= FOOT_M * (1 - SAME):
            return None
        return f"{other.mark if other else ''} at its foot"

    def fault(piece: Furniture | Climb) -> str | None:
        if isinstance(piece, Climb):
            return at_foot(piece)
        storey, body = storeys.of_piece(piece)
        on.append(storey)
        before = STANDS_BEFORE.get(piece.kind, ())
        beside = tuple(mark for mark, kind in kinds.items() if kind in before)
        found = [room_before(storey, body, side, beside) for side in sides(body, piece.front)]
        # one side will do of a bed, of a bench against a wall, and where nobody said which
        is_any = piece.front == "one long side" or piece.kind == "bed"
        is_any = is_any or piece.unless_blank("front") is None
        held = (max if is_any else min)(found, key=lambda each: each.depth_m)
        other = _called(storey, held.body) if held.body else OUTSIDE
        wanted = ZONES_M[piece.kind]
        sizes = (Amount(held.depth_m, LENGTH), other, Amount(wanted, LENGTH))
        steps.append(Step("{}: {} before it to {}, of {}", (piece.mark, *sizes)))
        faults = []
        if held.depth_m < wanted * (1 - SAME):
            faults.append(f"{held.body.mark if held.body else 'no floor'} before it")
        if piece.kind in AXIS_KINDS:
            faults += beside_axis(piece, storey, body)
        return ", ".join(faults) or None

    def beside_axis(piece: Furniture, storey: Storey, body: Body) -> list[str]:
        """What stands too near to the middle of a toilet or basin, beside it."""
        fronts = sides(body, piece.front)
        half = math.dist(fronts[0].start, fronts[0].end) / 2
        across = "long" if piece.front == "short" else "short"
        free = [room_before(storey, body, side) for side in sides(body, across)]
        held = min(free, key=lambda each: each.depth_m)
        called = _called(storey, held.body) if held.body else OUTSIDE
        sizes = (Amount(half + held.depth_m, LENGTH), called, Amount(AXIS_M, LENGTH))
        steps.append(Step("{}: {} from its middle to {}, of {}", (piece.mark, *sizes)))
        is_free = half + held.depth_m >= AXIS_M * (1 - SAME)
        return [] if is_free else [f"{held.body.mark if held.body else 'no floor'} beside it"]

    return [_beside_all(all_without(every, fault, steps), on)]


@kept(())
def _before_window(storey: Storey, gap: tuple[Point, Point]) -> tuple[str, ...]:
    """Marks of what stands where a window is climbed out of."""
    front, free_m = Front(gap[1], gap[0]), WINDOW_M * (1 - SAME)
    return tuple(body.mark for body in storey.things if free_depth(front, [body]).depth_m < free_m)


def _escape(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    storeys = storeys_of(package)
    steps: list[Step] = []
    pieces = {piece.mark: piece for piece in package.rows_of(Furniture)}

    def is_free(room: Room, mark: str, gap: tuple[Point, Point], out: Point, sill: float) -> bool:
        """Tell whether nobody climbs over what is as high as the sill, and comes there at all."""
        storey = storeys.of(room.mark)
        over: list[str] = []
        for thing in _before_window(storey, gap):
            height = pieces[thing].height_m
            if height >= sill:
                figures = (mark, thing, Amount(height, LENGTH), Amount(sill, LENGTH))
                steps.append(Step("{} is behind {}, {} high before a sill of {}", figures))
                return False
            over += [thing] if height > CLIMBED_M else []
        if over:
            steps.append(Step("{} is climbed to over {}", (mark, ", ".join(over))))
            return True
        return comes_there(room, storey, mark, gap, out)

    def comes_there(
        room: Room, storey: Storey, mark: str, gap: tuple[Point, Point], out: Point
    ) -> bool:
        (x, y), (to_x, to_y) = gap
        at = (x + to_x) / 2 - out[0] * WINDOW_M / 2, (y + to_y) / 2 - out[1] * WINDOW_M / 2
        stood = places_of(storey, fronts_on(beds_in(package, room), storey))
        found = ways(storey, frozenset(), at, tuple(beside.point for _, beside in stood))
        widths: dict[str, float] = {}
        for (bed, _), way in zip(stood, found, strict=True):
            width = 0.0 if way.width_m is None else min(way.width_m, way.room_m)
            widths[bed] = max(width, widths.get(bed, 0.0))
        worst = min(widths, key=lambda bed: widths[bed], default="")
        if not worst:
            steps.append(Step("{} is free", (mark,)))
            return True
        figures = (mark, Amount(widths[worst], LENGTH), worst, Amount(WAY_M, LENGTH))
        steps.append(Step("{} is reached by {} from {}, of {}", figures))
        return widths[worst] >= WAY_M * (1 - SAME)

    def by_window(room: Room, window: Window) -> bool:
        if window.unless_blank("opens") == "fixed" or escape_faults(
            window.escape_w_m, window.escape_h_m, window.sill_m
        ):
            return False
        left: float = given(window, "left_m")
        storey = storeys.of(room.mark)
        middle = left + window.glass_w_m / 2
        half = window.escape_w_m / 2
        wall = wall_of(storey, room.mark, window.faces)
        if wall is None:
            raise lacking(f"a wall of {room.title} that looks {window.faces}, as {window.mark}")
        gap, out = (wall.at(middle - half), wall.at(middle + half)), wall.out
        return is_free(room, window.mark, gap, out, window.sill_m)

    def by_door(room: Room, door: Door) -> bool:
        if not door.is_outside or escape_faults(door.clear_w_m, door.height_m, 0.0):
            return False
        gathered(STANDS, lambda name: given(door, name))
        storey = storeys.of(room.mark)
        gate = next((gate for gate in storey.gates if gate.mark == door.mark), None)
        if gate is None:
            raise lacking(f"a place for {door.mark} on its plan")
        return is_free(room, door.mark, gate.gap, gate.out, 0.0)

    def fault(room: Room) -> str | None:
        gathered(beds_in(package, room), storeys.of_piece)
        doors = [door for door in package.rows_of(Door) if door.unless_blank("room") == room.mark]
        windows = [each for each in package.rows_of(Window) if each.room == room.mark]
        held = any_holds(
            [
                *(lambda door=door: by_door(room, door) for door in doors),
                *(lambda window=window: by_window(room, window) for window in windows),
            ]
        )
        return None if held else room.name

    rooms = slept_in(package, uses)
    if not rooms:
        return []
    on = [storeys.of(room.mark) for room in rooms]
    notes = [note for storey in dict.fromkeys(on) for note in left_out(storey)]
    return [_beside_all(all_without(rooms, fault, steps, notes), on)]


def _beside_all(found: Measured, storeys: Sequence[Storey]) -> Measured:
    """What holds beside the furniture that has a place might not beside what has none."""
    lacking = [cell for storey in dict.fromkeys(storeys) for cell in unplaced(storey)]
    return replace(found, missing=(*found.missing, *lacking))


BEFORE_CHECKS = (
    Check(
        slug="doors_open_fully",
        title="Doors open fully",
        topic=TOPIC,
        kinds=LIVED_KINDS,
        measure=_doors,
        schedules=("doors", "furniture", "rooms", "furniture_by_state"),
        rule=Rule.ALL,
        formula="θ ≥ 85°",
        meaning="θ by how much a leaf opens before it meets what stands there, or a wall [°]",
        citations=(PRACTICE,),
        limits="Leaves that swing, as hung, each by itself: two that strike each other are said, "
        "and decide nothing. A door that says no end at which it hangs is asked where that "
        "decides.",
        question="{value}. Who carries a mattress through?",
        caution=CAUTION,
    ),
    Check(
        slug="room_before",
        title="Room before what is used",
        topic=TOPIC,
        kinds=LIVED_KINDS,
        measure=_before,
        schedules=("furniture", "rooms", "climbs", "furniture_by_state"),
        rule=Rule.ALL,
        formula="d ≥ d_kind",
        meaning="d free depth before a side that is used, over its whole width: 450 mm before a "
        "seat, 600 mm a bed, 700 mm a cupboard, 750 mm a desk, 760 mm a table, 900 mm a worktop "
        "or stove, 533 mm (21 in) a toilet or basin, and 381 mm (15 in) to each side of its "
        "middle, 610 mm (24 in) a shower; at the foot of a climb the clear circle where somebody "
        "stands, 600 mm",
        citations=(PRACTICE, IRC_FIXTURES),
        limits="The better side of a bed, of a bench, and where nobody said which is used. Seats "
        "at a table take nothing from it. " + LIMITS,
        question="{value}. Can it be used with someone seated?",
    ),
    Check(
        slug="escape_at_night",
        title="Escape windows free when beds are made",
        topic=TOPIC,
        kinds=(NIGHT,),
        measure=_escape,
        schedules=(
            "windows",
            "doors",
            "rooms",
            "furniture",
            "furniture_by_state",
            "openings_by_state",
        ),
        uses=("sleep",),
        rule=Rule.ALL,
        formula="h < h_sill within 900 mm of the opening; w ≥ 550 mm from each bed",
        meaning="h top of what stands before an escape window or door of a sleeping room; w way "
        "to it from each bed of the room [mm]",
        citations=(IRC_ESCAPE, PRACTICE),
        limits="One free opening a room is asked. What is lower than the sill is climbed over, and "
        "said. Of several windows alike the first is looked at. " + LIMITS,
        question="{value}: nothing free to climb out of when the beds are made. Which way, in the "
        "dark?",
        caution=CAUTION,
    ),
)
