"""Stairs and ladders of small houses: riser, tread, width, and how far one climbs.

Teaching checks: local codes decide whether a loft may be slept in and how it is reached.
"""

import math
from dataclasses import dataclass

from criteria.errors import InputError, require_positive
from criteria.units import INCH

INCH_M = float(INCH)
RISER_M = (7 * INCH_M, 12 * INCH_M)
"""Least and most riser of a stair to a loft (IRC Appendix AQ, quoted from a secondary source)."""


@dataclass(frozen=True)
class LoftStair:
    """A stair that reaches a loft: its risers, and the least tread that goes with them [m]."""

    risers: int
    riser_m: float
    tread_m: float

    @property
    def is_allowed(self) -> bool:
        """Whether the riser keeps to its limits."""
        low, high = RISER_M
        return low - 1e-9 <= self.riser_m <= high + 1e-9


def loft_stair(rise_m: float, risers: int) -> LoftStair:
    """Return a stair of so many risers to a loft.

        riser = rise ÷ n; tread = 20 in − 4/3 · riser

    Applies to: houses of up to 37 m² (400 ft²). Source: IRC Appendix AQ, stairways (quoted from a
    secondary source). Raises InputError where the riser leaves no tread.

    >>> stair = loft_stair(2.1, 8)
    >>> round(stair.riser_m / INCH_M, 2), round(stair.tread_m / INCH_M, 2), stair.is_allowed
    (10.33, 6.22, True)
    """
    riser_m = require_positive("rise", rise_m, "m") / require_positive("risers", risers, "no.")
    tread_m = 20 * INCH_M - riser_m * 4 / 3
    if tread_m <= 0:
        raise InputError(f"riser is {riser_m:.3f} m; expected under 0.381 m, which leaves a tread")
    return LoftStair(risers, riser_m, tread_m)


LADDER_DEG = 70.0
"""How steep a ladder stands at the least [°]: common practice, 70 to 80."""


def slope_m(rise_m: float, risers: int, tread_m: float) -> float:
    """Return how far it is up a stair, along the line from its foot to the edge of its top [m].

        √(H² + ((n − 1) · t)²)

    H rise, n risers, t tread [m]. Source: along the nosings (IBC 2021, 1017.3.1, from memory).

    >>> round(slope_m(2.1, 8, 0.4), 1)
    3.5
    """
    return math.hypot(rise_m, (risers - 1) * tread_m)


def ladder_m(rise_m: float) -> float:
    """Return how far it is up a ladder that stands as flat as one does [m]: H ÷ sin 70°.

    >>> round(ladder_m(2.1), 2)
    2.23
    """
    return rise_m / math.sin(math.radians(LADDER_DEG))
