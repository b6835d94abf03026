"""Sun on level ground, as weather stations tell it."""

import numpy as np

from criteria.hourly.sun import positions
from criteria.hourly.weather import Hours, Weather


def sun_w_m2(weather: Weather) -> Hours:
    """Return sun on level ground by hour [W/m²], shape (8760,): G = I_b sin a + I_d.

    The sun counts where it stands over the horizon at the half hour. Source: geometry.
    """
    up = np.maximum(positions(weather.place).up, 0.0)
    level: Hours = weather.beam_w_m2 * up + weather.diffuse_w_m2
    return level
