"""Stowage of guests, and the change from day to night."""

import pytest

from criteria.findings import State

MEETS, LINE, SHORT, OVER = State.MEETS, State.ON_THE_LINE, State.SHORT, State.OVER
NO_DATA = State.NO_DATA

OCCUPANTS = [
    {"mark": "O1", "who": "Walkers", "n": "4", "sleeps_here": "yes", "step_free": "1"},
    {"mark": "O2", "who": "Visitors", "n": "4", "sleeps_here": "no", "step_free": "0"},
]


STOWED = [
    {"mark": "S1", "what": "Locker", "n": "6", "l_each": "120", "for": "guest"},
    {"mark": "S2", "what": "Store", "n": "1", "l_each": "900", "for": "warden"},
]


@pytest.mark.parametrize(("guests", "value"), [("6", "120 L"), ("12", "60 L")])
def test_stowage_of_guests_alone(package, hold, guests, value):
    found = hold(package(stowage=STOWED, site={"guests": guests}), "stowage_per_guest", "110")
    assert found.write_value() == value


def test_guests_are_counted_where_the_brief_says_none_and_wardens_left_out(package, hold):
    people = [OCCUPANTS[0], {"mark": "O3", "who": "Warden", "n": "1", "sleeps_here": "yes"}]
    found = hold(package(stowage=STOWED, occupants=people), "stowage_per_guest", "110")
    assert found.write_value() == "180 L"
    assert found.write_notes() == (
        "4 guests counted in the occupant schedule, wardens and staff left out",
    )


MOVES = [
    {"mark": "X1", "item": "Table", "people": "2", "kg": "24", "s": "100", "over_heat": "stove"},
    {"mark": "X2", "item": "Bed", "people": "1", "kg": "5", "s": "80"},
]


@pytest.mark.parametrize(
    ("check", "target", "value", "state"),
    [
        ("change_of_use", "180", "180 s", LINE),
        ("change_of_use", "170", "180 s", OVER),
        ("change_people", "1", "2", OVER),
        ("change_lift", "15", "24 kg", OVER),
    ],
)
def test_the_change_from_day_to_night(package, hold, check, target, value, state):
    found = hold(package(moves=MOVES), check, target)
    assert (found.write_value(), found.state) == (value, state)


def test_a_lift_over_heat_is_noted_and_a_blank_is_named(package, hold):
    moves = [*MOVES, {"mark": "X3", "item": "Lamp"}]
    assert hold(package(moves=moves), "change_lift", "15").write_notes() == ("lifted over stove",)
    found = hold(package(moves=moves), "change_of_use", "300")
    assert (found.state, found.missing) == (NO_DATA, ("X3, s (change of use)",))
