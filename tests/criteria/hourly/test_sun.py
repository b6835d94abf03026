"""Where the sun stands, against the full astronomical algorithm (pvlib 0.16.1, NREL SPA)."""

from datetime import datetime

import numpy as np
import pytest

from criteria.hourly.sun import normal, positions
from criteria.hourly.weather import Place
from tests.criteria.hourly.denver import DENVER, oracle


def _at(told: dict) -> tuple[np.ndarray, float]:
    when = datetime.fromisoformat(told["local_standard"])
    hour = (datetime(2023, when.month, when.day) - datetime(2023, 1, 1)).days * 24 + when.hour
    place = Place(
        latitude_deg=told["latitude"],
        longitude_deg=told["longitude"],
        zone_h=told["tz_h"],
        altitude_m=0,
    )
    return positions(place).vector[hour], when.minute


@pytest.mark.parametrize("told", oracle("sun")["suns"], ids=lambda told: told["local_standard"])
def test_the_sun_stands_where_the_full_algorithm_has_it(told):
    (east, north, up), minute = _at(told)
    assert minute == 30
    assert np.degrees(np.arcsin(up)) == pytest.approx(told["altitude_deg"], abs=0.4)
    off = (np.degrees(np.arctan2(east, north)) - told["azimuth_deg"] + 180) % 360 - 180
    assert abs(off) < 0.6


def test_vectors_are_of_length_one_and_a_normal_looks_its_way():
    assert np.linalg.norm(positions(DENVER).vector, axis=1) == pytest.approx(1.0)
    assert normal(90, 90) == pytest.approx((1, 0, 0), abs=1e-12)
    assert normal(90, 180) == pytest.approx((0, -1, 0), abs=1e-12)
    assert normal(0, 45) == pytest.approx((0, 0, 1), abs=1e-12)
    assert normal(30, 0) == pytest.approx((0, 0.5, np.sqrt(0.75)))


def test_the_sun_above_the_air_is_stronger_in_january():
    above = positions(DENVER).above_w_m2
    assert above[12] == pytest.approx(1414, abs=2)
    assert above[24 * 183] == pytest.approx(1321, abs=2)


def test_the_sun_stands_over_a_skyline_later_and_goes_earlier():
    sun = positions(DENVER)
    height = np.degrees(np.arcsin(sun.up))
    level = sun.over((0.0,) * 8)
    assert (level == (sun.up > 0)).all()
    high = sun.over((20.0,) * 8)
    assert (high == (height > 20)).all()
    east = sun.over((0.0, 40.0, 0.0, 0.0))
    morning = 24 * 80 + 8
    assert 15 < height[morning] < 40
    assert not east[morning]
    assert east[24 * 80 + 15]
    # half way from a level south to 40° in the east the skyline stands at 20°
    bearing = np.degrees(np.arctan2(sun.vector[:, 0], sun.vector[:, 1])) % 360
    between = np.abs(bearing - 135) < 1
    assert (east[between] == (height[between] > 20 + (135 - bearing[between]) * 40 / 90)).all()
