"""The year of the room: what it holds by itself, its coldest night, its hottest hours."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Any

import numpy as np

from criteria.checks.check import Check
from criteria.checks.heat import TEMPERATURE_DIFFERENCE
from criteria.findings import Amount, Measured, Rule, Step
from criteria.hourly.comfort import (
    SLEEPERS_K,
    ashrae_55_k,
    en_16798_k,
    running_mean_k,
    too_warm_to_sleep,
)
from criteria.hourly.of_year import Bare, Reckoned, bare_year, reckoned
from criteria.hourly.told import LIMITS
from criteria.hourly.weather import Flags, Hours, Origin, Spell, Weather
from criteria.hourly.worst import MISSED_K, Span, flows, longest, when, worst_night
from criteria.hourly.year import Run
from criteria.package import Package
from criteria.sources import ADAPTIVE, OVERHEATING, PRACTICE, YEAR_BY_THE_HOUR
from criteria.typed.cells import lacking
from criteria.units import COUNT, POWER, TEMPERATURE, WHOLE_HOURS

YEAR_SCHEDULES = (
    "site",
    "climate",
    "rooms",
    "envelope",
    "windows",
    "doors",
    "vents",
    "occupants",
    "plant",
    "loads",
    "supports",
)
HOUR_S = 3600.0
DESIGNED_FOR = {Spell.COLD: "Design outside", Spell.HOT: "Design summer outside"}
YEAR_LIMITS = " ".join(LIMITS)


def weather_notes(weather: Weather) -> tuple[Step, ...]:
    """Say which weather a figure stands on."""
    if weather.origin is Origin.FILE:
        return (Step("weather: the file of {}", (weather.name,)),)
    return (Step("weather: made of the twelve months of {}", (weather.name,)),)


def hold_to(weather: Weather, spell: Spell) -> None:
    """Raise Lacking where a year made of months has no worst days of a kind: it settles none."""
    if not weather.has_spells and spell in weather.without:
        raise lacking(f"{DESIGNED_FOR[spell]} (site sheet), or a weather file in the brief")


def span_hours(flags: Flags) -> float:
    """Return how long hours that are told last together [s]."""
    return float(np.count_nonzero(flags)) * HOUR_S


def _counted(there: Flags) -> Step:
    return Step("hours with somebody there: {}", (Amount(float(there.sum()), COUNT),))


def too_cold(bare: Bare) -> Flags:
    """Tell in which hours somebody is there and it is too cold without plant: shape (8760,)."""
    use = bare.assembled.building.use
    return bare.assembled.use.people.is_there & (bare.run.operative_k < use.warm_k - MISSED_K)


def too_hot(bare: Bare) -> Flags:
    """Tell in which hours somebody is there and it is too warm without plant: shape (8760,)."""
    use = bare.assembled.building.use
    return bare.assembled.use.people.is_there & (bare.run.operative_k > use.cool_k + MISSED_K)


def wanted(limit_k: Hours, column: str, there: Flags) -> float:
    """Return the one temperature that is wanted when it is open. Raises Lacking for none."""
    hold_to_people(there)
    known = limit_k[~np.isnan(limit_k)]
    if not known.size:
        raise lacking(column)
    return float(known.max())


def hold_to_people(there: Flags) -> None:
    """Raise Lacking where nobody is ever there: then nobody is cold, and nothing is known."""
    if not there.any():
        raise lacking("people who are there (occupant schedule)")


def _cold_hours(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    bare = bare_year(package)
    warm = bare.assembled.building.use.warm_k
    inside = wanted(warm, "Design inside (site sheet)", bare.assembled.use.people.is_there)
    return [_missed(bare, too_cold(bare), inside, "under", warm - bare.run.operative_k)]


def _hot_hours(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    bare = bare_year(package)
    cool = bare.assembled.building.use.cool_k
    inside = wanted(cool, "Design summer inside (site sheet)", bare.assembled.use.people.is_there)
    found = _missed(bare, too_hot(bare), inside, "over", bare.run.operative_k - cool)
    return [replace(found, notes=(*found.notes, _accepted(bare)))]


def _accepted(bare: Bare) -> Step:
    """Say for how long it is warmer than people accept who open windows and have no cooling."""
    mean, there = running_mean_k(bare.ready.weather.air_k), bare.assembled.use.people.is_there
    bands = (en_16798_k(mean), ashrae_55_k(mean))
    over = [there & (bare.run.operative_k > band.high_k) for band in bands]
    words = "over what people accept who open windows: {} by EN 16798-1, II; {} by ASHRAE 55, 80 %"
    return Step(words, tuple(Amount(span_hours(each), WHOLE_HOURS) for each in over))


def _missed(bare: Bare, missed: Flags, inside: float, side: str, apart_k: Hours) -> Measured:
    there = bare.assembled.use.people.is_there
    value, run = span_hours(missed), longest(missed)
    steps: tuple[Step, ...] = (
        _counted(there),
        Step(
            "of them more than {} " + side + " {}: {}",
            (
                Amount(MISSED_K, TEMPERATURE_DIFFERENCE),
                Amount(inside, TEMPERATURE),
                Amount(value, WHOLE_HOURS),
            ),
        ),
    )
    if missed.any():
        each = float(apart_k[missed].mean())
        steps = (
            *steps,
            Step("by {} in the mean", (Amount(each, TEMPERATURE_DIFFERENCE),)),
            Step("longest on end {}, from {}", (_long(run), when(run.first))),
        )
    notes = weather_notes(bare.ready.weather)
    return Measured(values=(value,), steps=steps, notes=notes)


def _long(span: Span) -> Amount:
    return Amount(span.hours * HOUR_S, WHOLE_HOURS)


def settled(package: Package, spell: Spell) -> Reckoned:
    """Return a package's year where it holds the worst days of a kind. Raises Lacking."""
    found = reckoned(package)
    hold_to(found.year.weather, spell)
    return found


def balance_steps(run: Run, span: Span) -> Iterator[Step]:
    """Write what brings heat into the room through a span, greatest first, and what takes it."""
    for name, watts in sorted(flows(run, span).items(), key=lambda each: -abs(each[1])):
        if abs(watts) >= 0.5:
            yield Step("{} {}", (name, Amount(watts, POWER)))


def _coldest_night(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    found = settled(package, Spell.COLD)
    year = found.year
    night = worst_night(year)
    at = night.at
    inside, outside = year.drawn.operative_k[at], year.weather.air_k[at]
    steps = (
        Step("{}: {} outside", (night.words, Amount(float(outside.mean()), TEMPERATURE))),
        *balance_steps(year.drawn, night),
        Step("{} inside in the mean", (Amount(float(inside.mean()), TEMPERATURE),)),
    )
    bare = float(year.bare.operative_k[at].mean())
    note = Step("without any plant {}", (Amount(bare, TEMPERATURE),))
    notes = (*weather_notes(year.weather), note)
    return [Measured(values=(float(inside.mean()),), steps=steps, notes=notes)]


def _hottest(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    found = settled(package, Spell.HOT)
    year = found.year
    inside = np.where(year.is_there, year.drawn.operative_k, -np.inf)
    hold_to_people(year.is_there)
    k = int(inside.argmax())
    at = Span(k, 1)
    steps = (
        Step("{}: {} outside", (when(k), Amount(float(year.weather.air_k[k]), TEMPERATURE))),
        *balance_steps(year.drawn, at),
    )
    notes = weather_notes(year.weather)
    return [Measured(values=(float(inside[k]),), steps=steps, notes=notes)]


def _hot_asleep(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    found = settled(package, Spell.HOT)
    year = found.year
    if not year.is_asleep.any():
        return []
    hot = too_warm_to_sleep(year.drawn.operative_k, year.is_asleep)
    run = longest(hot)
    steps: Sequence[Step] = (
        Step(
            "hours in bed {}, of them over {}: {}",
            (
                Amount(span_hours(year.is_asleep), WHOLE_HOURS),
                Amount(SLEEPERS_K, TEMPERATURE),
                Amount(span_hours(hot), WHOLE_HOURS),
            ),
        ),
        Step("longest on end {}, from {}", (_long(run), when(run.first))),
    )
    notes = weather_notes(year.weather)
    return [Measured(values=(run.hours * HOUR_S,), steps=tuple(steps), notes=notes)]


def of_year_check(**given: Any) -> Check:
    """Return a check of the year by the hour, with what all of them share."""
    return Check(
        topic="The year",
        is_yearly=True,
        schedules=given.pop("schedules", YEAR_SCHEDULES),
        limits=YEAR_LIMITS,
        **given,
    )


YEAR_ROOM_CHECKS = (
    of_year_check(
        slug="cold_hours",
        title="Hours too cold without heating",
        scales=(WHOLE_HOURS,),
        measure=_cold_hours,
        rule=Rule.AT_MOST,
        formula="t = Σ 1 h where T_op < T_in − 0.5 K",
        meaning="T_op operative temperature of each hour with somebody there, no plant, windows "
        "opened as far as needed [°C]; T_in design inside [°C]",
        citations=(YEAR_BY_THE_HOUR, PRACTICE),
        question="For {value} of the year nobody is warm without the heater, against {target}. "
        "What would halve that?",
    ),
    of_year_check(
        slug="hot_hours",
        title="Hours too warm without cooling",
        scales=(WHOLE_HOURS,),
        measure=_hot_hours,
        rule=Rule.AT_MOST,
        formula="t = Σ 1 h where T_op > T_max + 0.5 K",
        meaning="T_op operative temperature of each hour with somebody there, no plant, windows "
        "opened as far as needed [°C]; T_max design summer inside [°C]",
        citations=(YEAR_BY_THE_HOUR, ADAPTIVE, PRACTICE),
        question="For {value} of the year it is too warm inside, against {target}. Which window "
        "lets that in?",
    ),
    of_year_check(
        slug="coldest_night",
        title="Coldest night inside",
        scales=(TEMPERATURE,),
        measure=_coldest_night,
        schedules=(*YEAR_SCHEDULES, "power"),
        rule=Rule.AT_LEAST,
        near=0.0,
        formula="T = mean of T_op, 22:00 to 07:00, of the coldest night",
        meaning="T_op operative temperature by hour with the plant as scheduled, on its battery "
        "where it is electric [°C]; below it what brought and took heat in that night [W]",
        citations=(YEAR_BY_THE_HOUR, PRACTICE),
        question="In the coldest night it is {value} inside, against {target}. What lost the most?",
        caution="A stove and its flue are designed and fitted by licensed people.",
    ),
    of_year_check(
        slug="hottest_hour",
        title="Hottest afternoon inside",
        scales=(TEMPERATURE,),
        measure=_hottest,
        schedules=(*YEAR_SCHEDULES, "power"),
        rule=Rule.AT_MOST,
        near=0.0,
        formula="T = highest T_op with somebody there",
        meaning="T_op operative temperature by hour with the plant as scheduled [°C]",
        citations=(YEAR_BY_THE_HOUR, PRACTICE),
        question="It gets to {value} inside, against {target}. Who is in there then?",
    ),
    of_year_check(
        slug="hot_run_asleep",
        title="Longest hot run for sleepers",
        scales=(WHOLE_HOURS,),
        measure=_hot_asleep,
        schedules=(*YEAR_SCHEDULES, "power"),
        rule=Rule.AT_MOST,
        formula="t = most hours on end in bed at T_op > 26 °C",
        meaning="T_op operative temperature by hour with the plant as scheduled [°C]",
        citations=(YEAR_BY_THE_HOUR, OVERHEATING),
        question="Sleepers lie at over 26 °C for {value} on end, against {target}. What do they "
        "open?",
    ),
)
