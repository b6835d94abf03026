"""The level of a tank day by day, with people who come and go."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil

from criteria.errors import require_not_negative, require_positive
from criteria.measures.water import DAY_S

YEAR_DAYS = 365
SAME = 1e-9
"""What lacks of a day's use below this share of it is the arithmetic's own error [1]."""


@dataclass(frozen=True)
class Stays:
    """People who are there in stays of some days, on some days of a year.

    people   in it at once               [no.]
    days     of a year                   [no.]
    stay     days of one stay            [no.]
    """

    people: int
    days: int
    stay: int


@dataclass(frozen=True)
class Levels:
    """What is left in a tank at the end of each day, and what was wanted and wasn't there [m³]."""

    left_m3: tuple[float, ...]
    short_m3: tuple[float, ...]

    @property
    def first_short(self) -> int | None:
        """The first day on which it runs dry, counted from 1; None where it never does."""
        return next((day for day, short in enumerate(self.short_m3, 1) if short > 0), None)


def people_by_day(interval_s: float, usual: int, others: Sequence[Stays]) -> tuple[int, ...]:
    """Return how many people are there on each day between two visits of supply.

    usual    people of the case that most days belong to   [no.]
    others   who come for stays; as many stays as their share of the year gives, rounded up, each
             at the end of an equal part of the interval, where stored water is lowest

    A weekend each week in a fortnight:

    >>> people_by_day(14 * 86400, 4, [Stays(people=6, days=104, stay=2)])
    (4, 4, 4, 4, 4, 6, 6, 4, 4, 4, 4, 4, 6, 6)
    """
    length = ceil(require_positive("days between visits", interval_s, "s") / DAY_S - 1e-9)
    people = [usual] * length
    for each in others:
        stays = ceil(length * each.days / YEAR_DAYS / each.stay - 1e-9)
        for number in range(1, stays + 1):
            end = length * number // stays
            for day in range(max(0, end - each.stay), end):
                people[day] = max(people[day], each.people)
    return tuple(people)


def level_by_day(stored_m3: float, use_m3_pd: float, people: Sequence[int]) -> Levels:
    """Return the level of a tank that is full before the first day.

        v_d = v_{d−1} − min(v_{d−1}, n_d · q);   short_d = n_d · q − min(v_{d−1}, n_d · q)

        v   what is left          [m³]
        n   people of the day     [no.]
        q   use of each           [m³/day]

    Source: mass balance.

    >>> found = level_by_day(1.0, 0.018, (4,) * 5 + (6,) * 2 + (4,) * 5 + (6,) * 2)
    >>> found.first_short, round(found.short_m3[12], 9)
    (13, 0.044)
    """
    left = require_not_negative("usable water", stored_m3, "m³")
    require_not_negative("use per person-day", use_m3_pd, "m³")
    levels, short = [], []
    for n in people:
        wanted = n * use_m3_pd
        used = min(left, wanted)
        short.append(wanted - used if wanted - used > SAME * wanted else 0.0)
        left -= used
        levels.append(left)
    return Levels(tuple(levels), tuple(short))
