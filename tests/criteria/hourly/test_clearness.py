"""The sun of a day by its clearness, and days that differ."""

import numpy as np
import pytest

from criteria.hourly.clearness import (
    DAYS,
    LAG,
    LEAST,
    MOST_BEAM_W_M2,
    QUANTILE,
    DaySun,
    above_the_air_wh_m2,
    days_that_differ,
    diffuse_share,
    hour_shares,
    sunset_rad,
)
from criteria.hourly.dates import MONTH_DAYS, MONTH_OF_DAY
from criteria.hourly.sun import positions
from criteria.hourly.weather import Place
from tests.criteria.hourly.epw_made import DENVER

# Computed apart from the formulas: P. I. Cooper's declination and distance of the sun, solar
# constant 1366.1. Day of the year, latitude, clearness; Wh/m², °, share; W/m² of the hours that
# end at 8, 9, 10, 11 and 12 by the sun, global and diffuse.
MEAN_DAYS = [
    (
        *(15, 46.7, 0.5, 3012.7369183, 65.601325556, 0.56884375),
        *((0.0, 73.72, 162.79, 237.21, 279.46), (0.0, 50.35, 97.85, 131.43, 148.82)),
    ),
    (
        *(172, 46.7, 0.45, 11632.417269, 117.40686735, 0.68689315),
        *((291.84, 393.41, 483.65, 551.42, 587.79), (216.51, 274.57, 321.98, 355.5, 372.86)),
    ),
    (
        *(288, -41.3, 0.55, 9697.4229964, 98.544718436, 0.52321435),
        *((258.49, 403.7, 537.84, 641.16, 697.39), (156.38, 222.93, 277.26, 315.69, 335.57)),
    ),
]


@pytest.mark.parametrize("case", MEAN_DAYS, ids=["winter", "summer", "south"])
def test_a_mean_day_as_computed_apart(case):
    day, latitude, clearness, above_wh, sunset_deg, share, whole, diffuse = case
    tilt = np.radians(23.45 * np.sin(2 * np.pi * np.array([284.0 + day]) / 365))
    square_on = 1366.1 * (1 + 0.033 * np.cos(2 * np.pi * np.array([day]) / 365))
    sunset = sunset_rad(latitude, tilt)
    above = above_the_air_wh_m2(latitude, tilt, square_on)
    assert above == pytest.approx([above_wh], rel=1e-9)
    assert np.degrees(sunset) == pytest.approx([sunset_deg], rel=1e-9)
    shared = diffuse_share(np.array([clearness]), sunset)
    assert shared == pytest.approx([share])
    hours = np.radians(15 * (np.arange(24) + 0.5 - 12))[None, :]
    of_whole, of_diffuse = hour_shares(hours, sunset)
    made = clearness * above * of_whole
    assert made[0, 7:12] == pytest.approx(whole, rel=5e-5, abs=0.005)
    assert (clearness * above * shared * of_diffuse)[0, 7:12] == pytest.approx(
        diffuse, rel=5e-5, abs=0.005
    )


def test_clear_days_have_little_diffuse_sun():
    short, long = np.radians(70), np.radians(100)
    assert diffuse_share(np.array([0.8, 0.8]), np.array([short, long])).tolist() == [0.143, 0.175]


def test_a_days_sun_stays_its_sum():
    sun = positions(DENVER)
    day_sun = DaySun(DENVER, sun)
    clearness = np.tile([0.1, 0.5, 0.85, 0.7, 0.0], 73)
    beam, diffuse = day_sun.of(clearness)
    level = (beam * np.maximum(sun.up, 0) + diffuse).reshape(DAYS, 24).sum(axis=1)
    assert level == pytest.approx(clearness * day_sun.above_wh_m2)
    assert (diffuse >= 0).all()
    assert 0 <= beam.min() < beam.max() <= MOST_BEAM_W_M2
    assert not beam[sun.up <= 0].any()


def test_polar_night_is_dark():
    polar = Place(latitude_deg=80.0, longitude_deg=0.0, zone_h=0.0, altitude_m=0.0)
    day_sun = DaySun(polar, positions(polar))
    beam, diffuse = day_sun.of(np.full(DAYS, 0.5))
    assert not beam[:240].any()
    assert not diffuse[:240].any()
    assert beam[172 * 24 : 173 * 24].all()


def test_days_differ_about_their_months_mean():
    mean = np.array([0.5, 0.3, 0.1, 0.07, 0.65, 0.7, 0.75, 0.78, 0.6, 0.4, 0.2, 0.55])
    days = days_that_differ(mean)
    assert np.bincount(MONTH_OF_DAY, days) / MONTH_DAYS == pytest.approx(mean, rel=1e-4)
    january = days[:31]
    assert january.min() >= LEAST
    # K₁ for 0.5 by hand: 0.6313 + 0.1335 − 0.00018
    assert 0.74 < january.max() < 0.7646
    assert np.corrcoef(QUANTILE[1:], QUANTILE[:-1])[0, 1] == pytest.approx(LAG, abs=0.1)


def test_a_month_too_dark_or_too_clear_to_differ_doesnt():
    days = days_that_differ(np.array([0.04, 0.0, 0.9] + [0.5] * 9))
    assert set(days[:31]) == {0.04}
    assert set(days[31:59]) == {0.0}
    assert set(days[59:90]) == {0.9}
