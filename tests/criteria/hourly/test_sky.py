"""Sun on planes, against pvlib 0.16.1 on Denver's year."""

from itertools import pairwise

import numpy as np
import pytest

from criteria.hourly.sky import SNOW_REFLECTANCE, Plane, even_sky, sky_of, sky_over
from criteria.hourly.sun import positions
from tests.criteria.hourly.denver import DENVER, denver, oracle
from tests.criteria.hourly.weather_still import still

PLANES = oracle("sun")["planes"]
DAY_OF = {"02-01": 31, "07-14": 194, "12-21": 354}
ENDS = np.cumsum([0, 31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31]) * 24
SKIES = {"perez": sky_of, "isotropic": even_sky}


def _plane(model: str, told: dict) -> Plane:
    year = denver()
    sky = SKIES[model](positions(DENVER), year.beam_w_m2, year.diffuse_w_m2, 0.2)
    return sky.on_plane(told["tilt_deg"], told["azimuth_deg"])


@pytest.mark.parametrize("model", SKIES)
@pytest.mark.parametrize("told", PLANES, ids=lambda t: f"{t['tilt_deg']}-{t['azimuth_deg']}")
def test_a_plane_s_year_months_and_hours_are_the_library_s(told, model):
    total, second = _plane(model, told).total_w_m2, told[model]
    assert total.sum() / 1e3 == pytest.approx(second["year_kwh_m2"], rel=0.003)
    months = [total[a:b].sum() / 1e3 for a, b in pairwise(ENDS)]
    assert months == pytest.approx(second["month_kwh_m2"], rel=0.015)
    up = positions(DENVER).up
    for day, hours in second["hours_w_m2"].items():
        at = slice(24 * DAY_OF[day], 24 * DAY_OF[day] + 24)
        lit = up[at] > 0
        assert total[at][lit] == pytest.approx(np.array(hours)[lit], abs=12)


def test_no_sun_comes_from_behind_or_from_under_the_horizon():
    told = {"tilt_deg": 90, "azimuth_deg": 180}
    plane, sun = _plane("perez", told), positions(DENVER)
    behind = (sun.up <= 0) | (sun.cos_incidence(90, 180) <= 0)
    assert behind.any()
    assert not plane.direct_w_m2[behind].any()
    assert (plane.diffuse_w_m2 >= 0).all()


def test_lying_snow_makes_the_ground_brighter():
    sun = positions(DENVER)
    bare = sky_over(sun, still(beam_w_m2=500.0, diffuse_w_m2=100.0))
    snow = sky_over(sun, still(beam_w_m2=500.0, diffuse_w_m2=100.0, has_snow=True))
    one, other = bare.on_plane(90, 0).ground_w_m2, snow.on_plane(90, 0).ground_w_m2
    assert other.sum() == pytest.approx(one.sum() * SNOW_REFLECTANCE / 0.2)


def test_a_sky_without_sun_is_dark_and_warns_of_nothing():
    with np.errstate(all="raise"):
        plane = sky_over(positions(DENVER), still()).on_plane(60, 180)
    assert not plane.total_w_m2.any()


def test_behind_the_skyline_only_the_rest_of_the_sky_is_left():
    sun, year = positions(DENVER), denver()
    free = sky_over(sun, year)
    hills = sky_over(sun, year, skyline_deg=(15.0,) * 8)
    hidden = sun.up <= np.sin(np.radians(15.0))
    one, other = free.on_plane(90, 180), hills.on_plane(90, 180)
    assert one.direct_w_m2[hidden].any()
    assert not other.direct_w_m2[hidden].any()
    assert (other.direct_w_m2[~hidden] == one.direct_w_m2[~hidden]).all()
    assert (other.diffuse_w_m2 == one.diffuse_w_m2).all()
