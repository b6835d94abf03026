"""An order laid out over a day. Minutes of the parts and limits: common practice."""

from dataclasses import replace
from datetime import time

import pytest
from hypothesis import given
from hypothesis import strategies as st

from criteria.crit_day.timetable import (
    USUAL,
    Break,
    Placed,
    SlotParts,
    Timetable,
    Turn,
    hours,
    lay_out,
)
from criteria.errors import InputError
from tests.criteria.crit_day.cases import FINAL, ORDER


@pytest.mark.parametrize(
    ("kind", "slot", "busy"),
    [("interim", 22, 21), ("final", 27, 25), ("re-crit", 15, 14), ("pin-up", 10, 9)],
)
def test_slots_of_a_kind(kind, slot, busy):
    assert (USUAL[kind].slot_min, USUAL[kind].busy_min) == (slot, busy)


def test_fourteen_finals_in_one_room_and_in_two():
    """By hand: 14 × 27 = 378 min; 2 × 27 + 6 × 27 + 11 + 15 = 242 min, 4 h 02 min."""
    one, two, three = hours(14, FINAL)
    assert (one.slots_min, one.a_juror) == (378, 14)
    assert (two.slots_min, two.pauses_min, two.minutes, two.a_juror) == (216, 26, 242, 8)
    assert (three.rooms, three.a_juror) == (3, 6)


def test_one_room_of_fourteen_has_four_breaks():
    """By hand: after 3, 6, 9 and 12 slots, 378 + 4 × 15 = 438 min."""
    assert hours(14, FINAL)[0].minutes == 438


def test_the_demos_final_as_practice_plans_it():
    day = lay_out(ORDER, FINAL)
    told = [(f"{day.hour(p.starts):%H:%M}", p.room, p.number) for p in day.placed]
    assert told == [
        ("09:15", "", "H12"),
        ("09:42", "", "H06"),
        ("10:20", "A", "H14"),
        ("10:20", "B", "H11"),
        ("10:47", "A", "H03"),
        ("10:47", "B", "H08"),
        ("11:14", "A", "H02"),
        ("11:14", "B", "H13"),
        ("11:56", "A", "H07"),
        ("11:56", "B", "H01"),
        ("12:23", "A", "H05"),
        ("12:23", "B", "H04"),
        ("12:50", "A", "H10"),
        ("12:50", "B", "H09"),
    ]
    assert day.breaks == (Break("", 54, 11, "change rooms"), Break("", 146, 15, "break"))
    assert day.hour(day.minutes) == time(13, 17)
    assert not day.is_past_midnight


def test_a_break_that_falls_on_the_change_of_rooms_is_one_interval_the_longer():
    day = lay_out(ORDER, replace(FINAL, opening=3))
    assert day.breaks[0] == Break("", 81, 15, "change rooms")
    assert day.breaks[1].starts == 81 + 15 + 3 * 27


def test_a_short_change_of_rooms_is_no_rest():
    day = lay_out(ORDER, replace(FINAL, move_min=5))
    assert day.breaks[:2] == (Break("", 54, 5, "change rooms"), Break("", 86, 15, "break"))


def test_without_minutes_between_nothing_is_between():
    assert lay_out(ORDER, replace(FINAL, move_min=0, break_every=0)).breaks == ()
    day = lay_out(ORDER, replace(FINAL, move_min=0, break_min=0))
    assert (day.breaks, day.minutes) == ((), 8 * 27)


def test_all_in_the_opening_changes_no_rooms():
    day = lay_out(ORDER[:2], FINAL)
    assert [each.room for each in day.placed] == ["", ""]
    assert day.breaks == ()


def test_one_room_is_named_and_none_is_everybodys():
    one = lay_out(["a", "b"], replace(FINAL, rooms=("A",)))
    assert [each.room for each in one.placed] == ["A", "A"]
    none = lay_out(["a"], replace(FINAL, rooms=(), half_time_swap=True))
    assert (none.placed, none.half_time) == ((Placed("a", "", 0, 27),), None)


def test_jurors_change_at_the_break_nearest_to_the_middle():
    """Two rooms of fifteen: breaks before slots 4, 7, 10 and 13; the middle is before the ninth."""
    plan = replace(FINAL, opening=0, half_time_swap=True)
    day = lay_out([str(n) for n in range(30)], plan)
    assert day.half_time == 9 * 27 + 3 * 15
    assert [each.words for each in day.breaks].count("jurors change rooms") == 1


def test_jurors_change_in_the_middle_where_there_is_no_break():
    plan = replace(FINAL, opening=0, half_time_swap=True, break_every=0)
    day = lay_out([str(n) for n in range(8)], plan)
    assert day.breaks == (Break("", 54, 11, "jurors change rooms"),)
    assert day.half_time == 65


def test_each_room_has_a_scheme_after_jurors_change():
    plan = replace(FINAL, rooms=tuple("ABCD"), opening=0, half_time_swap=True)
    day = lay_out([str(n) for n in range(14)], plan)
    after = {each.room for each in day.placed if each.starts >= day.half_time}
    assert after == set("ABCD")


def test_nobody_changes_at_half_time_of_one_slot():
    assert lay_out(["a", "b"], replace(FINAL, opening=0, half_time_swap=True)).half_time is None


@given(
    st.integers(0, 70),
    st.integers(0, 4),
    st.integers(0, 4),
    st.integers(0, 5),
    st.booleans(),
)
def test_every_scheme_has_one_turn_and_no_room_two_at_once(n, rooms, opening, every, swap):
    plan = replace(
        FINAL, rooms=tuple("ABCD"[:rooms]), opening=opening, break_every=every, half_time_swap=swap
    )
    day = lay_out([f"S{k}" for k in range(n)], plan)
    assert [each.number for each in day.placed] == [f"S{k}" for k in range(n)]
    for room in {each.room for each in day.placed}:
        here = [each for each in day.placed if each.room in (room, "")]
        assert all(not one.meets(other) for one in here for other in here if one != other)
        assert all(
            each.ends <= rest.starts or rest.starts + rest.minutes <= each.starts
            for each in here
            for rest in day.breaks
        )
    assert day.minutes == sum(27 for _ in {p.starts for p in day.placed}) + sum(
        rest.minutes for rest in day.breaks
    )


def test_a_day_that_ends_after_midnight_says_so():
    day = lay_out([str(n) for n in range(60)], replace(FINAL, rooms=()))
    assert day.is_past_midnight
    with pytest.raises(InputError, match="900 min after 09:15 is another day"):
        day.hour(900)
    assert day.hour(884) == time(23, 59)


def test_a_day_without_schemes_takes_nothing():
    assert lay_out([], FINAL) == Timetable(time(9, 15), (), ())
    assert [each.minutes for each in hours(0, FINAL)] == [0, 0, 0]


def test_a_turn_without_an_hour_meets_nothing():
    assert not Turn("a", "", None, None).meets(Turn("b", "", 0, 27))
    assert not Turn("b", "", 0, 27).meets(Turn("a", "", 5, None))


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"opening": -1}, "opening is -1; expected a whole number of 0 or more"),
        ({"break_min": 1.5}, "break_min is 1.5"),
        ({"move_min": True}, "move_min is True"),
        ({"rooms": ("A", "A")}, "rooms A, A; expected each once"),
        ({"rooms": ("A", "")}, "a room without a name"),
    ],
)
def test_a_plan_that_cannot_be_is_refused(change, said):
    with pytest.raises(InputError, match=said):
        replace(FINAL, **change)


def test_parts_that_cannot_be_are_refused():
    with pytest.raises(InputError, match="a slot of 0 min"):
        SlotParts(present_min=0, discuss_min=0, writing_min=0, change_min=0)
    with pytest.raises(InputError, match="writing_min is -3"):
        SlotParts(present_min=8, discuss_min=14, writing_min=-3, change_min=2)
    with pytest.raises(InputError, match="stands twice"):
        lay_out(["a", "a"], FINAL)
    with pytest.raises(InputError, match="schemes is -1"):
        hours(-1, FINAL)
