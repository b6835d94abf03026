"""Panels: a year of Denver beside a second opinion, losses and snow by hand."""

import json
from pathlib import Path

import numpy as np
import pytest

from criteria.errors import InputError
from criteria.hourly.panels import (
    angle_share,
    arriving_share,
    cell_k,
    covered_by_snow,
    made_w,
    on_cells_w_m2,
    snows,
)
from criteria.hourly.sky import Plane, sky_over
from criteria.hourly.sun import positions
from criteria.hourly.weather import HOURS
from tests.criteria.hourly.epw_made import DENVER, denver
from tests.criteria.hourly.weather_still import still

PLANES = json.loads((Path(__file__).parent / "data/panels-denver.json").read_text())["planes"]
DAYS = {"02-01": 31, "07-14": 194, "12-21": 354}


def plane(beam=0.0, about=0.0, sky=0.0, ground=0.0, cosine=1.0):
    parts = (np.full(HOURS, figure) for figure in (beam, about, sky, ground, cosine))
    names = ("beam_w_m2", "circumsolar_w_m2", "diffuse_w_m2", "ground_w_m2", "cos_incidence")
    return Plane(**dict(zip(names, parts, strict=True)))


@pytest.mark.parametrize("case", PLANES, ids=lambda p: f"{p['tilt_deg']}-{p['bearing_deg']}")
def test_a_year_of_denver_as_pvlib_has_it(case):
    # 0.4 % a year, 1.5 % a month; hours within 12 W but where the sun crosses the horizon
    weather = denver()
    sky = sky_over(positions(DENVER), weather)
    sun = sky.on_plane(case["tilt_deg"], case["bearing_deg"])
    watts = made_w(1000, sun, weather)
    assert watts.sum() / 1000 == pytest.approx(case["year_kwh"], rel=0.004)
    ends = np.cumsum([31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31])[:-1] * 24
    months = [part.sum() / 1000 for part in np.split(watts, ends)]
    assert months == pytest.approx(case["month_kwh"], rel=0.015)
    is_high = sky.sun.up.reshape(365, 24) > np.sin(np.radians(4))
    for named, day in DAYS.items():
        hours = np.where(is_high[day], watts.reshape(365, 24)[day], 0)
        assert hours == pytest.approx(np.where(is_high[day], case["hours_w"][named], 0), abs=12)
    warmest = cell_k(weather.air_k, sun.total_w_m2, weather.wind_m_s).max() - 273.15
    assert warmest == pytest.approx(case["cell_max_c"], abs=0.2)


def test_glass_lets_less_through_at_an_angle_and_nothing_from_behind():
    # pvlib 0.16.1, physical(angle, 1.526, 4, 0.002)
    shares = angle_share(np.cos(np.radians([0, 30, 45, 60, 75, 85, 90, 120])))
    expected = [1, 0.997886863, 0.987977881, 0.946002914, 0.774060675, 0.40087915, 0, 0]
    assert shares == pytest.approx(expected, abs=1e-9)


def test_each_part_of_the_sun_reaches_the_cells_by_its_own_share():
    slanting = {"cosine": 0.5}
    k = angle_share(np.array([0.5]))[0]
    assert k < 0.95
    assert on_cells_w_m2(plane(beam=100, **slanting))[0] == pytest.approx(100 * k)
    assert on_cells_w_m2(plane(about=100))[0] == pytest.approx(95)
    assert on_cells_w_m2(plane(sky=100))[0] == pytest.approx(95)
    assert on_cells_w_m2(plane(ground=100))[0] == pytest.approx(95)
    all_of_it = plane(beam=100, about=40, sky=10, ground=20)
    assert on_cells_w_m2(all_of_it, 0.5)[0] == pytest.approx(50 + 0.95 * (20 + 10 + 20))


def test_a_kilowatt_in_full_sun_by_hand():
    weather = still(air_k=293.15, wind_m_s=2)
    # 20 + 1000 ÷ (25 + 13.68) = 45.853 °C; 1 − 0.004 · 20.853
    watts = made_w(1000, plane(beam=1000), weather)
    assert watts[0] == pytest.approx(916.587, abs=0.001)
    assert cell_k(weather.air_k, np.full(HOURS, 1000.0), weather.wind_m_s)[0] == pytest.approx(
        319.0031, abs=1e-4
    )
    shaded = made_w(2000, plane(beam=1000), weather, arrives=0.8, direct_share=0.0)
    assert not shaded.any()
    assert made_w(2000, plane(beam=1000), weather, arrives=0.8) == pytest.approx(watts * 1.6)
    covered = np.arange(HOURS) < 5
    assert list(made_w(1000, plane(beam=1000), weather, covered=covered)[3:7] > 0) == [0, 0, 1, 1]


def test_what_arrives():
    assert arriving_share() == pytest.approx(0.86 * 0.95)
    assert arriving_share(tracks=False) == pytest.approx(0.86 * 0.75)
    assert arriving_share(0.76, tracks=False) == pytest.approx(0.8)
    assert arriving_share(0.99) == 1


def test_snow_falls_on_cold_wet_days_or_every_fourth_on_which_it_lies():
    rain, air = np.zeros(HOURS), np.full(HOURS, 273.15)
    rain[[10, 30, 60]] = 0.001
    air[24:48] += 0.1
    assert list(np.flatnonzero(snows(still(rain_m=rain, air_k=air)))) == [0, 2]
    lies = np.zeros(HOURS, dtype=bool)
    lies[2 * 24 + 5 : 9 * 24 + 1] = True
    lies[20 * 24] = True
    assert list(np.flatnonzero(snows(still(has_snow=lies)))) == [2, 6, 20]
    assert list(np.flatnonzero(snows(still(has_snow=True)))[:3]) == [0, 4, 8]


@pytest.mark.parametrize(
    ("tilt", "swept", "hours"),
    [
        (90, False, [12, 0]),
        (60, False, [12, 0]),
        (55, False, [18, 0]),
        (50, False, [24, 0]),
        (49.9, True, [12, 0]),
        (49.9, False, [24, 24]),
        (0, False, [24, 24]),
    ],
)
def test_snow_keeps_the_sun_off_until_it_slides_or_is_swept(tilt, swept, hours):
    lies = np.zeros(HOURS, dtype=bool)
    lies[:48] = True
    covered = covered_by_snow(still(has_snow=lies), tilt, is_swept=swept)
    by_day = covered.reshape(365, 24)
    assert list(by_day.sum(axis=1)[:3]) == [*hours, 0]
    assert by_day[0, : hours[0]].all()


def test_fresh_snow_lies_on_flat_panels_all_day_though_no_file_says_that_it_lies():
    rain = np.zeros(HOURS)
    rain[30] = 0.002
    covered = covered_by_snow(still(rain_m=rain, air_k=270.0), 20, is_swept=False)
    assert list(np.flatnonzero(covered)) == list(range(24, 48))


@pytest.mark.parametrize(
    ("ask", "told"),
    [
        (lambda: made_w(-1, plane(), still()), "panels is -1 W"),
        (lambda: made_w(1, plane(), still(), arrives=1.1), "share that arrives is 1.1"),
        (lambda: arriving_share(1.5), "system factor is 1.5"),
        (lambda: covered_by_snow(still(), 91, is_swept=True), "tilt is 91°"),
    ],
)
def test_what_no_panel_is_is_refused(ask, told):
    with pytest.raises(InputError, match=told):
        ask()
