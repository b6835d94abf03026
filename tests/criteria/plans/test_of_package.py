"""A room drawn from schedule rows: what they say is taken, what they don't is proposed and said."""

import dataclasses

import pytest

from criteria.daylight import Wall, daylight_field
from criteria.daylight.refusals import ImpossibleInput
from criteria.package import read_package
from criteria.plans.of_package import room_plan
from criteria.plans.plan import NoPlan

ROOM = {"mark": "R1", "room": "Day room", "floor_m2": "12", "clear_height_m": "2.5", "use": "day"}
WINDOW = {
    "mark": "W1", "room": "R1", "n": "1", "frame_w": "1160", "frame_h": "1160", "glass_w": "1000",
    "glass_h": "1000", "sill": "800", "faces": "S", "u": "1.0",
}  # fmt: skip


def plan_of(*windows, room=ROOM, mark="R1", **tables):
    package = read_package({"rooms": [room], "windows": list(windows), **tables}).package
    return room_plan(package, mark)


def lefts(plan):
    return [round(placed.left_m, 3) for placed in plan.openings]


# By hand: 12 m² at 4 to 3 is 4 m along the window wall and 3 m deep.
def test_a_floor_alone_becomes_a_rectangle_and_says_so():
    plan = plan_of(WINDOW)
    assert (plan.shell.length_m, plan.shell.width_m) == pytest.approx((4.0, 3.0))
    assert "R1 gives its floor alone" in " ".join(plan.assumed)


def test_the_long_side_lies_along_the_wall_with_most_glass():
    east = WINDOW | {"mark": "W2", "faces": "E", "glass_w": "1400", "frame_w": "1560"}
    plan = plan_of(WINDOW, east)
    assert (plan.shell.length_m, plan.shell.width_m) == pytest.approx((3.0, 4.0))


def test_a_rectangle_is_drawn_out_where_windows_need_it():
    # four frames of 1,160 mm and five gaps of 100 mm are 5.14 m
    plan = plan_of(WINDOW | {"n": "4"})
    assert plan.shell.length_m == pytest.approx(5.14)
    assert plan.shell.floor_m2 == pytest.approx(12.0)
    assert daylight_field(plan.room).mean_pct > 0


def test_sides_of_the_schedule_are_taken_as_they_are():
    plan = plan_of(WINDOW, room=ROOM | {"width_m": "5", "depth_m": "2.4"})
    assert (plan.shell.length_m, plan.shell.width_m) == (5.0, 2.4)
    assert not any("floor" in line and line.startswith("R1") for line in plan.assumed)


def test_sides_that_are_not_the_floor_are_said():
    plan = plan_of(WINDOW, room=ROOM | {"width_m": "5", "depth_m": "3"})
    assert "width × depth of R1 is 15.0 m², its floor 12.0 m²" in " ".join(plan.assumed)


# By hand: a floor of 12 m² with a side of 5 m has another of 2.4 m.
@pytest.mark.parametrize(
    ("side", "plan_m"), [({"width_m": "5"}, (5.0, 2.4)), ({"depth_m": "5"}, (2.4, 5.0))]
)
def test_one_side_makes_the_other_of_the_floor_and_says_so(side, plan_m):
    plan = plan_of(WINDOW, room=ROOM | side)
    assert (plan.shell.length_m, plan.shell.width_m) == pytest.approx(plan_m)
    assert "R1 gives one side: the other is floor ÷ side, 2.40 m" in plan.assumed


def test_a_window_that_faces_no_way_is_taken_in_the_lower_wall_and_said():
    plan = plan_of(WINDOW | {"faces": ""})
    assert [placed.face for placed in plan.openings] == ["S"]
    assert "W1 says no way it faces: taken in the lower wall" in plan.assumed


# By hand: a frame of 1.16 m in 4 m leaves 2.84 m; half of it is 1.42 m, and 0.08 m of frame.
def test_a_window_without_a_place_is_spread_and_said_to_be_assumed():
    plan = plan_of(WINDOW)
    assert lefts(plan) == [1.5]
    assert plan.openings[0].is_assumed
    assert plan.assumed[0] == "W1: no place given, evenly spread along the wall"


# By hand: two frames of 1.16 m leave 1.68 m, so gaps of 0.56 m; 0.56 + 0.08 and 2.28 + 0.08.
def test_windows_alike_are_spread_and_get_marks_of_their_own():
    plan = plan_of(WINDOW | {"n": "2"})
    assert lefts(plan) == [0.64, 2.36]
    assert [placed.mark for placed in plan.openings] == ["W1", "W1b"]
    assert {placed.row for placed in plan.openings} == {"W1"}


@pytest.mark.parametrize(
    ("face", "wall", "offset"),
    # seen from inside, left of a south wall is its east end: 4 − 0.5 − 1 m from the west
    [("N", "north", 0.5), ("S", "south", 2.5), ("W", "west", 0.5), ("E", "east", 2.5)],
)
def test_left_is_as_seen_from_inside(face, wall, offset):
    square = ROOM | {"floor_m2": "16", "width_m": "4", "depth_m": "4"}
    plan = plan_of(WINDOW | {"left": "500", "faces": face}, room=square)
    (window,) = plan.room.windows
    assert (window.wall, window.offset_m) == (wall, pytest.approx(offset))
    assert not plan.openings[0].is_assumed


def test_windows_alike_with_a_gap_stand_one_by_one():
    assert lefts(plan_of(WINDOW | {"n": "2", "left": "300", "gap": "200"})) == [0.3, 1.5]


def test_windows_alike_without_a_gap_have_equal_ends():
    assert lefts(plan_of(WINDOW | {"n": "2", "left": "300"})) == [0.3, 2.7]


def test_a_window_without_a_place_goes_to_the_longest_free_wall():
    placed = WINDOW | {"left": "0"}
    # free from 1.0 to 4.0 m: (3 − 1.16) ÷ 2 + 0.08 beyond 1.0
    assert lefts(plan_of(placed, WINDOW | {"mark": "W2"})) == [0.0, 2.0]


def test_a_room_that_faces_south_east_is_turned():
    plan = plan_of(WINDOW | {"faces": "SE"})
    assert plan.faces == ("NE", "SE", "SW", "NW")
    assert plan.shell.facing_deg(plan.wall_of("SE")) == 135
    assert plan.room.windows[0].wall is Wall.EAST


def test_a_face_that_no_wall_has_is_said():
    odd = WINDOW | {"mark": "W2", "faces": "SE", "glass_w": "400", "frame_w": "560"}
    plan = plan_of(WINDOW, odd)
    assert plan.openings[1].face == "E"
    assert any(line.startswith("W2 faces SE, which no wall") for line in plan.assumed)


def test_a_roof_light_lies_in_the_ceiling():
    plan = plan_of(WINDOW | {"opens": "roof light", "faces": "N", "glass_w": "500"})
    (light,) = plan.room.rooflights
    assert (light.x_m, light.y_m) == pytest.approx((1.75, 1.0))  # (4 − 0.5) ÷ 2, (3 − 1) ÷ 2
    assert "W1 is taken as level, in the ceiling" in plan.assumed


def test_walls_are_as_thick_as_the_envelope_says():
    layers = [
        {"part": "wall", "layer": "Fibre", "mm": "240", "gross_area_m2": "90"},
        {"part": "wall", "layer": "Panel", "mm": "60", "gross_area_m2": "90"},
    ]
    plan = plan_of(WINDOW, envelope=layers)
    assert plan.shell.wall_thickness_m == pytest.approx(0.3)
    assert "walls are 300 mm thick, by the envelope's layers" in plan.assumed
    own = plan_of(WINDOW, room=ROOM | {"wall_mm": "180"}, envelope=layers)
    assert own.shell.wall_thickness_m == pytest.approx(0.18)


def test_surfaces_of_the_schedule_are_taken():
    plan = plan_of(WINDOW, room=ROOM | {"floor_light": "0.4", "wall_light": "0.8"})
    assert (plan.shell.floor_reflectance, plan.shell.wall_reflectance) == (0.4, 0.8)
    assert "surfaces give back, as usual in a pale room: ceiling 0.7" in plan.assumed


def test_nothing_is_taken_of_surfaces_that_are_all_given():
    given = {"floor_light": "0.4", "wall_light": "0.8", "ceiling_light": "0.9"}
    plan = plan_of(WINDOW, room=ROOM | given)
    assert plan.shell.ceiling_reflectance == 0.9
    assert not any(line.startswith("surfaces") for line in plan.assumed)


def test_glass_without_a_transmittance_is_said_to_be_clear_double():
    said = "W1: no transmittance given, 0.7 taken"
    assert said in plan_of(WINDOW).assumed
    assert said not in plan_of(WINDOW | {"transmittance": "0.7"}).assumed


# By hand: a sky angle of 65° leaves a skyline of 25°; at 10 m beyond a 0.25 m wall it rises
# tan 25° × 10.25 m = 4.78 m over the window's middle at 0.8 + 0.5 m.
def test_what_stands_outside_follows_from_the_sky_angle():
    near = plan_of(WINDOW | {"sky_angle": "65", "outside": "10"}).shell.obstruction(Wall.SOUTH)
    assert (near.top_m, near.distance_m) == (pytest.approx(6.08, abs=0.005), 10)
    far = plan_of(WINDOW | {"sky_angle": "65"}).shell.obstruction(Wall.SOUTH)
    assert far.angle_deg == 25


def test_seats_with_a_place_are_looked_out_from():
    seats = [
        {"mark": "U1", "item": "Bench", "kind": "seat", "room": "R1", "plan_x": "900",
         "plan_y": "2000"},
        {"mark": "U2", "item": "Bunk", "kind": "bed", "room": "R1", "plan_x": "3000",
         "plan_y": "2000", "height_mm": "500"},
        {"mark": "U3", "item": "Stool", "kind": "seat", "room": "R1"},
    ]  # fmt: skip
    found = plan_of(WINDOW, furniture=seats).seats
    assert [(seat.mark, seat.eye_height_m) for seat in found] == [("U1", 1.2), ("U2", 0.8)]


def test_doors_with_a_place_are_drawn_and_others_said_or_left():
    door = {"place": "Porch", "leaf_w": "900", "room": "R1", "faces": "N", "left": "300"}
    doors = [
        {"mark": "D1", **door},
        {"mark": "D2", **door, "left": "3500"},
        {"mark": "D3", **door, "faces": "SE"},
        {"mark": "D4", **door, "left": ""},
    ]
    plan = plan_of(WINDOW, doors=doors)
    assert [(each.mark, each.left_m, each.swing) for each in plan.doors] == [("D1", 0.3, "in")]
    assert "D2 ends past its wall: not drawn" in plan.assumed
    assert "D3 looks SE, as no wall of the plan does: not drawn" in plan.assumed


@pytest.mark.parametrize(
    ("room", "window", "missing"),
    [
        ({"floor_m2": ""}, {}, "R1, Floor (room schedule)"),
        ({"clear_height_m": ""}, {}, "R1, Clear height (room schedule)"),
        ({}, {"glass_w": ""}, "W1, Glass w (window schedule)"),
        ({}, {"n": ""}, "W1, No. (window schedule)"),
    ],
)
def test_rows_too_bare_to_draw_say_which_cell_is_blank(room, window, missing):
    with pytest.raises(NoPlan, match="still needs") as bare:
        plan_of(WINDOW | window, room=ROOM | room)
    assert bare.value.missing == (missing,)


def test_no_such_room_is_a_key_error():
    with pytest.raises(KeyError, match="R9"):
        plan_of(WINDOW, mark="R9")


def test_rows_that_cannot_be_built_are_refused_with_both_numbers():
    plan = plan_of(WINDOW | {"sill": "1800"})
    with pytest.raises(ImpossibleInput, match=r"read sill 1.8 m \+ height 1 m = head 2.8 m"):
        _ = plan.room


def test_the_same_rows_give_the_same_plan_and_hash():
    one, two = plan_of(WINDOW), plan_of(WINDOW)
    assert one == two
    assert hash(one) == hash(two)
    assert dataclasses.replace(one, openings=()) != two
