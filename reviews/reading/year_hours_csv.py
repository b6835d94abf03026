"""A package's year as CSV: a row for each hour, in SI's own figures with units in their heads."""

from __future__ import annotations

from io import StringIO
from typing import Any

import numpy as np
from numpy.typing import NDArray

from criteria.hourly.dates import DAY_OF_MONTH, MONTH_OF_HOUR
from criteria.hourly.level_ground import sun_w_m2
from criteria.hourly.weather import HOURS, Hours
from criteria.hourly.year import Year

WH_J = 3600.0
FREEZES_K = 273.15


def hours_csv(year: Year) -> str:
    """Write the hours of a year: the hour ends at its number, standard time.

    What isn't wanted and what isn't told is blank; never 0.
    """
    hour = np.arange(HOURS)
    columns: list[tuple[str, str, NDArray[Any]]] = [
        ("month", "%d", MONTH_OF_HOUR + 1.0),
        ("day", "%d", np.repeat(DAY_OF_MONTH, 24) + 1.0),
        ("hour_ending", "%d", hour % 24 + 1.0),
        ("outside_c", "%.2f", year.weather.air_k - FREEZES_K),
        ("sun_level_w_m2", "%.0f", sun_w_m2(year.weather)),
        ("wind_m_s", "%.1f", year.weather.wind_m_s),
        ("somebody_there", "%d", year.is_there.astype(np.float64)),
        ("wanted_least_c", "%.2f", year.warm_k - FREEZES_K),
        ("wanted_most_c", "%.2f", year.cool_k - FREEZES_K),
        ("inside_c", "%.2f", year.drawn.operative_k - FREEZES_K),
        ("inside_air_c", "%.2f", year.drawn.air_k - FREEZES_K),
        ("coldest_face_c", "%.2f", year.drawn.coldest_face_k - FREEZES_K),
        ("heat_given_w", "%.1f", year.drawn.heat_w),
        ("cooling_given_w", "%.1f", year.drawn.cool_w),
        ("heat_needed_w", "%.1f", year.held.heat_w),
        ("cooling_needed_w", "%.1f", year.held.cool_w),
        ("windows_open_share", "%.3f", year.drawn.open_share),
        ("inside_without_plant_c", "%.2f", year.bare.operative_k - FREEZES_K),
        *_of_power(year),
    ]
    heads, formats, figures = zip(*columns, strict=True)
    out = StringIO()
    table = np.column_stack(figures)
    np.savetxt(out, table, fmt=list(formats), delimiter=",", header=",".join(heads), comments="")
    return out.getvalue().replace("nan", "")


def _of_power(year: Year) -> list[tuple[str, str, Hours]]:
    power = year.power
    if power is None:
        return []
    return [
        ("made_w", "%.1f", power.made_w),
        ("essential_w", "%.1f", power.essential_w),
        ("essential_not_served_w", "%.1f", power.unserved_essential_w),
        ("other_loads_w", "%.1f", power.rest_w),
        ("other_loads_not_served_w", "%.1f", power.unserved_rest_w),
        ("plant_w", "%.1f", power.plant_w),
        ("spilled_w", "%.1f", power.spilled_w),
        ("stored_wh", "%.0f", power.stored_j / WH_J),
    ]
