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


def night(**cells):
    return [{"mark": "U1", "state": "night", **cells}]


@pytest.mark.parametrize(
    ("cells", "is_asked"),
    [
        ({"inside": "M5", "h": "60", "l": "900"}, False),  # sizes put away
        ({"inside": "M5", "sleeps": "2"}, True),
        ({"inside": "M5", "seats": "1"}, True),
        ({"inside": "M5", "made": "yes"}, True),
        ({"inside": "M5", "room": "R1"}, True),
        ({"inside": "M5", "x": "0"}, True),
        ({"inside": "none", "sleeps": "2"}, False),
    ],
)
def test_what_is_put_away_and_used_at_once_is_asked_about(asks, cells, is_asked):
    tables = {"rooms": [ROOM], "furniture": [BENCH], "furniture_by_state": night(**cells)}
    found = asks("inside", **tables)
    words = "U1 night is in M5 then, and used in a room. Which is it?"
    assert [odd.write_question() for odd in found] == ([words] if is_asked else [])


@pytest.mark.parametrize(
    ("length", "width", "is_asked"),
    [("1850", "600", False), ("600", "1850", False), ("1849", "900", True), ("1900", "599", True)],
)
def test_a_bed_shorter_or_narrower_than_people_is_asked_about(
    asks, asks_anyway, length, width, is_asked
):
    bed = BENCH | {"kind": "bed", "night": "1", "l": length, "w": width}
    found = asks("l", rooms=[ROOM], furniture=[bed])
    assert bool(found) is is_asked
    drawn_out = {"furniture": [BENCH | {"l": "1900", "w": "400"}], "rooms": [ROOM]}
    assert asks("l", **drawn_out) == []  # nobody lies on it by day
    (odd,) = asks("l", **drawn_out, furniture_by_state=night(w="590", sleeps="1"))
    assert (
        odd.write_question()
        == "U1 (Bench) (night): a bed of 1\u202f900 mm by 590 mm. Who lies in it?"
    )
    assert asks("l", **drawn_out, furniture_by_state=night(w="700", sleeps="1")) == []
    assert asks_anyway("l", **drawn_out, furniture_by_state=night(w="590", sleeps="one")) == []


@pytest.mark.parametrize(
    ("cells", "people"), [({}, "4"), ({"sleepers": "3"}, None), ({"sleepers": "x"}, None)]
)
def test_more_sleepers_of_a_case_than_beds_made_are_asked_about(asks_anyway, cells, people):
    beds = {"rooms": [ROOM], "furniture": [BENCH | {"kind": "bed", "n": "3", "night": "1"}]}
    cases = [{"case": "everyday", "people": "2"}, {"case": "weekend", "people": "4", **cells}]
    found = [odd.write_question() for odd in asks_anyway("night", **beds, cases=cases)]
    said = f"{people} sleep here (night, weekend), and beds made take 3. Who lies where?"
    states = night(sleeps="1", h="500")
    if people:
        assert found == [f"{people} sleep here (weekend), and beds made take 3. Who lies where?"]
        assert [
            o.write_question()
            for o in asks_anyway("night", **beds, cases=cases, furniture_by_state=states)
        ] == [said]
    else:
        assert found == []
    assert asks_anyway("night", **beds) == []  # without a case, rooms and people are asked about


def test_a_state_whose_kind_cannot_be_read_is_asked_nothing():
    states = [{"state": "storm", "kind": "wild"}]
    bed = BENCH | {"kind": "bed", "night": "1", "l": "900", "w": "400"}
    assert asked("furniture", rooms=[ROOM], furniture=[bed], states=states) == []
    assert asked("furniture", rooms=[ROOM], furniture=[bed]) != []


@pytest.mark.parametrize(("h", "is_asked"), [("100", False), ("99", True)])
def test_a_height_by_state_in_the_wrong_unit_is_asked_about(asks, h, is_asked):
    rows = {"rooms": [ROOM], "furniture": [BENCH], "furniture_by_state": night(h=h)}
    assert bool(asks("h", **rows)) is is_asked
    rows["furniture_by_state"] = night(h=h, inside="M5")
    assert asks("h", **rows) == []
