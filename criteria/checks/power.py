"""Electricity made against used, and how long the battery lasts."""

from collections.abc import Sequence
from dataclasses import dataclass

from criteria.checks.check import Check
from criteria.checks.reading import about, gathered, scheduled
from criteria.errors import require_positive
from criteria.findings import Amount, Measured, Rule, Step
from criteria.measures import power
from criteria.package import Package
from criteria.schedules.climate import Month
from criteria.schedules.power import Load
from criteria.sources import BATTERY, PERFORMANCE_RATIO, PRACTICE
from criteria.typed.cells import require_some
from criteria.units import (
    ANGLE,
    DAYS,
    ENERGY,
    HOURS,
    PEAK_POWER,
    RATIO,
    SHARE_PERCENT,
    STORED_ENERGY,
)

POWER_CAUTION = (
    "Batteries, panels and wiring can burn and kill: a licensed electrician designs them."
)


@dataclass(frozen=True)
class Used:
    """Electricity used in a day [J], each load's share and the working."""

    total_j: float
    each: tuple[tuple[Load, float], ...]
    steps: tuple[Step, ...]


def how_many(package: Package, load: Load) -> int:
    """Return how many of a load there are: what each person has, as many times as there are."""
    return load.n * package.people if load.is_for_each else load.n


def used(package: Package, loads: Sequence[Load]) -> Used:
    """Return what loads use in a day. Raises Lacking with every blank or refused cell."""
    figures = gathered(
        loads, lambda x: power.used_in_a_day(how_many(package, x), x.power_w, x.run_s)
    )
    each = tuple(zip(loads, figures, strict=True))
    total = sum(figures)
    words = " + ".join(["{} {}"] * len(each)) + " = {}"
    parts = [part for load, e in each for part in (load.mark, Amount(e, ENERGY))]
    return Used(total, each, (Step("used: " + words, (*parts, Amount(total, ENERGY))),))


def _design_sun(package: Package) -> float:
    """Return the sun of the design month [s]: the site sheet's, or that of its climate row."""
    site = package.site
    given = site.unless_blank("sun_hours_s")
    design = site.unless_blank("design_month") if given is None else None
    month = next((m for m in package.rows_of(Month) if design and m.month == design), None)
    sun: float = site.sun_hours_s if given is not None or month is None else month.sun_s
    return sun


def made(package: Package) -> tuple[float, tuple[Step, ...]]:
    """Return what panels and wind make in a day of the design month [J], and its working."""
    plant, factor, sun = package.power, package.site.system_factor, _design_sun(package)
    total = power.made_in_a_day(plant.panels_w, sun, factor, plant.wind_j_day)
    figures = (
        Amount(plant.panels_w, PEAK_POWER),
        Amount(sun, HOURS),
        f"{factor:g}",
        Amount(plant.wind_j_day, ENERGY),
        Amount(total, ENERGY),
    )
    return total, (Step("made: {} × {} × {} + wind {} = {}", figures),)


def _power_ratio(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    total, steps = made(package)
    use = used(package, package.loads)
    value = total / require_positive("electricity used", use.total_j, "J")
    amounts = (Amount(total, ENERGY), Amount(use.total_j, ENERGY), Amount(value, RATIO))
    notes = (Step("made {}, used {}", amounts[:2]),)
    last = Step("{} ÷ {} = {}", amounts)
    return [Measured(values=(value,), steps=(*steps, *use.steps, last), notes=notes)]


def _days(package: Package, loads: Sequence[Load], words: str) -> list[Measured]:
    plant, use = package.power, used(package, loads)
    value = power.battery_days(plant.battery_j, plant.usable_share, use.total_j)
    figures = (
        Amount(plant.battery_j, STORED_ENERGY),
        f"{plant.usable_share:g}",
        Amount(use.total_j, ENERGY),
        Amount(value, DAYS),
    )
    return [Measured(values=(value,), steps=(*use.steps, Step(words, figures)))]


def _essential_days(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    kept = [load for load in package.loads if load.essential]
    require_some(kept, "a load that is essential (load schedule)")
    return _days(package, kept, "{} × {} usable ÷ {} a day of what is essential = {}")


def _largest_load(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    use = used(package, package.loads)
    load, energy = max(use.each, key=lambda pair: (pair[1], pair[0].mark))
    value = energy / require_positive("electricity used", use.total_j, "J")
    figures = (Amount(energy, ENERGY), Amount(use.total_j, ENERGY), Amount(value, SHARE_PERCENT))
    step = Step("{} ÷ {} = {}", figures)
    return [Measured(**about(load), values=(value,), steps=(step,))]


POWER_CHECKS = (
    Check(
        slug="power_ratio",
        title="Power made / power used",
        topic="Power",
        by_people=True,
        scales=(RATIO,),
        measure=_power_ratio,
        is_monotone=True,
        schedules=("power", "loads", "site", "climate"),
        formula="r = (P · t · f + E_wind) ÷ Σ(n · W · h)",
        meaning="P peak power of panels [kW]; t sun-hours in the design month [h]; f system "
        "factor [1]; E_wind energy of wind a day [Wh]; n, W, h of each load",
        citations=(PERFORMANCE_RATIO, PRACTICE),
        limits="A mean day of the design month. Sun-hours are the site sheet's, not the student's.",
        question="You make {value} of what you use, against {target}. What is switched off on the "
        "third dark day?",
        caution=POWER_CAUTION,
    ),
    Check(
        slug="battery_days",
        title="Battery days, usable energy",
        topic="Power",
        by_people=True,
        scales=(DAYS,),
        measure=lambda package, _: _days(package, package.loads, "{} × {} usable ÷ {} a day = {}"),
        is_monotone=True,
        schedules=("power", "loads"),
        formula="t = C · d ÷ Σ(n · W · h)",
        meaning="C battery as labelled [Wh]; d share that may be drawn [1]; n, W, h of each load",
        citations=(BATTERY, PRACTICE),
        limits="New battery, mild; cold and age take more. Inverter loss is not in it.",
        question="The battery lasts {value}, against {target}. Is that the label, or what may be "
        "drawn?",
        caution=POWER_CAUTION,
    ),
    Check(
        slug="largest_load",
        title="Largest load's share of the day",
        topic="Power",
        by_people=True,
        scales=(SHARE_PERCENT,),
        measure=_largest_load,
        schedules=("loads",),
        rule=Rule.AT_MOST,
        formula="s = max(n · W · h) ÷ Σ(n · W · h)",
        meaning="n, W, h of each load",
        citations=(PRACTICE,),
        limits="Energy of a day, not power at one moment.",
        question="{name} takes {value} of the day's energy, against {target}. Is it worth it?",
        caution=POWER_CAUTION,
    ),
    Check(
        slug="essential_days",
        title="Battery days, essential loads alone",
        topic="Power",
        by_people=True,
        scales=(DAYS,),
        measure=_essential_days,
        is_monotone=True,
        schedules=("power", "loads"),
        formula="t = C · d ÷ Σ(n · W · h), of essential loads",
        meaning="C battery [Wh]; d usable share [1]; n, W, h of loads marked essential",
        citations=(BATTERY, PRACTICE),
        limits="What is switched off must really be off: by whom, and how do they know?",
        question="With the rest off it lasts {value}, against {target}. Who switches off, and "
        "when?",
        caution=POWER_CAUTION,
    ),
    Check(
        slug="panel_tilt",
        title="Tilt of the panels",
        topic="Power",
        scales=(ANGLE,),
        measure=lambda package, _: [scheduled(package.power, "tilt", ANGLE)],
        schedules=("power",),
        formula="β",
        meaning="β above the horizontal [°]",
        citations=(PRACTICE,),
        limits="Snow slides off from about 60° (common practice); flatter panels are swept.",
        question="Panels at {value}, against {target}. Who sweeps them, standing on what?",
        caution=POWER_CAUTION,
    ),
)
