"""How warm people want it where windows are theirs to open, and how far from it a year lies."""

from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from criteria.errors import InputError, require_not_negative
from criteria.hourly.weather import CELSIUS_K, Flags, Hours
from criteria.hourly.worst import Span, longest

ALPHA = 0.8
"""How much of yesterday's running mean stays [1]. EN 16798-1:2019, B.2.2.

ASHRAE 55-2020, 5.4.2, has 0.6 to 0.9."""
FIRST_DAYS = 7
CLOSE_K = 1e-9
"""Less than so far out of a range is the arithmetic's own [K]."""

SLEEPERS_K = 26 + CELSIUS_K
"""Warmest that a bedroom should be at night [K]. CIBSE TM59, from memory."""
SLEEPERS_SHARE = 0.01
"""Part of a year's hours from 22:00 to 07:00 that may be warmer [1]: 32 hours. CIBSE TM59, from
memory."""


class Category(StrEnum):
    """What is expected of a building: EN 16798-1:2019."""

    HIGH = "I"
    MEDIUM = "II"
    MODERATE = "III"


EN_WIDTH_K = {Category.HIGH: (3.0, 2.0), Category.MEDIUM: (4.0, 3.0), Category.MODERATE: (5.0, 4.0)}
"""How far below and above the middle people are content [K]. EN 16798-1:2019, B.2.2."""
EN_RANGE_K = (10 + CELSIUS_K, 30 + CELSIUS_K)
"""Running means for which that holds [K]."""
ASHRAE_WIDTH_K = {0.9: 2.5, 0.8: 3.5}
"""How far from the middle, by the share of people who accept it [K]. ASHRAE 55-2020, 5.4.2."""
ASHRAE_RANGE_K = (10 + CELSIUS_K, 33.5 + CELSIUS_K)
MOVED_AIR = ((1.2, 2.2), (0.9, 1.8), (0.6, 1.2))
"""By how much moving air lifts the upper limit where it is over 25 °C: from a speed [m/s], [K].

ASHRAE 55-2020, Table 5-13 (its number from memory)."""
LIFTED_OVER_K = 25 + CELSIUS_K
FIXED_LOW_K = {Category.MODERATE: 18 + CELSIUS_K}
FIXED_K = (20 + CELSIUS_K, 26 + CELSIUS_K)
"""Between what it is held where the running mean lies outside [K]; from 18 °C in category III.

EN 16798-1:2019, Annex B, dwellings, rounded (from memory)."""


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Band:
    """Between what it is wanted, hour by hour, operative [K].

    is_adaptive  whether the hour's limits follow the weather: outside of a standard's range they
                 are fixed, which has to be said
    """

    low_k: Hours
    high_k: Hours
    is_adaptive: Flags


@dataclass(frozen=True, kw_only=True)
class Missed:
    """How far a year lies from what is wanted: hours and degree-hours, of those that count.

    below_kh, above_kh  how far and how long together [K·h]
    longest_below, longest_above  the longest run of such hours; those that don't count part it
    """

    counted_hours: int
    below_hours: int
    above_hours: int
    below_kh: float
    above_kh: float
    longest_below: Span
    longest_above: Span


def mean_before_k(days_k: Hours, alpha: float = ALPHA) -> float:
    """Return the running mean of daily means, of the last days, yesterday's first [K].

        T_m = Σ α^i T_i ÷ Σ α^i

    EN 16798-1 prints α^i of 0.8 as 1, 0.8, 0.6, 0.5, 0.4, 0.3, 0.2 over 3.8, within 0.15 K of this.

    >>> round(mean_before_k(np.array([20.0, 18, 16, 15, 15, 17, 19])), 1)
    17.5
    """
    _require_alpha(alpha)
    weights = alpha ** np.arange(len(days_k))
    return float(weights @ days_k / weights.sum())


def running_mean_k(air_k: Hours, alpha: float = ALPHA) -> Hours:
    """Return the running mean of what was outside, for each hour of the days after [K].

        T_m = (1 − α) · T_yesterday + α · T_m,yesterday

    The year follows itself: its last week is the one before the first day.
    Source: EN 16798-1:2019, B.2.2; ASHRAE 55-2020, 5.4.2. Raises InputError for α outside 0 to 1.
    """
    days = air_k.reshape(-1, 24).mean(axis=1)
    mean = mean_before_k(days[: -FIRST_DAYS - 1 : -1], alpha)
    means = [mean]
    for day in days[:-1].tolist():
        mean = (1 - alpha) * day + alpha * mean
        means.append(mean)
    return np.repeat(np.array(means), 24)


def _require_alpha(alpha: float) -> None:
    if not 0 <= alpha < 1:
        raise InputError(f"α is {alpha:g}; expected 0 to less than 1")


def en_16798_k(mean_k: Hours, category: Category = Category.MEDIUM) -> Band:
    """Return what is wanted without cooling, of the running mean of outside [K].

        T_c = 0.33 · θ_m + 18.8 °C; category I −3 +2, II −4 +3, III −5 +4 K

    Applies to: people who sit, in buildings without cooling, whose windows they open; θ_m 10 to
    30 °C, outside of which it is held between 20 and 26 °C, in category III 18.
    Source: EN 16798-1:2019, B.2.2.
    """
    below, above = EN_WIDTH_K[category]
    middle = 0.33 * (mean_k - CELSIUS_K) + 18.8 + CELSIUS_K
    low = FIXED_LOW_K.get(category, FIXED_K[0])
    return _within(mean_k, EN_RANGE_K, (middle - below, middle + above), (low, FIXED_K[1]))


def ashrae_55_k(
    mean_k: Hours,
    share: float = 0.8,
    *,
    operative_k: Hours | None = None,
    air_m_s: float = 0.0,
) -> Band:
    """Return what 80 or 90 % of people accept without cooling, of the running mean of outside [K].

        T_c = 0.31 · θ_m + 17.8 °C; 90 % ± 2.5, 80 % ± 3.5 K

        operative_k  of the room: in hours over 25 °C moving air lifts the upper limit, by 1.2, 1.8
                     and 2.2 K from 0.6, 0.9 and 1.2 m/s; None leaves that out   [K]

    Applies to: met 1.0 to 1.3, no cooling, windows that people open; θ_m 10 to 33.5 °C, outside of
    which it is held between 20 and 26 °C.
    Source: ASHRAE 55-2020, 5.4.2. Raises InputError for another share, or air below 0 m/s.
    """
    if share not in ASHRAE_WIDTH_K:
        raise InputError(f"share is {share:g}; expected 0.8 or 0.9")
    require_not_negative("moved air", air_m_s, "m/s")
    width = ASHRAE_WIDTH_K[share]
    middle = 0.31 * (mean_k - CELSIUS_K) + 17.8 + CELSIUS_K
    high = middle + width
    lift = next((k for least, k in MOVED_AIR if air_m_s >= least), 0.0)
    if operative_k is not None:
        high = high + np.where(operative_k > LIFTED_OVER_K, lift, 0.0)
    return _within(mean_k, ASHRAE_RANGE_K, (middle - width, high), FIXED_K)


def _within(
    mean_k: Hours,
    holds_k: tuple[float, float],
    limits_k: tuple[Hours, Hours],
    fixed_k: tuple[float, float],
) -> Band:
    holds: Flags = (mean_k > holds_k[0] - CLOSE_K) & (mean_k < holds_k[1] + CLOSE_K)
    low, high = (np.where(holds, k, fixed) for k, fixed in zip(limits_k, fixed_k, strict=True))
    return Band(low_k=low, high_k=high, is_adaptive=holds)


def missed(
    operative_k: Hours, low_k: Hours, high_k: Hours, counts: Flags, beyond_k: float = 0.0
) -> Missed:
    """Return how far a year lies from what is wanted.

        hours in which T < T_low − b, or T > T_high + b; degree-hours Σ (T_low − T) of these hours

        counts    hours that count, such as those in which somebody is there
        beyond_k  b, how far off still passes as held   [K]

    Raises InputError where a temperature or a limit isn't known in an hour that counts: it is
    neither met nor missed.
    """
    for name, figures in (("room", operative_k), ("least", low_k), ("most", high_k)):
        unknown = int(np.count_nonzero(counts & ~np.isfinite(figures)))
        if unknown:
            raise InputError(f"{name} isn't known in {unknown:,} of the hours that count")
    below, above = low_k - operative_k, operative_k - high_k
    is_below, is_above = counts & (below > beyond_k), counts & (above > beyond_k)
    return Missed(
        counted_hours=int(np.count_nonzero(counts)),
        below_hours=int(np.count_nonzero(is_below)),
        above_hours=int(np.count_nonzero(is_above)),
        below_kh=float(below[is_below].sum()),
        above_kh=float(above[is_above].sum()),
        longest_below=longest(is_below),
        longest_above=longest(is_above),
    )


def too_warm_to_sleep(operative_k: Hours, is_asleep: Flags) -> Flags:
    """Tell in which hours people sleep at over 26 °C: shape (8760,).

    At most 1 % of a year's hours from 22:00 to 07:00, 32 of them, may be.
    Source: CIBSE TM59 (from memory).
    """
    return is_asleep & (operative_k > SLEEPERS_K)
