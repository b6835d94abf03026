"""Long wave of the sky, by hand."""

import numpy as np
import pytest

from criteria.hourly.sky_long_wave import long_wave_w_m2, standard_pressure_pa
from criteria.hourly.weather import HOURS


def test_a_clear_and_a_clouded_sky_by_hand():
    """Dew point 10 °C, air 20 °C, six in the morning: ε 0.7743, 418.7 W/m² black, by hand."""
    air, dew = np.full(HOURS, 293.15), np.full(HOURS, 283.15)
    clear = long_wave_w_m2(air, dew, np.zeros(HOURS))
    assert clear[5:7].mean() == pytest.approx(0.7743 * 418.76, rel=1e-4)
    # ten tenths: 1 + 0.224 − 0.35 + 0.28
    over = long_wave_w_m2(air, dew, np.full(HOURS, 10.0))
    assert over == pytest.approx(clear * 1.154)
    assert clear[23] > clear[11]


def test_no_sky_sends_more_than_a_black_one():
    hot = np.full(HOURS, 303.15)
    sent = long_wave_w_m2(hot, hot, np.full(HOURS, 10.0))
    assert (sent <= 5.670374e-8 * hot**4).all()


def test_pressure_of_the_standard_atmosphere():
    """Printed to 3 figures for 1,000 m and 3,000 m: 89.875 and 70.108 kPa, ASHRAE Fundamentals."""
    assert standard_pressure_pa(1000) == pytest.approx(89_875, rel=1e-4)
    assert standard_pressure_pa(3000) == pytest.approx(70_108, rel=1e-4)
