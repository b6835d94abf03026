"""What the year answers first: worst night and week, what plant can't hold, dark hours, water.

Each with its figure in a reader's units, the lines of its working and its source. What isn't known
says so, and nothing is judged round it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from criteria.drawing.year_tanks import short_days
from criteria.hourly.battery import wanting
from criteria.hourly.comfort import missed
from criteria.hourly.of_tanks import by_case
from criteria.hourly.told import NOT_SETTLED, WAYS
from criteria.hourly.weather import Flags, Hours
from criteria.hourly.worst import (
    MISSED_K,
    above,
    below,
    is_night_settled,
    longest,
    worst_night,
    worst_week,
)
from criteria.hourly.year import Run, Year
from criteria.package import Package
from criteria.typed.cells import Lacking
from criteria.units import (
    LITRES,
    SHARE_PERCENT,
    STORED_ENERGY,
    TEMPERATURE,
    WHOLE_HOURS,
    System,
)

HOUR_S = 3600.0
_SOURCES = {way.part: way.source for way in WAYS}


@dataclass(frozen=True, kw_only=True)
class Answer:
    """One thing that the year answers.

    figure      in a reader's units; "No data" where it isn't known
    says        what the figure is of
    is_missed   whether something that is wanted lacks; checks alone hold figures to targets
    drawn       the drawing that shows it, by its key; "" where none does
    """

    name: str
    figure: str
    says: str
    working: tuple[str, ...]
    source: str
    is_missed: bool = False
    drawn: str = ""


def answers(package: Package, year: Year, system: System) -> tuple[Answer, ...]:
    """Return what a year answers first, the worst before the rest."""
    return (
        _night(year, system),
        _week(year, system),
        _held(year, system),
        _bare(year, system),
        _power(year, system),
        _water(package, year, system),
    )


def hours(count: int, system: System) -> str:
    """Write how many hours something is."""
    return WHOLE_HOURS.write(count * HOUR_S, system)


def _night(year: Year, system: System) -> Answer:
    night = worst_night(year)
    at = night.at
    inside, outside, bare = (
        float(each[at].mean())
        for each in (year.drawn.operative_k, year.weather.air_k, year.bare.operative_k)
    )
    wanted = float(year.warm_k[at].mean())
    is_settled = is_night_settled(year.weather)
    says = f"mean inside with the plant that is drawn, {night.words}"
    if wanted == wanted:
        says = f"{says}; wanted at least {_degrees(wanted, system)}"
    without = TEMPERATURE.write(bare, system)
    working = [
        f"Felt: half the air's, half the mean of all faces. Outside {_degrees(outside, system)}.",
        f"Without plant {without} in the same hours.",
        f"Wanted at least {_degrees(wanted, system)}; held to "
        f"{TEMPERATURE.difference(MISSED_K, system)}."
        if wanted == wanted
        else "Nothing is wanted in these hours.",
    ]
    if not is_settled:
        working.append(NOT_SETTLED)
    return Answer(
        name="Coldest night" if is_settled else "Coldest night, not settled",
        figure=TEMPERATURE.write(inside, system),
        says=says if is_settled else f"{says}. {NOT_SETTLED}",
        working=tuple(working),
        source=_SOURCES["Worst night and week"],
        is_missed=is_settled and inside < wanted - MISSED_K,
        drawn="balance",
    )


def _degrees(kelvin: float, system: System) -> str:
    return TEMPERATURE.write(kelvin, system)


def _week(year: Year, system: System) -> Answer:
    week = worst_week(year)
    at = week.at
    need, given = year.held.heat_w[at], year.drawn.heat_w[at]
    lacks = float(np.maximum(need - given, 0.0).sum()) * HOUR_S
    cold = int(below(year.drawn, year)[at].sum())
    words = [
        f"Heat needed {STORED_ENERGY.write(float(need.sum()) * HOUR_S, system)}, "
        f"given {STORED_ENERGY.write(float(given.sum()) * HOUR_S, system)}.",
        "What is missing is summed hour by hour: heat that comes later doesn't make up for it.",
        "The seven days in which most of what plant should give or take is missing; among those "
        "alike, the least in the battery, then the most heat needed.",
    ]
    return Answer(
        name="Worst week",
        figure=f"{hours(cold, system)} too cold",
        says=f"{week.words}; {STORED_ENERGY.write(lacks, system)} of heat is missing in its hour",
        working=tuple(words),
        source=_SOURCES["Worst night and week"],
        is_missed=cold > 0,
        drawn="week",
    )


def _held(year: Year, system: System) -> Answer:
    cold, warm = below(year.drawn, year), above(year.drawn, year)
    count = int(cold.sum() + warm.sum())
    return Answer(
        name="Hours that plant can't hold",
        figure=hours(count, system),
        says=f"{hours(int(cold.sum()), system)} too cold, {hours(int(warm.sum()), system)} too "
        f"warm, of {hours(int(_wanted(year).sum()), system)} with somebody there",
        working=tuple(_lengths(year, year.drawn, cold, warm, system)),
        source=_SOURCES["Plant"],
        is_missed=count > 0,
        drawn="warmth",
    )


def _bare(year: Year, system: System) -> Answer:
    cold, warm = below(year.bare, year), above(year.bare, year)
    return Answer(
        name="By itself, without plant",
        figure=f"{hours(int(cold.sum()), system)} too cold",
        says=f"{hours(int(warm.sum()), system)} too warm, windows opened as far as needed",
        working=tuple(_lengths(year, year.bare, cold, warm, system)),
        source=_SOURCES["Walls, roof and floor"],
        drawn="bare",
    )


def _wanted(year: Year) -> Flags:
    """Hours in which somebody is there and something is wanted."""
    asked: Flags = year.is_there & ~(np.isnan(year.warm_k) & np.isnan(year.cool_k))
    return asked


def _lengths(year: Year, run: Run, cold: Flags, warm: Flags, system: System) -> Iterator[str]:
    yield (
        f"Counted where it is over {TEMPERATURE.difference(MISSED_K, system)} outside of what is "
        "wanted while somebody is there, by the mean of each hour."
    )
    asked = _wanted(year)
    low, high = (np.nan_to_num(each, nan=far) for each, far in _limits(year))
    found = missed(run.operative_k, low, high, asked, MISSED_K)
    for flags, word, sum_kh in (
        (cold, "cold", found.below_kh),
        (warm, "warm", found.above_kh),
    ):
        span = longest(flags)
        if span.hours:
            degrees = TEMPERATURE.difference(sum_kh / int(flags.sum()), system)
            yield (
                f"Too {word} by {degrees} in the mean; the longest at a stretch "
                f"{hours(span.hours, system)}, {span.words}."
            )


def _limits(year: Year) -> Iterator[tuple[Hours, float]]:
    """What is wanted at least and at most; where nothing is, a limit that nothing passes."""
    yield year.warm_k, 0.0
    yield year.cool_k, 1e4


def _power(year: Year, system: System) -> Answer:
    power, source = year.power, _SOURCES["Electricity"]
    if power is None:
        says = "neither panels nor a battery are scheduled"
        return Answer(name="Dark hours", figure="No data", says=says, working=(), source=source)
    lacks = wanting(power)
    span, spilled = lacks.longest_dark, lacks.spilled_share
    share = "nothing is made" if spilled is None else SHARE_PERCENT.write(spilled, system)
    made, asked = (
        STORED_ENERGY.write(float(each.sum()) * HOUR_S, system)
        for each in (power.made_w, power.essential_w + power.rest_w + power.plant_w)
    )
    longest_words = f"the longest {hours(span.hours, system)}, {span.words}"
    return Answer(
        name="Dark hours",
        figure=hours(lacks.dark_hours, system),
        says="essential loads without power, " + (longest_words if span.hours else "at no hour"),
        working=(
            f"Made in the year {made}; loads and plant together {asked}.",
            f"Made and neither used nor kept: {share}.",
            "Served first: essential loads, then plant, then the rest.",
        ),
        source=source,
        is_missed=lacks.dark_hours > 0,
        drawn="charge",
    )


def _water(package: Package, year: Year, system: System) -> Answer:
    source = _SOURCES["Rain"]
    if not year.tanks:
        says = _why_no_water(package, year)
        return Answer(name="Rain water", figure="No data", says=says, working=(), source=source)
    worst = max(year.tanks, key=short_days)
    days = short_days(worst)
    of = f"for {worst.case}, rain {worst.rains}" if worst.case else f"rain {worst.rains}"
    lacks = LITRES.write(float(worst.short_m3.sum()), system)
    return Answer(
        name="Rain water",
        figure=f"{days} days short" if days != 1 else "1 day short",
        says=f"{lacks} lacking in the year, at worst: {of}",
        working=tuple(
            f"{short_days(tank)} days short{' for ' + tank.case if tank.case else ''}, "
            f"rain {tank.rains}: caught {LITRES.write(float(tank.caught_m3.sum()), system)}, "
            f"drawn {LITRES.write(float(tank.drawn_m3.sum()), system)}."
            for tank in year.tanks
        ),
        source=source,
        is_missed=days > 0,
        drawn="tanks",
    )


def _why_no_water(package: Package, year: Year) -> str:
    try:
        by_case(package, year.weather)
    except Lacking as bare:
        return f"still needs {'; '.join(map(str, bare.cells))}"
    return "no tank catches rain"
