"""Rain, snow and a tank by day: a worked fortnight, by hand, and that no drop is lost."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from criteria.errors import InputError
from criteria.hourly.rain_tank import (
    KEPT_BY_SURFACE,
    Rains,
    caught_m3,
    days_given,
    is_short,
    of_months,
    rain_by_day,
    runs_off_m,
    tank_year,
    wanted_m3,
)
from criteria.hourly.weather import HOURS
from tests.criteria.hourly.weather_still import still

OPEN = [True] * 12
FORTNIGHT_MM = [0, 0, 12, 30, 0, 0, 4, 0, 0, 0, 0, 0, 8, 0]
STORED_L = [90, 30, 244.8, 440, 380, 320, 341.6, 281.6, 221.6, 161.6, 101.6, 41.6, 163.2, 103.2]
DRAWN_L = [60, 60, 30, 60, 60, 60, 60, 60, 60, 60, 60, 60, 41.6, 60]
SPILLED_L = [0, 0, 0, 356.8, *[0] * 10]


def litres(figures):
    return np.array(figures, dtype=float) / 1000


def days_of(celsius, rain_mm):
    """Air of each hour [K] and rain of each day [m]: as given, then 10 °C and dry."""
    means = np.full(365, 10.0)
    means[: len(celsius)] = celsius
    rain = np.zeros(365)
    rain[: len(rain_mm)] = rain_mm
    return np.repeat(means + 273.15, 24), rain / 1000


def test_a_worked_fortnight_gives_before_it_takes():
    # 24 m² of which 0.85 runs to 500 L, begun with 150, 60 L a day: short on the third and 13th
    caught = litres(FORTNIGHT_MM) * 24 * 0.85
    tank = tank_year(caught, litres([60] * 14), 0.5, start_m3=0.15)
    assert tank.stored_m3 == pytest.approx(litres(STORED_L))
    assert tank.drawn_m3 == pytest.approx(litres(DRAWN_L))
    assert tank.spilled_m3 == pytest.approx(litres(SPILLED_L))
    assert list(np.flatnonzero(is_short(tank))) == [2, 12]
    assert days_given(tank) == 12
    assert (tank.capacity_m3, tank.case, tank.rains) == (0.5, "", "by the hour of the file")


@given(st.floats(0, 2), st.lists(st.tuples(st.floats(0, 1), st.floats(0, 1)), min_size=1))
def test_no_drop_is_lost(capacity, days):
    caught, wanted = np.array(days).T
    tank = tank_year(caught, wanted, capacity, start_m3=capacity / 3)
    left = capacity / 3
    for day in range(len(days)):
        left += caught[day] - tank.drawn_m3[day] - tank.spilled_m3[day]
        assert left == pytest.approx(tank.stored_m3[day], abs=1e-9)
        assert -1e-12 <= left <= capacity + 1e-9
    assert (tank.short_m3 >= 0).all()
    assert (tank.spilled_m3 >= 0).all()


def test_a_year_begins_as_it_leaves_off():
    caught = np.zeros(365)
    caught[300] = 0.4
    tank = tank_year(caught, wanted_m3(2, 0.005, OPEN), 1.0, case="weekends", rains="so")
    # 400 L last forty days from the day after; the half that it began with is long gone
    assert tank.drawn_m3.sum() == pytest.approx(0.4)
    assert days_given(tank) == 40
    late = np.roll(caught, 60)
    assert days_given(tank_year(late, wanted_m3(2, 0.005, OPEN), 1.0)) == 40
    assert (tank.case, tank.rains) == ("weekends", "so")


def test_water_is_wanted_in_open_months_alone_and_such_days_count():
    wanted = wanted_m3(4, 0.012, [month == 1 for month in range(12)])
    assert wanted.sum() == pytest.approx(28 * 0.048)
    assert wanted[31] == pytest.approx(0.048)
    full = tank_year(np.full(365, 1.0), wanted, 10.0)
    assert days_given(full) == 28


def test_a_month_falls_every_fourth_day_or_in_its_first_ten():
    rain = [0.08, 0.07, *[0.0] * 9, 0.04]
    fourth, ten = of_months(rain, Rains.EVERY_FOURTH), of_months(rain, Rains.FIRST_TEN)
    assert list(np.flatnonzero(fourth)[:9]) == [0, 4, 8, 12, 16, 20, 24, 28, 31]
    assert fourth[31] == pytest.approx(0.01)
    assert fourth.sum() == ten.sum() == pytest.approx(0.19)
    assert list(np.flatnonzero(ten)) == [*range(10), *range(31, 41), *range(334, 344)]
    assert ten[0] == pytest.approx(0.008)


def test_a_file_with_rain_says_when_and_months_are_spread_in_both_ways():
    hours = np.zeros(HOURS)
    hours[[23, 24, 25]] = 0.002
    found = rain_by_day(still(rain_m=hours), OPEN)
    assert list(found) == [Rains.BY_HOUR]
    assert found[Rains.BY_HOUR][:3] == pytest.approx([0.002, 0.004, 0])
    assert list(rain_by_day(still(), [0.1] * 12)) == [Rains.EVERY_FOURTH, Rains.FIRST_TEN]


def test_snow_lies_until_it_melts_four_millimetres_a_kelvin():
    air, rain = days_of([-5, 0, 1, 2, 2, 3], [10, 6, 5, 0, 0, 0])
    # 16 mm lie; 4 and the day's 5 of rain run, then 8, then the last 4
    assert runs_off_m(rain, air)[:6] * 1000 == pytest.approx([0, 0, 9, 8, 4, 0])
    assert runs_off_m(rain, air, sheds=True)[:6] * 1000 == pytest.approx([0, 0, 5, 0, 0, 0])


def test_what_lies_on_the_last_day_melts_in_the_new_year():
    air, rain = days_of([1, 1], [0, 0])
    air[-24:] = 270
    rain[-1] = 0.006
    assert runs_off_m(rain, air)[:3] * 1000 == pytest.approx([4, 2, 0])


def test_the_first_half_millimetre_of_a_wet_day_is_lost():
    caught = caught_m3(litres([0, 0.4, 0.5, 10.5]), 100)
    assert caught == pytest.approx([0, 0, 0, 0.85])
    of = {kind: caught_m3(litres([10.5]), 20, kept)[0] for kind, kept in KEPT_BY_SURFACE.items()}
    assert of == pytest.approx({"metal": 0.18, "green": 0.1})


@pytest.mark.parametrize(
    ("ask", "told"),
    [
        (lambda: of_months([0.1] * 11, Rains.FIRST_TEN), "11 months of rain; expected 12"),
        (lambda: of_months([-0.1] * 12, Rains.FIRST_TEN), "rain of a month is -0.1 m"),
        (lambda: caught_m3(litres([1]), -1), "catch is -1 m²"),
        (lambda: caught_m3(litres([1]), 1, 1.1), "kept share is 1.1"),
        (lambda: wanted_m3(-1, 1, OPEN), "people is -1"),
        (lambda: wanted_m3(1, -1, OPEN), "use per person-day is -1"),
        (lambda: tank_year(litres([1]), litres([1]), -1), "usable volume is -1"),
    ],
)
def test_what_no_rain_or_tank_is_is_refused(ask, told):
    with pytest.raises(InputError, match=told):
        ask()
