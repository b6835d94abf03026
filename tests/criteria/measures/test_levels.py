"""The level of a tank day by day."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from criteria.errors import InputError
from criteria.measures.levels import Stays, level_by_day, people_by_day

FORTNIGHT_S = 14 * 86_400
WEEKENDS = Stays(people=6, days=104, stay=2)
STAYS = st.builds(Stays, st.integers(1, 30), st.integers(1, 120), st.integers(1, 20))


# Mass balance by hand: 1,000 L, four people and six at weekends, 15 L each.
def test_a_tank_of_a_thousand_litres_lasts_a_fortnight():
    people = people_by_day(FORTNIGHT_S, 4, [WEEKENDS])
    levels = level_by_day(1.0, 0.015, people)
    assert [round(left * 1000) for left in levels.left_m3] == [
        940, 880, 820, 760, 700, 610, 520, 460, 400, 340, 280, 220, 130, 40,
    ]  # fmt: skip
    assert levels.first_short is None


# At 18 L: 10 weekdays × 72 + 2 × 108 = 936 by the 12th day; 64 are left of 108 on the 13th.
def test_at_more_each_it_runs_dry_on_the_last_weekend():
    levels = level_by_day(1.0, 0.018, people_by_day(FORTNIGHT_S, 4, [WEEKENDS]))
    short = {day: round(m3 * 1000) for day, m3 in enumerate(levels.short_m3, 1) if m3}
    assert short == {13: 44, 14: 108}
    assert levels.first_short == 13


def test_part_of_a_day_is_a_day():
    assert len(people_by_day(13.2 * 86_400, 4, ())) == 14


def test_a_tank_that_holds_just_enough_is_never_short():
    levels = level_by_day(0.3, 0.1, (1, 1, 1))
    assert (levels.first_short, levels.left_m3[-1]) == (None, pytest.approx(0, abs=1e-12))


def test_fewer_people_who_stay_take_nobody_away():
    assert people_by_day(FORTNIGHT_S, 8, [WEEKENDS]) == (8,) * 14


@given(
    st.integers(1, 20),
    st.lists(
        st.builds(Stays, st.integers(1, 30), st.integers(1, 120), st.integers(1, 20)), max_size=3
    ),
    st.integers(1, 60),
)
def test_nobody_leaves_and_as_many_days_as_asked_are_there(usual, others, days):
    people = people_by_day(days * 86_400, usual, others)
    assert len(people) == days
    assert min(people) >= usual
    assert max(people) == max([usual, *(each.people for each in others)])


@given(st.floats(0, 50), st.floats(0, 0.2), st.lists(st.integers(0, 30), max_size=40))
def test_what_was_stored_is_used_or_left_and_what_lacks_is_short(stored, each, people):
    levels = level_by_day(stored, each, people)
    left = levels.left_m3[-1] if people else stored
    wanted = each * sum(people)
    assert wanted - sum(levels.short_m3) + left == pytest.approx(stored, abs=1e-9 * (1 + wanted))


@pytest.mark.parametrize(("stored", "each"), [(-1, 0.1), (1, -0.1)])
def test_what_cannot_be_is_refused(stored, each):
    with pytest.raises(InputError):
        level_by_day(stored, each, (1,))
    with pytest.raises(InputError):
        people_by_day(0, 1, ())
