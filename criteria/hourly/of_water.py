"""Rain and warm water of a package: what its tanks catch and what its collector warms."""

import math

import numpy as np

from criteria.checks.envelope import gross_area
from criteria.checks.reading import gathered
from criteria.hourly.assumed import Taking
from criteria.hourly.facing import slope_deg
from criteria.hourly.hot_water import WarmTank, WarmWaterYear, warmed
from criteria.hourly.of_use import InUse
from criteria.hourly.rain_tank import (
    KEPT_BY_SURFACE,
    KEPT_SHARE,
    caught_m3,
    rain_by_day,
    runs_off_m,
    tank_year,
    wanted_m3,
)
from criteria.hourly.sky import Sky
from criteria.hourly.weather import Hours, Weather
from criteria.hourly.year import TankYear
from criteria.package import Package
from criteria.schedules.site import MONTHS
from criteria.schedules.states import PeopleCase
from criteria.schedules.water import Tank
from criteria.typed.cells import lacking

SHEDS_DEG = {"metal": 30.0}
SHEDS_FROM_DEG = 60.0
"""From which slope snow slides off metal, and off any roof [°]. Common practice, from memory."""
KEPT_M3_M2 = 0.05
"""Warm water kept for each square metre of collector [m³/m²]. Common practice."""
JACKET_W_M2K = 0.4
"""Through a tank's jacket of 100 mm [W/m²K]: 0.04 ÷ 0.1."""
CYLINDER = 5.54
"""Surface of a cylinder as tall as it is wide, over its volume to two thirds [1]: 6π ÷ (2π)^⅔."""


def tanks(package: Package, weather: Weather, use: InUse, taking: Taking) -> tuple[TankYear, ...]:
    """Return the tanks that rain fills as one, for each people case and each way that rain falls.

    Those that hold rain, and those that say on what their rain is caught. Where a rain tank doesn't
    say it, it is the roof on plan, once. () where nothing is caught. Raises Lacking.
    """
    rows = [row for row in package.rows_of(Tank) if _catches(row)]
    if not rows:
        return ()
    areas = _areas_m2(package, rows, taking)
    capacity = sum(gathered(rows, lambda row: row.usable_m3))
    slope = slope_deg(package, taking)
    falls = rain_by_day(weather, () if weather.rain_m is not None else _months_m(package))
    cases = package.rows_of(PeopleCase)
    asked = [(row.case, row.people, row.months) for row in cases] or [("", package.people, MONTHS)]
    found = []
    for rains, rain in falls.items():
        caught: Hours = np.zeros_like(rain)
        for row, area in zip(rows, areas, strict=True):
            sheds = slope >= SHEDS_DEG.get(row.catches_on, SHEDS_FROM_DEG)
            runs = runs_off_m(rain, weather.air_k, sheds=sheds)
            kept = KEPT_BY_SURFACE.get(row.catches_on, KEPT_SHARE)
            caught = caught + caught_m3(runs, area, kept)
        for case, people, months in asked:
            is_asked = [
                is_open and month in months
                for month, is_open in zip(MONTHS, use.months, strict=True)
            ]
            wanted = wanted_m3(people, package.site.water_m3_pd, is_asked)
            found.append(tank_year(caught, wanted, capacity, case=case, rains=rains))
    return tuple(found)


def _catches(row: Tank) -> bool:
    return row.holds == "rain" or bool(row.unless_blank("catch_m2"))


def _areas_m2(package: Package, rows: list[Tank], taking: Taking) -> list[float]:
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


def _months_m(package: Package) -> tuple[float, ...]:
    rows = {row.month: row for row in package.climate}
    lacks = [month for month in MONTHS if month not in rows]
    if lacks:
        raise lacking(f"a row for {', '.join(lacks)} (climate by month)")
    return tuple(gathered((rows[month] for month in MONTHS), lambda row: row.rain_m))


def warm_water(
    package: Package, weather: Weather, use: InUse, sky: Sky, room_k: Hours, taking: Taking
) -> WarmWaterYear | None:
    """Return what the sun warms of the water; None where no collector is scheduled.

    room_k   air of the room, in which the tank stands [K]

    The brief's warm water is drawn by whoever is awake, evenly through their waking hours. Raises
    Lacking.
    """
    plant, site = package.plant, package.site
    if not plant.collector_m2:
        return None
    south = (site.unless_blank("latitude_deg") or 0) < 0
    words = "{}: the collector is taken to face {}, to the sun of noon"
    looks = taking.of(
        plant, "collector_bearing_deg", 0.0 if south else 180.0, words, "common practice"
    )
    words = "{}: {} of warm water are taken to be kept"
    kept = KEPT_M3_M2 * plant.collector_m2
    volume = taking.of(plant, "hot_tank_m3", kept, words, "common practice")
    awake = use.people.awake
    a_day = np.repeat(awake.reshape(-1, 24).sum(axis=1), 24)
    share = np.divide(awake, a_day, out=np.zeros_like(awake), where=a_day > 0)
    return warmed(
        sky.on_plane(plant.collector_tilt_deg, looks),
        weather.air_k,
        room_k,
        share * package.people * site.hot_m3_pd,
        area_m2=plant.collector_m2,
        kind=plant.collector_kind,
        tank=WarmTank(
            volume_m3=volume,
            loss_w_k=JACKET_W_M2K * CYLINDER * volume ** (2 / 3),
            want_k=site.hot_k,
            cold_k=site.cold_k,
        ),
    )
