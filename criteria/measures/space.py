"""Floor and air for the people who are really there."""

import math

from criteria.errors import InputError, require_not_negative, require_positive
from criteria.units import FT2


def floor_per_person(floor_m2: float, people: int) -> float:
    """Return floor per person [m²].

    Sphere Handbook 2018, shelter and settlement standard 3, counts it without cooking
    space and sanitation where it asks 3.5 m²; the caller chooses which rooms to pass.

    >>> floor_per_person(18.0, 5)
    3.6
    """
    require_not_negative("floor", floor_m2, "m²")
    return floor_m2 / require_positive("people", people, "no.")


def floor_per_sleeper(floor_m2: float, low_headroom_m2: float, sleepers: int) -> float:
    """Return floor over 1.5 m headroom per sleeper [m²].

        a = (A_f - A_low) / n

    Floor under 1.5 m headroom isn't counted: nationally described space standard
    (England, March 2015), 10(f).

    >>> floor_per_sleeper(15.2, 3.1, 6) == 12.1 / 6
    True
    """
    require_not_negative("low floor", low_headroom_m2, "m²")
    if low_headroom_m2 > floor_m2:
        raise InputError(
            f"floor under 1.5 m is {low_headroom_m2:g} m²; expected at most the floor, "
            f"{floor_m2:g} m²"
        )
    return floor_per_person(floor_m2 - low_headroom_m2, sleepers)


def air_volume_per_sleeper(floor_m2: float, clear_height_m: float, sleepers: int) -> float:
    """Return the room's air per sleeper [m³]: floor times clear height over sleepers.

    >>> air_volume_per_sleeper(16.0, 2.6, 8)
    5.2
    """
    require_positive("floor", floor_m2, "m²")
    require_positive("clear height", clear_height_m, "m")
    return floor_m2 * clear_height_m / require_positive("sleepers", sleepers, "no.")


DWELLING_M2, DORMITORY_M2 = 200 * float(FT2.factor), 50 * float(FT2.factor)
"""Gross floor for each occupant [m²]. IBC 2021, Table 1004.5: residential 200, dormitory 50 ft²."""


def occupants(floor_m2: float, each_m2: float) -> int:
    """Return how many people a floor is reckoned to hold, part of one as one.

    400 ft² as a dwelling and as a dormitory:

    >>> occupants(37.1612, DWELLING_M2), occupants(37.1612, DORMITORY_M2)
    (2, 8)
    """
    require_positive("floor", floor_m2, "m²")
    return math.ceil(floor_m2 / require_positive("floor for each", each_m2, "m²") - 1e-6)
