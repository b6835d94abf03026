"""The year of rain in the tanks, and of damp on the coldest face."""

import numpy as np

from criteria.checks.year_plant import ON_POWER
from criteria.checks.year_room import HOUR_S, of_year_check, settled, weather_notes
from criteria.findings import Amount, Measured, Rule, Step
from criteria.hourly.assumed import Taking
from criteria.hourly.moisture import given_kg_s, surface_humidity, vapour_pa
from criteria.hourly.of_tanks import tanks_of
from criteria.hourly.of_water import sun_water, warm_water
from criteria.hourly.of_year import bare_year
from criteria.hourly.rain_tank import days_given, is_short
from criteria.hourly.site_weather import weather_of
from criteria.hourly.weather import Spell
from criteria.hourly.worst import longest
from criteria.measures.condensation import MOULD_HUMIDITY
from criteria.package import Package
from criteria.sources import COLLECTORS, PRACTICE, RAIN_BY_DAY, SURFACE_FACTOR
from criteria.units import DAYS, ENERGY, LITRES, SHARE_PERCENT, WHOLE_HOURS

DAY_S = 86400.0
TOPPED_W = 1.0
"""A day on which another heater adds less, in hourly means summed, needs none [W]."""


def _rain_days(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    weather = weather_of(package)
    years = tanks_of(package, weather)
    if not years:
        return []
    measured = []
    for year in years:
        given, short = days_given(year), is_short(year)
        run = longest(short)
        steps = (
            Step(
                "rain {}: caught {}, drawn {}, run over {}, of {} that the tanks hold",
                (
                    year.rains,
                    *(Amount(float(x.sum()), LITRES) for x in (
                        year.caught_m3, year.drawn_m3, year.spilled_m3)),
                    Amount(year.capacity_m3, LITRES),
                ),
            ),
            Step(
                "{} short, {} on end at most",
                (Amount(short.sum() * DAY_S, DAYS), Amount(run.hours * DAY_S, DAYS)),
            ),
        )  # fmt: skip
        measured.append(
            Measured(values=(given * DAY_S,), steps=steps, notes=weather_notes(weather))
        )
    least = min(measured, key=lambda each: each.values[0])
    others = [step for each in measured if each is not least for step in each.steps[:1]]
    return [Measured(values=least.values, steps=least.steps, notes=(*least.notes, *others))]


def _sun_in_water(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    taking = Taking()
    given = sun_water(package, taking)
    if given is None:
        return []
    bare = bare_year(package)
    weather, use = bare.ready.weather, bare.assembled.use
    year = warm_water(given, weather, use, bare.ready.sky, bare.run.air_k)
    asked, topped = (float(x.sum()) * HOUR_S for x in (year.drawn_w + year.topped_w, year.topped_w))
    if not asked:
        return []
    value = 1 - topped / asked
    figures = (Amount(asked, ENERGY), Amount(topped, ENERGY), Amount(value, SHARE_PERCENT))
    step = Step("{} asked for, {} of it by another heater: {} by the sun", figures)
    hours = year.topped_w.reshape(-1, 24).sum(axis=1)
    days = Amount(float(np.count_nonzero(hours > TOPPED_W)) * DAY_S, DAYS)
    notes = (
        *weather_notes(weather),
        Step("another heater helps on {}", (days,)),
        *(each.said for each in taking.found),
    )
    return [Measured(values=(value,), steps=(step,), notes=notes)]


def _damp(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    found = settled(package, Spell.COLD)
    year, air = found.year, found.assembled.building.air
    run, weather = year.drawn, year.weather
    opened = 0.0 if run.opened_m3_s is None else run.opened_m3_s
    given = given_kg_s(found.assembled.use.people)
    brought = air.fixed_m3_s + opened
    vapour = vapour_pa(weather.air_k, weather.dew_k, run.air_k, given, brought)
    humid = surface_humidity(run.coldest_face_k, vapour)
    mould, wet = humid >= MOULD_HUMIDITY, humid >= 1.0
    steps = (
        Step(
            "coldest face over {} humid for {}, wet for {}",
            (
                Amount(MOULD_HUMIDITY, SHARE_PERCENT),
                Amount(float(np.count_nonzero(mould)) * HOUR_S, WHOLE_HOURS),
                Amount(float(np.count_nonzero(wet)) * HOUR_S, WHOLE_HOURS),
            ),
        ),
        Step("longest wet on end {}", (Amount(longest(wet).hours * HOUR_S, WHOLE_HOURS),)),
    )
    values = tuple(float(np.count_nonzero(each)) * HOUR_S for each in (mould, wet))
    return [Measured(values=values, steps=steps, notes=weather_notes(year.weather))]


YEAR_STORE_CHECKS = (
    of_year_check(
        slug="rain_days",
        title="Days of the year with water from rain",
        by_people=True,
        scales=(DAYS,),
        measure=_rain_days,
        schedules=("site", "climate", "tanks", "envelope", "supports"),
        rule=Rule.AT_LEAST,
        formula="y = min(d, v); v ← min(v + q − y, V − y), day by day",
        meaning="d water that people want [L]; v in the tanks that catch rain [L]; V what they "
        "hold [L]; q rain of the day on the roof, less the first 0.5 mm and what stays on it, snow "
        "when it melts [L]",
        citations=(RAIN_BY_DAY, PRACTICE),
        question="The rain gives water on {value} of the year, against {target}. What do they "
        "drink on the others?",
        caution="Water from a roof is drunk only after treatment and tests by local health rules.",
    ),
    of_year_check(
        slug="sun_in_water",
        title="Warm water that the sun gives in a year",
        scales=(SHARE_PERCENT,),
        measure=_sun_in_water,
        rule=Rule.AT_LEAST,
        formula="s = 1 − Q_other ÷ Q, M · c · dT ÷ dt = A · (η_0 · K · G − a_1 · ΔT − a_2 · ΔT²) − "
        "U · (T − T_room)",
        meaning="Q heat of the warm water drawn, Q_other what another heater adds [Wh]; T of one "
        "tank, M its water [K], [kg]; A collector [m²]; G sun on it [W/m²], K through its glass; "
        "ΔT tank over outside [K]",
        citations=(COLLECTORS, PRACTICE),
        question="The sun warms {value} of the water in a year, against {target}. Who heats the "
        "rest, with what?",
        caution="Hot water scalds and lukewarm tanks breed legionella: a licensed plumber decides.",
    ),
    of_year_check(
        slug="damp_hours",
        title="Hours of damp on the coldest face",
        scales=(WHOLE_HOURS, WHOLE_HOURS),
        part_names=("over 80 %", "wet"),
        measure=_damp,
        is_untried=True,
        schedules=ON_POWER,
        rule=Rule.AT_MOST,
        formula="t = Σ 1 h where p ÷ p_sat(T_face) ≥ 0.8, and ≥ 1",
        meaning="p vapour of outside air and of people by the hour [Pa]; T_face the coldest face "
        "inside, glass with it [°C]",
        citations=(SURFACE_FACTOR, PRACTICE),
        question="The coldest face is damp for {values[0]} and wet for {values[1]}. Where does it "
        "run to?",
        caution="A damp wall wants whoever knows the local climate and codes.",
    ),
)
