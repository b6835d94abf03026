"""How much heat a heat pump moves for each unit of electricity, by the hour."""

import numpy as np

from criteria.errors import require_positive
from criteria.hourly.weather import Hours

CARNOT_SHARE = 0.40
"""Part of what an ideal machine would move [1]. A common figure, from memory."""
HOT_K, COLD_K = 308.0, 285.0
"""At what it gives off heat in winter, 35 °C, and takes it up in summer, 12 °C [K]. Assumed."""


def heating_cop(outside_k: Hours, most: float) -> Hours:
    """Return the heat given for each unit of electricity [1].

        COP = 0.40 · T_hot ÷ (T_hot − T_e), at most the one typed; T_hot 35 °C

    Source: Carnot's limit times a common share (from memory). Frost on its coils is left out.
    Raises InputError where the one typed isn't more than 0.

    >>> heating_cop(np.array([258.15, 280.15]), 4.0).round(3).tolist()
    [2.471, 4.0]
    """
    return _cop(HOT_K, HOT_K - outside_k, most)


def cooling_cop(outside_k: Hours, most: float) -> Hours:
    """Return the heat taken out for each unit of electricity [1].

        COP = 0.40 · T_cold ÷ (T_e − T_cold), at most the one typed; T_cold 12 °C

    Source and errors: as heating_cop.

    >>> cooling_cop(np.array([313.15, 290.15]), 4.5).round(3).tolist()
    [4.05, 4.5]
    """
    return _cop(COLD_K, outside_k - COLD_K, most)


def _cop(at_k: float, lift_k: Hours, most: float) -> Hours:
    require_positive("COP", most, "")
    least_lift_k = CARNOT_SHARE * at_k / most
    cops: Hours = CARNOT_SHARE * at_k / np.maximum(lift_k, least_lift_k)
    return cops
