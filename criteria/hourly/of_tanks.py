"""The rain that a package's tanks catch through a year, for the people of each case."""

import numpy as np

from criteria.checks.envelope import gross_area
from criteria.checks.reading import gathered
from criteria.hourly.rain_tank import caught_m3, rain_by_day, runs_off_m, tank_year, wanted_m3
from criteria.hourly.site_weather import weather_of
from criteria.hourly.weather import Weather
from criteria.hourly.year import TankYear
from criteria.package import Package
from criteria.schedules.climate import Month
from criteria.schedules.site import MONTHS
from criteria.schedules.states import PeopleCase
from criteria.schedules.water import CATCHES, Tank
from criteria.typed.cells import lacking


def catching(package: Package) -> tuple[Tank, ...]:
    """Return the tanks into which rain runs. Raises Lacking."""
    rows = package.rows_of(Tank)
    caught = gathered(rows, lambda row: row.holds == "rain" or bool(row.catch_m2))
    return tuple(row for row, is_caught in zip(rows, caught, strict=True) if is_caught)


def tanks_of(package: Package, weather: Weather | None = None) -> tuple[TankYear, ...]:
    """Return the year of the tanks that catch rain, all taken as one, by how the rain falls.

    For the people of the package's own case. () where no tank catches any. Raises Lacking.
    """
    rows = catching(package)
    if not rows:
        return ()
    months = {row.month: row for row in package.climate}
    if lacks := [month for month in MONTHS if month not in months]:
        raise lacking(f"a row for {', '.join(lacks)} (climate by month)")
    weather = weather_of(package) if weather is None else weather
    falls = gathered([months[month] for month in MONTHS], _rain_m)
    people, use = package.people, package.site.water_m3_pd
    wanted = wanted_m3(people, use, [months[month].is_open for month in MONTHS])
    holds = sum(gathered(rows, lambda row: row.usable_m3))
    areas = gathered(rows, lambda row: (_area_m2(package, row), CATCHES[row.catches_on]))
    return tuple(
        tank_year(
            sum(
                (caught_m3(runs_off_m(rain, weather.air_k), area, kept) for area, kept in areas),
                np.zeros(len(rain)),
            ),
            wanted,
            holds,
            case=package.case.case if package.case else "",
            rains=rains,
        )
        for rains, rain in rain_by_day(weather, falls).items()
    )


def by_case(package: Package, weather: Weather) -> tuple[TankYear, ...]:
    """Return the same for each people case of the brief, the package as it stands without any."""
    cases = package.rows_of(PeopleCase)
    asked = [package.but(case=case) for case in cases] or [package]
    return tuple(year for each in asked for year in tanks_of(each, weather))


def _rain_m(row: Month) -> float:
    return row.rain_m


def _area_m2(package: Package, row: Tank) -> float:
    """What drains into a tank on plan [m²]; a rain tank that says nothing has the roof."""
    return gross_area(package, "roof") if row.catch_m2 is None else row.catch_m2
