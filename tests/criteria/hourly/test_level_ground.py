"""Sun on level ground: what comes straight by the sine of its height, and what the sky adds."""

import numpy as np
import pytest

from criteria.hourly.level_ground import sun_w_m2
from criteria.hourly.sun import positions
from criteria.hourly.weather import HOURS
from tests.criteria.drawing.year_made import a_weather


def test_it_is_what_comes_straight_and_what_the_sky_adds():
    weather = a_weather(beam_w_m2=np.full(HOURS, 800.0), diffuse_w_m2=np.full(HOURS, 50.0))
    up, level = positions(weather.place).up, sun_w_m2(weather)
    noon, midnight = 24 * 170 + 12, 24 * 170
    assert level[noon] == pytest.approx(800 * up[noon] + 50)
    assert up[midnight] < 0
    assert level[midnight] == 50
