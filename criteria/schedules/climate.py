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

    month: str = word("month", "Month", MONTHS, required=True, example="Oct")
    mean_k: float = quantity("mean_c", "Mean", TEMPERATURE, least=190, most=330)
    mean_min_k: float = quantity("mean_min_c", "Mean minimum", TEMPERATURE, least=190,
                                        most=330)  # fmt: skip
    rain_m: float = quantity("rain_mm", "Rain", RAIN, least=0, most=5)
    snow_m: float = quantity("snow_cm", "Snow lying", SNOW, least=0, most=20)
    sun_s: float = quantity("sun_hours_60s", "Sun-hours", HOURS, least=0, most=24 * 3600)
    wind_m_s: float = quantity("wind_ms", "Wind", WIND, least=0, most=100)
    is_open: bool = yes_no(
        "open", "Open", "Whether the building is used in this month; blank is yes.", blank=True
    )
