"""Electric light by the lumen method."""

import math

from criteria.errors import require_fraction, require_not_negative, require_positive


def lux_on_plane(
    n: int, lumens: float, used_share: float, kept_share: float, floor_m2: float
) -> float:
    """Return the mean light on the working plane [lx].

        E = n · Φ · UF · MF / A

        Φ   light of a lamp                [lm]
        UF  part that reaches the plane    [1]
        MF  part that dirt and age leave   [1]
        A   floor                          [m²]

    Source: the lumen method of CIBSE and IES. Fifteen lamps in 50 m² give 504 lx:

    >>> round(lux_on_plane(15, 3500, 0.6, 0.8, 50), 6)
    504.0
    """
    require_not_negative("lamps", n, "no.")
    require_positive("light", lumens, "lm")
    reaching = require_fraction("utilisation", used_share) * require_fraction("kept", kept_share)
    return n * lumens * reaching / require_positive("floor", floor_m2, "m²")


def lamps_for(
    lux: float, lumens: float, used_share: float, kept_share: float, floor_m2: float
) -> int:
    """Return how many lamps give a level, rounded up [no.].

    40 ft by 60 ft at 50 fc with lamps of 4000 lm takes 58 (published worked example):

    >>> lamps_for(50 * 10.763910, 4000, 0.65, 0.80, 40 * 60 * 0.09290304)
    58
    """
    one = lux_on_plane(1, lumens, used_share, kept_share, floor_m2)
    return math.ceil(require_not_negative("level", lux, "lx") / one * (1 - 1e-9))
