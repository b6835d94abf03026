"""What a wind turbine makes by the hour, of what it makes in a day."""

import numpy as np

from criteria.errors import require_not_negative
from criteria.hourly.weather import HOURS, Hours

DAY_S = 86_400.0
SPREAD_EVENLY = (
    "Wind is given as a day's energy alone, and taken as the same in every hour of the year: calm "
    "days, which empty a battery, aren't in it."
)
"""What a page says beside it."""


def made_w(wind_j_day: float) -> Hours:
    """Return what a wind turbine makes by hour [W]: the day's energy, spread evenly.

    Of no use for a calm week: say SPREAD_EVENLY beside it. Raises InputError below 0.

    >>> float(made_w(24 * 50 * 3600.0)[0])
    50.0
    """
    require_not_negative("wind a day", wind_j_day, "J")
    return np.full(HOURS, wind_j_day / DAY_S)
