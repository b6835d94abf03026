"""Odd values where a building changes."""

import pytest

from criteria.odd.values import odd_values
from criteria.package import read_package

ROOM = {"mark": "R1", "room": "Hall", "use": "day", "floor_m2": "12", "clear_height_m": "2.4",
        "sleepers": "2"}  # fmt: skip
BENCH = {"mark": "U1", "item": "Bench", "kind": "seat", "day": "3", "seats_at_night": "1",
         "night": "0", "height_mm": "450"}  # fmt: skip


def asked(slug, **tables):
    package = read_package(tables).package
    return [(odd.mark, odd.write_question()) for odd in odd_values(package) if odd.schedule == slug]


@pytest.mark.parametrize(
    ("cells", "is_asked"),
    [
        ({}, True),
        ({"use": "day"}, True),
        ({"use": "day", "sleepers": "2"}, True),
        ({"use": "sleep"}, False),
        ({"absent": "yes"}, False),
        ({"sleepers": "few"}, False),  # what can't be read is named, not asked about
    ],
)
def test_a_row_that_changes_nothing_is_asked_about(cells, is_asked):
    rows = [{"room": "R1", "state": "night", **cells}]
    found = asked("rooms_by_state", rooms=[ROOM], rooms_by_state=rows)
    words = "R1 night: nothing differs from the room schedule. What changes in this state?"
    assert found == ([("R1 night", words)] if is_asked else [])


@pytest.mark.parametrize(
    ("state", "seats", "is_asked"),
    [("day", "3", True), ("day", "1", False), ("night", "1", True), ("night", "3", False)],
)
def test_seats_are_compared_with_those_of_the_kind_of_state(state, seats, is_asked):
    rows = [{"mark": "U1", "state": state, "seats": seats}]
    found = asked("furniture_by_state", rooms=[ROOM], furniture=[BENCH], furniture_by_state=rows)
    assert bool(found) is is_asked


def test_groups_of_different_cases_are_not_added_up():
    people = [
        {"mark": "O1", "who": "Family", "n": "3", "sleeps_here": "yes"},
        {"mark": "O2", "who": "Choir", "n": "5", "sleeps_here": "yes", "cases": "fair"},
        {"mark": "O3", "who": "Builders", "n": "4", "sleeps_here": "yes", "cases": "works"},
    ]
    cases = [{"case": "fair", "people": "8"}, {"case": "works", "people": "7"}]
    tables = {"occupants": people, "site": [{"people": "8"}]}
    assert asked("occupants", cases=cases, **tables) == []
    assert len(asked("occupants", **tables)) == 1  # 12 against 8


def test_who_sleeps_where_by_state_is_not_held_against_the_base():
    people = [{"mark": "O1", "who": "Family", "n": "6", "sleeps_here": "yes"}]
    night = [{"room": "R1", "state": "night", "sleepers": "6"}]
    assert asked("rooms", rooms=[ROOM], occupants=people) != []
    assert asked("rooms", rooms=[ROOM], occupants=people, rooms_by_state=night) == []


def test_beds_that_move_are_not_counted_by_the_room_they_stand_in_by_day():
    bed = BENCH | {"mark": "U2", "kind": "bed", "room": "R1", "night": "1"}
    night = [{"mark": "U2", "state": "night", "sleeps": "2"}]
    assert asked("rooms", rooms=[ROOM], furniture=[bed]) != []
    assert asked("rooms", rooms=[ROOM], furniture=[bed], furniture_by_state=night) == []
