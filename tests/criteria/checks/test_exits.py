"""Exits by the count of occupants: the code's floor for each, by hand."""

import pytest

from criteria.findings import State

HUT = {"mark": "R1", "room": "Hut", "use": "sleep", "floor_m2": "400 ft²"}


@pytest.mark.parametrize(
    ("people", "sleepers", "floor", "ways", "value"),
    [
        # 400 ft² ÷ 200 is 2 as a dwelling, ÷ 50 is 8 as a dormitory (IBC Table 1004.5)
        ("4", "4", "400 ft²", "1", 0),
        ("10", "4", "400 ft²", "1", 0),
        ("11", "4", "400 ft²", "1", -1),
        ("11", "4", "400 ft²", "2", 0),
        ("4", "5", "400 ft²", "1", 0),
        ("4", "5", "550 ft²", "1", -1),
        ("4", "5", "500 ft²", "1", 0),
        ("4", "4", "550 ft²", "1", 0),
        ("4", "4", "400 ft²", "3", 2),
    ],
)
def test_exits_less_those_needed(package, hold, people, sleepers, floor, ways, value):
    room = HUT | {"sleepers": sleepers, "floor_m2": floor}
    made = package(rooms=room, site={"people": people}, ways_out={"ways_out": ways})
    found = hold(made, "exits_by_count", "0")
    assert found.value == value
    assert found.state is (State.MEETS if value >= 0 else State.SHORT)


def test_the_working_says_as_what_the_floor_is_reckoned(package, hold):
    made = package(rooms=HUT | {"sleepers": "8"}, site={"people": "4"}, ways_out={"ways_out": "1"})
    lines = [step.write() for step in hold(made, "exits_by_count", "0").steps]
    assert lines == [
        "37.2 m² as a dormitory, 4.6 m² each: 8 occupants",
        "the more of these and 4 people: 8, who need 1",
        "1 − 1 = 0",
    ]


def test_each_case_is_asked(package, hold):
    cases = [{"case": "yearlong", "people": "3"}, {"case": "fair", "people": "12"}]
    room = HUT | {"sleepers": "3"}
    found = hold(
        package(rooms=room, cases=cases, ways_out={"ways_out": "1"}), "exits_by_count", "0"
    )
    assert (found.state, found.in_case) == (State.SHORT, "fair")


@pytest.mark.parametrize("lacks", ["sleepers", "floor_m2", "ways"])
def test_what_is_not_said_is_no_data(package, hold, lacks):
    room = {head: text for head, text in (HUT | {"sleepers": "3"}).items() if head != lacks}
    ways = {} if lacks == "ways" else {"ways_out": {"ways_out": "1"}}
    found = hold(package(rooms=room, site={"people": "3"}, **ways), "exits_by_count", "0")
    assert found.state is State.NO_DATA


def test_a_room_that_sleeps_five_at_night_alone_is_a_dormitory_then(package, hold):
    night = {"room": "R1", "state": "night", "sleepers": "5"}
    room = HUT | {"sleepers": "3", "floor_m2": "550 ft²"}
    made = package(
        rooms=room, rooms_by_state=night, site={"people": "5"}, ways_out={"ways_out": "1"}
    )
    found = hold(made, "exits_by_count", "0")
    assert (found.state, found.in_state) == (State.SHORT, "night")
