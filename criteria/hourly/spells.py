"""Three days of the coldest nights, and of the hottest afternoons, to design for."""

from dataclasses import dataclass

import numpy as np

from criteria.hourly.dates import MONTH_DAYS, MONTH_OF_DAY
from criteria.hourly.weather import Flags, Hours, Spell

LENGTH = 3
"""Days of a spell [no.]."""
CLEARNESS = {Spell.COLD: (0.15, 0.75, 0.75), Spell.HOT: (0.7, 0.7, 0.7)}
"""Of its days [1]: cold comes dark, then clear. Common practice."""
BEGINS = {Spell.COLD: 9, Spell.HOT: 19}
"""Day of its month on which a spell begins, from 0: one month can hold both."""


@dataclass(frozen=True, kw_only=True)
class Laid:
    """A spell in its place.

    month      from 0
    reached_k  the lowest of each of its nights, or the highest of each of its afternoons [K]
    """

    spell: Spell
    month: int
    reached_k: float

    @property
    def days(self) -> slice:
        """Its days of the year, from 0."""
        first = sum(MONTH_DAYS[: self.month]) + BEGINS[self.spell]
        return slice(first, first + LENGTH)

    def mean_k(self, swing_k: Hours, farthest: float) -> Hours:
        """Return the mean of its days, of their swing [K] and how far of it an hour stands."""
        away = swing_k[self.days] * farthest
        return self.reached_k + (away if self.spell is Spell.COLD else -away)


def laid(
    lowest_k: Hours, highest_k: Hours, is_open: Flags, cold_k: float | None, hot_k: float | None
) -> tuple[Laid, ...]:
    """Return the spells of a year, of its months' mean lowest and highest: shape (12,).

    A month whose ordinary nights are as cold already, or afternoons as hot, holds it without. The
    building's open months are looked at; all of them where none is open.
    """
    among = is_open if is_open.any() else ~is_open
    coldest = int(np.argmin(np.where(among, lowest_k, np.inf)))
    hottest = int(np.argmax(np.where(among, highest_k, -np.inf)))
    found = []
    if cold_k is not None and cold_k < lowest_k[coldest]:
        found.append(Laid(spell=Spell.COLD, month=coldest, reached_k=cold_k))
    if hot_k is not None and hot_k > highest_k[hottest]:
        found.append(Laid(spell=Spell.HOT, month=hottest, reached_k=hot_k))
    return tuple(found)


def clearness_with(spells: tuple[Laid, ...], clearness: Hours) -> Hours:
    """Return the clearness of a year's days, with that of its spells in its place: (365,)."""
    held = clearness.copy()
    for each in spells:
        held[each.days] = CLEARNESS[each.spell]
    return held


def ordinary(spells: tuple[Laid, ...]) -> Flags:
    """Tell which days are of no spell: (365,)."""
    is_ordinary = np.ones(MONTH_OF_DAY.shape, dtype=np.bool_)
    for each in spells:
        is_ordinary[each.days] = False
    return is_ordinary
