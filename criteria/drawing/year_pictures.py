"""The drawings of a year beside its checks: each shows the hours that decided the figure."""

from collections.abc import Callable, Iterator
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

Make = Callable[[Field], Drawing]

CHECKS_OF = {
    "warmth": ("hottest_hour", "hot_run_asleep", "hot_not_held", "damp_hours"),
    "bare": ("cold_hours", "hot_hours"),
    "charge": ("dark_hours", "longest_dark", "spilled_share", "days_without_sun"),
    "week": ("hours_not_held",),
    "balance": ("coldest_night",),
    "tanks": ("rain_days",),
    "months": ("fuel_year", "fuel_week", "sun_in_water"),
}
"""Checks that each drawing shows, by its key."""


def drawings_of(year: Year) -> Iterator[tuple[str, Make]]:
    """Give what is drawn of a year, by key."""
    yield "warmth", partial(draw_warmth, year, year.drawn, WITH_PLANT)
    yield "bare", partial(draw_warmth, year, year.bare, WITHOUT)
    if year.power is not None:
        yield "charge", partial(draw_charge, year, year.power)
    yield "week", partial(draw_week, year, worst_week(year), sun_w_m2(year.weather))
    yield "balance", partial(draw_balance, year, worst_night(year))
    if year.tanks:
        yield "tanks", partial(draw_tanks, year.tanks)
    yield "months", partial(draw_months, year)


def _ready(key: str, seen: Seen) -> Ready | None:
    try:
        make = dict(drawings_of(reckoned(seen.package).year)).get(key)
    except Lacking:
        return None
    return Ready(make) if make else None


YEAR_PICTURES = tuple(
    Picture(ready=partial(_ready, key), wants=WANTS, checks=checks)
    for key, checks in CHECKS_OF.items()
)
