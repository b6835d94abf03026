"""Escape openings, alarms, guards, thresholds and swings."""

import pytest

from criteria.findings import State

MEETS, LINE, SHORT, OVER = State.MEETS, State.ON_THE_LINE, State.SHORT, State.OVER
NO_DATA = State.NO_DATA


def room(mark: str, use: str, **cells: str) -> dict[str, str]:
    return {"mark": mark, "room": f"{use} {mark}", "use": use, **cells}


def door(mark: str, place: str, clear: str = "", **cells: str) -> dict[str, str]:
    return {"mark": mark, "place": place, "leaf_w": "1000", "clear_w": clear, **cells}


OCCUPANTS = [
    {"mark": "O1", "who": "Walkers", "n": "4", "sleeps_here": "yes", "step_free": "1"},
    {"mark": "O2", "who": "Visitors", "n": "4", "sleeps_here": "no", "step_free": "0"},
]


@pytest.mark.parametrize(
    ("cells", "check", "target", "state"),
    [
        ({"rise_mm": "150"}, "ramp_handrails", "2", State.NOT_ASKED),
        ({"rise_mm": "151", "handrails": "1"}, "ramp_handrails", "2", SHORT),
        ({"rise_mm": "151", "handrails": "2"}, "ramp_handrails", "2", MEETS),
        ({"rise_mm": "151"}, "ramp_handrails", "2", NO_DATA),
        ({"rise_mm": "300", "ramp_clear_w": "915"}, "ramp_width", "915", LINE),
        ({"rise_mm": "0"}, "ramp_width", "915", State.NOT_ASKED),
    ],
)
def test_rails_and_width_of_a_ramp(package, hold, cells, check, target, state):
    assert hold(package(ramp=cells), check, target).state is state


def test_beds_without_a_climb(package, hold):
    rooms = [room("R1", "sleep", sleepers="1"), room("R2", "sleep", sleepers="6")]
    rooms[1]["room"] = "Sleeping loft"
    found = hold(package(rooms=rooms, occupants=OCCUPANTS), "step_free_beds", "0")
    assert (found.write_value(), found.state) == ("0", MEETS)


ESCAPE = {"mark": "W1", "room": "R1", "escape_w": "710", "escape_h": "770", "sill": "900"}


@pytest.mark.parametrize(
    ("cells", "value", "state"),
    [
        ({}, "all", MEETS),
        ({"escape_h": "740"}, "not: R1 (sleep R1)", SHORT),  # 0.525 m² of 0.530
        ({"sill": "1118"}, "not: R1 (sleep R1)", SHORT),  # 44 in is 1,117.6 mm: held in inches
        ({"sill": "1117"}, "all", MEETS),
    ],
)
def test_an_escape_window_meets_four_tests_together(package, hold, cells, value, state):
    hut = package(rooms=[room("R1", "sleep", sleepers="2")], windows=ESCAPE | cells)
    found = hold(hut, "escape_window", "yes")
    assert (found.write_value(), found.state) == (value, state)


def test_a_sleeping_room_without_a_window_has_no_escape(package, hold):
    rooms = [room("R1", "sleep", sleepers="2"), room("R2", "sleep", sleepers="1")]
    found = hold(package(rooms=rooms, windows=ESCAPE), "escape_window", "yes")
    assert found.write_value() == "not: R2 (sleep R2)"


def test_windows_without_a_clear_opening_are_no_data(package, hold):
    hut = package(rooms=[room("R1", "sleep")], windows={"mark": "W1", "room": "R1"})
    found = hold(hut, "escape_window", "yes")
    assert (found.state, len(found.missing)) == (NO_DATA, 3)


@pytest.mark.parametrize(("alarms", "value", "state"), [("2", "-1", SHORT), ("3", "0", MEETS)])
def test_an_alarm_in_each_sleeping_room_and_one_outside(package, hold, alarms, value, state):
    rooms = [room("R1", "sleep"), room("R2", "sleep")]
    found = hold(package(rooms=rooms, ways_out={"smoke_alarms": alarms}), "smoke_alarms", "0")
    assert (found.write_value(), found.state) == (value, state)


@pytest.mark.parametrize(
    ("burns", "alarms", "state"),
    [("no", "", MEETS), ("yes", "0", SHORT), ("yes", "1", MEETS), ("yes", "", NO_DATA)],
)
def test_what_burns_has_an_alarm(package, hold, burns, alarms, state):
    hut = package(plant={"burns": burns}, ways_out={"co_alarms": alarms})
    assert hold(hut, "co_alarm", "yes").state is state


def test_outside_doors_say_how_they_open(package, hold):
    doors = [door("D1", "Porch", outside="yes", swing="in"), door("D2", "Loft", outside="yes")]
    assert hold(package(doors=doors), "door_swings", "yes").write_value() == "not: D2"


@pytest.mark.parametrize(("height", "state"), [("13", LINE), ("12", MEETS), ("14", OVER)])
def test_thresholds_of_the_step_free_way(package, hold, height, state):
    doors = [door("D1", "Porch", "900", role="main exit", threshold_mm=height)]
    assert hold(package(doors=doors), "step_free_thresholds", "13").state is state
