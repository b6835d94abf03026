"""The rain that a package's tanks catch through a year, for the people of each case."""

import math

import numpy as np

from criteria.checks.envelope import gross_area
from criteria.checks.reading import gathered
from criteria.hourly.assumed import Taking
from criteria.hourly.facing import slope_deg
from criteria.hourly.rain_tank import (
    KEPT_BY_SURFACE,
    KEPT_SHARE,
    caught_m3,
    rain_by_day,
    runs_off_m,
    tank_year,
    wanted_m3,
)
from criteria.hourly.site_weather import weather_of
from criteria.hourly.weather import Hours, Weather
from criteria.hourly.year import TankYear
from criteria.package import Package
from criteria.schedules.climate import Month
from criteria.schedules.site import MONTHS
from criteria.schedules.states import PeopleCase
from criteria.schedules.water import Tank
from criteria.typed.cells import lacking

SHEDS_DEG = {"metal": 30.0}
SHEDS_FROM_DEG = 60.0
"""From which slope snow slides off metal, and off any roof [°]. Common practice, from memory."""


def catching(package: Package) -> tuple[Tank, ...]:
    """Return the tanks into which rain runs. Raises Lacking."""
    rows = package.rows_of(Tank)
    caught = gathered(rows, lambda row: row.holds == "rain" or bool(row.catch_m2))
    return tuple(row for row, is_caught in zip(rows, caught, strict=True) if is_caught)


def tanks_of(
    package: Package, weather: Weather | None = None, taking: Taking | None = None
) -> tuple[TankYear, ...]:
    """Return the year of the tanks that catch rain, all taken as one, by how the rain falls.

    For the people of the package's own case, in its months. () where no tank catches any.

    taking   keeps what is taken for blank cells: a rain tank that doesn't say what it catches has
             the roof on plan, once

    Raises Lacking.
    """
    rows = catching(package)
    if not rows:
        return ()
    months = {row.month: row for row in package.climate}
    if lacks := [month for month in MONTHS if month not in months]:
        raise lacking(f"a row for {', '.join(lacks)} (climate by month)")
    weather = weather_of(package) if weather is None else weather
    taking = Taking() if taking is None else taking
    falls = gathered([months[month] for month in MONTHS], _rain_m)
    asked = package.case.months if package.case else MONTHS
    wanted = wanted_m3(
        package.people,
        package.site.water_m3_pd,
        [months[month].is_open and month in asked for month in MONTHS],
    )
    holds = sum(gathered(rows, lambda row: row.usable_m3))
    areas = list(zip(rows, _areas_m2(package, rows, taking), strict=True))
    slope = slope_deg(package, taking)
    return tuple(
        tank_year(
            sum(
                (_caught_m3(row, area, slope, rain, weather) for row, area in areas),
                np.zeros(len(rain)),
            ),
            wanted,
            holds,
            case=package.case.case if package.case else "",
            rains=rains,
        )
        for rains, rain in rain_by_day(weather, falls).items()
    )


def by_case(
    package: Package, weather: Weather, taking: Taking | None = None
) -> tuple[TankYear, ...]:
    """Return the same for each people case of the brief, the package as it stands without any."""
    cases = package.rows_of(PeopleCase)
    asked = [package.but(case=case) for case in cases] or [package]
    return tuple(year for each in asked for year in tanks_of(each, weather, taking))


def _rain_m(row: Month) -> float:
    return row.rain_m


def _caught_m3(row: Tank, area_m2: float, slope: float, rain: Hours, weather: Weather) -> Hours:
    sheds = slope >= SHEDS_DEG.get(row.catches_on, SHEDS_FROM_DEG)
    runs = runs_off_m(rain, weather.air_k, sheds=sheds)
    return caught_m3(runs, area_m2, KEPT_BY_SURFACE.get(row.catches_on, KEPT_SHARE))


def _areas_m2(package: Package, rows: tuple[Tank, ...], taking: Taking) -> list[float]:
    """Return what drains into each tank on plan [m²]; the roof drains into one that doesn't say."""
    words = "{} is taken to catch the rain of {}, the roof on plan"
    areas: list[float] = []
    left = 1.0
    for row in rows:
        area = row.unless_blank("catch_m2")
        if area is None:
            level = math.cos(math.radians(slope_deg(package, taking)))
            roof = left * gross_area(package, "roof") * level
            area, left = taking.of(row, "catch_m2", roof, words, "common practice"), 0.0
        areas.append(area)
    return areas
