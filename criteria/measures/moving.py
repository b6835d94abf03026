"""Pieces: whether each fits what brings it, and how they nest."""

import math
from collections.abc import Sequence

from criteria.errors import InputError, require_positive
from criteria.units import FOOT, POUND


def fits_in_order(sizes_m: Sequence[float], limits_m: Sequence[float], same: float = 1e-9) -> bool:
    """Tell whether each side fits the limit in the same place, in the order given.

    Length isn't swapped for width: a wall panel lies on the trailer as it is lifted.

    >>> fits_in_order((6.0, 2.3, 0.4), (6.0, 2.3, 2.2)), fits_in_order((2.3, 6.0, 0.4), (6, 2.3, 2))
    (True, False)
    """
    if len(sizes_m) != len(limits_m):
        raise InputError(f"{len(sizes_m)} sizes; expected {len(limits_m)}, one for each limit")
    return all(
        require_positive("size", size, "m") <= require_positive("limit", limit, "m") * (1 + same)
        for size, limit in zip(sizes_m, limits_m, strict=True)
    )


def fits_in_any_order(sizes_m: Sequence[float], limits_m: Sequence[float]) -> bool:
    """Tell whether a box fits a box turned in any of its six ways, square to it.

    >>> fits_in_any_order((0.4, 2.3, 6.0), (6.0, 2.3, 2.2))
    True
    """
    return fits_in_order(sorted(sizes_m), sorted(limits_m))


HAND_KG = 25.0
"""Reference mass for one person's lift in good conditions [kg]. ISO 11228-1, from memory."""
TEAM_SHARE = {1: 1.0, 2: 2 / 3, 3: 1 / 2}
"""Part of what each could lift alone that a team can use [1], by people; more are as three.

Manual handling, L23 (HSE), from memory: two thirds of the sum for two, half for three.
"""


def team_mass(people: int) -> float:
    """Return the most that a team lifts by hand in good conditions [kg].

    >>> [round(team_mass(n), 1) for n in (1, 2, 3, 4)]
    [25.0, 33.3, 37.5, 50.0]
    """
    require_positive("people", people, "no.")
    return people * TEAM_SHARE.get(people, TEAM_SHARE[3]) * HAND_KG


def people_to_carry(mass_kg: float) -> int:
    """Return how many people lift a mass by hand, as teams are weaker than their sum.

    >>> [people_to_carry(kg) for kg in (25, 25.1, 33.3, 33.4, 37.5, 37.6, 80)]
    [1, 2, 2, 3, 3, 4, 7]
    """
    least = math.ceil(require_positive("mass", mass_kg, "kg") / HAND_KG * (1 - 1e-9))
    return next(n for n in range(least, 2 * least + 2) if mass_kg <= team_mass(n) * (1 + 1e-9))


def bridge_formula(axles: int, spread_m: float) -> float:
    """Return the most that a group of axles may carry on US Interstate roads [kg].

        W = 500 · [L N / (N − 1) + 12 N + 36]   [lb], to the nearest 500

        N   axles in the group                  [no.]
        L   first to last axle                  [ft]

    Applies to: every group of two or more axles in turn. Two tandems 36 ft or more apart may
        carry 34,000 lb each, and a tandem of 8 ft or less never more than 34,000 lb: both
        are outside the formula.
    Source: FHWA, Bridge Formula Weights (2019); 23 CFR 658.17(e), quoted.

    >>> round(bridge_formula(5, 51 * 0.3048) / 0.45359237)
    80000
    """
    if axles < 2:
        raise InputError(f"axles is {axles}; expected a group of 2 or more")
    spread_ft = require_positive("axle spread", spread_m, "m") / float(FOOT)
    pounds = 500 * (spread_ft * axles / (axles - 1) + 12 * axles + 36)
    # a half goes down, as the printed table has it: 3 axles over 9 ft are 42,750, printed 42,500
    return math.ceil(round(pounds / 500 - 0.5, 9)) * 500 * float(POUND)


def centre_of_mass(parts: Sequence[tuple[float, float]]) -> float:
    """Return where the centre of several masses stands: Σ(m · x) / Σ m, of (m [kg], x [m]).

    >>> centre_of_mass([(1000, 2.0), (3000, 4.0)])
    3.5
    """
    total = require_positive("mass", sum(mass for mass, _ in parts), "kg")
    return sum(require_positive("mass", mass, "kg") * at for mass, at in parts) / total


def tongue_load(mass_kg: float, centre_m: float, axle_m: float) -> float:
    """Return the load of a trailer on its hitch, distances from the hitch [kg].

    T = W · (x_axle − x_cg) / x_axle, by statics.

    >>> round(tongue_load(3500, 3.6, 4.2))
    500
    """
    require_positive("axle distance", axle_m, "m")
    return require_positive("mass", mass_kg, "kg") * (axle_m - centre_m) / axle_m
