"""Rain by day: what falls and melts, what a roof catches of it, and what a tank gives of that.

Water that people drink wants treatment and tests: local health codes decide.
"""

from collections.abc import Mapping, Sequence
from enum import StrEnum

import numpy as np

from criteria.errors import InputError, require_fraction, require_not_negative
from criteria.hourly.dates import DAY_OF_MONTH, MONTH_DAYS, MONTH_OF_DAY, open_days
from criteria.hourly.weather import CELSIUS_K, Flags, Hours, Weather
from criteria.hourly.year import TankYear

MELTS_M_K = 0.004
"""Water that melts from snow in a day for each kelvin of its mean above 0 °C [m/K].

Degree-day factor; 2 to 6 mm is common in handbooks of hydrology, from memory."""
FIRST_LOST_M = 0.0005
"""Rain of a wet day that wets the roof and is led away [m]. Common practice."""
KEPT_SHARE = 0.85
KEPT_BY_SURFACE: Mapping[str, float] = {"metal": 0.9, "green": 0.5}
"""Part of the rain that a roof lets run to the tank [1], 0.85 of others. Common practice; 0.8 to
0.9 of hard roofs and 0.3 to 0.5 of green ones in BS EN 16941-1, from memory."""
SHORT_M3 = 1e-6
"""What is short by less than a millilitre is the arithmetic's own [m³]."""


class Rains(StrEnum):
    """How rain is spread over the days, as a page says it."""

    BY_HOUR = "by the hour of the file"
    EVERY_FOURTH = "every fourth day"
    FIRST_TEN = "in the first ten days"


def of_months(month_m: Sequence[float], rains: Rains) -> Hours:
    """Return a month's rain in equal falls by day [m], the first on its first: shape (365,).

    Every fourth day, or each of its first ten. Neither is how it rains: where they differ, the
    month's figure alone doesn't settle it.
    Raises InputError for other than 12 figures or one below 0.

    >>> of_months([0.08] + 11 * [0.0], Rains.EVERY_FOURTH)[:6].tolist()
    [0.01, 0.0, 0.0, 0.0, 0.01, 0.0]
    """
    if len(month_m) != len(MONTH_DAYS):
        raise InputError(f"{len(month_m)} months of rain; expected 12")
    for figure in month_m:
        require_not_negative("rain of a month", figure, "m")
    falls = DAY_OF_MONTH < 10 if rains is Rains.FIRST_TEN else DAY_OF_MONTH % 4 == 0
    count = np.bincount(MONTH_OF_DAY, weights=falls)
    days: Hours = np.where(falls, (np.asarray(month_m) / count)[MONTH_OF_DAY], 0.0)
    return days


def rain_by_day(weather: Weather, month_m: Sequence[float]) -> dict[Rains, Hours]:
    """Return the rain of each day [m]: by the file's hours, else of months in both ways."""
    if weather.rain_m is not None:
        return {Rains.BY_HOUR: weather.rain_m.reshape(-1, 24).sum(axis=1)}
    return {rains: of_months(month_m, rains) for rains in (Rains.EVERY_FOURTH, Rains.FIRST_TEN)}


def runs_off_m(rain_m: Hours, air_k: Hours, *, sheds: bool = False) -> Hours:
    """Return the water that leaves a roof each day, rain and what melts [m].

        θ ≤ 0 °C: rain lies as snow; above it melts by 4 mm/K a day, as long as there is some

        rain_m   of each day, snow as the water it is                   [m]
        air_k    of each hour, whose daily mean decides                 [K]
        sheds    whether snow slides off: then it is lost to the tank

    What lies at the year's end lies at its beginning. Source: degree-day method, from memory.
    """
    mean_c = air_k.reshape(-1, 24).mean(axis=1) - CELSIUS_K
    is_cold = mean_c <= 0
    if sheds:
        return np.where(is_cold, 0.0, rain_m)
    melts = np.where(is_cold, 0.0, MELTS_M_K * mean_c).tolist()
    falls = np.where(is_cold, rain_m, 0.0).tolist()
    lying, melted = 0.0, [0.0] * len(falls)
    for _ in range(2):
        for day, (fell, can_melt) in enumerate(zip(falls, melts, strict=True)):
            lying += fell
            melted[day] = min(lying, can_melt)
            lying -= melted[day]
    runs: Hours = np.where(is_cold, 0.0, rain_m) + np.array(melted)
    return runs


def caught_m3(runs_off: Hours, catch_m2: float, kept_share: float = KEPT_SHARE) -> Hours:
    """Return what reaches the tank of each day's water off the roof [m³].

        q = (h − 0.5 mm) · A · k, never below 0

        h   rain and melting snow of the day   [m]
        A   roof on plan                       [m²]
        k   part that runs to the tank         [1]

    Source: runoff coefficient and first flush, common practice (constants above).
    Raises InputError for an area below 0 or a share outside 0 to 1.
    """
    require_not_negative("catch", catch_m2, "m²")
    share = require_fraction("kept share", kept_share)
    caught: Hours = np.maximum(runs_off - FIRST_LOST_M, 0.0) * (catch_m2 * share)
    return caught


def wanted_m3(people: float, use_m3_pd: float, is_open: Sequence[bool]) -> Hours:
    """Return the water that people want each day [m³]: n · q in months that are open, else none."""
    require_not_negative("people", people, "no.")
    require_not_negative("use per person-day", use_m3_pd, "m³")
    return np.where(open_days(is_open), people * use_m3_pd, 0.0)


def tank_year(
    caught: Hours,
    wanted: Hours,
    capacity_m3: float,
    *,
    start_m3: float | None = None,
    case: str = "",
    rains: str = Rains.BY_HOUR,
) -> TankYear:
    """Return a tank day by day: it gives first, and then takes what has room.

        y = min(d, v);  v ← min(v + q − y, V − y);  spilled what had no room

        caught, wanted  q, d of each day                                       [m³]
        capacity_m3     V, what can be used of all tanks that share the rain   [m³]
        start_m3        v before the first day; None is as the year leaves it, having begun it
                        half full once before                                  [m³]

    Yield after spillage, the careful order: water is taken from what yesterday left.
    Source: A. Fewkes and D. Butler, Building Services Engineering Research and Technology 21 (2000)
    99; the family of BS EN 16941-1 (both from memory).

    Raises InputError for a capacity below 0.
    """
    require_not_negative("usable volume", capacity_m3, "m³")
    left = capacity_m3 / 2 if start_m3 is None else start_m3
    if start_m3 is None:
        left = float(_days(caught, wanted, capacity_m3, left)[-1, 0])
    stored, drawn, spilled = _days(caught, wanted, capacity_m3, left).T
    return TankYear(
        case=case,
        rains=rains,
        caught_m3=caught,
        drawn_m3=drawn,
        short_m3=wanted - drawn,
        stored_m3=stored,
        spilled_m3=spilled,
        capacity_m3=capacity_m3,
    )


def _days(caught: Hours, wanted: Hours, capacity: float, left: float) -> Hours:
    """What is stored, drawn and spilled each day [m³]: shape (365, 3)."""
    days = []
    for came, asked in zip(caught.tolist(), wanted.tolist(), strict=True):
        drawn = asked if asked < left else left
        left += came - drawn
        over = max(left - (capacity - drawn), 0.0)
        left -= over
        days.append((left, drawn, over))
    return np.array(days)


def is_short(tank: TankYear) -> Flags:
    """Tell on which days less water was there than wanted: shape (365,)."""
    return tank.short_m3 > SHORT_M3


def days_given(tank: TankYear) -> int:
    """Return on how many days of the year all the water that was wanted was there [days].

    Days on which none is wanted aren't counted.
    """
    asked = tank.drawn_m3 + tank.short_m3 > SHORT_M3
    return int(np.count_nonzero(asked & ~is_short(tank)))
