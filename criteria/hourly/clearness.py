"""How clear days are: the sun of a day by its clearness, and days of a month that differ."""

import numpy as np
from numpy.typing import NDArray

from criteria.hourly.dates import MONTH_DAYS, MONTH_OF_DAY
from criteria.hourly.sun import (
    MID_HOUR,
    SunYear,
    above_the_air_w_m2,
    day_angle,
    declination,
    equation_of_time_h,
)
from criteria.hourly.weather import Hours, Place

DAYS = 365
NOON = day_angle(np.arange(1.0, DAYS + 1))
"""Angle of the year at each noon [rad]."""
MOST_BEAM_W_M2 = 1050.0
"""Direct normal sun of an hour is never more [W/m²]. Common practice."""
CLEAR = 0.75
"""Clearness of a day without a cloud [1]. Common practice."""
LEAST = 0.05
"""Clearness of the darkest day [1]. K. Hollands and R. Huget 1983."""
LAG = 0.29
"""How far a day's clearness follows the day before [1]. Collares-Pereira and Rabl, from memory."""
SEED = 1983
"""Of the fixed order in which days stand: any year made again is the same year."""


def sunset_rad(latitude_deg: float, declination_rad: Hours) -> Hours:
    """Return the hour angle of sunset of each day [rad]: 0 in polar night, π in polar day."""
    tangents = np.tan(np.radians(latitude_deg)) * np.tan(declination_rad)
    return np.asarray(np.arccos(np.clip(-tangents, -1.0, 1.0)))


def above_the_air_wh_m2(
    latitude_deg: float, declination_rad: Hours, square_on_w_m2: Hours
) -> Hours:
    """Return a day's sun above the air, on level ground [Wh/m²], by day.

    H = 24/π · I (cos φ cos δ sin ω + ω sin φ sin δ)

    I   square on [W/m²], δ declination, φ latitude, ω hour angle of sunset [rad]
    """
    latitude, sunset = np.radians(latitude_deg), sunset_rad(latitude_deg, declination_rad)
    across = np.cos(latitude) * np.cos(declination_rad) * np.sin(sunset)
    along = sunset * np.sin(latitude) * np.sin(declination_rad)
    whole: Hours = 24 / np.pi * square_on_w_m2 * (across + along)
    return np.maximum(whole, 0.0)


def diffuse_share(clearness: Hours, sunset: Hours) -> Hours:
    """Return how much of a day's sun is diffuse [1], of clearness [1] and sunset's angle [rad].

    Source: D. Erbs, S. Klein and J. Duffie, Solar Energy 28 (1982) 293; one curve for days whose
        sun sets before 81.4°, one for longer days.
    """
    K = clearness
    short = np.where(
        K < 0.715, 1 - 0.2727 * K + 2.4495 * K**2 - 11.9514 * K**3 + 9.3879 * K**4, 0.143
    )
    long = np.where(K < 0.722, 1 + 0.2832 * K - 2.5557 * K**2 + 0.8448 * K**3, 0.175)
    return np.where(sunset <= np.radians(81.4), short, long)


def hour_shares(hour_angle: Hours, sunset: Hours) -> tuple[Hours, Hours]:
    """Return which part of a day's global and diffuse sun falls in each hour [1]: shape (days, 24).

    `hour_angle` of the hours' middles, shape (days, 24); `sunset`'s, shape (days,) [rad]. Both
    parts add up to 1 on each day that has sun.

    Source: M. Collares-Pereira and A. Rabl, Solar Energy 22 (1979) 155.
    """
    sunset = sunset[:, None]
    above = np.maximum(np.cos(hour_angle) - np.cos(sunset), 0.0)
    a = 0.409 + 0.5016 * np.sin(sunset - np.pi / 3)
    b = 0.6609 - 0.4767 * np.sin(sunset - np.pi / 3)
    whole = above * np.maximum(a + b * np.cos(hour_angle), 0.0)
    return _of_one(whole), _of_one(above)


def _of_one(parts: Hours) -> Hours:
    sums = parts.sum(axis=1, keepdims=True)
    return parts / np.where(sums > 0, sums, 1.0)


class DaySun:
    """The sun of a place, ready to be made of any clearness of its days.

    above_wh_m2   of each day above the air, on level ground [Wh/m²]
    """

    def __init__(self, place: Place, sun: SunYear) -> None:
        self.up = sun.up
        tilt = declination(NOON)
        self.sunset = sunset_rad(place.latitude_deg, tilt)
        self.above_wh_m2 = above_the_air_wh_m2(place.latitude_deg, tilt, above_the_air_w_m2(NOON))
        ahead_h = equation_of_time_h(np.repeat(NOON, 24)) + place.longitude_deg / 15 - place.zone_h
        hour_angle = np.radians(15 * (MID_HOUR + ahead_h - 12)).reshape(DAYS, 24)
        self.whole, self.diffuse = hour_shares(hour_angle, self.sunset)

    def of(self, clearness: Hours) -> tuple[Hours, Hours]:
        """Return direct normal and level diffuse sun by hour [W/m²], of clearness by day.

        What the beam can't carry (the sun too low, or more than there ever is) is diffuse, so that
        a day's sum stays its sum.
        """
        day = clearness * self.above_wh_m2
        whole = (day[:, None] * self.whole).ravel()
        share = diffuse_share(clearness, self.sunset)
        diffuse = np.minimum(((share * day)[:, None] * self.diffuse).ravel(), whole)
        is_up = self.up > 0
        up = np.where(is_up, self.up, 1.0)
        beam = np.where(is_up, np.minimum((whole - diffuse) / up, MOST_BEAM_W_M2), 0.0)
        return beam, whole - beam * np.where(is_up, up, 0.0)


def days_that_differ(mean: Hours) -> Hours:
    """Return the clearness of each day of a year, of the mean of each month: (12,) → (365,).

        F(K) = (exp(γ K₀) − exp(γ K)) / (exp(γ K₀) − exp(γ K₁))

        K₀  0.05; K₁  0.6313 + 0.267 K̄ − 11.9 (K̄ − 0.75)^8; γ such that the mean is K̄

    A month's days stand at the quantiles (i − ½)/n, in the order of a walk in which each day
    follows the last a little. A month too dark or too clear to differ has days that don't.

    Source: P. Bendt, M. Collares-Pereira and A. Rabl, Solar Energy 27 (1981) 1; K. Hollands and
        R. Huget, Solar Energy 30 (1983) 195.
    """
    most = 0.6313 + 0.267 * mean - 11.9 * (mean - 0.75) ** 8
    differs = (mean > LEAST * 1.2) & (most > mean * 1.02)
    span = np.where(differs, most - LEAST, 1.0)[MONTH_OF_DAY]
    low, high = np.full(12, -80.0), np.full(12, 80.0)
    for _ in range(30):
        middle = (low + high) / 2
        is_under = _mean_of_months(_quantile(middle[MONTH_OF_DAY], span)) < mean
        low, high = np.where(is_under, middle, low), np.where(is_under, high, middle)
    found = _quantile(((low + high) / 2)[MONTH_OF_DAY], span)
    return np.where(differs[MONTH_OF_DAY], found, mean[MONTH_OF_DAY])


def _quantile(bend: Hours, span: Hours) -> Hours:
    """Return K at each day's quantile, of γ (`bend`) and K₁ − K₀ (`span`)."""
    bend = np.where(np.abs(bend) < 1e-6, 1e-6, bend)
    risen: Hours = LEAST + np.log1p(QUANTILE * np.expm1(bend * span)) / bend
    return risen


def _mean_of_months(days: Hours) -> Hours:
    return np.bincount(MONTH_OF_DAY, days, minlength=12) / MONTH_DAYS


def _quantiles() -> Hours:
    """Return the quantile at which each day stands in its month."""
    steps = np.random.RandomState(SEED).standard_normal(DAYS)
    walk = steps.copy()
    for day in range(1, DAYS):
        walk[day] += LAG * walk[day - 1]
    standing = np.empty(DAYS)
    for month, days in enumerate(MONTH_DAYS):
        of_month = month == MONTH_OF_DAY
        order: NDArray[np.intp] = np.argsort(np.argsort(walk[of_month]))
        standing[of_month] = (order + 0.5) / days
    return standing


QUANTILE = _quantiles()
