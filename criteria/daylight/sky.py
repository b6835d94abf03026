"""The overcast sky, the ground under it, and clear glass: what the openings look out on.

All luminances are over the unobstructed horizontal illuminance, so a daylight factor in per
cent is 100 × what is computed here.
"""

import math

import numpy as np

from criteria.daylight.moments import Floats

ZENITH = 9 / (7 * math.pi)
"""Luminance of the zenith over horizontal illuminance [1/sr].

Source: the CIE traditional overcast sky (Moon and Spencer; type 16 of CIE S 011/ISO 15469),
L(θ) = L_z (1 + 2 sin θ)/3, whose horizontal illuminance is 7 π L_z/9. The standard's type 1
is another overcast sky: it gives a vertical plane 37.92 % where this one gives 39.62 %.
"""

REFRACTIVE_INDEX = 1.52
"""Of soda-lime glass [1]. Common practice."""

GLASS_REFLECTANCE_INSIDE = 0.12
"""Diffuse reflectance of clear glass seen from the room, with ``glass="angular"`` [1].

Hemispherical reflectance of one clear pane. From memory; the effect on the mean is under 1 %.
"""


def ground_luminance(reflectance: float) -> float:
    """Luminance of an unshaded diffuse ground, ρ/π [1/sr]."""
    return reflectance / math.pi


def _fresnel(cosine: Floats) -> tuple[Floats, Floats, Floats]:
    """Return one surface's reflectance in both polarisations, and the cosine inside the glass."""
    sine = np.sqrt(np.clip(1 - cosine**2, 0, 1)) / REFRACTIVE_INDEX
    inside = np.sqrt(1 - sine**2)
    n = REFRACTIVE_INDEX
    across = ((cosine - n * inside) / (cosine + n * inside)) ** 2
    along = ((inside - n * cosine) / (inside + n * cosine)) ** 2
    return across, along, inside


def clearest_transmittance() -> float:
    """Transmittance at normal incidence of a pane that absorbs nothing [1]."""
    r = ((REFRACTIVE_INDEX - 1) / (REFRACTIVE_INDEX + 1)) ** 2
    return (1 - r) / (1 + r)


def transmittance_ratio(normal: float, cosine: Floats) -> Floats:
    """Transmittance of one pane at an angle over that at normal incidence [1].

        T(θ) = mean over both polarisations of  (1 − r)² τ / (1 − r² τ²)
        τ = t^(1 / cos θ'),   sin θ' = sin θ / n

        r   reflectance of one surface, Fresnel     t   transmitted in one normal crossing

    t is the one that gives `normal` at θ = 0. Applies to: normal transmittance of at most
        clearest_transmittance(), 0.918; daylight_field refuses more.

    Source: Fresnel's equations with multiple reflection in one absorbing sheet (textbook).

    >>> [round(float(x), 3) for x in transmittance_ratio(0.70, np.cos(np.radians([0, 60, 80])))]
    [1.0, 0.861, 0.422]
    """
    r = ((REFRACTIVE_INDEX - 1) / (REFRACTIVE_INDEX + 1)) ** 2
    q = (1 - r) ** 2
    # normal = q t / (1 − r² t²), solved for t
    crossing = (math.sqrt(q * q + 4 * (normal * r) ** 2) - q) / (2 * normal * r * r)
    across, along, inside = _fresnel(np.asarray(cosine, dtype=float))
    tau = crossing ** (1 / inside)
    both = [(1 - s) ** 2 * tau / (1 - (s * tau) ** 2) for s in (across, along)]
    return (both[0] + both[1]) / (2 * normal)


def diffuse_transmittance_ratio(normal: float) -> float:
    """Transmittance for light from all sides over that at normal incidence [1].

        T_d / T(0) = ∫ T(θ)/T(0) d(sin² θ),   0 … 90°

    >>> round(diffuse_transmittance_ratio(0.70), 3)
    0.885
    """
    nodes, weights = np.polynomial.legendre.leggauss(64)
    sine_squared = (nodes + 1) / 2
    return float(weights @ transmittance_ratio(normal, np.sqrt(1 - sine_squared)) / 2)
