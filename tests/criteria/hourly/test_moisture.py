"""Vapour by hand; saturation as the steady measure has it."""

import numpy as np
import pytest

from criteria.hourly.moisture import given_kg_s, saturation_pa, surface_humidity, vapour_pa
from criteria.hourly.people_hours import Group, people_of
from criteria.measures import condensation

K = 273.15
ONE = np.ones(1)


def vapour(given=0.0, air=0.01, dew=0.0, room=20.0):
    return vapour_pa(ONE * K, ONE * (K + dew), ONE * (K + room), ONE * given, ONE * air)[0]


@pytest.mark.parametrize("celsius", [-25.0, -0.1, 0.0, 0.1, 35.0])
def test_saturation_is_that_of_the_steady_check(celsius):
    expected = condensation.saturation_pa(celsius)
    assert saturation_pa(np.array([celsius + K])) == pytest.approx([expected])


def test_people_give_off_50_grams_an_hour_awake_and_40_asleep():
    grams = given_kg_s(people_of([Group(n=4, sleeps_here=True)], [True] * 12)) * 3.6e6
    assert grams[[3, 12]] == pytest.approx([160, 200])


def test_air_that_nobody_wets_holds_what_it_held_outside():
    # 610.5 Pa at 0 °C, warmed to 20
    assert vapour() == pytest.approx(610.5 * 293.15 / 273.15)
    assert vapour(air=0.0) == vapour()


def test_four_asleep_with_16_litres_a_second_add_2_8_grams_a_cubic_metre():
    asleep = 4 * 0.040 / 3600
    added = vapour(asleep, 0.016) - vapour(air=0.016)
    assert added == pytest.approx(asleep / 0.016 * 461.5 * 293.15)
    assert added == pytest.approx(375.8, abs=0.1)


def test_without_air_it_fills_up_and_no_further():
    full = condensation.saturation_pa(20)
    assert vapour(1e-5, 0.0) == pytest.approx(full)
    assert vapour(1.0, 0.01) == pytest.approx(full)


def test_a_face_colder_than_the_dew_point_is_over_one():
    held = 0.5 * condensation.saturation_pa(20)
    at = np.array([20, condensation.dew_point_c(held), 5.0]) + K
    humidity = surface_humidity(at, np.full(3, held))
    assert humidity[:2] == pytest.approx([0.5, 1.0], abs=1e-6)
    assert humidity[2] == pytest.approx(held / condensation.saturation_pa(5))
