"""Tanks day by day: by hand, and that no drop is lost."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from criteria.errors import InputError
from criteria.measures.stores import drawn_down, filled_up, people_served

WEEK = [4, 4, 4, 4, 4, 6, 6]


def litres(values):
    return [each / 1000 for each in values]


def test_1000_litres_for_a_fortnight_with_two_more_at_the_weekend():
    days = drawn_down(1.0, litres(15 * n for n in WEEK * 2))
    left = [940, 880, 820, 760, 700, 610, 520, 460, 400, 340, 280, 220, 130, 40]
    assert [day.left_m3 for day in days] == pytest.approx(litres(left))
    assert not any(day.short_m3 for day in days)


def test_at_18_litres_it_is_short_on_the_last_two_days():
    # ten weekdays of 72 and two of 108 are 936: 64 of 108 are left on the 13th
    days = drawn_down(1.0, litres(18 * n for n in WEEK * 2))
    assert [day.short_m3 for day in days[:12]] == [0] * 12
    assert [day.short_m3 for day in days[12:]] == pytest.approx(litres([44, 108]))


def test_a_visit_fills_it_at_the_start_of_its_day_and_rain_no_further_than_full():
    days = drawn_down(0.1, [0.06] * 4, refilled=frozenset({2}))
    assert [day.left_m3 for day in days] == pytest.approx([0.04, 0, 0.04, 0])
    assert [day.short_m3 for day in days] == pytest.approx([0, 0.02, 0, 0.02])
    rained = drawn_down(0.1, [0.06] * 3, caught_m3=[0.5, 0.03, 0.0])
    assert [day.left_m3 for day in rained] == pytest.approx([0.04, 0.01, 0])
    assert rained[2].short_m3 == pytest.approx(0.05)


def test_a_waste_tank_fills_and_is_emptied():
    days = filled_up(0.1, [0.04] * 4, emptied=frozenset({3}))
    assert [day.left_m3 for day in days] == pytest.approx([0.06, 0.02, 0, 0.06])
    assert [day.short_m3 for day in days] == pytest.approx([0, 0, 0.02, 0])


def test_people_that_120_cubic_feet_serve_by_hand():
    # 3.398022 m³, 0.9 of it, 5 gal a person and day: 30 days serve 5.39
    volume, use = 120 * 0.3048**3, 5 * 3.785411784e-3
    assert people_served(volume, 0.9, 30, use) == pytest.approx(5.38597, abs=1e-5)
    assert people_served(volume, 0.9, 53.8597, use) == pytest.approx(3, abs=1e-5)


@given(
    st.floats(0, 5),
    st.lists(st.tuples(st.floats(0, 1), st.floats(0, 1)), max_size=20),
    st.frozensets(st.integers(0, 19)),
)
def test_no_drop_is_lost_and_none_is_drawn_twice(volume, days, refilled):
    wanted, caught = [w for w, _ in days], [c for _, c in days]
    found = drawn_down(volume, wanted, refilled=refilled, caught_m3=caught)
    left = volume
    for n, (day, want, came) in enumerate(zip(found, wanted, caught, strict=True)):
        left = volume if n in refilled else min(volume, left + came)
        assert left - (want - day.short_m3) == pytest.approx(day.left_m3, abs=1e-12)
        assert 0 <= day.left_m3 <= volume
        assert day.short_m3 == 0 or day.left_m3 == 0
        left = day.left_m3


@pytest.mark.parametrize(
    ("ask", "told"),
    [
        (lambda: drawn_down(-1, [1]), "usable volume is -1"),
        (lambda: drawn_down(1, [-1]), "water wanted is -1"),
        (lambda: drawn_down(1, [1], caught_m3=[-1]), "water caught is -1"),
        (lambda: people_served(-1, 1, 1, 1), "volume is -1"),
        (lambda: people_served(1, 2, 1, 1), "usable share is 2"),
        (lambda: people_served(1, 1, 0, 1), "days is 0"),
        (lambda: people_served(1, 1, 1, 0), "use is 0"),
    ],
)
def test_what_no_formula_takes_is_refused(ask, told):
    with pytest.raises(InputError, match=told):
        ask()
