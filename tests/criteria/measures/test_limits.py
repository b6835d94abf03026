"""At, just under and just over, where a measure has a limit of its own."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from criteria.measures import access, air, ground, moving, water


@pytest.mark.parametrize(
    ("rise_mm", "runs"),
    [(0, 0), (13, 0), (13.1, 1), (759.9, 1), (760, 1), (760.1, 2), (1520, 2), (1520.1, 3)],
)
def test_a_run_rises_760_mm(rise_mm, runs):
    need = access.ramp_need(rise_mm / 1000)
    assert need.runs == runs
    assert need.landings == (runs + 1 if runs else 0)


@given(st.floats(0.001, 5), st.floats(0.001, 5))
def test_more_rise_never_takes_a_shorter_ramp(a, b):
    low, high = sorted((a, b))
    assert access.ramp_need(low).length_m <= access.ramp_need(high).length_m


@pytest.mark.parametrize(
    ("sizes", "fits"),
    [
        ((6.0, 2.3, 2.2), True),
        ((6.0000001, 2.3, 2.2), False),
        ((6.0, 2.31, 0.1), False),
        ((5.9, 2.2, 2.3), False),
    ],
)
def test_a_piece_fits_side_by_side_in_the_order_given(sizes, fits):
    assert moving.fits_in_order(sizes, (6.0, 2.3, 2.2)) is fits


def test_a_box_may_be_turned_where_order_is_free():
    assert moving.fits_in_any_order((2.2, 6.0, 2.3), (6.0, 2.3, 2.2))


def test_the_fall_that_drains_and_the_fall_that_turns_are_one_number():
    assert water.LEAST_TO_DRAIN == water.STEEPEST_ACCESSIBLE
    assert water.fall(0.25 * 0.0254, 12 * 0.0254) == pytest.approx(1 / 48, rel=1e-12)


# WHO/Sphere-like figures by hand: 100 L of cassette, two people, 4.548 L a day: 10.99 days.
def test_waste_days():
    assert water.waste_days(0.100, 2, 0.004548) / 86400 == pytest.approx(10.99, abs=0.005)


# ASTM D6245-like: 0.31 L/min of carbon dioxide in 7.5 L/s rises by 688.9 ppm (by hand).
def test_the_rise_that_seven_and_a_half_litres_leave():
    rise = air.steady_co2(1, 0.0075, 0, 0.31e-3 / 60)
    assert rise * 1e6 == pytest.approx(688.9, abs=0.05)


def test_wind_grows_with_its_square_and_with_exposure():
    assert ground.wind_pressure(40, "C") == pytest.approx(4 * ground.wind_pressure(20, "C"))
    assert ground.wind_pressure(40, "B") < ground.wind_pressure(40, "C")
    assert ground.wind_pressure(40, "C") < ground.wind_pressure(40, "D")


# 6.0 × 2.4 m on 5 %: 0.300 m along the fall, 0.323 m across the worst diagonal (by hand).
def test_legs_differ_by_the_fall_of_the_diagonal():
    assert ground.leg_travel(6.0, 2.4, 0.05) == pytest.approx(0.323, abs=5e-4)
    assert ground.leg_travel(6.0, 2.4, 0) == 0


# Trailer of 3,500 kg, axle at 4.2 m, centre of mass at 3.6 m: 500 kg on the hitch (by hand).
def test_a_trailer_s_load_on_its_hitch():
    assert moving.tongue_load(3500, 3.6, 4.2) == pytest.approx(500)
