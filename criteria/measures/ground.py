"""Ground, legs and wind: a first look. Preliminary: a licensed engineer decides."""

import math

from criteria.errors import InputError, require_not_negative, require_positive
from criteria.units import GRAVITY, PSF

GRAVITY_M_S2 = float(GRAVITY)

PRESUMPTIVE_PA = {
    soil: psf * float(PSF.factor)
    for soil, psf in {
        "bedrock": 12_000,
        "foliated rock": 4_000,
        "gravel": 3_000,
        "sand": 2_000,
        "clay or silt": 1_500,
    }.items()
}
"""Presumptive bearing by class of soil [Pa]. International Building Code, Table 1806.2, quoted.

Peat, organic ground and fill have none: they need a report.
"""


def bearing_pressure(mass_kg: float, legs: int, pad_l_m: float, pad_w_m: float) -> float:
    """Return the mean pressure under pads [Pa]: m · g / (n · l · w).

    >>> round(bearing_pressure(5500, 8, 0.4, 0.4))
    42138
    """
    require_positive("mass", mass_kg, "kg")
    area = require_positive("pad length", pad_l_m, "m") * require_positive(
        "pad width", pad_w_m, "m"
    )
    return mass_kg * GRAVITY_M_S2 / (require_positive("legs", legs, "no.") * area)


def leg_travel(length_m: float, width_m: float, slope: float) -> float:
    """Return the most that legs must differ on a slope, whichever way it falls [m].

    s · √(L² + B²): the fall across the diagonal.

    >>> round(leg_travel(6.0, 2.4, 0.05), 3)
    0.323
    """
    require_positive("length", length_m, "m")
    require_positive("width", width_m, "m")
    return require_not_negative("slope", slope, "") * math.hypot(length_m, width_m)


EXPOSURE_FACTOR = {"B": 0.57, "C": 0.85, "D": 1.03}
"""K_z up to 15 ft (4.6 m) by exposure [1]. ASCE/SEI 7-16, Table 26.10-1, quoted."""
DIRECTION_FACTOR = 0.85
"""K_d for buildings [1]. ASCE/SEI 7-16, Table 26.6-1, quoted."""


BY_HAND_N, PANEL_DRAG = 250.0, 1.2
"""What one person holds against the wind [N], and how a flat panel catches it [1]. Practice."""

HALF_DENSITY_KG_M3 = 0.613
"""Half the density of air at sea level and 15 °C [kg/m³]. ASCE 7, 26.10."""


def wind_pressure(gust_m_s: float, exposure: str) -> float:
    """Return the velocity pressure low down [Pa].

        q = 0.613 · K_z · K_d · V²

        V   three-second gust at 10 m, strength level   [m/s]

    Applies to: up to 4.6 m, level ground, no hill (K_zt 1), sea level (K_e 1).
    Source: ASCE/SEI 7-16, equation 26.10-1. 115 mph in exposure C is 24.46 psf by
    the inch-pound form (published), whose rounded 0.00256 is 0.05 % more:

    >>> round(wind_pressure(115 * 0.44704, "C") / 47.88025898, 2)
    24.45
    """
    if exposure not in EXPOSURE_FACTOR:
        raise InputError(f"exposure is {exposure}; expected one of B, C, D")
    require_not_negative("gust", gust_m_s, "m/s")
    return HALF_DENSITY_KG_M3 * EXPOSURE_FACTOR[exposure] * DIRECTION_FACTOR * gust_m_s**2


FORCE_FACTOR = 1.3
"""Windward and leeward walls together, 0.8 + 0.5 [1]. ASCE/SEI 7-16, from memory."""


def wind_force(pressure_pa: float, length_m: float, height_m: float) -> float:
    """Return the wind's push on the long side [N]: q · C_f · A."""
    require_not_negative("pressure", pressure_pa, "Pa")
    area = require_positive("length", length_m, "m") * require_positive("height", height_m, "m")
    return pressure_pa * FORCE_FACTOR * area


def overturning_ratio(mass_kg: float, base_m: float, force_n: float, arm_m: float) -> float:
    """Return what holds a box down over what turns it over [1].

        r = (m · g · b / 2) / (F · z)

        b   base across, between outer legs        [m]
        z   middle of the wall above the ground    [m]

    Uplift on the roof is left out, which is unsafe: a first look only.

    >>> round(overturning_ratio(2500, 2.2, 14.38e3, 1.7), 2)
    1.1
    """
    require_positive("mass", mass_kg, "kg")
    holds = mass_kg * GRAVITY_M_S2 * require_positive("base", base_m, "m") / 2
    return holds / (require_positive("force", force_n, "N") * require_positive("arm", arm_m, "m"))


def sliding_ratio(mass_kg: float, friction: float, force_n: float) -> float:
    """Return what keeps a box in place over what pushes it [1]: μ · m · g / F."""
    require_positive("mass", mass_kg, "kg")
    holds = require_not_negative("friction", friction, "") * mass_kg * GRAVITY_M_S2
    return holds / require_positive("force", force_n, "N")


def held_by_hand_m_s(people: int, area_m2: float) -> float:
    """Return the gust in which so many still hold a flat panel by hand [m/s].

        v = √(n · 250 N ÷ (0.613 · 1.2 · A))

    Common practice: 250 N each, a force coefficient of 1.2; no standard says so.

    >>> round(held_by_hand_m_s(4, 15.6), 2)
    9.34
    """
    caught = HALF_DENSITY_KG_M3 * PANEL_DRAG * require_positive("area", area_m2, "m²")
    return math.sqrt(require_not_negative("people", people, "") * BY_HAND_N / caught)
