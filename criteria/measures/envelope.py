"""Resistance and U-value of walls, roofs and floors, and what a claimed resistance implies."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from criteria.errors import InputError, require_fraction, require_positive

SURFACES_M2K_W = {"wall": (0.13, 0.04), "roof": (0.10, 0.04), "floor": (0.17, 0.04)}
"""Inside and outside surface resistance by direction of heat [m²K/W].

ISO 6946:2017, Table 7, quoted: horizontal, upward and downward flow, and outside.
"""


@dataclass(frozen=True)
class Slab:
    """One layer: resistance of its own material and of what interrupts it.

    resistance    of the layer [m²K/W]
    bridge        of the framing through it, or None [m²K/W]
    share         part of the area that is framing [1]
    """

    resistance: float
    bridge: float | None = None
    share: float = 0.0


def layer_resistance(thickness_m: float, conductivity_w_mk: float) -> float:
    """Return R = d / λ of a layer of one material [m²K/W].

    >>> layer_resistance(0.140, 0.035)
    4.0
    """
    require_positive("thickness", thickness_m, "m")
    return thickness_m / require_positive("conductivity", conductivity_w_mk, "W/mK")


def series_resistance(slabs: Sequence[Slab], part: str) -> float:
    """Return the resistance of layers that nothing interrupts [m²K/W].

        R = R_si + Σ(d / λ) + R_se

    Source: ISO 6946:2017, 6.7.1 (clause from memory).
    """
    return sum(SURFACES_M2K_W[part]) + sum(slab.resistance for slab in slabs)


def path_resistances(slabs: Sequence[Slab], part: str) -> tuple[tuple[float, float], ...]:
    """Return (share, resistance) of the paths through insulation and through framing.

    All framing is taken to stand in line, one stud behind the other. Where the layers'
    framing shares differ, the narrowest share runs through all and the rest in part.
    """
    edges = sorted({0.0, 1.0, *(slab.share for slab in slabs if slab.bridge is not None)})
    surfaces = sum(SURFACES_M2K_W[part])
    paths = []
    for low, high in pairwise(edges):
        # the strip between two shares runs through the framing of every layer whose share is wider
        total = surfaces + sum(
            slab.bridge if slab.bridge is not None and slab.share >= high else slab.resistance
            for slab in slabs
        )
        paths.append((high - low, total))
    return tuple(paths)


def parallel_resistance(slabs: Sequence[Slab], part: str) -> float:
    """Return the upper limit: paths side by side, U weighted by area [m²K/W].

        R_upper = 1 / Σ(f_i / R_i)

    Applies to: timber framing. It flatters steel, which needs another method.
    Source: ISO 6946:2017, 6.7.2, and the parallel-path method of ASHRAE Fundamentals.
    """
    return 1 / sum(share / total for share, total in path_resistances(slabs, part))


def isothermal_resistance(slabs: Sequence[Slab], part: str) -> float:
    """Return the lower limit: each layer averaged, then in series [m²K/W].

    Source: ISO 6946:2017, 6.7.2; the isothermal-planes method of ASHRAE Fundamentals.
    """
    total = sum(SURFACES_M2K_W[part])
    for slab in slabs:
        if slab.bridge is None or not slab.share:
            total += slab.resistance
        else:
            f = require_fraction("framing share", slab.share)
            total += 1 / ((1 - f) / slab.resistance + f / slab.bridge)
    return total


def combined_resistance(slabs: Sequence[Slab], part: str) -> float:
    """Return the mean of the two limits [m²K/W].

        R = (R_upper + R_lower) / 2

    Raises InputError where the limits are more than 1.5 apart: the method doesn't hold
        there, and metal through insulation is usually why.
    Source: ISO 6946:2017, 6.7.2 (formula from memory).

    The timber-frame wall that UK guidance works through, with R 3.29:

    >>> wall = [Slab(0.102 / 0.77), Slab(0.09), Slab(0.009 / 0.13),
    ...         Slab(0.14 / 0.038, 0.14 / 0.13, 0.15), Slab(0.0125 / 0.25)]
    >>> round(combined_resistance(wall, "wall"), 2)
    3.29
    """
    upper, lower = parallel_resistance(slabs, part), isothermal_resistance(slabs, part)
    if upper > 1.5 * lower:
        raise InputError(
            f"upper and lower limits of resistance are {upper:.2f} and {lower:.2f} m²K/W; "
            "expected them within 1.5 of each other (metal through insulation needs a numerical "
            "method)"
        )
    return (upper + lower) / 2


def u_value(resistance_m2k_w: float) -> float:
    """Return U = 1 / R [W/m²K].

    >>> u_value(4.0)
    0.25
    """
    return 1 / require_positive("resistance", resistance_m2k_w, "m²K/W")


def missing_thickness(resistance_m2k_w: float, u_limit_w_m2k: float, lambda_w_mk: float) -> float:
    """Return how much more of a layer the limit of a U-value wants: d = (1/U − R) · λ [m].

    Less than nothing is to spare. Limits: of a layer that nothing interrupts.

    >>> round(missing_thickness(5.0, 0.18, 0.040), 4)
    0.0222
    """
    return (1 / require_positive("limit", u_limit_w_m2k, "W/m²K") - resistance_m2k_w) * lambda_w_mk


def depth_at(at_k: float, faces_m: Sequence[float], faces_k: Sequence[float]) -> float | None:
    """Return how deep from the room a temperature lies, in a straight line through each layer [m].

    faces_m   where each face lies, from outside in [m]
    faces_k   its temperature [K]
    None where no layer passes through it, or more than one does.

    >>> depth_at(273.15, (0.0, 0.2), (263.15, 293.15))
    0.13333333333333336
    """
    found = []
    for (one, cold), (other, warm) in pairwise(zip(faces_m, faces_k, strict=True)):
        if min(cold, warm) <= at_k < max(cold, warm):
            found.append(one + (other - one) * (at_k - cold) / (warm - cold))
    return faces_m[-1] - found[0] if len(found) == 1 else None


def apparent_conductivity(thickness_m: float, claimed_m2k_w: float) -> float:
    """Return the conductivity that a claimed resistance implies: λ = d / R [W/mK].

    A film of 0.25 mm said to be "R-30" (5.28 m²K/W) implies 550 times less than still air:

    >>> round(apparent_conductivity(0.00025, 30 / 5.678263) * 1e5, 2)
    4.73
    """
    require_positive("thickness", thickness_m, "m")
    return thickness_m / require_positive("claimed resistance", claimed_m2k_w, "m²K/W")


STILL_AIR_W_MK = 0.025
"""Still air at 10 °C [W/mK]. ISO 10456:2007."""
ORDINARY_W_MK = 0.020
"""From here up a conductivity is that of ordinary insulation [W/mK]."""
BEST_OPEN_W_MK = 0.012
"""Least of anything with air at atmospheric pressure in it: aerogel blanket is 0.013.

Baetens and others, Energy and Buildings 43 (2011) 761, quoted. [W/mK]
"""
BEST_EVACUATED_W_MK = 0.0035
"""Just under a new vacuum panel, 0.004: Baetens and others (2010), quoted. [W/mK]"""


def best_resistance(thickness_m: float) -> float:
    """Return the most that a layer of a thickness gives at atmospheric pressure [m²K/W]."""
    return require_positive("thickness", thickness_m, "m") / BEST_OPEN_W_MK
