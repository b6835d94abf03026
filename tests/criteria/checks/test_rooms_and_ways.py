"""Rooms and furniture: by hand, at the limit, and blank."""

import pytest

from criteria.findings import State

MEETS, LINE, SHORT, OVER = State.MEETS, State.ON_THE_LINE, State.SHORT, State.OVER
NO_DATA = State.NO_DATA


def room(mark: str, use: str, **cells: str) -> dict[str, str]:
    return {"mark": mark, "room": f"{use} {mark}", "use": use, **cells}


@pytest.mark.parametrize(("people", "value", "state"), [("6", "0", MEETS), ("7", "-1", SHORT)])
def test_sleeping_places_against_people(package, hold, people, value, state):
    rooms = [room("R1", "sleep", sleepers="4"), room("R2", "sleep", sleepers="2")]
    found = hold(package(rooms=rooms, site={"people": people}), "sleeping_places", "0")
    assert (found.write_value(), found.state) == (value, state)


FURNITURE = [
    {"mark": "U1", "item": "Bench", "kind": "seat", "n": "2", "day": "3", "seats_at_night": "0",
     "height_mm": "450"},
    {"mark": "U2", "item": "Bunk", "kind": "bed", "n": "4", "night": "1", "above_mm": "920"},
    {"mark": "U3", "item": "Table", "kind": "table", "n": "1", "height_mm": "740"},
    {"mark": "U4", "item": "Stool", "kind": "seat", "n": "1", "day": "1", "seats_at_night": "1",
     "height_mm": "480"},
]  # fmt: skip
OCCUPANTS = [
    {"mark": "O1", "who": "Walkers", "n": "4", "sleeps_here": "yes", "step_free": "1"},
    {"mark": "O2", "who": "Visitors", "n": "4", "sleeps_here": "no", "step_free": "0"},
]


# Six seats on benches and one stool for eight people who are in by day: one short.
@pytest.mark.parametrize(
    ("check", "target", "value", "state"),
    [
        ("day_seats", "0", "-1", SHORT),
        ("night_seats", "1", "1", MEETS),
        ("sit_up", "900", "920 mm", MEETS),
        ("furniture_heights", "yes", "all", MEETS),
    ],
)
def test_furniture_by_day_and_night(package, hold, check, target, value, state):
    hut = package(furniture=FURNITURE, occupants=OCCUPANTS, site={"people": "4"})
    found = hold(hut, check, target)
    assert (found.write_value(), found.state) == (value, state)


@pytest.mark.parametrize(
    ("height", "state"), [("399", SHORT), ("400", MEETS), ("480", MEETS), ("481", SHORT)]
)
def test_a_seat_within_the_usual_heights(package, hold, height, state):
    rows = [FURNITURE[0] | {"height_mm": height}]
    assert hold(package(furniture=rows), "furniture_heights", "yes").state is state


@pytest.mark.parametrize("check", ["day_seats", "night_seats", "sit_up", "furniture_heights"])
def test_no_furniture_is_no_data(package, hold, check):
    target = "yes" if check == "furniture_heights" else "0"
    found = hold(package(), check, target)
    assert found.state is NO_DATA
    assert "furniture schedule" in found.missing[0]


def test_hooks_for_wet_gear(package, hold):
    rows = [{"mark": "S1", "what": "Hooks", "n": "14", "for": "wet gear"}]
    found = hold(package(stowage=rows, site={"people": "13"}), "wet_hooks", "1")
    assert (found.write_value(), found.state) == ("1", MEETS)


@pytest.mark.parametrize(
    ("width", "state"), [("895", SHORT), ("895.5", LINE), ("900", LINE), ("905", MEETS)]
)
def test_the_narrowest_passage_decides(package, hold, width, state):
    rooms = [room("R1", "day", passage_mm="1200"), room("R2", "sleep", passage_mm=width)]
    found = hold(package(rooms=rooms), "passage_width", "900")
    assert (found.subject, found.state) == ("R2", state)


def test_a_turning_circle_in_one_toilet_is_enough(package, hold):
    rooms = [
        room("R1", "day", turning_mm="1600"),
        room("R2", "wc", turning_mm="1530"),
        room("R3", "wc", turning_mm="900"),
    ]
    found = hold(package(rooms=rooms), "turning_circle", "1525")
    assert (found.subject, found.state) == ("R2", LINE)


def test_no_turning_circle_is_no_data_with_its_name(package, hold):
    found = hold(package(rooms=[room("R1", "day")]), "turning_circle", "1525")
    assert found.missing == ("R1, Turning circle (room schedule)",)


def test_rooms_that_one_person_can_close(package, hold):
    rooms = [room("R1", "day", private="no"), room("R2", "wc", private="yes")]
    assert hold(package(rooms=rooms), "place_alone", "1").state is MEETS
    assert hold(package(rooms=[room("R1", "day")]), "place_alone", "1").state is NO_DATA
