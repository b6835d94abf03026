"""Electricity made against used, and how long the battery lasts."""

from dataclasses import dataclass

from criteria.checks.check import Check, blank
from criteria.checks.reading import scheduled
from criteria.findings import Amount, Measured, Rule, Step
from criteria.measures import power
from criteria.package import Package
from criteria.schedules.power import Load, PowerPlant
from criteria.schedules.site import Site
from criteria.sources import BATTERY, PERFORMANCE_RATIO, PRACTICE
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

_CAUTION = "Batteries, panels and wiring can burn and kill: a licensed electrician designs them."


@dataclass(frozen=True)
class Used:
    """Electricity used in a day [J], each load's share, its working and what was left out."""

    total_j: float
    each: tuple[tuple[Load, float], ...]
    steps: tuple[Step, ...]
    missing: tuple[str, ...]
    notes: tuple[Step, ...]


def used(package: Package) -> Used:
    """Return what the loads of a package use; rows with a blank are left out and named."""
    if not package.loads:
        return Used(0.0, (), (), ("rows of the load schedule",), ())
    each, missing, named = [], [], []
    for load in package.loads:
        cells = blank(Load.schedule, load, "n", "w_each", "h_day")
        if cells:
            missing += cells
            named.append(load.item or load.mark)
            continue
        each.append((load, power.used_in_a_day(load.n or 0, load.power_w or 0, load.run_s or 0)))
    total = sum(energy for _, energy in each)
    words = " + ".join(["{} {}"] * len(each)) + " = {}"
    figures = [part for load, e in each for part in (load.mark, Amount(e, ENERGY))]
    steps = (Step("used: " + words, (*figures, Amount(total, ENERGY))),) if each else ()
    notes = (Step("left out, no hours or power: {}", (", ".join(named),)),) if named else ()
    return Used(total, tuple(each), steps, tuple(missing), notes)


def _design_sun(package: Package) -> float | None:
    """Return the sun of the design month [s]: the site sheet's, or that of its climate row."""
    site = package.site
    if site.sun_hours_s is not None:
        return site.sun_hours_s
    month = next((m for m in package.climate if m.month == site.design_month), None)
    return month.sun_s if month else None


def made(package: Package) -> tuple[float, tuple[Step, ...], tuple[str, ...]]:
    """Return what panels and wind make in a day of the design month [J], and what is blank."""
    plant, site = package.power, package.site
    sun = _design_sun(package)
    missing = (
        *blank(PowerPlant.schedule, plant, "pv_kwp"),
        *(() if sun is not None else blank(Site.schedule, site, "sun_hours")),
        *blank(Site.schedule, site, "system_factor"),
    )
    if missing or sun is None:
        return 0.0, (), missing
    panels, factor = plant.panels_w or 0, site.system_factor or 0
    wind = plant.wind_j_day or 0.0
    total = power.made_in_a_day(panels, sun, factor, wind)
    figures = (
        Amount(panels, PEAK_POWER), Amount(sun, HOURS), f"{factor:g}", Amount(wind, ENERGY),
        Amount(total, ENERGY),
    )  # fmt: skip
    return total, (Step("made: {} × {} × {} + wind {} = {}", figures),), ()


def _power_ratio(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    use = used(package)
    total, steps, missing = made(package)
    if missing or not use.each or not use.total_j:
        return [Measured(missing=(*missing, *use.missing), notes=use.notes)]
    value = total / use.total_j
    amounts = (Amount(total, ENERGY), Amount(use.total_j, ENERGY), Amount(value, RATIO))
    notes = (Step("made {}, used {}", amounts[:2]), *use.notes)
    last = Step("{} ÷ {} = {}", amounts)
    return [
        Measured(
            values=(value,), steps=(*steps, *use.steps, last), missing=use.missing, notes=notes
        )
    ]


def _battery_days(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    use, plant = used(package), package.power
    missing = blank(PowerPlant.schedule, plant, "battery_kwh")
    if missing or not use.each or not use.total_j:
        return [Measured(missing=(*missing, *use.missing), notes=use.notes)]
    unsaid = blank(PowerPlant.schedule, plant, "usable_share")
    share = 1.0 if plant.usable_share is None else plant.usable_share
    battery = plant.battery_j or 0.0
    value = power.battery_days(battery, share, use.total_j)
    figures = (
        Amount(battery, STORED_ENERGY), f"{share:g}", Amount(use.total_j, ENERGY),
        Amount(value, DAYS),
    )  # fmt: skip
    notes = (Step("usable share blank, label value used"),) if unsaid else ()
    step = Step("{} × {} usable ÷ {} = {}", figures)
    return [
        Measured(
            values=(value,), steps=(*use.steps, step), missing=(*unsaid, *use.missing),
            notes=(*notes, *use.notes),
        )
    ]  # fmt: skip


def _largest_load(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    use = used(package)
    if not use.each or not use.total_j:
        return [Measured(missing=use.missing)]
    load, energy = max(use.each, key=lambda pair: (pair[1], pair[0].mark))
    value = energy / use.total_j
    figures = (Amount(energy, ENERGY), Amount(use.total_j, ENERGY), Amount(value, SHARE_PERCENT))
    step = Step("{} ÷ {} = {}", figures)
    return [
        Measured(
            subject=load.mark, name=load.item or "", values=(value,), steps=(step,),
            missing=use.missing, notes=use.notes,
        )
    ]  # fmt: skip


def _essential_days(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    use, plant = used(package), package.power
    missing = (
        *blank(PowerPlant.schedule, plant, "battery_kwh", "usable_share"),
        *use.missing,
    )
    said = [load for load in package.loads if load.essential is not None]
    if package.loads and not said:
        missing = (*missing, "Essential: yes or no (load schedule)")
    kept = [(load, energy) for load, energy in use.each if load.essential]
    total = sum(energy for _, energy in kept)
    if missing or not total:
        return [Measured(missing=missing or ("a load that is essential (load schedule)",))]
    battery, share = plant.battery_j or 0.0, plant.usable_share or 0.0
    value = power.battery_days(battery, share, total)
    marks = ", ".join(load.mark for load, _ in kept)
    figures = (
        Amount(battery, STORED_ENERGY), f"{share:g}", Amount(total, ENERGY), marks,
        Amount(value, DAYS),
    )  # fmt: skip
    return [Measured(values=(value,), steps=(Step("{} × {} ÷ {} of {} = {}", figures),))]


def _tilt(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    return [scheduled(PowerPlant.schedule, package.power, "tilt", ANGLE)]


POWER_RATIO = Check(
    slug="power_ratio",
    title="Power made / power used",
    topic="Power",
    scales=(RATIO,),
    measure=_power_ratio,
    schedules=("power", "loads", "site", "climate"),
    formula="r = (P · t · f + E_wind) ÷ Σ(n · W · h)",
    meaning="P peak power of panels [kW]; t sun-hours in the design month [h]; f system factor "
    "[1]; E_wind energy of wind a day [Wh]; n, W, h of each load",
    citations=(PERFORMANCE_RATIO, PRACTICE),
    limits="A mean day of the design month. Sun-hours are the site sheet's, not the student's. "
    "Rows without hours are left out and named.",
    question="You make {value} of what you use, against {target}. What is switched off on the "
    "third dark day?",
    caution=_CAUTION,
)

BATTERY_DAYS = Check(
    slug="battery_days",
    title="Battery days, usable energy",
    topic="Power",
    scales=(DAYS,),
    measure=_battery_days,
    schedules=("power", "loads"),
    formula="t = C · d ÷ Σ(n · W · h)",
    meaning="C battery as labelled [Wh]; d share that may be drawn [1]; n, W, h of each load",
    citations=(BATTERY, PRACTICE),
    limits="New battery, mild; cold and age take more. Inverter loss is not in it. Where the "
    "usable share is blank the label is used and said so.",
    question="The battery lasts {value}, against {target}. Is that the label, or what may be "
    "drawn?",
    caution=_CAUTION,
)

LARGEST_LOAD = Check(
    slug="largest_load",
    title="Largest load's share of the day",
    topic="Power",
    scales=(SHARE_PERCENT,),
    measure=_largest_load,
    schedules=("loads",),
    rule=Rule.AT_MOST,
    formula="s = max(n · W · h) ÷ Σ(n · W · h)",
    meaning="n, W, h of each load",
    citations=(PRACTICE,),
    limits="Energy of a day, not power at one moment.",
    question="{name} takes {value} of the day's energy, against {target}. Is it worth it?",
    caution=_CAUTION,
)

ESSENTIAL_DAYS = Check(
    slug="essential_days",
    title="Battery days, essential loads alone",
    topic="Power",
    scales=(DAYS,),
    measure=_essential_days,
    schedules=("power", "loads"),
    formula="t = C · d ÷ Σ(n · W · h), of essential loads",
    meaning="C battery [Wh]; d usable share [1]; n, W, h of loads marked essential",
    citations=(BATTERY, PRACTICE),
    limits="What is switched off must really be off: by whom, and how do they know?",
    question="With the rest off it lasts {value}, against {target}. Who switches off, and when?",
    caution=_CAUTION,
)

PANEL_TILT = Check(
    slug="panel_tilt",
    title="Tilt of the panels",
    topic="Power",
    scales=(ANGLE,),
    measure=_tilt,
    schedules=("power",),
    formula="β",
    meaning="β above the horizontal [°]",
    citations=(PRACTICE,),
    limits="Snow slides off from about 60° (common practice); flatter panels are swept.",
    question="Panels at {value}, against {target}. Who sweeps them, standing on what?",
    caution=_CAUTION,
)

POWER_CHECKS = (ESSENTIAL_DAYS, PANEL_TILT)
