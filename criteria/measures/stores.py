"""What tanks hold day by day, and how many people a store serves."""

from collections.abc import Sequence
from dataclasses import dataclass

from criteria.errors import require_fraction, require_not_negative, require_positive


@dataclass(frozen=True)
class Day:
    """One day of a tank: what is left at its end, and what was wanted and not there [m³]."""

    left_m3: float
    short_m3: float


def people_served(volume_m3: float, usable: float, days: float, use_m3_pd: float) -> float:
    """Return how many people a store serves for so many days, exact: not yet rounded down.

        n = V · s ÷ (t · q)

    The same of waste, with what each person makes.

    >>> round(people_served(0.4, 0.9, 7, 0.0127), 2)
    4.05
    """
    require_not_negative("volume", volume_m3, "m³")
    require_fraction("usable share", usable)
    wanted = require_positive("days", days, "days") * require_positive("use", use_m3_pd, "m³/day")
    return volume_m3 * usable / wanted


def drawn_down(
    usable_m3: float,
    wanted_m3: Sequence[float],
    *,
    refilled: frozenset[int] = frozenset(),
    caught_m3: Sequence[float] = (),
) -> list[Day]:
    """Return a tank that begins full, day by day.

        v ← min(V, v + in); drawn = min(v, wanted); short = wanted − drawn

        wanted     of each day                                              [m³]
        refilled   numbers of the days, from 0, at whose start it is filled
        caught     of each day, such as rain; none where it isn't given     [m³]

    Source: mass balance.
    """
    require_not_negative("usable volume", usable_m3, "m³")
    left, days = usable_m3, []
    for n, wanted in enumerate(wanted_m3):
        require_not_negative("water wanted", wanted, "m³")
        came = require_not_negative("water caught", caught_m3[n], "m³") if caught_m3 else 0.0
        left = usable_m3 if n in refilled else min(usable_m3, left + came)
        drawn = min(left, wanted)
        left -= drawn
        days.append(Day(left, wanted - drawn))
    return days


def filled_up(
    usable_m3: float, made_m3: Sequence[float], *, emptied: frozenset[int] = frozenset()
) -> list[Day]:
    """Return a waste tank that begins empty, day by day: room left, and what had no room [m³]."""
    return drawn_down(usable_m3, made_m3, refilled=emptied)
