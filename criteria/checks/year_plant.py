"""The year of the plant: hours that it can't hold, fuel, and electricity on the battery."""

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import numpy as np

from criteria.checks.energy_use import FUEL_HEAT
from criteria.checks.year_room import (
    HOUR_S,
    YEAR_SCHEDULES,
    hold_to,
    of_year_check,
    settled,
    span_hours,
    wanted,
    weather_notes,
)
from criteria.findings import Amount, Measured, Rule, Step
from criteria.hourly.battery import alone, wanting
from criteria.hourly.fuel import burnt_kg, fuel_of
from criteria.hourly.of_year import Reckoned, spreads
from criteria.hourly.weather import Flags, Spell
from criteria.hourly.worst import above, below, dark, longest, when, worst_week
from criteria.hourly.year import PowerYear
from criteria.measures.heat import FUEL_J_KG
from criteria.package import Package
from criteria.schedules.plant import BURNING
from criteria.sources import BATTERY, PRACTICE, YEAR_BY_THE_HOUR
from criteria.typed.cells import lacking
from criteria.units import (
    DAYS,
    ELECTRIC_POWER,
    MASS,
    SHARE_PERCENT,
    STORED_ENERGY,
    WHOLE_HOURS,
    Scale,
)

ON_POWER = (*YEAR_SCHEDULES, "power")
DAY_S = 24 * HOUR_S
ESSENTIAL = "essential loads (load schedule)"


def _hours(count: float) -> Amount:
    return Amount(count * HOUR_S, WHOLE_HOURS)


def _energy(power_w: Any) -> Amount:
    return Amount(float(np.sum(power_w)) * HOUR_S, STORED_ENERGY)


def _not_held(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    found = settled(package, Spell.COLD)
    year = found.year
    wanted(year.warm_k, "Design inside (site sheet)", year.is_there)
    needed, given = year.held.heat_w, year.drawn.heat_w
    heat = Step("heat that would hold it {}, given {}", (_energy(needed), _energy(given)))
    return [_missed(found, "cold", below(year.drawn, year), heat)]


def _hot_not_held(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    found = settled(package, Spell.HOT)
    year = found.year
    wanted(year.cool_k, "Design summer inside (site sheet)", year.is_there)
    needed, given = year.held.cool_w, year.drawn.cool_w
    heat = Step("cooling that would hold it {}, given {}", (_energy(needed), _energy(given)))
    return [_missed(found, "warm", above(year.drawn, year), heat)]


def _missed(found: Reckoned, side: str, missed: Flags, heat: Step) -> Measured:
    """Measure hours to one side of what is wanted, plant as drawn."""
    year = found.year
    steps = (
        Step("too " + side + " for {}", (_hours(missed.sum()),)),
        *_run("too " + side, missed),
        heat,
        Step("worst week {}", (worst_week(year).words,)),
    )
    notes = (*weather_notes(year.weather), *_on_battery(found))
    return Measured(values=(span_hours(missed),), steps=steps, notes=notes)


def _run(words: str, flags: Flags) -> tuple[Step, ...]:
    run = longest(flags)
    if not run.hours:
        return ()
    return (Step("longest " + words + " on end {}, from {}", (_hours(run.hours), when(run.first))),)


def _on_battery(found: Reckoned) -> tuple[Step, ...]:
    """Say that plant has only what the battery leaves it."""
    if found.supply is None or found.plant.heat_cop is None:
        return ()
    words = "the heater is electric: it has what panels and battery leave after essential loads"
    return (Step(words),)


def _fuel(package: Package) -> tuple[Reckoned, Any]:
    plant, found = package.plant, settled(package, Spell.COLD)
    kind = plant.heater
    if kind is not None and kind not in BURNING:
        return found, None
    if kind is None:
        raise lacking("Heated by (heat and air plant)")
    burnt = burnt_kg(found.year.drawn.heat_w, FUEL_J_KG[kind], plant.fuel_share)
    return found, fuel_of(burnt)


def _fuel_steps(package: Package, found: Reckoned) -> tuple[Step, ...]:
    plant = package.plant
    holds = Amount(FUEL_J_KG[plant.heater or ""], FUEL_HEAT)
    heat = _energy(found.year.drawn.heat_w)
    figures = (heat, holds, f"{plant.fuel_share:g}")
    return (Step("heat given {}; {} in the fuel, of which {} stays", figures),)


def _fuel_year(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    found, fuel = _fuel(package)
    if fuel is None:
        return []
    steps = (*_fuel_steps(package, found), Step("in the year {}", (Amount(fuel.year_kg, MASS),)))
    return [Measured(values=(fuel.year_kg,), steps=steps, notes=weather_notes(found.year.weather))]


def _fuel_week(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    found, fuel = _fuel(package)
    if fuel is None:
        return []
    most = Amount(fuel.week_kg, MASS)
    steps = (*_fuel_steps(package, found), Step("{}: {}", (fuel.week.words, most)))
    return [Measured(values=(fuel.week_kg,), steps=steps, notes=weather_notes(found.year.weather))]


def _years(package: Package) -> list[tuple[str, Reckoned, PowerYear]]:
    """Return the year by when unsaid loads run. Raises Lacking without panels or battery."""
    found = []
    for words, year in spreads(package):
        hold_to(year.year.weather, Spell.COLD)
        if year.year.power is None:
            raise lacking("panels or a battery (power plant)")
        found.append((words, year, year.year.power))
    return found


Figure = Callable[[Reckoned, PowerYear], Measured]


def _worse(package: Package, figure: Figure, scale: Scale, *, more: bool = False) -> list[Measured]:
    """Measure in each way in which loads that don't say when may run; the worst of them stands.

    more   whether more is better
    """
    measured = [(words, figure(found, power)) for words, found, power in _years(package)]
    worst = (min if more else max)((each for _, each in measured), key=lambda each: each.values[0])
    if len({each.values[0] for _, each in measured}) == 1:
        return [worst]
    told = ", ".join(["{} {}"] * len(measured))
    amounts = [part for words, m in measured for part in (words, Amount(m.values[0], scale))]
    note = Step(f"depends on when loads run that don't say it: {told}", tuple(amounts))
    return [replace(worst, notes=(*worst.notes, note))]


def _power_steps(power: PowerYear) -> tuple[Step, ...]:
    asked = power.essential_w + power.rest_w + power.plant_w
    unserved = power.unserved_essential_w + power.unserved_rest_w
    return (
        Step(
            "made {}, asked for {}, of it plant {}",
            (_energy(power.made_w), _energy(asked), _energy(power.plant_w)),
        ),
        Step("not given {}, spilled {}", (_energy(unserved), _energy(power.spilled_w))),
    )


def _said(found: Reckoned, value: float, *steps: Step) -> Measured:
    return Measured(values=(value,), steps=steps, notes=weather_notes(found.year.weather))


def _dark(found: Reckoned, power: PowerYear) -> Flags:
    """Tell in which hours essential loads go without. Raises Lacking where there are none."""
    if not power.essential_w.any():
        raise lacking(ESSENTIAL)
    return dark(found.year)


def _dark_hours(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    def figure(found: Reckoned, power: PowerYear) -> Measured:
        flags = _dark(found, power)
        told = Step("essential loads go without for {}", (_hours(flags.sum()),))
        steps = (*_power_steps(power), told, *_run("dark", flags))
        return _said(found, span_hours(flags), *steps)

    return _worse(package, figure, WHOLE_HOURS)


def _longest_dark(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    def figure(found: Reckoned, power: PowerYear) -> Measured:
        run = longest(_dark(found, power))
        told = Step("{} on end, from {}", (_hours(run.hours), when(run.first)))
        return _said(found, run.hours * HOUR_S, *_power_steps(power), told)

    return _worse(package, figure, WHOLE_HOURS)


def _spilled(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    def figure(found: Reckoned, power: PowerYear) -> Measured:
        share = wanting(power).spilled_share
        if share is None:
            raise lacking("panels or wind that make anything (power plant)")
        return _said(found, share, *_power_steps(power))

    return _worse(package, figure, SHARE_PERCENT)


def _alone(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    def figure(found: Reckoned, power: PowerYear) -> Measured:
        supply = found.supply
        lasts = None if supply is None else alone(supply, power.essential_w)
        if supply is None or lasts is None:
            raise lacking(ESSENTIAL)
        holds = (supply.most_j - supply.least_j) * supply.discharge_share
        most = Amount(float(power.essential_w.max()), ELECTRIC_POWER)
        value = lasts.days * DAY_S
        words = "full it gives {}; essential loads take {} at most"
        return _said(
            found,
            value,
            Step(words, (Amount(holds, STORED_ENERGY), most)),
            Step("from {}: {}", (when(lasts.first), Amount(value, DAYS))),
        )

    return _worse(package, figure, DAYS, more=True)


_STOVE = "A stove and its flue are designed and fitted by licensed people."
_WIRING = "Batteries and wiring are designed and fitted by licensed electricians."

YEAR_PLANT_CHECKS = (
    of_year_check(
        slug="hours_not_held",
        title="Hours that plant can't hold warm",
        scales=(WHOLE_HOURS,),
        measure=_not_held,
        schedules=ON_POWER,
        rule=Rule.AT_MOST,
        formula="t = Σ 1 h where T_op < T_in − 0.5 K",
        meaning="T_op operative temperature of each hour with somebody there, plant as scheduled: "
        "no more than its output, burning while it is fed, electric plant on what panels and "
        "battery leave after essential loads [°C]; T_in design inside [°C]",
        citations=(YEAR_BY_THE_HOUR, PRACTICE),
        question="Your plant leaves it too cold for {value} of the year, against {target}. What "
        "runs it in the worst week?",
        caution=_STOVE,
    ),
    of_year_check(
        slug="hot_not_held",
        title="Hours that plant can't hold cool",
        scales=(WHOLE_HOURS,),
        measure=_hot_not_held,
        schedules=ON_POWER,
        rule=Rule.AT_MOST,
        formula="t = Σ 1 h where T_op > T_max + 0.5 K",
        meaning="T_op operative temperature of each hour with somebody there, windows and plant as "
        "scheduled, electric plant on what panels and battery leave after essential loads [°C]; "
        "T_max design summer inside [°C]",
        citations=(YEAR_BY_THE_HOUR, PRACTICE),
        question="With all you have it is too warm for {value} of the year, against {target}. What "
        "would shade it?",
    ),
    of_year_check(
        slug="fuel_year",
        title="Fuel of the year",
        scales=(MASS,),
        measure=_fuel_year,
        schedules=ON_POWER,
        rule=Rule.AT_MOST,
        formula="m = Q ÷ (η · H)",
        meaning="Q heat that the heater gives in the year, by the hour [kWh]; η part of the fuel's "
        "heat that stays [1]; H heat in the fuel [MJ/kg]",
        citations=(YEAR_BY_THE_HOUR, PRACTICE),
        question="A year takes {value} of fuel, against {target}. Who carries it up?",
        caution=_STOVE,
    ),
    of_year_check(
        slug="fuel_week",
        title="Fuel of the worst week",
        scales=(MASS,),
        measure=_fuel_week,
        schedules=ON_POWER,
        rule=Rule.AT_MOST,
        formula="m = Q ÷ (η · H), of the seven days that take most",
        meaning="Q heat that the heater gives in them [kWh]; η part of the fuel's heat that stays "
        "[1]; H heat in the fuel [MJ/kg]",
        citations=(YEAR_BY_THE_HOUR, PRACTICE),
        question="The worst week takes {value} of fuel, against {target}. Where does it lie dry?",
        caution=_STOVE,
    ),
    of_year_check(
        slug="dark_hours",
        title="Hours without essential power",
        scales=(WHOLE_HOURS,),
        measure=_dark_hours,
        schedules=ON_POWER,
        rule=Rule.AT_MOST,
        formula="t = Σ 1 h where essential loads lack power",
        meaning="loads by hour on panels and battery, essential ones first, then electric plant, "
        "which leaves a day of essential loads in the battery, then the rest [W]",
        citations=(BATTERY, PRACTICE),
        question="For {value} of the year the essential loads are dark, against {target}. In which "
        "month, and what goes first?",
        caution=_WIRING,
    ),
    of_year_check(
        slug="longest_dark",
        title="Longest dark run",
        scales=(WHOLE_HOURS,),
        measure=_longest_dark,
        schedules=ON_POWER,
        rule=Rule.AT_MOST,
        formula="t = most hours on end in which essential loads lack power",
        meaning="as the hours without essential power [h]",
        citations=(BATTERY, PRACTICE),
        question="The lamps are out for {value} on end, against {target}. What still works?",
        caution=_WIRING,
    ),
    of_year_check(
        slug="spilled_share",
        title="Share of power thrown away",
        scales=(SHARE_PERCENT,),
        measure=_spilled,
        schedules=ON_POWER,
        rule=Rule.AT_MOST,
        formula="s = spilled ÷ made",
        meaning="what panels and wind make in the year, and what of it is neither used nor kept "
        "[kWh]",
        citations=(BATTERY, PRACTICE),
        question="Of what the panels make {value} is thrown away, against {target}. Is the winter "
        "worth so many panels?",
        caution=_WIRING,
    ),
    of_year_check(
        slug="days_without_sun",
        title="Days without sun from the worst hour",
        scales=(DAYS,),
        measure=_alone,
        schedules=ON_POWER,
        rule=Rule.AT_LEAST,
        formula="t: Σ P · 1 h = E · η, from the hour that makes it shortest",
        meaning="P essential loads by hour [W]; E what can be drawn of the full battery [kWh]; η "
        "what it gives back [1]",
        citations=(BATTERY, PRACTICE),
        question="Full, the battery carries the essential loads for {value}, against {target}. And "
        "if it isn't full when the sun goes?",
        caution=_WIRING,
    ),
)
