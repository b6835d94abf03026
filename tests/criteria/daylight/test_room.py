"""Rooms and openings that could not be are refused: both numbers, and the field they stand in."""

import math

import pytest

from criteria.daylight import ImpossibleInput, Obstruction, Rooflight, Room, Wall, Window
from criteria.errors import InputError

SIZE = {"length_m": 3.6, "width_m": 3.0, "height_m": 2.4}


def window(**changes):
    given = {"wall": "south", "offset_m": 0.9, "sill_m": 0.9, "width_m": 1.8, "height_m": 1.2}
    return Window(**(given | changes))


def rooflight(**changes):
    return Rooflight(**({"x_m": 1.0, "y_m": 1.0, "size_x_m": 1.0, "size_y_m": 1.0} | changes))


def refused(build):
    with pytest.raises(ImpossibleInput, match=r"read .*; expected ") as caught:
        build()
    assert isinstance(caught.value, InputError)
    return caught.value


@pytest.mark.parametrize(
    ("changes", "field", "read", "expected"),
    [
        ({"length_m": 0.0}, "length_m", "0 m", "more than 0 m and at most 30 m"),
        ({"width_m": -1.0}, "width_m", "-1 m", "more than 0 m and at most 30 m"),
        ({"length_m": 3600}, "length_m", "3600 m", "more than 0 m and at most 30 m"),
        ({"height_m": 0}, "height_m", "0 m", "more than 0 m and at most 12 m"),
        ({"wall_reflectance": 0.0}, "wall_reflectance", "0", "more than 0 and less than 1"),
        ({"floor_reflectance": 0}, "floor_reflectance", "0", "more than 0 and less than 1"),
        ({"ceiling_reflectance": 1.0}, "ceiling_reflectance", "1", "more than 0 and less than 1"),
        ({"ground_reflectance": 1.2}, "ground_reflectance", "1.2", "at least 0 and at most 1"),
        ({"wall_thickness_m": -0.1}, "wall_thickness_m", "-0.1 m", "at least 0 m and at most 3 m"),
        ({"length_m": math.nan}, "length_m", "nan", "more than 0 m and at most 30 m"),
        ({"height_m": "2.4"}, "height_m", "'2.4'", "more than 0 m and at most 12 m"),
        ({"north_bearing_deg": 360}, "north_bearing_deg", "360°", "at least 0° and less than 360°"),
    ],
)
def test_a_room_of_no_possible_size_or_surface(changes, field, read, expected):
    refusal = refused(lambda: Room(**(SIZE | changes)))
    assert (refusal.field, refusal.read, refusal.expected) == (field, read, expected)
    assert refusal.where == ""


@pytest.mark.parametrize(
    ("changes", "field", "read", "expected"),
    [
        ({"offset_m": 2.0}, "offset_m", "offset 2 m + width 1.8 m = 3.8 m",
         "at most 3.6 m, the length of the south wall"),
        ({"offset_m": 0.0, "width_m": 3.7}, "width_m", "offset 0 m + width 3.7 m = 3.7 m",
         "at most 3.6 m, the length of the south wall"),
        ({"wall": "west", "offset_m": 1.5}, "offset_m", "offset 1.5 m + width 1.8 m = 3.3 m",
         "at most 3 m, the length of the west wall"),
        ({"height_m": 1.6}, "height_m", "sill 0.9 m + height 1.6 m = head 2.5 m",
         "at most 2.4 m, the height of the room"),
        ({"sill_m": 2.6}, "sill_m", "2.6 m", "less than 2.4 m, the height of the room"),
    ],
)  # fmt: skip
def test_a_window_that_does_not_fit_its_wall(changes, field, read, expected):
    refusal = refused(lambda: Room(**SIZE, windows=[window(mark="W3", **changes)]))
    assert (refusal.field, refusal.read, refusal.expected) == (field, read, expected)
    assert refusal.where == "window W3"
    assert refusal.item == ("windows", 0)
    assert str(refusal) == f"window W3, {field}: read {read}; expected {expected}"


@pytest.mark.parametrize(
    ("changes", "field", "read"),
    [
        ({"height_m": 0.0}, "height_m", "0 m"),
        ({"height_m": -0.3}, "height_m", "-0.3 m"),
        ({"width_m": 0}, "width_m", "0 m"),
        ({"offset_m": -0.1}, "offset_m", "-0.1 m"),
        ({"sill_m": -0.1}, "sill_m", "-0.1 m"),
        ({"transmittance": 0}, "transmittance", "0"),
        ({"transmittance": 1.1}, "transmittance", "1.1"),
        ({"frame_share": 1.0}, "frame_share", "1"),
        ({"maintenance": 0.0}, "maintenance", "0"),
        ({"wall": "up"}, "wall", "'up'"),
    ],
)
def test_a_window_that_no_wall_could_have(changes, field, read):
    refusal = refused(lambda: window(**changes))
    assert (refusal.field, refusal.read) == (field, read)


def test_a_sill_over_its_head_is_refused_with_both():
    refusal = refused(
        lambda: Window.between(wall="south", offset_m=0.5, width_m=1.0, sill_m=2.1, head_m=0.9)
    )
    assert (refusal.field, refusal.read) == ("sill_m", "sill 2.1 m")
    assert refusal.expected == "less than 0.9 m, the head"
    fits = Window.between(wall="south", offset_m=0.5, width_m=1.0, sill_m=0.9, head_m=2.1)
    assert fits.height_m == pytest.approx(1.2)


def test_windows_that_overlap_are_refused_with_both_places():
    first, second = window(mark="W1"), window(mark="W2", offset_m=1.5)
    refusal = refused(lambda: Room(**SIZE, windows=[first, second]))
    assert refusal.where == "window W2"
    assert refusal.item == ("windows", 1)
    assert refusal.field == "offset_m"
    assert refusal.read == "1.5 m to 3.3 m along the south wall"
    assert refusal.expected == "clear of window W1, which takes 0.9 m to 2.7 m"


def test_windows_may_touch_stack_and_stand_on_other_walls():
    room = Room(
        **SIZE,
        windows=[
            window(offset_m=0.0, width_m=0.9),
            window(),
            window(offset_m=2.7, width_m=0.9),  # 0.9 + 1.8 is a hair over 2.7 in binary
            window(sill_m=0.2, height_m=0.7),
            window(wall="north"),
        ],
    )
    assert len(room.openings) == 5


def test_a_window_may_fill_its_wall_to_the_last_binary_digit():
    assert Room(**SIZE, windows=[window(offset_m=0.9, width_m=2.7, sill_m=0.8, height_m=1.6)])


@pytest.mark.parametrize(
    ("changes", "field", "read", "expected"),
    [
        ({"x_m": 3.0}, "x_m", "3 m + 1 m = 4 m", "at most 3.6 m, the length of the room"),
        (
            {"size_y_m": 3.2},
            "size_y_m",
            "1 m + 3.2 m = 4.2 m",
            "at most 3 m, the width of the room",
        ),
        ({"size_x_m": 0.0}, "size_x_m", "0 m", "more than 0 m"),
        ({"y_m": -1.0}, "y_m", "-1 m", "at least 0 m (within the ceiling)"),
    ],
)
def test_a_rooflight_that_does_not_fit(changes, field, read, expected):
    refusal = refused(lambda: Room(**SIZE, rooflights=[rooflight(**changes)]))
    assert (refusal.field, refusal.read, refusal.expected) == (field, read, expected)


def test_rooflights_that_overlap_are_refused():
    refusal = refused(lambda: Room(**SIZE, rooflights=[rooflight(), rooflight(x_m=1.5, y_m=1.5)]))
    assert refusal.where == "rooflight 2"
    assert refusal.item == ("rooflights", 1)
    assert refusal.expected == "clear of rooflight 1, which takes 1 m to 2 m"
    assert Room(**SIZE, rooflights=[rooflight(), rooflight(x_m=2.0)])


@pytest.mark.parametrize(
    ("given", "field", "message"),
    [
        ({"angle_deg": 90}, "angle_deg", "read 90°; expected at least 0° and less than 90°"),
        ({"angle_deg": 20, "top_m": 3}, "angle_deg", "an angle of 20° beside a height or distance"),
        ({"top_m": 3}, "distance_m", "read nothing; expected the height with the distance"),
        ({}, "top_m", "read nothing; expected the height with the distance"),
        ({"top_m": 3, "distance_m": 0}, "distance_m", "read 0 m; expected more than 0 m"),
    ],
)
def test_an_obstruction_that_says_too_little_or_too_much(given, field, message):
    with pytest.raises(ImpossibleInput, match=message) as caught:
        Obstruction(wall="south", **given)
    assert caught.value.field == field


def test_one_obstruction_a_wall():
    twice = [Obstruction(wall="south", angle_deg=angle) for angle in (10, 20)]
    refusal = refused(lambda: Room(**SIZE, obstructions=twice))
    assert refusal.read == "2 obstructions outside the south wall"
    with pytest.raises(ImpossibleInput, match="'up'; expected south, north, west or east"):
        Obstruction(wall="up", angle_deg=10)


def test_an_obstruction_no_higher_than_the_eye_hides_nothing():
    wall = Obstruction(wall="south", top_m=1.0, distance_m=5.0)
    assert wall.angle_at_deg(1.0) == 0
    assert wall.angle_at_deg(2.0) == 0
    assert wall.angle_at_deg(0.0, behind_m=5.0) == pytest.approx(math.degrees(math.atan(0.1)))


def test_areas_and_bearings():
    room = Room(
        **SIZE,
        north_bearing_deg=90,
        windows=[window(frame_share=0.25)],
        rooflights=[rooflight()],
    )
    assert room.floor_m2 == pytest.approx(10.8)
    assert room.surface_m2 == pytest.approx(53.28)  # case D01
    assert room.glass_m2 == pytest.approx(2.16 * 0.75 + 1.0)
    assert room.glass_to_floor == pytest.approx(2.62 / 10.8)
    assert [room.facing_deg(wall) for wall in Wall] == [270, 90, 0, 180]
    assert [wall.opposite for wall in Wall] == [Wall.NORTH, Wall.SOUTH, Wall.EAST, Wall.WEST]


def test_equal_rooms_are_one_key():
    one, other = (Room(**SIZE, windows=[window()]) for _ in range(2))
    assert {one: "field"}[other] == "field"
    assert one != one.with_openings(windows=[])


def test_a_trial_keeps_everything_but_the_openings():
    room = Room(**SIZE, floor_reflectance=0.3, windows=[window()], rooflights=[rooflight()])
    trial = room.with_openings(windows=[window(offset_m=0.2)])
    assert trial.windows[0].offset_m == 0.2
    assert trial.rooflights == room.rooflights
    assert trial.floor_reflectance == 0.3
    assert room.with_openings(rooflights=[]).rooflights == ()


def test_what_an_opening_lets_in_has_frame_and_dirt_taken_off():
    assert window(
        transmittance=0.8, frame_share=0.25, maintenance=0.9
    ).effective_transmittance == pytest.approx(0.54)
