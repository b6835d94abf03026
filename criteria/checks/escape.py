"""Escape windows, alarms, guards, thresholds and swings."""

from collections.abc import Callable, Sequence
from functools import partial

from criteria.checks.access import is_threshold, ramp_rule, step_free_doors
from criteria.checks.check import Check
from criteria.checks.reading import (
    all_but,
    all_that_hold,
    all_without,
    each_scheduled,
    gathered,
    scheduled,
)
from criteria.findings import SAME, Amount, Measured, Rule, Step
from criteria.package import Package
from criteria.schedules.access import Door
from criteria.schedules.furniture import Furniture
from criteria.schedules.openings import Window
from criteria.schedules.plant import BURNING
from criteria.schedules.rooms import Room
from criteria.schedules.states import NIGHT
from criteria.sources import (
    ADA_RAIL,
    ADA_RAMP_WIDTH,
    ADA_THRESHOLD,
    IRC_ALARM,
    IRC_ESCAPE,
    IRC_GUARD,
    PRACTICE,
)
from criteria.typed.cells import Cell, Lacking, require_some
from criteria.units import AREA, COUNT, FT2, IN, LENGTH

_FIRE = "Fire and ways out: a teaching check. The local fire authority and an architect decide."

LEAST_OPENING_M2 = 5.7 * float(FT2.factor)
"""Net clear opening [m²]: 5.7 ft². IRC 2021, R310.2.1, in its own unit; 0.530 m² as printed."""
LEAST_HEIGHT_M = 24 * float(IN.factor)
LEAST_WIDTH_M = 20 * float(IN.factor)
MOST_SILL_M = 44 * float(IN.factor)
"""Clear height, clear width and sill of an escape opening [m]: 24 in, 20 in and 44 in."""


def escape_faults(width_m: float, height_m: float, sill_m: float) -> tuple[str, ...]:
    """Return which of the four tests an opening does not meet; all four hold together.

    20 in by 24 in meets both sides and is 3.3 ft² of 5.7 (a published example):

    >>> escape_faults(20 * 0.0254, 24 * 0.0254, 0.9)
    ('area',)
    >>> escape_faults(20 * 0.0254, 42 * 0.0254, 44 * 0.0254)
    ()
    """
    same = 1 - 1e-9
    tests = (
        ("area", width_m * height_m >= LEAST_OPENING_M2 * same),
        ("height", height_m >= LEAST_HEIGHT_M * same),
        ("width", width_m >= LEAST_WIDTH_M * same),
        ("sill", sill_m <= MOST_SILL_M / same),
    )
    return tuple(name for name, holds in tests if not holds)


def slept_in(package: Package, uses: tuple[str, ...] = ()) -> tuple[Room, ...]:
    """Return the rooms of some uses, sleep where none is named, and any other with sleepers."""
    wanted = uses or ("sleep",)
    return tuple(room for room in package.rooms if room.use in wanted or room.sleepers)


def _escape(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    steps: list[Step] = []

    def is_escape(mark: str, width: float, height: float, sill: float) -> bool:
        found = escape_faults(width, height, sill)
        sizes = (Amount(width, LENGTH), Amount(height, LENGTH), Amount(width * height, AREA))
        figures = (mark, *sizes, Amount(sill, LENGTH), ", ".join(found) or "an escape")
        steps.append(Step("{}: {} × {} = {}, sill {}: {}", figures))
        return not found

    def by_door(door: Door) -> bool:
        return door.is_outside and is_escape(door.mark, door.clear_w_m, door.height_m, 0.0)

    def by_window(window: Window) -> bool:
        return window.unless_blank("opens") != "fixed" and is_escape(
            window.mark, window.escape_w_m, window.escape_h_m, window.sill_m
        )

    def has_escape(room: Room) -> bool:
        doors = [door for door in package.rows_of(Door) if door.room == room.mark]
        windows = [w for w in package.rows_of(Window) if w.room == room.mark]
        ways = [partial(by_door, door) for door in doors]
        return any_holds([*ways, *(partial(by_window, window) for window in windows)])

    def fault(room: Room) -> str | None:
        return None if has_escape(room) else room.name

    rooms = slept_in(package, uses)
    return [all_without(rooms, fault, steps)] if rooms else []


def any_holds(ways: Sequence[Callable[[], bool]]) -> bool:
    """Tell whether one holds. Raises Lacking where none does and one may."""
    cells: list[Cell] = []
    for way in ways:
        try:
            if way():
                return True
        except Lacking as lacks:
            cells += lacks.cells
    if cells:
        raise Lacking(*cells)
    return False


def _alarms(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    rooms, have = len(slept_in(package)), package.ways_out.smoke_alarms
    step = Step("{} − ({} sleeping rooms + 1 outside them)", (have, rooms))
    return [Measured(values=(have - rooms - 1,), steps=(step,))]


def _co_alarms(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    if not (package.plant.burns or package.plant.heater in BURNING):
        return [all_but([], notes=(Step("nothing burns indoors"),))]
    return [all_but([] if package.ways_out.co_alarms else ["a carbon monoxide alarm"])]


GUARDED_DROP_M = 0.6
"""A drop over this wants a guard [m]. Common practice; the US code says 30 in (762 mm)."""


def _guard(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    row = package.ways_out
    if row.drop_m <= GUARDED_DROP_M * (1 + SAME):
        return []
    note = Step("at a drop of {}", (Amount(row.drop_m, LENGTH),))
    return [scheduled(row, "guard_mm", LENGTH, (note,))]


def _swings(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    outside = [door for door in package.doors if door.is_outside]
    require_some(outside, "an outside door (door schedule)")
    return [all_that_hold(outside, lambda door: door.unless_blank("swing") is not None)]


def _handrails(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    if package.ramp.rise_m <= ramp_rule(package).rail_rise_m * (1 + SAME):
        return []
    return [scheduled(package.ramp, "handrails", COUNT)]


def _ramp_width(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    if is_threshold(package):
        return []
    return [scheduled(package.ramp, "ramp_clear_w", LENGTH)]


def _places(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    need = sum(gathered(package.occupants, lambda row: row.step_free))
    rooms = [room for room in slept_in(package) if room.reached_by == "floor"]
    marks = {room.mark for room in rooms}
    bunks = [row for row in package.rows_of(Furniture) if row.reached_by != "floor"]
    low = sum(gathered(rooms, lambda room: room.sleepers))
    climbed = sum(gathered(bunks, lambda row: row.n * row.night if row.room in marks else 0))
    value = low - climbed - need
    words = "{} places on the floor of entry − {} in upper bunks − {} people who need one"
    return [Measured(values=(value,), steps=(Step(words, (low, climbed, need)),))]


ESCAPE_CHECKS = (
    Check(
        slug="escape_window",
        title="An escape opening from every sleeping room",
        topic="Ways out",
        kinds=(NIGHT,),
        measure=_escape,
        schedules=("rooms", "windows"),
        uses=("sleep",),
        rule=Rule.ALL,
        formula="w · h ≥ 5.7 ft², h ≥ 24 in, w ≥ 20 in, sill ≤ 44 in, together",
        meaning="w, h net clear opening when fully open [in]; sill above the floor [in]",
        citations=(IRC_ESCAPE,),
        limits="US dwellings. The metric figures that the code prints are rounded: the inches are "
        "held here. UK guidance asks 0.33 m², 450 mm each way and a sill of at most 1,100 mm.",
        question="{value}: no window or door large enough to escape by. How does a sleeper get "
        "out?",
        caution=_FIRE,
    ),
    Check(
        slug="smoke_alarms",
        title="Smoke alarms beyond those needed",
        topic="Ways out",
        kinds=(NIGHT,),
        measure=_alarms,
        is_monotone=True,
        schedules=("ways_out", "rooms"),
        formula="n − (n_rooms + 1)",
        meaning="n smoke alarms; n_rooms sleeping rooms, and one outside them",
        citations=(IRC_ALARM,),
        limits="One storey; each storey more takes one more. Linked, so that all sound together.",
        question="Alarms less those needed: {value}, against {target}. What wakes someone who is "
        "deaf?",
        caution=_FIRE,
    ),
    Check(
        slug="co_alarm",
        title="A carbon monoxide alarm where anything burns",
        topic="Ways out",
        measure=_co_alarms,
        schedules=("plant", "ways_out"),
        rule=Rule.ALL,
        formula="what burns has an alarm",
        meaning="the plant's row and the ways out's",
        citations=(IRC_ALARM,),
        limits="One at least; sleeping rooms off it may need their own.",
        question="No carbon monoxide alarm is scheduled. A stove smoulders: what wakes them?",
        caution=_FIRE,
    ),
    Check(
        slug="guard_height",
        title="Guard at the largest drop",
        topic="Ways out",
        scales=(LENGTH,),
        measure=_guard,
        is_monotone=True,
        schedules=("ways_out",),
        formula="h, where the drop is over 600 mm",
        meaning="h guard above the floor [mm]",
        citations=(IRC_GUARD, PRACTICE),
        limits="The largest drop alone; openings in the guard, and climbing it, are not in it.",
        question="The guard is {value}, against {target}. In the dark, at the edge: what stops me?",
        caution="Falls kill: guards follow the local code, designed by licensed people.",
    ),
    Check(
        slug="door_swings",
        title="Outside doors whose swing is said",
        topic="Ways out",
        measure=_swings,
        schedules=("doors",),
        rule=Rule.ALL,
        formula="each outside door has a swing",
        meaning="in, out, slides or hatch",
        citations=(PRACTICE,),
        limits="That it is said, not which is right: snow holds an outward door shut.",
        question="{value}: no swing is said. Inwards, or against what lies outside?",
        caution=_FIRE,
    ),
)
ACCESS_CHECKS = (
    Check(
        slug="ramp_width",
        title="Clear width of the ramp",
        topic="Access",
        scales=(LENGTH,),
        measure=_ramp_width,
        is_monotone=True,
        schedules=("ramp",),
        formula="w",
        meaning="w clear width between handrails [mm]",
        citations=(ADA_RAMP_WIDTH,),
        limits="As scheduled, between rails.",
        question="The ramp is {value} clear between its rails, against {target}. Past whom?",
        caution="A teaching check: the local access code and a licensed architect decide.",
    ),
    Check(
        slug="step_free_thresholds",
        title="Thresholds of the step-free way",
        topic="Access",
        scales=(LENGTH,),
        measure=lambda package, _: each_scheduled(step_free_doors(package), "threshold_mm", LENGTH),
        is_monotone=True,
        schedules=("doors",),
        rule=Rule.AT_MOST,
        formula="h",
        meaning="h threshold of each door of the step-free way [mm]",
        citations=(ADA_THRESHOLD,),
        limits="As typed: 13 mm (½ in) is the US limit, bevelled over 6 mm.",
        question="{name} has a threshold of {value}, against {target}. Over it in a wheelchair?",
        caution="A teaching check: the local access code and a licensed architect decide.",
    ),
    Check(
        slug="ramp_handrails",
        title="Handrails of the ramp",
        topic="Access",
        measure=_handrails,
        is_monotone=True,
        schedules=("ramp",),
        formula="n, where the rise is over 150 mm (6 in)",
        meaning="n sides with a handrail",
        citations=(ADA_RAIL,),
        limits="Heights and ends of the rails are not in it.",
        question="Handrails on the ramp: {value}, against {target}. What do you hold in the wind?",
        caution="A teaching check: the local access code and a licensed architect decide.",
    ),
    Check(
        slug="step_free_beds",
        title="Beds without a climb beyond those needed",
        topic="Access",
        kinds=(NIGHT,),
        measure=_places,
        is_monotone=True,
        schedules=("rooms", "furniture", "occupants"),
        formula="n_low − n_up − n_need",
        meaning="n_low sleepers of rooms reached by the floor; n_up places of beds there that are "
        "reached by a stair or ladder; n_need people who need it step-free",
        citations=(PRACTICE,),
        limits="Upper bunks are those of the furniture schedule: where it has no beds, none is "
        "known.",
        question="Beds without a climb, less those needed: {value}, against {target}. Whose is "
        "the worst?",
        caution="A teaching check: the local access code and a licensed architect decide.",
    ),
)
