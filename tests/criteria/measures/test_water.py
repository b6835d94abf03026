import pytest
from hypothesis import given
from hypothesis import strategies as st

from criteria.errors import InputError
from criteria.measures.water import DAY_S, water_days, water_per_person_day


# Sphere Handbook 2018, appendix 3 (survival water needs): 2.5 + 2 + 3 = 7.5 and 3 + 6 + 6 = 15
# litres a person and day; two places are what a reader of days can use. By hand:
@pytest.mark.parametrize(
    ("litres", "people", "litres_each", "days"),
    [
        (400, 2, 3 + 6 + 6, 13.33),
        (400, 2, 2.5 + 2 + 3, 26.67),
        (400, 4, 15, 6.67),
        (420, 4, 15, 7.00),
    ],
)
def test_stored_water_lasts_so_many_days(litres, people, litres_each, days):
    got = water_days(litres / 1000, people, litres_each / 1000) / DAY_S
    assert round(got, 2) == days


# By hand: 420 L for four people and a week is Sphere's 15 L each a day.
def test_a_week_for_four_at_15_litres_is_420_litres():
    assert water_per_person_day(0.420, 4, 7 * DAY_S) * 1000 == pytest.approx(15, rel=1e-12)


@given(st.floats(0.001, 100), st.integers(1, 500), st.floats(0.001, 1))
def test_the_two_measures_undo_each_other(usable, people, use):
    lasts = water_days(usable, people, use)
    assert water_per_person_day(usable, people, lasts) == pytest.approx(use, rel=1e-9)


def test_an_empty_tank_lasts_no_time():
    assert water_days(0, 4, 0.015) == 0
    assert water_per_person_day(0, 4, DAY_S) == 0


@pytest.mark.parametrize(
    ("measure", "said"),
    [
        (lambda: water_days(-1, 4, 0.015), r"usable water is -1 m³; expected 0 m³ or more"),
        (lambda: water_days(1, 0, 0.015), r"people is 0 no\.; expected more than 0 no\."),
        (lambda: water_days(1, 4, 0), r"use per person-day is 0 m³; expected more than 0 m³"),
        (lambda: water_per_person_day(-1, 4, 1), r"usable water is -1 m³; expected 0 m³ or more"),
        (lambda: water_per_person_day(1, 0, 1), r"people is 0 no\.; expected more than 0"),
        (lambda: water_per_person_day(1, 4, 0), r"days between visits is 0 s; expected more"),
    ],
)
def test_what_no_tank_can_be_is_refused(measure, said):
    with pytest.raises(InputError, match=said):
        measure()
