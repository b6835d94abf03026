"""Escape windows, alarms, guards, thresholds and swings."""

from criteria.checks.access import step_free_doors
from criteria.checks.check import Check, blank
from criteria.checks.reading import all_but, each, scheduled
from criteria.findings import Amount, Measured, Rule, Step
from criteria.package import Package
from criteria.schedules.access import Door, Ramp, WaysOut
from criteria.schedules.openings import Window
from criteria.schedules.plant import Plant
from criteria.schedules.rooms import Room
from criteria.sources import (
    ADA_RAIL,
    ADA_RAMP_WIDTH,
    ADA_THRESHOLD,
    IRC_ALARM,
    IRC_ESCAPE,
    IRC_GUARD,
    PRACTICE,
)
from criteria.units import AREA, COUNT, FT2, IN, LENGTH

_FIRE = "Fire and ways out: a teaching check. The local fire authority and an architect decide."

LEAST_OPENING_M2 = float(FT2.to_si(57)) / 10
"""Net clear opening [m²]: 5.7 ft². IRC 2021, R310.2.1, in its own unit; 0.530 m² as printed."""
LEAST_HEIGHT_M = float(IN.to_si(24))
LEAST_WIDTH_M = float(IN.to_si(20))
MOST_SILL_M = float(IN.to_si(44))
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


_ESCAPE_HEADS = ("escape_w", "escape_h", "sill")


def _escape(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    rooms = package.rooms_used_for(uses or ("sleep",))
    if not rooms:
        return []
    missing: list[str] = []
    outside, steps = [], []
    for room in rooms:
        windows = package.windows_of(room)
        known = [w for w in windows if not blank(Window.schedule, w, *_ESCAPE_HEADS)]
        if windows and not known:
            missing += [c for w in windows for c in blank(Window.schedule, w, *_ESCAPE_HEADS)]
            continue
        faults = [_faults_step(window) for window in known]
        steps += [step for _, step in faults]
        if all(found for found, _ in faults):
            outside.append(room.name)
    if missing and not outside and not steps:
        return [Measured(missing=tuple(missing))]
    return [all_but(outside, missing, steps)]


def _faults_step(window: Window) -> tuple[tuple[str, ...], Step]:
    width, height = window.escape_w_m or 0, window.escape_h_m or 0
    found = escape_faults(width, height, window.sill_m or 0)
    figures = (
        window.mark, Amount(width, LENGTH), Amount(height, LENGTH), Amount(width * height, AREA),
        Amount(window.sill_m or 0, LENGTH), ", ".join(found) or "an escape",
    )  # fmt: skip
    return found, Step("{}: {} × {} = {}, sill {}: {}", figures)


def _alarms(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    missing = blank(WaysOut.schedule, package.ways_out, "smoke_alarms")
    rooms = package.rooms_used_for(("sleep",))
    if not package.rooms:
        missing += ("rows of the room schedule",)
    if missing:
        return [Measured(missing=missing)]
    need = len(rooms) + 1
    have = package.ways_out.smoke_alarms or 0
    step = Step("{} − ({} sleeping rooms + 1 outside them)", (have, len(rooms)))
    return [Measured(values=(have - need,), steps=(step,))]


def _co_alarms(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    if package.plant.burns is False:
        return [all_but([], notes=(Step("nothing burns indoors"),))]
    missing = (
        *blank(Plant.schedule, package.plant, "burns"),
        *blank(WaysOut.schedule, package.ways_out, "co_alarms"),
    )
    if missing:
        return [Measured(missing=missing)]
    return [all_but([] if package.ways_out.co_alarms else ["a carbon monoxide alarm"])]


GUARDED_DROP_M = 0.6
"""A drop over this wants a guard [m]. Common practice; the US code says 30 in (762 mm)."""


def _guard(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    row = package.ways_out
    missing = blank(WaysOut.schedule, row, "drop_mm")
    if missing:
        return [Measured(missing=missing)]
    if (row.drop_m or 0) <= GUARDED_DROP_M * (1 + 1e-9):
        return []
    note = Step("at a drop of {}", (Amount(row.drop_m or 0, LENGTH),))
    return [scheduled(WaysOut.schedule, row, "guard_mm", LENGTH, (note,))]


def _thresholds(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    doors = step_free_doors(package)
    if not doors:
        return [Measured(missing=("a door of the step-free way (door schedule)",))]

    def as_typed(door: Door) -> tuple[float, tuple[Step, ...]]:
        value = door.threshold_m or 0.0
        return value, (Step("{}: threshold {}", (door.mark, Amount(value, LENGTH))),)

    return each(Door.schedule, doors, ("threshold_mm",), as_typed)


def _swings(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    outside = [door for door in package.doors if door.is_outside]
    if not outside:
        return [Measured(missing=("an outside door (door schedule)",))]
    return [all_but([door.mark for door in outside if door.swing is None])]


def _handrails(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    row = package.ramp
    if missing := blank(Ramp.schedule, row, "rise_mm"):
        return [Measured(missing=missing)]
    if (row.rise_m or 0) <= HANDRAIL_RISE_M * (1 + 1e-9):
        return []
    return [scheduled(Ramp.schedule, row, "handrails", COUNT)]


HANDRAIL_RISE_M = 0.150
"""A rise over this takes handrails on both sides [m]. 2010 ADA Standards, 405.8 (6 in)."""


def _ramp_width(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    if package.ramp.rise_m == 0:
        return []
    return [scheduled(Ramp.schedule, package.ramp, "ramp_clear_w", LENGTH)]


def _places(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    listed = [row for row in package.occupants if row.step_free is not None]
    if not listed:
        return [Measured(missing=("Step-free needed (occupant schedule)",))]
    need = sum(row.step_free or 0 for row in listed)
    low = [room for room in package.rooms_used_for(("sleep",)) if not _is_climbed(room)]
    missing = [cell for room in low for cell in blank(Room.schedule, room, "sleepers")]
    if missing:
        return [Measured(missing=tuple(missing))]
    have = sum(room.sleepers or 0 for room in low)
    step = Step("{} places without a climb − {} people who need one", (have, need))
    return [Measured(values=(have - need,), steps=(step,))]


def _is_climbed(room: Room) -> bool:
    words = (room.name or "").casefold()
    return any(word in words for word in ("loft", "upper", "gallery", "mezzanine"))


ESCAPE_WINDOW = Check(
    slug="escape_window",
    title="An escape opening from every sleeping room",
    topic="Ways out",
    scales=(COUNT,),
    measure=_escape,
    schedules=("rooms", "windows"),
    uses=("sleep",),
    rule=Rule.ALL,
    is_count=True,
    formula="w · h ≥ 5.7 ft², h ≥ 24 in, w ≥ 20 in, sill ≤ 44 in, together",
    meaning="w, h net clear opening when fully open [in]; sill above the floor [in]",
    citations=(IRC_ESCAPE,),
    limits="US dwellings. The metric figures that the code prints are rounded: the inches are held "
    "here. UK guidance asks 0.33 m², 450 mm each way and a sill of at most 1,100 mm.",
    question="{value}: no window or door large enough to escape by. How does a sleeper get out?",
    caution=_FIRE,
)

SMOKE_ALARMS = Check(
    slug="smoke_alarms",
    title="Smoke alarms beyond those needed",
    topic="Ways out",
    scales=(COUNT,),
    measure=_alarms,
    schedules=("ways_out", "rooms"),
    is_count=True,
    formula="n − (n_rooms + 1)",
    meaning="n smoke alarms; n_rooms sleeping rooms, and one outside them",
    citations=(IRC_ALARM,),
    limits="One storey; each storey more takes one more. Linked, so that all sound together.",
    question="Alarms less those needed: {value}, against {target}. What wakes a guest who is deaf?",
    caution=_FIRE,
)

CO_ALARM = Check(
    slug="co_alarm",
    title="A carbon monoxide alarm where anything burns",
    topic="Ways out",
    scales=(COUNT,),
    measure=_co_alarms,
    schedules=("plant", "ways_out"),
    rule=Rule.ALL,
    is_count=True,
    formula="what burns has an alarm",
    meaning="the plant's row and the ways out's",
    citations=(IRC_ALARM,),
    limits="One at least; sleeping rooms off it may need their own.",
    question="No carbon monoxide alarm is scheduled. A stove smoulders: what wakes them?",
    caution=_FIRE,
)

GUARD = Check(
    slug="guard_height",
    title="Guard at the largest drop",
    topic="Ways out",
    scales=(LENGTH,),
    measure=_guard,
    schedules=("ways_out",),
    formula="h, where the drop is over 600 mm",
    meaning="h guard above the floor [mm]",
    citations=(IRC_GUARD, PRACTICE),
    limits="The largest drop alone; openings in the guard, and climbing it, are not in it.",
    question="The guard is {value}, against {target}. Fog at the edge: what stops me?",
    caution="Falls kill: guards follow the local code, designed by licensed people.",
)

THRESHOLDS = Check(
    slug="step_free_thresholds",
    title="Thresholds of the step-free way",
    topic="Access",
    scales=(LENGTH,),
    measure=_thresholds,
    schedules=("doors",),
    rule=Rule.AT_MOST,
    formula="h",
    meaning="h threshold of each door of the step-free way [mm]",
    citations=(ADA_THRESHOLD,),
    limits="As typed: 13 mm (½ in) is the US limit, bevelled over 6 mm.",
    question="{name} has a threshold of {value}, against {target}. Over it in a wheelchair?",
    caution="A teaching check: the local access code and a licensed architect decide.",
)

SWINGS = Check(
    slug="door_swings",
    title="Outside doors whose swing is said",
    topic="Ways out",
    scales=(COUNT,),
    measure=_swings,
    schedules=("doors",),
    rule=Rule.ALL,
    is_count=True,
    formula="each outside door has a swing",
    meaning="in, out, slides or hatch",
    citations=(PRACTICE,),
    limits="That it is said, not which is right: snow holds an outward door shut.",
    question="{value}: no swing is said. Inwards, or against the snow?",
    caution=_FIRE,
)

HANDRAILS = Check(
    slug="ramp_handrails",
    title="Handrails of the ramp",
    topic="Access",
    scales=(COUNT,),
    measure=_handrails,
    schedules=("ramp",),
    is_count=True,
    formula="n, where the rise is over 150 mm",
    meaning="n sides with a handrail",
    citations=(ADA_RAIL,),
    limits="Heights and ends of the rails are not in it.",
    question="Handrails on the ramp: {value}, against {target}. What do you hold in the wind?",
    caution="A teaching check: the local access code and a licensed architect decide.",
)

RAMP_WIDTH = Check(
    slug="ramp_width",
    title="Clear width of the ramp",
    topic="Access",
    scales=(LENGTH,),
    measure=_ramp_width,
    schedules=("ramp",),
    formula="w",
    meaning="w clear width between handrails [mm]",
    citations=(ADA_RAMP_WIDTH,),
    limits="As scheduled, between rails.",
    question="The ramp is {value} clear between its rails, against {target}. Past whom?",
    caution="A teaching check: the local access code and a licensed architect decide.",
)

STEP_FREE_BEDS = Check(
    slug="step_free_beds",
    title="Beds without a climb beyond those needed",
    topic="Access",
    scales=(COUNT,),
    measure=_places,
    schedules=("rooms", "occupants"),
    is_count=True,
    formula="n_low − n_need",
    meaning="n_low sleepers of rooms that aren't lofts; n_need people who need it step-free",
    citations=(PRACTICE,),
    limits="Reads the rooms' names; an upper bunk in a low room is not told apart.",
    question="Beds without a climb, less those needed: {value}, against {target}. Whose is "
    "the worst?",
    caution="A teaching check: the local access code and a licensed architect decide.",
)

ESCAPE_CHECKS = (ESCAPE_WINDOW, SMOKE_ALARMS, CO_ALARM, GUARD, SWINGS)
ACCESS_CHECKS = (RAMP_WIDTH, THRESHOLDS, HANDRAILS, STEP_FREE_BEDS)
