"""Ramps: the length that a rise takes, with its landings."""

import math
from dataclasses import dataclass

from criteria.errors import InputError, require_not_negative, require_positive

RUN_RISE_M = 0.760
"""Greatest rise of one run [m]. 2010 ADA Standards, 405.6, as printed in metric (30 in)."""
LANDING_M = 1.525
"""Length of a landing [m]. 2010 ADA Standards, 405.7.3, as printed in metric (60 in)."""
SLOPE_RUN = 12
"""Run for one of rise. 2010 ADA Standards, 405.2: not steeper than 1:12."""


@dataclass(frozen=True)
class RampNeed:
    """What a rise takes: runs, landings and length on plan [m]."""

    runs: int
    landings: int
    length_m: float


def ramp_need(
    rise_m: float,
    *,
    slope_run: float = SLOPE_RUN,
    run_rise_m: float = RUN_RISE_M,
    landing_m: float = LANDING_M,
) -> RampNeed:
    """Return the straight ramp that a rise needs, landings at foot, head and between.

        n = ⌈H / h⌉          L = s · H + (n + 1) · l

        H   rise, ground to finished floor       [m]
        h   greatest rise of one run             [m]
        s   run for one of rise                  [1]
        l   length of a landing                  [m]

    Applies to: a straight ramp. A turn needs a landing as wide as both runs.
    Source: 2010 ADA Standards 405.2, 405.6 and 405.7, quoted.

    A rise of 30 in is one run, not two, although 0.762 is no exact binary figure:

    >>> need = ramp_need(0.762, run_rise_m=0.762, landing_m=1.524)
    >>> need.runs, round(need.length_m / 0.3048, 6)
    (1, 40.0)
    """
    require_not_negative("rise", rise_m, "m")
    require_positive("slope run", slope_run, "")
    require_positive("landing", landing_m, "m")
    if rise_m == 0:
        return RampNeed(0, 0, 0.0)
    runs = math.ceil(rise_m / require_positive("rise of a run", run_rise_m, "m") * (1 - 1e-9))
    return RampNeed(runs, runs + 1, slope_run * rise_m + (runs + 1) * landing_m)


def going_gradient(rise_m: float) -> float:
    """Return the going of one flight that UK guidance allows a rise [m].

        G = 10 h / (1 − h),   h up to 0.5 m

    The curve through the three points of Approved Document M, volume 2, Table 1 (1:20 at
    10 m, 1:15 at 5 m, 1:12 at 2 m; from memory), derived by hand.

    >>> [round(going_gradient(h), 2) for h in (1 / 6, 1 / 3, 0.5)]
    [2.0, 5.0, 10.0]
    """
    require_positive("rise", rise_m, "m")
    if rise_m > 0.5:
        raise InputError(f"rise is {rise_m:g} m; expected at most 0.5 m in one flight")
    return 10 * rise_m / (1 - rise_m)
