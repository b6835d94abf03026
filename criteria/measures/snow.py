"""Snow on a roof, by either of two standards.

Teaching checks: ground snow, exposure and drifts are set by local codes; a licensed engineer
decides what a roof and its legs carry. Drift beside a higher part isn't computed.
"""

from criteria.errors import InputError, require_not_negative, require_positive
from criteria.measures.ground import GRAVITY_M_S2
from criteria.units import PSF

PSF_PA = float(PSF.factor)
"""One pound-force per square foot [Pa]."""

LEAST_UP_TO_PA = 20 * PSF_PA
FLAT = 0.7
"""Part of the ground's snow that stays on a flat roof [1]. ASCE 7-16, equation 7.3-1."""


def flat_roof_pa(
    ground_pa: float, exposure: float = 1.0, thermal: float = 1.0, importance: float = 1.0
) -> float:
    """Return the snow on a flat roof by ASCE 7-16 [Pa].

        p_f = 0.7 · C_e · C_t · I_s · p_g

        p_g   ground snow of that edition; never that of 7-22, which is larger   [Pa]
        C_e   exposure, 0.7 to 1.2                                               [1]
        C_t   1.0 warm, 1.1 cold with a vented roof, 1.2 unheated                [1]

    Source: ASCE 7-16, equation 7.3-1 (quoted from a secondary source; factors from memory).

    >>> round(flat_roof_pa(40 * PSF_PA) / PSF_PA, 6)
    28.0
    """
    require_not_negative("ground snow", ground_pa, "Pa")
    for name, factor in (("exposure", exposure), ("thermal", thermal), ("importance", importance)):
        require_positive(f"{name} factor", factor, "")
    return FLAT * exposure * thermal * importance * ground_pa


def least_low_slope_pa(ground_pa: float, importance: float = 1.0) -> float:
    """Return the least snow on a roof of low slope, under 15° [Pa].

    p_m = I_s · p_g up to 20 lb/ft², else 20 · I_s. Source: ASCE 7-16, 7.3.4 (quoted from a
    secondary source).
    """
    require_positive("importance factor", importance, "")
    return importance * min(require_not_negative("ground snow", ground_pa, "Pa"), LEAST_UP_TO_PA)


def cold_slippery_slope_factor(slope_deg: float, thermal: float) -> float:
    """Return C_s of a cold, slippery roof from which snow can slide [1].

        C_t 1.1: 1 − (α − 10) ÷ 60 from 10°; C_t 1.2: 1 − (α − 15) ÷ 55 from 15°; 0 from 70°

    Source: ASCE 7-16, C7.4 (the first quoted from a secondary source, the second from memory).

    >>> round(cold_slippery_slope_factor(26.6, 1.1), 4)
    0.7233
    """
    starts = {1.1: (10.0, 60.0), 1.2: (15.0, 55.0)}
    if thermal not in starts:
        raise InputError(f"thermal factor is {thermal:g}; expected 1.1 or 1.2 of a cold roof")
    _require_slope(slope_deg)
    start, run = starts[thermal]
    return min(1.0, max(0.0, 1 - (slope_deg - start) / run))


def european_shape(slope_deg: float) -> float:
    """Return μ of a roof of one or two slopes [1]: 0.8 to 30°, then 0.8 · (60 − α) ÷ 30 to 60°.

    Source: EN 1991-1-3, Table 5.2 (quoted from a secondary source).

    >>> european_shape(5.7), round(european_shape(45), 6), european_shape(60)
    (0.8, 0.4, 0.0)
    """
    _require_slope(slope_deg)
    return 0.8 * min(1.0, max(0.0, (60 - slope_deg) / 30))


def european_roof_pa(
    ground_pa: float, slope_deg: float, exposure: float = 1.0, thermal: float = 1.0
) -> float:
    """Return the snow on a roof by EN 1991-1-3, 5.2: s = μ · C_e · C_t · s_k [Pa]."""
    require_not_negative("ground snow", ground_pa, "Pa")
    factors = require_positive("exposure factor", exposure, "") * require_positive(
        "thermal factor", thermal, ""
    )
    return european_shape(slope_deg) * factors * ground_pa


def on_each_leg_kg(roof_pa: float, plan_m2: float, legs: int) -> float:
    """Return what snow adds to each of some legs alike [kg]: s · A ÷ (n · g)."""
    require_not_negative("snow on the roof", roof_pa, "Pa")
    require_positive("roof on plan", plan_m2, "m²")
    return roof_pa * plan_m2 / require_positive("legs", legs, "no.") / GRAVITY_M_S2


def _require_slope(slope_deg: float) -> None:
    if not 0 <= slope_deg <= 90:
        raise InputError(f"slope is {slope_deg:g}°; expected 0 to 90°")
