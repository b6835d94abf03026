"""Comfort bands beside pythermalcomfort 4.8.1, and hours held to them by hand.

Its air moves at 0.1 m/s and is as warm as the walls; it prints to 0.1 K.
"""

import numpy as np
import pytest

from criteria.errors import InputError
from criteria.hourly.comfort import (
    SLEEPERS_SHARE,
    Category,
    ashrae_55_k,
    en_16798_k,
    mean_before_k,
    missed,
    running_mean_k,
    too_warm_to_sleep,
)
from criteria.hourly.weather import HOURS
from criteria.hourly.worst import Span

RUNNING = [
    ([20, 18, 16, 15, 15, 17, 19], 0.8, 17.5),
    ([31, 30, 28, 27, 26, 25, 24], 0.8, 28.3),
    ([10, 10, 10, 10, 10, 10, 10], 0.8, 10.0),
    ([5, 0, -3, 2, 8, 1, 0], 0.7, 2.1),
]
# running mean; lowest of categories I, II, III; highest of them
EN = [
    (10, (19.1, 18.1, 17.1), (24.1, 25.1, 26.1)),
    (12, (19.8, 18.8, 17.8), (24.8, 25.8, 26.8)),
    (16, (21.1, 20.1, 19.1), (26.1, 27.1, 28.1)),
    (20, (22.4, 21.4, 20.4), (27.4, 28.4, 29.4)),
    (24, (23.7, 22.7, 21.7), (28.7, 29.7, 30.7)),
    (28, (25.0, 24.0, 23.0), (30.0, 31.0, 32.0)),
]
# running mean; lowest and highest of 80 %, of 90 %
ASHRAE = [
    (10, (17.4, 24.4), (18.4, 23.4)),
    (12, (18.0, 25.0), (19.0, 24.0)),
    (16, (19.3, 26.3), (20.3, 25.3)),
    (20, (20.5, 27.5), (21.5, 26.5)),
    (24, (21.7, 28.7), (22.7, 27.7)),
    (28, (23.0, 30.0), (24.0, 29.0)),
]


def at(celsius, hours=HOURS):
    return np.full(hours, celsius + 273.15)


def in_c(figures):
    return figures[0] - 273.15


@pytest.mark.parametrize(("days", "alpha", "expected"), RUNNING)
def test_the_running_mean_of_a_week(days, alpha, expected):
    assert mean_before_k(np.array(days, dtype=float), alpha) == pytest.approx(expected, abs=0.05)


def test_the_running_mean_follows_yesterday_and_the_year_itself():
    air = np.repeat(np.full(365, 280.0), 24)
    air[48:72] += np.linspace(-2, 22, 24)
    mean = running_mean_k(air)
    assert mean[:72] == pytest.approx([280.0] * 72)
    assert mean[72:96] == pytest.approx([282.0] * 24)
    assert mean[96] == pytest.approx(281.6)
    assert running_mean_k(air, 0.5)[72] == pytest.approx(285.0)
    air[-24:] += 10
    # a week's weights from the last day back: 10 over 1 + 0.8 + … + 0.8^6
    assert running_mean_k(air)[0] == pytest.approx(280 + 10 / (0.2**-1 * (1 - 0.8**7)))


@pytest.mark.parametrize(("mean", "low", "high"), EN)
def test_en_16798_as_a_second_opinion_has_it(mean, low, high):
    bands = [en_16798_k(at(mean), category) for category in Category]
    assert [in_c(band.low_k) for band in bands] == pytest.approx(low, abs=0.05)
    assert [in_c(band.high_k) for band in bands] == pytest.approx(high, abs=0.05)
    assert all(band.is_adaptive.all() for band in bands)


@pytest.mark.parametrize(("mean", "of_80", "of_90"), ASHRAE)
def test_ashrae_55_as_a_second_opinion_has_it(mean, of_80, of_90):
    for share, limits in ((0.8, of_80), (0.9, of_90)):
        band = ashrae_55_k(at(mean), share)
        assert (in_c(band.low_k), in_c(band.high_k)) == pytest.approx(limits, abs=0.0501)
        assert band.is_adaptive.all()


def test_outside_of_its_range_a_band_is_fixed_and_says_so():
    ends = np.array([9.9, 10, 30, 30.1, 33.5, 33.6]) + 273.15
    en = en_16798_k(ends)
    assert list(en.is_adaptive) == [False, True, True, False, False, False]
    assert en.low_k[[0, 3]] - 273.15 == pytest.approx([20, 20])
    assert en.high_k[[0, 3]] - 273.15 == pytest.approx([26, 26])
    assert in_c(en_16798_k(at(5), Category.MODERATE).low_k) == pytest.approx(18)
    assert in_c(en_16798_k(at(5), Category.HIGH).low_k) == pytest.approx(20)
    ashrae = ashrae_55_k(ends)
    assert list(ashrae.is_adaptive) == [False, True, True, True, True, False]
    assert ashrae.high_k[[0, 5]] - 273.15 == pytest.approx([26, 26])
    assert ashrae.low_k[[0, 5]] - 273.15 == pytest.approx([20, 20])


@pytest.mark.parametrize(
    ("speed", "lift"), [(0.59, 0), (0.6, 1.2), (0.89, 1.2), (0.9, 1.8), (1.2, 2.2), (3, 2.2)]
)
def test_moving_air_lifts_the_upper_limit_in_warm_hours(speed, lift):
    room = np.array([25.0, 25.1]) + 273.15
    still = ashrae_55_k(at(20, 2), operative_k=room)
    moved = ashrae_55_k(at(20, 2), operative_k=room, air_m_s=speed)
    assert moved.high_k - still.high_k == pytest.approx([0, lift])
    assert moved.low_k == pytest.approx(still.low_k)
    assert ashrae_55_k(at(20, 2), air_m_s=speed).high_k == pytest.approx(still.high_k)


def test_hours_and_degree_hours_outside_of_what_is_wanted():
    room = np.array([17, 18, 19.4, 19.6, 22, 27, 28.5, 28, 10.0]) + 273.15
    counts = np.arange(9) < 8
    found = missed(room, at(20, 9), at(26, 9), counts)
    assert (found.counted_hours, found.below_hours, found.above_hours) == (8, 4, 3)
    assert (found.below_kh, found.above_kh) == pytest.approx((3 + 2 + 0.6 + 0.4, 1 + 2.5 + 2))
    assert found.longest_below == Span(0, 4)
    assert found.longest_above == Span(5, 3)
    loose = missed(room, at(20, 9), at(26, 9), counts, 0.5)
    assert (loose.below_hours, loose.below_kh) == pytest.approx((3, 5.6))
    at_the_edge = missed(
        np.array([290.0, 301.0]), np.full(2, 291.0), np.full(2, 300.0), counts[:2], 1
    )
    assert (at_the_edge.below_hours, at_the_edge.above_hours) == (0, 0)


def test_what_isnt_known_is_neither_met_nor_missed():
    room, low, high, counts = at(20, 4), at(18, 4), at(26, 4), np.array([True] * 3 + [False])
    low[3] = np.nan
    assert missed(room, low, high, counts).below_hours == 0
    for name, figures in (("room", room), ("least", low), ("most", high)):
        figures[1] = np.nan
        with pytest.raises(InputError, match=f"{name} isn't known in 1 of"):
            missed(room, low, high, counts)
        figures[1] = 293.15


def test_sleepers_are_too_warm_over_26_degrees():
    room = np.array([26, 26.1, 30]) + 273.15
    assert list(too_warm_to_sleep(room, np.array([True, True, False]))) == [False, True, False]
    assert int(SLEEPERS_SHARE * 365 * 9) == 32


@pytest.mark.parametrize(
    ("ask", "told"),
    [
        (lambda: running_mean_k(at(5), 1.0), "α is 1; expected"),
        (lambda: running_mean_k(at(5), -0.1), "α is -0.1; expected"),
        (lambda: ashrae_55_k(at(15), 0.85), "share is 0.85; expected 0.8 or 0.9"),
        (lambda: ashrae_55_k(at(15), air_m_s=-1), "moved air is -1 m/s"),
    ],
)
def test_what_no_band_is_is_refused(ask, told):
    with pytest.raises(InputError, match=told):
        ask()
