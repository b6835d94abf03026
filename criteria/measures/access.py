"""Ramps: the length that a rise takes, with its landings."""

import math
from dataclasses import dataclass

from criteria.errors import require_not_negative
from criteria.units import INCH

SAME = 1e-9
"""Nearer than this are one length. Relative [1]."""


@dataclass(frozen=True, kw_only=True)
class RampRule:
    """What a ramp is held to, in one of the two ways in which the standard prints it [m].

    threshold_m   greatest rise that is a threshold and wants no ramp
    run_rise_m    greatest rise of one run
    landing_m     length of a landing
    rail_rise_m   greatest rise without handrails
    """

    threshold_m: float
    run_rise_m: float
    landing_m: float
    rail_rise_m: float


METRIC_RAMP = RampRule(threshold_m=0.013, run_rise_m=0.760, landing_m=1.525, rail_rise_m=0.150)
INCH_RAMP = RampRule(
    threshold_m=0.5 * float(INCH),
    run_rise_m=30 * float(INCH),
    landing_m=60 * float(INCH),
    rail_rise_m=6 * float(INCH),
)
"""2010 ADA Standards, 303.4, 405.6, 405.7.3 and 405.8: ½ in (13 mm), 30 in (760 mm), 60 in
(1525 mm) and 6 in (150 mm)."""
SLOPE_RUN = 12
"""Run for one of rise. 2010 ADA Standards, 405.2: not steeper than 1:12."""


@dataclass(frozen=True)
class RampNeed:
    """What a rise takes: runs, landings and length on plan [m]."""

    runs: int
    landings: int
    length_m: float


def ramp_need(rise_m: float, rule: RampRule = METRIC_RAMP) -> RampNeed:
    """Return the straight ramp that a rise needs, landings at foot, head and between.

        n = ⌈H / h⌉          L = 12 · H + (n + 1) · l

        H   rise, ground to finished floor       [m]
        h   greatest rise of one run             [m]
        l   length of a landing                  [m]

    Applies to: a straight ramp. A turn needs a landing as wide as both runs.
    Source: 2010 ADA Standards 303.4 (from memory), 405.2, 405.6 and 405.7, quoted.

    A rise of 30 in is one run, not two, although 0.762 is no exact binary figure:

    >>> need = ramp_need(0.762, INCH_RAMP)
    >>> need.runs, round(need.length_m / 0.3048, 6)
    (1, 40.0)
    """
    if require_not_negative("rise", rise_m, "m") <= rule.threshold_m * (1 + SAME):
        return RampNeed(0, 0, 0.0)
    runs = math.ceil(rise_m / rule.run_rise_m * (1 - SAME))
    return RampNeed(runs, runs + 1, SLOPE_RUN * rise_m + (runs + 1) * rule.landing_m)
