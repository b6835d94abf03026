"""Fuel by hand."""

import numpy as np
import pytest

from criteria.errors import InputError
from criteria.hourly.fuel import burnt_kg, fire_air_m3_j, fuel_of, stove_runs
from criteria.hourly.weather import HOURS
from criteria.hourly.worst import Span


def test_an_hour_of_three_kilowatts_by_hand():
    # 10.8 MJ of 0.75 · 15 MJ a kilogram
    assert burnt_kg(np.array([3000.0]), 15e6, 0.75) == pytest.approx([0.96])


def test_the_year_and_its_worst_week():
    burnt = np.full(HOURS, 0.1)
    burnt[24 * 10 : 24 * 17] = 0.5
    burnt[24 * 20 : 24 * 22] = 0.9
    fuel = fuel_of(burnt)
    assert fuel.year_kg == pytest.approx(876 + 168 * 0.4 + 48 * 0.8)
    assert fuel.week == Span(240, 168)
    assert fuel.week_kg == pytest.approx(84)


def test_a_week_at_the_turn_of_the_year_counts():
    burnt = np.zeros(HOURS)
    burnt[-48:] = burnt[:48] = 1
    assert fuel_of(burnt).week_kg == pytest.approx(96)
    assert fuel_of(burnt).week.first == 24 * 360
    assert fuel_of(np.zeros(HOURS)).week_kg == 0


def test_a_stove_burns_while_somebody_is_awake_and_two_hours_after():
    awake = np.zeros(HOURS, dtype=bool)
    awake[[7, 8, HOURS - 1]] = True
    assert list(np.flatnonzero(stove_runs(awake))) == [0, 1, 7, 8, 9, 10, HOURS - 1]
    assert awake.sum() == 3


def test_a_fire_without_a_duct_draws_ten_cubic_metres_a_kilogram():
    # a kilogram of logs leaves 11.25 MJ in the room, and takes 10 m³ of its air
    assert fire_air_m3_j(0.75) * 11.25e6 == pytest.approx(10)


@pytest.mark.parametrize(
    ("figures", "told"),
    [
        ((15e6, 0), "share of the fuel's heat is 0"),
        ((15e6, 1.1), "given share is 1.1"),
        ((0, 0.75), "heat in the fuel is 0"),
    ],
)
def test_what_gives_no_heat_is_refused(figures, told):
    with pytest.raises(InputError, match=told):
        burnt_kg(np.zeros(1), *figures)
