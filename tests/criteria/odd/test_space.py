"""Floors, people and beds that don't go together."""

import pytest

from criteria.odd.values import odd_values
from criteria.package import Package
from criteria.schedules.rooms import Room


def room(**cells):
    return {
        "mark": "R1",
        "room": "Bunk room",
        "use": "sleep",
        "floor_m2": "20",
        "clear_height_m": "2.4",
        **cells,
    }


@pytest.mark.parametrize(
    ("depth", "asked"), [("2.66", True), ("2.7", False), ("8.0", False), ("8.01", True)]
)
def test_a_floor_against_its_sides(asks, depth, asked):
    """20 m² against 5 m wide: from half to one and a half of depth times width."""
    assert bool(asks("floor_m2", rooms=room(depth_m=depth, width_m="5"))) is asked
    assert asks("floor_m2", rooms=room(depth_m=depth)) == []


@pytest.mark.parametrize(
    ("walked", "asked"), [("0.9", True), ("1.2", False), ("12", False), ("14", True)]
)
def test_the_way_out_against_the_floor(asks, walked, asked):
    """A square of 20 m² has a side of 4.47 m; a quarter and three times it are 1.12 and 13.4."""
    tables = {"rooms": room(), "ways_out": {"furthest_m": walked}}
    assert bool(asks("furthest_m", **tables)) is asked
    tables["rooms"] = [room(), room(mark="R2", floor_m2="")]
    assert asks("furthest_m", **tables) == []  # what isn't known accuses nothing


def layers(*areas, part="roof"):
    return [
        {"part": part, "layer": "Board", "mm": "20", "lambda": "0.13", "gross_area_m2": a}
        for a in areas
    ]


def test_areas_of_one_part_that_differ(asks):
    (odd,) = asks("gross_area_m2", envelope=layers("20", "22"))
    assert (odd.row, odd.is_mismatch) == (1, True)
    assert asks("gross_area_m2", envelope=layers("20", "20.1", "")) == []


@pytest.mark.parametrize(
    ("east", "asked"),
    [("", True), ("39.4", True), ("39.6", False), ("40.4", False), ("40.6", True)],
)
def test_walls_by_the_way_they_face_against_the_gross_wall(asks, east, asked):
    rows = layers("50", "", part="wall")
    rows[0]["faces_n"], rows[0]["faces_e"] = "10", east
    odd = asks("faces_n", envelope=rows)
    assert [(each.row, each.is_mismatch) for each in odd] == [(1, True)] * asked
    # an inner row says nothing of them
    rows[1]["faces_n"], rows[0]["faces_n"], rows[0]["faces_e"] = "10", "", ""
    assert asks("faces_n", envelope=rows) == []


@pytest.mark.parametrize(
    ("area", "asked"), [("6.9", True), ("7.1", False), ("49", False), ("51", True)]
)
def test_a_roof_against_all_floors(asks, area, asked):
    assert bool(asks("gross_area_m2", rooms=room(), envelope=layers(area))) is asked


def test_a_wall_is_not_held_to_floors(asks):
    assert asks("gross_area_m2", rooms=room(), envelope=layers("90", part="wall")) == []


@pytest.mark.parametrize(
    ("length", "asked"), [("2.4", True), ("2.6", False), ("9.9", False), ("10.1", True)]
)
def test_a_building_against_its_roof(asks, length, asked):
    """4 m wide against a roof of 20 m²: from a half to twice."""
    tables = {"envelope": layers("20"), "supports": {"building_l_m": length, "building_w_m": "4"}}
    assert bool(asks("building_l_m", **tables)) is asked


def people(n):
    return {"mark": "O1", "who": "Walkers", "n": n, "sleeps_here": "yes"}


@pytest.mark.parametrize(
    ("sleepers", "asked"), [("7", True), ("8", False), ("12", False), ("13", True)]
)
def test_rooms_that_sleep_others_than_sleep_here(asks, sleepers, asked):
    found = asks("sleepers", rooms=room(sleepers=sleepers), occupants=people("8"))
    assert bool(found) is asked


@pytest.mark.parametrize(("n", "asked"), [("3", True), ("4", False), ("5", True)])
def test_beds_of_a_room_against_its_sleepers(asks, n, asked):
    bed = {"mark": "U1", "item": "Bunk", "room": "R1", "kind": "bed", "n": n, "night": "2"}
    (*found,) = asks("sleepers", rooms=room(sleepers="8"), furniture=bed)
    assert [odd.mark for odd in found] == ["R1"] * asked
    assert asks("sleepers", rooms=room(sleepers="8"), furniture={**bed, "night": "0"}) == []


@pytest.mark.parametrize(("step_free", "asked"), [("8", False), ("9", True)])
def test_more_who_cannot_climb_than_there_are(asks, step_free, asked):
    row = {**people("8"), "step_free": step_free}
    assert bool(asks("step_free", occupants=row)) is asked


@pytest.mark.parametrize(
    ("room", "head"),
    [
        (Room(mark="R1", name="Day", use="day", floor_m2=2240), "floor_m2"),
        (Room(mark="R1", name="Day", use="day", clear_height_m=8), "clear_height_m"),
        (Room(mark="R1", name="Day", use="day", floor_m2=5, low_headroom_m2=6), "low_headroom_m2"),
        (Room(mark="R1", name="Sleeping loft", use="sleep", floor_m2=12), "low_headroom_m2"),
    ],
)
def test_rooms_that_cannot_be_as_typed(room, head):
    assert [(odd.schedule, odd.mark, odd.head) for odd in odd_values(Package(rooms=(room,)))] == [
        ("rooms", "R1", head)
    ]
