"""What holds a building down in a gust, and what slings carry when it is lifted.

Teaching checks: a licensed engineer decides on anchors, and a rigger on every lift.
"""

import math

from criteria.errors import InputError, require_not_negative, require_positive
from criteria.measures.ground import GRAVITY_M_S2

LEAST_SLING_DEG = 30.0
"""Angle from the level under which nothing is lifted: common practice; 45° and more is wanted."""


def uplift_n(pressure_pa: float, net: float, plan_m2: float) -> float:
    """Return what a gust lifts a roof with [N]: q · c_n · A.

    q     velocity pressure of the strength-level gust                                   [Pa]
    c_n   net coefficient over the roof, inside pressure in it: 1.0 (common practice)    [1]
    """
    require_not_negative("pressure", pressure_pa, "Pa")
    require_not_negative("net coefficient", net, "")
    return pressure_pa * net * require_positive("roof on plan", plan_m2, "m²")


def held_down_ratio(mass_kg: float, lift_n: float) -> float:
    """Return the empty building's weight over what lifts it [1]; endless where nothing does.

    Source: 0.6 D + 0.6 W of ASCE 7-16, 2.4.1 (from memory): both with the same factor, so 1 holds.

    >>> round(held_down_ratio(2500, uplift_n(708.628, 1.0, 14.4)), 2)
    2.4
    """
    weight = require_not_negative("mass", mass_kg, "kg") * GRAVITY_M_S2
    return weight / lift_n if require_not_negative("uplift", lift_n, "N") else math.inf


def anchors_n(mass_kg: float, lift_n: float) -> float:
    """Return the working load that anchors must hold together [N]: 0.6 · (lift − weight), least 0.

    Source: allowable stress design as above (from memory).
    """
    weight = require_not_negative("mass", mass_kg, "kg") * GRAVITY_M_S2
    return max(0.0, 0.6 * (require_not_negative("uplift", lift_n, "N") - weight))


def sling_kg(mass_kg: float, legs: int, angle_deg: float) -> float:
    """Return what each leg of a sling carries [kg]: m ÷ (n · sin θ).

        n   legs that are counted: of three or more only two hold a stiff load (common practice)
        θ   from the level                                                                  [°]

    Raises InputError under 30°. Source: a public rigging page gives 1,000 lb on two at 45° as 707.

    >>> round(sling_kg(1000, 2, 45))
    707
    """
    require_positive("mass", mass_kg, "kg")
    counted = min(2, int(require_positive("legs of the sling", legs, "no.")))
    if not LEAST_SLING_DEG <= angle_deg <= 90:
        raise InputError(f"sling stands at {angle_deg:g}°; expected 30° to 90° from the level")
    return mass_kg / (counted * math.sin(math.radians(angle_deg)))


def drawn_together_kg(mass_kg: float, legs: int, angle_deg: float) -> float:
    """Return with how much each leg of a sling draws its eyes together [kg]: T · cos θ."""
    return sling_kg(mass_kg, legs, angle_deg) * math.cos(math.radians(angle_deg))
