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
        ({"rise_mm": "6 in", "handrails": "0"}, "ramp_handrails", "2", State.NOT_ASKED),
        ({"rise_mm": "6.1 in", "handrails": "0"}, "ramp_handrails", "2", SHORT),
        ({"rise_mm": "300", "ramp_clear_w": "915"}, "ramp_width", "915", LINE),
        ({"rise_mm": "0"}, "ramp_width", "915", State.NOT_ASKED),
    ],
)
def test_rails_and_width_of_a_ramp(package, hold, cells, check, target, state):
    assert hold(package(ramp=cells), check, target).state is state


def bed(mark: str, in_room: str, n: str, **cells: str) -> dict[str, str]:
    return {"mark": mark, "item": "Bunk", "kind": "bed", "room": in_room, "n": n, "night": "1",
            **cells}  # fmt: skip


@pytest.mark.parametrize(
    ("reached_by", "value", "state"),
    [("floor", "6", MEETS), ("stair", "0", MEETS), ("ladder", "0", MEETS), ("", "", NO_DATA)],
)
def test_a_room_that_is_climbed_to_is_known_by_its_column_not_by_its_name(
    package, hold, reached_by, value, state
):
    rooms = [
        room("R1", "sleep", sleepers="1", reached_by="floor"),
        room("R2", "sleep", sleepers="6", reached_by=reached_by) | {"room": "Attic bunks"},
    ]
    found = hold(package(rooms=rooms, occupants=OCCUPANTS), "step_free_beds", "0")
    assert (found.write_value(), found.state) == (value, state)
    if state is NO_DATA:
        assert found.missing == ("R2, Reached by (room schedule)",)


@pytest.mark.parametrize(
    ("above", "value", "state"),
    [("floor", "3", MEETS), ("ladder", "0", MEETS), ("", "", NO_DATA)],
)
def test_an_upper_bunk_is_a_climb_in_a_room_that_is_none(package, hold, above, value, state):
    rooms = [room("R1", "day", sleepers="4", reached_by="floor"), room("R2", "day")]
    beds = [bed("U1", "R1", "1", reached_by="floor"), bed("U2", "R1", "3", reached_by=above)]
    seat = {"mark": "U3", "item": "Bench", "kind": "seat", "room": "R2", "n": "1"}
    hut = package(rooms=rooms, furniture=[*beds, seat], occupants=OCCUPANTS)
    found = hold(hut, "step_free_beds", "0")
    assert (found.write_value(), found.state) == (value, state)
    if state is NO_DATA:
        assert found.missing == ("U2, Reached by (furniture schedule)",)


def test_who_needs_it_step_free_is_asked_of_every_group(package, hold):
    rooms = [room("R1", "sleep", sleepers="4", reached_by="floor")]
    people = [OCCUPANTS[0], OCCUPANTS[1] | {"step_free": ""}]
    found = hold(package(rooms=rooms, occupants=people), "step_free_beds", "0")
    assert found.missing == ("O2, Step-free needed (occupant schedule)",)


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


@pytest.mark.parametrize("use", ["day", "work", "other"])
def test_any_room_with_sleepers_is_slept_in_whatever_its_use(package, hold, use):
    rooms = [room("R1", "sleep", sleepers="2"), room("R2", use, sleepers="1"), room("R3", use)]
    alarms = {"smoke_alarms": "2"}
    hut = package(rooms=rooms, windows=ESCAPE, ways_out=alarms)
    assert hold(hut, "escape_window", "yes").write_value() == f"not: R2 ({use} R2)"
    found = hold(hut, "smoke_alarms", "0")
    assert (found.write_value(), found.state) == ("-1", SHORT)


DOOR = {"mark": "D1", "place": "Terrace", "room": "R1", "outside": "yes", "clear_w": "800",
        "height": "2000"}  # fmt: skip


@pytest.mark.parametrize(
    ("cells", "value", "state"),
    [
        ({}, "all", MEETS),
        ({"outside": "no"}, "not: R1 (sleep R1)", SHORT),
        ({"room": "R2"}, "not: R1 (sleep R1)", SHORT),
        ({"clear_w": "500"}, "not: R1 (sleep R1)", SHORT),  # 20 in is 508 mm
        ({"clear_w": ""}, "", NO_DATA),
        ({"outside": ""}, "", NO_DATA),
    ],
)
def test_an_outside_door_of_the_room_is_its_escape(package, hold, cells, value, state):
    rooms = [room("R1", "sleep", sleepers="2"), room("R2", "day")]
    found = hold(package(rooms=rooms, doors=DOOR | cells), "escape_window", "yes")
    assert (found.write_value(), found.state) == (value, state)


def test_one_opening_that_is_an_escape_is_enough_whatever_others_lack(package, hold):
    windows = [{"mark": "W0", "room": "R1", "opens": "side-hung"}, ESCAPE]
    hut = package(rooms=room("R1", "sleep", sleepers="2"), windows=windows)
    assert hold(hut, "escape_window", "yes").state is MEETS


def test_a_fixed_window_is_no_escape_and_lacks_nothing(package, hold):
    fixed = {"mark": "W1", "room": "R1", "opens": "fixed"}
    found = hold(
        package(rooms=room("R1", "sleep", sleepers="2"), windows=fixed), "escape_window", "yes"
    )
    assert (found.state, found.missing) == (SHORT, ())


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


# International Residential Code R312.1, quoted: a guard above a drop; the drop is said beside it.
def test_a_guard_is_said_with_its_drop(package, hold):
    found = hold(package(ways_out={"drop_mm": "700", "guard_mm": "1100"}), "guard_height", "1100")
    assert found.write_notes() == ("at a drop of 700 mm",)


def test_a_wood_stove_wants_an_alarm_whatever_the_other_cell_says(package, hold):
    hut = package(plant={"heater": "wood stove", "burns": "no"}, ways_out={"co_alarms": "0"})
    assert hold(hut, "co_alarm", "yes").state is SHORT
    blank = package(plant={"heater": "wood stove"}, ways_out={"co_alarms": "0"})
    assert hold(blank, "co_alarm", "yes").state is SHORT
    unsaid = package(ways_out={"co_alarms": "1"})
    assert hold(unsaid, "co_alarm", "yes").state is NO_DATA


def test_outside_doors_say_how_they_open(package, hold):
    doors = [door("D1", "Porch", outside="yes", swing="in"), door("D2", "Loft", outside="yes")]
    assert hold(package(doors=doors), "door_swings", "yes").write_value() == "not: D2"


@pytest.mark.parametrize(("height", "state"), [("13", LINE), ("12", MEETS), ("14", OVER)])
def test_thresholds_of_the_step_free_way(package, hold, height, state):
    doors = [door("D1", "Porch", "900", role="main exit", threshold_mm=height)]
    assert hold(package(doors=doors), "step_free_thresholds", "13").state is state
