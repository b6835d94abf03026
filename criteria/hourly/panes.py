"""What sun becomes in glass, by the angle at which it comes."""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from scipy.integrate import trapezoid

from criteria.hourly.building import Glass
from criteria.hourly.weather import Hours

OUTSIDE_M2K_W, INSIDE_M2K_W = 0.04, 0.13
"""Films with which a whole window's U is told [m²K/W]. ISO 6946:2017, Table 7."""
COSINES = np.linspace(0.0, 1.0, 91)


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Panes:
    """Parts of the sun that glass lets through and takes up in its two faces [1].

    Arrays are over `COSINES` of the angle to the normal; `*_diffuse` are of even light from all
    sides.
    """

    through: Hours
    outer: Hours
    inner: Hours
    through_diffuse: float
    outer_diffuse: float
    inner_diffuse: float

    def at(self, cos_incidence: Hours) -> tuple[Hours, Hours, Hours]:
        """Return what goes through, and what each face takes up, at angles: nothing from behind."""
        parts = np.zeros((3, len(cos_incidence)))
        seen = np.flatnonzero(cos_incidence > 0)
        cosine = cos_incidence[seen]
        for part, at in zip(parts, (self.through, self.outer, self.inner), strict=True):
            part[seen] = np.interp(cosine, COSINES, at)
        return parts[0], parts[1], parts[2]


def between_m2k_w(u_w_m2k: float) -> float:
    """Return what a window of a whole U resists between its faces [m²K/W], never under 0.005."""
    return max(1 / u_w_m2k - OUTSIDE_M2K_W - INSIDE_M2K_W, 0.005)


@lru_cache(maxsize=64)
def panes_of(glass: Glass) -> Panes:
    """Return how glass takes sun at each angle.

    Fresnel at both faces of each pane and Bouguer between, either polarisation followed through
    the stack; then all parts are scaled so that at normal incidence what goes through, and what
    panes take up and give inwards, is the solar factor. A coating thus keeps the shape of clear
    panes. J. Duffie and W. Beckman, Solar Engineering of Thermal Processes, chapter 5.
    """
    through, taken = _stack(glass, COSINES[1:])
    none = np.zeros((1,))
    through = np.concatenate((none, through))
    inwards = np.linspace(0.0, 1.0, glass.panes) if glass.panes > 1 else np.array((0.5,))
    outer = np.concatenate((none, (1 - inwards) @ taken))
    inner = np.concatenate((none, inwards @ taken))
    plain = _inwards(glass, through[-1], outer[-1], inner[-1])
    scale = 1.0 if glass.solar_factor is None else glass.solar_factor / plain
    parts = tuple(part * scale for part in (through, outer, inner))
    # ∫ T sin 2θ dθ over angles is ∫ 2 T c dc over their cosines
    even = [float(trapezoid(2 * part * COSINES, COSINES)) for part in parts]
    return Panes(
        through=parts[0],
        outer=parts[1],
        inner=parts[2],
        through_diffuse=even[0],
        outer_diffuse=even[1],
        inner_diffuse=even[2],
    )


def solar_factor(glass: Glass) -> float:
    """Return the part of the sun at normal incidence that comes in in the end [1]."""
    panes = panes_of(glass)
    return _inwards(glass, panes.through[-1], panes.outer[-1], panes.inner[-1])


def _inwards(glass: Glass, through: float, outer: float, inner: float) -> float:
    """Add to what goes through what each face gives inwards: as it resists, out to in."""
    whole = OUTSIDE_M2K_W + glass.between_m2k_w + INSIDE_M2K_W
    past_glass = (OUTSIDE_M2K_W + glass.between_m2k_w) / whole
    return float(through + OUTSIDE_M2K_W / whole * outer + past_glass * inner)


def _stack(glass: Glass, cosine: Hours) -> tuple[Hours, Hours]:
    """Return what a stack of panes lets through, and what each takes up: (angles,), (panes, …)."""
    index = glass.refractive_index
    bent = np.sqrt(1 - (1 - cosine**2) / index**2)
    kept = np.exp(-glass.absorbed_kl / bent)
    across = ((cosine - index * bent) / (cosine + index * bent)) ** 2
    parallel = ((index * cosine - bent) / (index * cosine + bent)) ** 2
    through, taken = np.zeros_like(cosine), np.zeros((glass.panes, len(cosine)))
    for face in (across, parallel):
        again = 1 - (face * kept) ** 2
        lets = (1 - face) ** 2 * kept / again
        throws = face + face * (1 - face) ** 2 * kept**2 / again
        keeps = 1 - lets - throws
        behind = [np.zeros_like(cosine)]  # what all panes from here inwards throw back
        for _ in range(glass.panes):
            behind.append(throws + lets**2 * behind[-1] / (1 - throws * behind[-1]))
        coming = np.ones_like(cosine)
        for pane in range(glass.panes):
            back = behind[glass.panes - pane - 1]
            passed = lets * coming / (1 - throws * back)
            taken[pane] += keeps * (coming + back * passed) / 2
            coming = passed
        through += coming / 2
    return through, taken
