"""A year of hours made of twelve months' means, whose days differ as clear and dark days do."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from criteria.errors import InputError
from criteria.hourly.clearness import CLEAR, DaySun, days_that_differ
from criteria.hourly.dates import MONTH_DAYS, MONTH_OF_DAY, MONTH_OF_HOUR
from criteria.hourly.sky import SNOW_REFLECTANCE, sky_of
from criteria.hourly.sky_long_wave import long_wave_w_m2, standard_pressure_pa
from criteria.hourly.spells import Laid, clearness_with, laid, ordinary
from criteria.hourly.sun import MID_HOUR, positions
from criteria.hourly.weather import HOURS, Flags, Hours, Origin, Place, Spell, Weather
from criteria.schedules.site import MONTHS
from criteria.units import TEMPERATURE

PLANE_DEG = 60.0
"""Tilt of the plane on which a climate's sun-hours are given, facing the equator [°]."""
REFLECTANCE = 0.2
"""Of ground without snow [1]. Common practice."""
MOST_CLEARNESS = 0.85
"""No month is clearer [1]: high deserts come near 0.8. Common practice."""
WARMEST_H = 15.0
"""When a day is warmest, by the clock [h]. Common practice."""
SWING = np.cos(2 * np.pi * (MID_HOUR[:24] - WARMEST_H) / 24)
"""How far each hour of a day stands from its mean, of the day's swing [1]."""
FARTHEST = float(SWING.max())
FIRST_DAYS = np.cumsum((0, *MONTH_DAYS[:-1]))
ROUNDS = 4
"""In how many the clearness of months is found: at Denver's within 0.1 % of each month's sun."""
STEEPNESS = 1.2
"""How sun on the steep plane follows clearness, as a power [1]: for a quick start alone."""


@dataclass(frozen=True, kw_only=True)
class MonthMeans:
    """What twelve rows of a climate give of one month.

    mean_k, mean_min_k  of the air, and of its nights' lowest [K]
    sun_h       full-sun hours a day on a plane of 60° that faces the equator: kWh/m² [h]
    wind_m_s    mean, at 10 m [m/s]
    has_snow    whether snow lies
    is_open     whether the building is used
    """

    mean_k: float
    mean_min_k: float
    sun_h: float
    wind_m_s: float
    has_snow: bool = False
    is_open: bool = True


class MonthRefused(InputError):
    """A month that can't be: its position, from 0, what of it, and what was expected."""

    def __init__(self, month: int, what: str, expected: str) -> None:
        super().__init__(f"{MONTHS[month]}, {what}: expected {expected}")
        self.month, self.what, self.expected = month, what, expected


@lru_cache(maxsize=16)
def weather_of_months(
    months: tuple[MonthMeans, ...],
    place: Place,
    name: str,
    cold_k: float | None = None,
    hot_k: float | None = None,
) -> Weather:
    """Return a year made of twelve months, January first.

    Each month keeps its mean, the mean of its nights' lowest and, on the plane of 60°, its sun;
    `cold_k` and `hot_k` are the coldest night and the hottest afternoon to design for: three days
    each are laid into the coldest and the hottest open month, over its means. The dew point is the
    month's mean lowest: common practice.

    Raises MonthRefused where a mean lowest is above its mean or there is more sun than a sky gives;
    InputError where months aren't twelve.
    """
    if len(months) != len(MONTHS):
        raise InputError(f"{len(months)} months; expected {len(MONTHS)}")
    mean_k, lowest_k = _of(months, "mean_k"), _of(months, "mean_min_k")
    swing_k = mean_k - lowest_k
    for month in np.flatnonzero(swing_k < 0):
        raise MonthRefused(int(month), "mean_min_k", "at most the month's mean")
    is_open = _of(months, "is_open") > 0
    spells = laid(lowest_k, mean_k + swing_k, is_open, cold_k, hot_k)
    has_snow = (_of(months, "has_snow") > 0)[MONTH_OF_HOUR]
    mean, clearness, (beam, diffuse) = _sun_of(_of(months, "sun_h"), place, has_snow, spells)
    of_mean = clearness / np.where(mean > 0, mean, 1.0)[MONTH_OF_DAY]
    days_swing = swing_k[MONTH_OF_DAY] * np.where(mean[MONTH_OF_DAY] > 0, (1 + of_mean) / 2, 1.0)
    days_mean = mean_k[MONTH_OF_DAY]
    for spell in spells:
        days_mean[spell.days] = spell.mean_k(days_swing, FARTHEST)
    air_k = (days_mean[:, None] + days_swing[:, None] * SWING).ravel()
    dew_k = np.minimum(air_k, lowest_k[MONTH_OF_HOUR])
    cloud = np.repeat(cloud_tenths(clearness), 24)
    return Weather(
        place=place,
        origin=Origin.MONTHS,
        name=name,
        air_k=air_k,
        dew_k=dew_k,
        pressure_pa=np.full(HOURS, standard_pressure_pa(place.altitude_m)),
        beam_w_m2=beam,
        diffuse_w_m2=diffuse,
        long_wave_w_m2=long_wave_w_m2(air_k, dew_k, cloud),
        wind_m_s=_of(months, "wind_m_s")[MONTH_OF_HOUR],
        rain_m=None,
        has_snow=has_snow,
        has_spells=cold_k is not None and hot_k is not None,
        without=tuple(s for s, at in zip(Spell, (cold_k, hot_k), strict=True) if at is None),
        said=(
            "Months keep their means; their days differ as clear and dark days do.",
            *map(_told, spells),
        ),
    )


def cloud_tenths(clearness: Hours) -> Hours:
    """Return how much of the sky is clouded, in tenths, of the clearness of days [1].

        G/G₀ = 1 − 0.75 (N/10)^3.4, with G/G₀ = K/0.75

    Source: F. Kasten and G. Czeplak, Solar Energy 24 (1980) 177, from memory.
    """
    taken = np.clip((1 - clearness / CLEAR) / 0.75, 0.0, 1.0)
    tenths: Hours = 10 * taken ** (1 / 3.4)
    return tenths


def _sun_of(
    wanted_h: Hours, place: Place, has_snow: Flags, spells: tuple[Laid, ...]
) -> tuple[Hours, Hours, tuple[Hours, Hours]]:
    """Return months' mean clearness, days' clearness, and beam and diffuse by hour [W/m²].

    The clearness is that which brings each month's sun-hours on the steep plane, by the same sky
    that brings the sun on every other plane; its spells have theirs.
    """
    day_sun = DaySun(place, positions(place))
    is_free, bearing = ordinary(spells), 180.0 if place.latitude_deg >= 0 else 0.0
    thrown = np.where(has_snow, SNOW_REFLECTANCE, REFLECTANCE)

    def sun_h(clearness: Hours) -> Hours:
        beam, diffuse = day_sun.of(clearness)
        plane = sky_of(positions(place), beam, diffuse, thrown).on_plane(PLANE_DEG, bearing)
        return np.asarray(plane.total_w_m2.reshape(-1, 24).sum(axis=1) / 1000)

    def by_month(days: Hours, which: Flags) -> Hours:
        return np.add.reduceat(np.where(which, days, 0.0), FIRST_DAYS)

    every = np.ones(MONTH_OF_DAY.shape, dtype=np.bool_)
    in_all = wanted_h * MONTH_DAYS
    most = by_month(sun_h(np.full(MONTH_OF_DAY.shape, MOST_CLEARNESS)), every)
    for month in np.flatnonzero(in_all > most + 1e-6):
        at_most = most[month] / MONTH_DAYS[month]
        raise MonthRefused(int(month), "sun_s", f"at most {at_most:.1f} h at its latitude")
    mean = MOST_CLEARNESS * (in_all / np.where(most > 0, most, 1.0)) ** (1 / STEEPNESS)
    for _ in range(ROUNDS):
        days = sun_h(clearness_with(spells, days_that_differ(mean)))
        free = by_month(days, is_free)
        left = np.maximum(in_all - by_month(days, ~is_free), 0.0)
        share = left / np.where(free > 0, free, 1.0)
        mean = np.minimum(mean * share ** (1 / STEEPNESS), MOST_CLEARNESS)
    clearness = clearness_with(spells, days_that_differ(mean))
    return mean, clearness, day_sun.of(clearness)


def _of(months: Sequence[MonthMeans], attribute: str) -> Hours:
    return np.array([float(getattr(month, attribute)) for month in months])


def _told(spell: Laid) -> str:
    at = TEMPERATURE.write(spell.reached_k)
    night = f"nights of {at}" if spell.spell is Spell.COLD else f"afternoons of {at}"
    return f"Three days with {night} are laid into {MONTHS[spell.month]}."
