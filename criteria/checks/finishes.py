"""Finishes: one for every room, washable, not slippery, not quick to burn, and falling right."""

from criteria.checks.check import Check
from criteria.checks.reading import all_but, all_that_hold, all_without, each_scheduled, gathered
from criteria.findings import Amount, Measured, Rule, Step
from criteria.measures import water
from criteria.package import Package
from criteria.schedules.finishes import Finish
from criteria.sources import ADA_FLOOR, FLAME, IRC_SHOWER, PRACTICE, WET_FRICTION
from criteria.typed.cells import lacking, require_some
from criteria.units import LENGTH, RATIO

SHARED = ("day", "kitchen", "sleep", "wc", "lab")


def _every_room(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    floors = {row.room for row in package.finishes if row.surface == "floor"}
    return [all_but([room.name for room in package.rooms if room.mark not in floors])]


def _cleanable(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    shared = {room.mark for room in package.rooms_used_for(uses or SHARED)}
    if not shared:
        return []
    rows = [row for row in package.finishes if row.room in shared]
    require_some(rows, "finishes of shared rooms (finish schedule)")
    return [all_that_hold(rows, lambda row: row.is_cleanable)]


def _wet_floors(package: Package) -> list[Finish]:
    floors = [row for row in package.finishes if row.surface == "floor"]
    wet = gathered(floors, lambda row: row if row.is_wet else None)
    if not any(wet):
        raise lacking("a floor that gets wet (finish schedule)")
    return [row for row in wet if row]


MOST_SMOKE = 450
"""Most smoke developed in any class [1]. International Building Code, 803.1.2."""


def flame_class(flame_spread: float, smoke: float) -> str:
    """Return the class of a finish by its indices, or nothing where it has none.

    Source: International Building Code 2018, 803.1.2 (ASTM E84).

    >>> [flame_class(f, 450) for f in (25, 26, 75, 76, 200, 201)], flame_class(10, 451)
    (['A', 'B', 'B', 'C', 'C', ''], '')
    """
    if smoke > MOST_SMOKE:
        return ""
    bounds = ((25, "A"), (75, "B"), (200, "C"))
    return next((name for most, name in bounds if flame_spread <= most), "")


def _flame(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    rows = [row for row in package.finishes if row.surface in ("wall", "ceiling")]
    require_some(rows, "walls and ceilings (finish schedule)")
    steps: list[Step] = []

    def has_class(row: Finish) -> bool:
        found = flame_class(row.flame_spread, row.smoke)
        figures = (row.mark, f"{row.flame_spread:g}", f"{row.smoke:g}", found or "none")
        steps.append(Step("{}: flame spread {}, smoke {}: class {}", figures))
        return bool(found)

    return [all_that_hold(rows, has_class, steps)]


NOMINAL = 0.020
"""What the plumbing code calls ¼ in 12: "2 per cent" [1]. A fall from here on drains, noted."""
LEVEL_TOLERANCE = 1e-6


def _fall(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    steps: list[Step] = []
    notes: list[Step] = []

    def fault(row: Finish) -> str | None:
        slope = water.fall(row.fall_rise_m, row.fall_run_m)
        sizes = (Amount(row.fall_rise_m, LENGTH), Amount(row.fall_run_m, LENGTH))
        steps.append(Step("{}: {} ÷ {} = {}", (row.mark, *sizes, f"{slope * 100:.3f} %")))
        if slope > water.STEEPEST_ACCESSIBLE + LEVEL_TOLERANCE:
            return "too steep to turn on"
        if slope < NOMINAL * (1 - 1e-9):
            return "too flat to drain"
        if slope < water.LEAST_TO_DRAIN - LEVEL_TOLERANCE:
            notes.append(Step("{} is flatter than ¼ in 12, which the code calls 2 %", (row.mark,)))
        return None

    return [all_without(_wet_floors(package), fault, steps, notes)]


FINISH_CHECKS = (
    Check(
        slug="floor_finishes",
        title="A floor finish for every room",
        topic="Finishes",
        measure=_every_room,
        schedules=("rooms", "finishes"),
        rule=Rule.ALL,
        formula="each room has a floor row in the finish schedule",
        meaning="rooms of the room schedule",
        citations=(PRACTICE,),
        limits="A row, not a sample: bring one.",
        question="{value}: no floor finish. Boots, soup, ash, wet wool: which floor forgives?",
    ),
    Check(
        slug="cleanable",
        title="Shared rooms that can be washed",
        topic="Finishes",
        measure=_cleanable,
        schedules=("rooms", "finishes"),
        uses=SHARED,
        rule=Rule.ALL,
        formula="each finish of a shared room can be washed",
        meaning="rooms of use " + ", ".join(SHARED),
        citations=(PRACTICE,),
        limits="As typed. Joints and corners hold more dirt than faces.",
        question="{value}: can't be washed. Who cleans it, and with what?",
    ),
    Check(
        slug="wet_friction",
        title="Friction of wet floors",
        topic="Finishes",
        scales=(RATIO,),
        measure=lambda package, _: each_scheduled(_wet_floors(package), "friction", RATIO),
        is_monotone=True,
        schedules=("finishes",),
        formula="μ",
        meaning="μ dynamic coefficient of friction, wet, as the maker gives it [1]",
        citations=(WET_FRICTION,),
        limits="Level floors. Ramps, showers and greasy floors need more. No code asks a number.",
        question="{name} has {value} wet, against {target}. In wet socks, with a pan?",
        caution="Slips hurt: ask for the maker's wet test on the floor as it will be.",
    ),
    Check(
        slug="flame_spread",
        title="Linings with a flame spread class",
        topic="Finishes",
        measure=_flame,
        is_monotone=True,
        schedules=("finishes",),
        rule=Rule.ALL,
        formula="flame spread ≤ 200 and smoke ≤ 450",
        meaning="indices of the maker's test: class A to 25, B to 75, C to 200",
        citations=(FLAME,),
        limits="Walls and ceilings. Foam plastic needs a thermal barrier whatever its class.",
        question="{value}: no flame spread class. What do you breathe when it burns?",
        caution="Fire: the local authority and a licensed architect decide.",
    ),
    Check(
        slug="wet_room_fall",
        title="Wet floors that drain and turn",
        topic="Finishes",
        measure=_fall,
        schedules=("finishes",),
        rule=Rule.ALL,
        formula="¼ ÷ 12 ≤ rise ÷ run ≤ 1 ÷ 48",
        meaning="rise, run of the fall to the drain [mm]; both limits are 2.083 %",
        citations=(IRC_SHOWER, ADA_FLOOR),
        limits="A drain needs a quarter inch in a foot; a wheelchair turns on no more than 1:48. "
        "They are one number: from 2.0 % up it counts as draining, with a note, and 0.0001 % over "
        "1:48 as level.",
        question="{value}. Which way does the water go, and which way the chair?",
        caution="A teaching check: the local access and plumbing codes decide.",
    ),
)
