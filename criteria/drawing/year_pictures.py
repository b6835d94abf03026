"""The drawings of a year beside its checks: each shows the hours that decided the figure."""

from collections.abc import Callable
from functools import partial

from criteria.drawing.drawing import Drawing, Field
from criteria.drawing.picture import Picture, Ready, Seen
from criteria.drawing.year_balance import draw_balance
from criteria.drawing.year_carpet import draw_charge, draw_warmth
from criteria.drawing.year_months import draw_months
from criteria.drawing.year_tanks import draw_tanks
from criteria.drawing.year_week import draw_week
from criteria.hourly.level_ground import sun_w_m2
from criteria.hourly.of_year import reckoned
from criteria.hourly.worst import worst_night, worst_week
from criteria.hourly.year import Year
from criteria.typed.cells import Lacking

WITH_PLANT, WITHOUT = "with the plant that is drawn", "without plant"
WANTS = "a year wants weather, envelope, windows, rooms, people and plant"

Draw = Callable[[Field], Drawing]


def _of(make: Callable[[Year], Draw | None]) -> Callable[[Seen], Ready | None]:
    def ready(seen: Seen) -> Ready | None:
        try:
            draw = make(reckoned(seen.package).year)
        except Lacking:
            return None
        return Ready(draw) if draw else None

    return ready


def _bare(year: Year) -> Draw:
    return partial(draw_warmth, year, year.bare, WITHOUT)


def _warmth(year: Year) -> Draw:
    return partial(draw_warmth, year, year.drawn, WITH_PLANT)


def _night(year: Year) -> Draw:
    return partial(draw_balance, year, worst_night(year))


def _week(year: Year) -> Draw:
    return partial(draw_week, year, worst_week(year), sun_w_m2(year.weather))


def _charge(year: Year) -> Draw | None:
    return partial(draw_charge, year, year.power) if year.power else None


def _tanks(year: Year) -> Draw | None:
    return partial(draw_tanks, year.tanks) if year.tanks else None


def _months(year: Year) -> Draw:
    return partial(draw_months, year)


YEAR_PICTURES = tuple(
    Picture(ready=_of(make), wants=WANTS, checks=checks)
    for make, checks in (
        (_bare, ("cold_hours", "hot_hours")),
        (_night, ("coldest_night",)),
        (_warmth, ("hottest_hour", "hot_run_asleep", "hot_not_held", "damp_hours")),
        (_week, ("hours_not_held",)),
        (_months, ("fuel_year", "fuel_week", "sun_in_water")),
        (_charge, ("dark_hours", "longest_dark", "spilled_share", "days_without_sun")),
        (_tanks, ("rain_days",)),
    )
)
