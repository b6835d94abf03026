"""What twelve figures are worth: Denver made of its own months against its own 8,760 hours."""

from itertools import pairwise

import numpy as np
import pytest

from criteria.hourly.building import ANY_PLANT
from criteria.hourly.figures import figures
from criteria.hourly.months import MonthMeans, weather_of_months
from criteria.hourly.running import Ready
from criteria.hourly.sky import sky_over
from criteria.hourly.sun import positions
from criteria.hourly.weather import Weather
from criteria.hourly.worst import is_night_settled
from tests.criteria.hourly.denver import denver, ready, run_of

ENDS = np.cumsum([0, 31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31]) * 24


@pytest.fixture(scope="module")
def made() -> Weather:
    year = denver()
    steep = sky_over(positions(year.place), year).on_plane(60, 180).total_w_m2
    months = []
    for first, last in pairwise(ENDS):
        air = year.air_k[first:last]
        months.append(
            MonthMeans(
                mean_k=float(air.mean()),
                mean_min_k=float(air.reshape(-1, 24).min(axis=1).mean()),
                sun_h=float(steep[first:last].mean()) * 24 / 1000,
                wind_m_s=float(year.wind_m_s[first:last].mean()),
                has_snow=False,
                is_open=True,
            )
        )
    return weather_of_months(tuple(months), year.place, "Denver")


def _told(name: str, weather: Weather) -> dict[str, float]:
    return figures(Ready(ready(name).building, weather).run(ANY_PLANT)[0])


@pytest.mark.parametrize("name", ["600", "900"])
def test_the_year_s_sums_are_near_those_of_the_file(made, name):
    file, months = figures(run_of(name)), _told(name, made)
    assert months["heating_mwh"] == pytest.approx(file["heating_mwh"], rel=0.08)
    assert months["cooling_mwh"] == pytest.approx(file["cooling_mwh"], rel=0.10)


def test_the_worst_night_is_far_too_mild_and_isn_t_called_settled(made):
    lowest = [each["lowest_c"] for each in (figures(run_of("600FF")), _told("600FF", made))]
    assert lowest[1] > lowest[0] + 5
    assert not is_night_settled(made)
    assert is_night_settled(denver())
