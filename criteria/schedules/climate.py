"""Climate: one row a month, given by the studio leader with the site sheet."""

from criteria.schedules.site import MONTHS
from criteria.typed.columns import quantity, word, yes_no
from criteria.typed.rows import Row, schedule
from criteria.units import HOURS, RAIN, SNOW, TEMPERATURE, WIND


@schedule(
    "climate",
    "Climate by month",
    purpose="Twelve rows, written by the studio leader. Rain catch and the design month are read "
    "from it.",
)
class Month(Row):
    """One month's means.

    mean_k, mean_min_k  air temperature [K]
    rain_m              rain of the month [m]
    sun_s               full-sun hours a day on the panels' plane [s]
    """

    month: str = word("month", MONTHS, required=True, eg="Oct")
    mean_k: float = quantity("mean_c", TEMPERATURE, "Mean", within=(190, 330))
    mean_min_k: float = quantity("mean_min_c", TEMPERATURE, "Mean minimum", within=(190, 330))
    rain_m: float = quantity("rain_mm", RAIN, "Rain", within=(0, 5))
    snow_m: float = quantity("snow_cm", SNOW, "Snow lying", within=(0, 20))
    sun_s: float = quantity("sun_hours_60s", HOURS, "Sun-hours", within=(0, 24 * 3600))
    wind_m_s: float = quantity("wind_ms", WIND, "Wind", within=(0, 100))
    is_open: bool = yes_no("open").says(
        "Whether the building is used in this month; blank is yes.", blank=True
    )
