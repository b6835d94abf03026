"""Getting in without a step: the ramp and the doors on the way."""

import re

from criteria.checks.check import Check
from criteria.checks.reading import each_scheduled
from criteria.findings import Amount, Measured, Rule, Step
from criteria.measures import access
from criteria.package import Package
from criteria.schedules.access import Door
from criteria.sources import ADA_DOOR, ADA_RAMP, PRACTICE
from criteria.typed.cells import require_some
from criteria.units import LENGTH, RATIO, ROOM_LENGTH, SLOPE

_CAUTION = "A teaching check: the local access code and a licensed architect decide."

DAY_ROOM = re.compile(r"day room|common room|living room|hearth", re.IGNORECASE)
TOILET = re.compile(r"toilet|\bwc\b|shower|wash", re.IGNORECASE)


def ramp_rule(package: Package) -> access.RampRule:
    """Return the standard's inches where a studio draws in them or the rise is typed in them."""
    is_in_inches = package.ramp.is_in_inches("rise_m") or package.is_us
    return access.INCH_RAMP if is_in_inches else access.METRIC_RAMP


def is_threshold(package: Package) -> bool:
    """Whether the rise to the door is a threshold at most, and wants no ramp."""
    return not access.ramp_need(package.ramp.rise_m, ramp_rule(package)).runs


def _ramp_length(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    rise, rule = package.ramp.rise_m, ramp_rule(package)
    need = access.ramp_need(rise, rule)
    if not need.runs:
        words = "no rise: no ramp is needed"
        if rise:
            words = "a rise of {} is a threshold: no ramp is needed"
        note = Step(words, (Amount(rise, LENGTH),))
        return [Measured(values=(1.0,), steps=(note,), notes=(note,))]
    drawn = package.ramp.drawn_m
    counted = f"{need.runs} run{'s' if need.runs > 1 else ''}, {need.landings} landings"
    needs, has = (Amount(x, ROOM_LENGTH) for x in (need.length_m, drawn))
    notes = (Step("needs {} ({}), drawn {}", (needs, counted, has)),)
    landing, value = Amount(rule.landing_m, LENGTH), drawn / need.length_m
    figures = (Amount(rise, LENGTH), access.SLOPE_RUN, need.landings, landing, needs)
    steps = (
        Step("{} × {} + {} × {} = {}", figures),
        Step("{} ÷ {} = {}", (has, needs, Amount(value, RATIO))),
    )
    return [Measured(values=(value,), steps=steps, notes=notes)]


def _ramp_slope(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    run = package.ramp.slope_run
    step = Step("1 ÷ {} = {}", (f"{run:g}", Amount(1 / run, SLOPE)))
    return [Measured(values=(1 / run,), steps=(step,), notes=(Step("1:{} drawn", (f"{run:g}",)),))]


def step_free_doors(package: Package) -> tuple[Door, ...]:
    """Return the doors of the step-free way.

    Those that are marked so; where none is: the main exit, doors of the day room, and the
    toilet door that is widest, or those whose width isn't known.
    """
    marked = tuple(door for door in package.doors if door.step_free)
    if marked:
        return marked
    chosen = [d for d in package.doors if d.role == "main exit" or DAY_ROOM.search(d.place or "")]
    toilets = [d for d in package.doors if TOILET.search(d.place or "") and d not in chosen]
    unknown = [door for door in toilets if door.if_given("clear_w_m") is None]
    chosen += unknown or sorted(toilets, key=lambda door: (door.clear_w_m, door.mark))[-1:]
    require_some(chosen, "a door of the step-free way (door schedule)")
    return tuple(chosen)


def _floor_above_datum(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    ground, rise = package.site.ground_m, package.ramp.rise_m
    value, flood = ground + rise, package.site.if_given("flood_m")
    figures = (Amount(ground, ROOM_LENGTH), Amount(rise, ROOM_LENGTH), Amount(value, ROOM_LENGTH))
    notes: tuple[Step, ...] = ()
    if flood is not None:
        side = "above" if value >= flood else "below"
        apart = Amount(abs(value - flood), ROOM_LENGTH)
        notes = (Step("{} {} the flood or storm tide", (apart, side)),)
    return [Measured(values=(value,), steps=(Step("{} + {} = {}", figures),), notes=notes)]


STEP_FREE_CHECKS = (
    Check(
        slug="ramp_length",
        title="Ramp length drawn / needed",
        topic="Access",
        scales=(RATIO,),
        measure=_ramp_length,
        schedules=("ramp",),
        formula="r = L_drawn ÷ (12 · H + (n + 1) · 1,525 mm),  n = ⌈H ÷ 760 mm⌉; in inches 60 and "
        "30",
        meaning="H rise, ground to finished floor [mm]; n runs; L_drawn length on plan, landings "
        "and all [mm]",
        citations=(ADA_RAMP,),
        limits="A straight ramp at 1:12; a rise up to 13 mm (½ in) is a threshold. Turns need "
        "larger landings, and handrails both sides are needed over 150 mm of rise. The standard "
        "doesn't bind a private house.",
        question="The ramp drawn is {value} of what the rise needs with its landings. What moves?",
        caution=_CAUTION,
    ),
    Check(
        slug="ramp_slope",
        title="Ramp slope",
        topic="Access",
        scales=(SLOPE,),
        measure=_ramp_slope,
        is_monotone=True,
        schedules=("ramp",),
        rule=Rule.AT_MOST,
        formula="i = 1 ÷ s",
        meaning="s run for one of rise [1]",
        citations=(ADA_RAMP,),
        limits="As typed from the drawing; level chains are another matter.",
        question="The ramp rises {value} for one of run, against {target}. Who pushes?",
        caution=_CAUTION,
    ),
    Check(
        slug="step_free_doors",
        title="Step-free doors, clear width",
        topic="Access",
        scales=(LENGTH,),
        measure=lambda package, _: each_scheduled(step_free_doors(package), "clear_w", LENGTH),
        is_monotone=True,
        schedules=("doors",),
        formula="w = min(w_clear)",
        meaning="w_clear clear width of each door of the step-free way: those marked so, or the "
        "main exit, the day room's and the widest toilet's [mm]",
        citations=(ADA_DOOR,),
        limits="Clear width alone: room to turn, thresholds and handles are not in it.",
        question="{name} is {value} clear, against {target}. Is that the leaf, or what is left "
        "when it stands open?",
        caution=_CAUTION,
    ),
    Check(
        slug="floor_above_datum",
        title="Finished floor above datum",
        topic="Access",
        scales=(ROOM_LENGTH,),
        measure=_floor_above_datum,
        is_monotone=True,
        schedules=("site", "ramp"),
        formula="z = z_ground + H",
        meaning="z_ground ground above datum [m]; H rise, ground to finished floor [m]",
        citations=(PRACTICE,),
        limits="Waves, settlement and a higher sea are not in it.",
        question="The floor stands at {value}, against {target}. What is wet in the worst storm?",
        caution="Flood levels are set by the authority; a licensed engineer decides.",
    ),
)
