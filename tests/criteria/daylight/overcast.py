"""The overcast sky written out: what the closed forms are held to."""

import math

import numpy as np

from criteria.daylight.sky import ZENITH


def sky_luminance(altitude_rad):
    """Luminance over horizontal illuminance [1/sr]. CIE S 011/ISO 15469, type 16."""
    return ZENITH / 3 * (1 + 2 * np.sin(altitude_rad))


def vertical_sky_component(skyline_deg):
    """Share of horizontal illuminance on a vertical plane above an endless skyline [1].

    VSC = (L_z/3) [ (π/2)(1 − sin γ) + (4/3) cos² γ ]
    """
    gamma = math.radians(skyline_deg)
    return ZENITH / 3 * (math.pi / 2 * (1 - math.sin(gamma)) + 4 / 3 * math.cos(gamma) ** 2)
