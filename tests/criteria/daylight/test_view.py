"""View out. Sight angles by hand from 2 atan(w/2d); layers from sections drawn by hand."""

import math

import numpy as np
import pytest

from criteria.daylight import (
    ImpossibleInput,
    Level,
    Obstruction,
    Room,
    Seat,
    Window,
    view_field,
    view_from,
    views_from,
)


def room(*windows, **changes):
    given = {"length_m": 5.0, "width_m": 4.5, "height_m": 2.6}
    return Room(**(given | changes), windows=windows)


def window(wall="south", **changes):
    given = {"offset_m": 1.75, "sill_m": 0.8, "width_m": 1.5, "height_m": 1.3}
    return Window(wall=wall, **(given | changes))


def test_a_seat_before_the_middle_of_a_window_has_the_formulas_angle():
    view = view_from(room(window()), Seat(mark="S1", x_m=2.5, y_m=4.0))
    assert view.sight_angle_deg == pytest.approx(21.24, abs=6e-3)
    assert view.mark == "S1"


def test_a_thick_wall_narrows_the_view_from_the_side_and_from_afar():
    thick = room(window(), wall_thickness_m=0.4)
    # the glass at 4.0 m, its width through the inner edge 3.6 m away
    ahead = view_from(thick, Seat(x_m=2.5, y_m=3.6)).sight_angle_deg
    assert ahead == pytest.approx(2 * math.degrees(math.atan(1.5 / 2 / 4.0)))
    # 0.2 m from the wall and 1 m beside the jamb a line in passes 3.0 m aside of the seat at the
    # glass, beyond the far jamb at 2.5 m: the reveal is all that shows
    assert view_from(thick, Seat(x_m=0.75, y_m=0.2)).sight_angle_deg == 0


def test_windows_of_several_walls_add_and_of_one_wall_do_not_count_twice():
    east = window("east", offset_m=1.5)
    seat = Seat(x_m=2.5, y_m=2.25)
    alone = [view_from(room(w), seat).sight_angle_deg for w in (window(), east)]
    assert view_from(room(window(), east), seat).sight_angle_deg == pytest.approx(sum(alone))
    stacked = room(window(height_m=0.6), window(sill_m=1.5, height_m=0.6))
    assert view_from(stacked, seat).sight_angle_deg == pytest.approx(alone[0])
    half_over = room(window(height_m=0.6), window(sill_m=1.5, height_m=0.6, offset_m=2.5))
    wider = room(window(width_m=2.25))
    assert view_from(half_over, seat).sight_angle_deg == pytest.approx(
        view_from(wider, seat).sight_angle_deg
    )


@pytest.mark.parametrize(
    ("sill_m", "height_m", "layers"),
    [
        (0.8, 1.3, {"sky", "landscape", "ground"}),
        (1.3, 0.8, {"sky"}),  # all of it above the eye, open horizon
        (0.3, 0.8, {"ground"}),  # all of it below
        (1.2, 0.8, {"sky", "landscape"}),  # the sill at the eye: the horizon on it
    ],
)
def test_layers_with_an_open_horizon(sill_m, height_m, layers):
    view = view_from(room(window(sill_m=sill_m, height_m=height_m)), Seat(x_m=2.5, y_m=3.0))
    assert {name for name in ("sky", "landscape", "ground") if getattr(view, name)} == layers
    assert view.layers == len(layers)
    assert view.distance_m == math.inf


@pytest.mark.parametrize(("y_m", "sky"), [(1.0, True), (2.2, True), (2.3, False), (4.0, False)])
def test_sky_over_a_skyline_is_seen_only_near_the_window(y_m, sky):
    # head 0.9 m over the eye, skyline at 45° less: tan = 0.4, sky within 0.9/0.4 = 2.25 m
    angle = math.degrees(math.atan(0.4))
    built = room(window(), obstructions=[Obstruction(wall="south", angle_deg=angle)])
    view = view_from(built, Seat(x_m=2.5, y_m=y_m))
    assert view.sky is sky
    assert view.landscape
    assert view.distance_m is None
    assert view.level is (Level.NONE if view.sight_angle_deg < 14 else None)


def test_the_distance_is_that_of_the_farthest_thing_seen():
    walls = [
        Obstruction(wall="south", top_m=5, distance_m=12),
        Obstruction(wall="east", top_m=5, distance_m=30),
    ]
    both = room(window(), window("east", offset_m=1.5), obstructions=walls, wall_thickness_m=0.2)
    assert view_from(both, Seat(x_m=2.5, y_m=2.25)).distance_m == pytest.approx(30.2)
    south = room(window(), obstructions=walls, wall_thickness_m=0.2)
    view = view_from(south, Seat(x_m=2.5, y_m=2.25))
    assert view.distance_m == pytest.approx(12.2)
    assert view.level is Level.MINIMUM


def test_a_room_without_windows_has_no_view():
    view = view_from(room(), Seat(x_m=1, y_m=1))
    assert (view.sight_angle_deg, view.layers, view.distance_m) == (0, 0, None)
    assert view.level is Level.NONE


def test_seats_are_looked_from_in_their_order():
    seats = [Seat(mark="A", x_m=1, y_m=1), Seat(mark="B", x_m=2, y_m=2, eye_height_m=0.7)]
    found = views_from(room(window()), seats)
    assert [view.mark for view in found] == ["A", "B"]
    assert found[1].eye_height_m == 0.7


def test_the_view_over_the_plan_is_the_view_from_each_place():
    built = room(
        window(),
        window("west", offset_m=0.6),
        obstructions=[Obstruction(wall="west", top_m=4, distance_m=8)],
        wall_thickness_m=0.15,
    )
    plane = view_field(built, cell_m=0.5)
    for row, column in ((0, 0), (3, 5), (6, 7)):
        view = view_from(built, Seat(x_m=float(plane.x_m[column]), y_m=float(plane.y_m[row])))
        assert plane.sight_angle_deg[row, column] == pytest.approx(view.sight_angle_deg)
        assert plane.layers[row, column] == view.layers
        assert bool(np.isnan(plane.distance_m[row, column])) is (view.distance_m is None)


def test_shares_of_the_plan_with_a_view():
    plane = view_field(room(window()))
    assert plane.share_with_layers(1) == 1
    assert plane.level_of_layers is Level.HIGH
    least = float(plane.sight_angle_deg.min())
    assert plane.share_with_angle(least) == 1
    assert plane.share_with_angle(179) == 0
    high_up = view_field(room(window(sill_m=1.3, height_m=0.8)))
    assert high_up.share_with_layers(1) == 0
    assert high_up.level_of_layers is Level.NONE


def test_the_share_with_a_layer_is_asked_over_three_quarters():
    # skyline of tan 0.4: sky within 2.25 m of 4.5 m; inset 0 and rows of 0.25 m: 9 of 18 rows
    angle = math.degrees(math.atan(0.4))
    built = room(
        window(offset_m=0, width_m=5),
        obstructions=[Obstruction(wall="south", angle_deg=angle)],
    )
    plane = view_field(built, inset_m=0.0)
    assert np.mean(plane.sky) == pytest.approx(0.5)
    assert plane.share_with_layers(3) == pytest.approx(0.5)
    assert plane.level_of_layers is Level.MEDIUM


@pytest.mark.parametrize(
    ("seat", "message"),
    [
        (Seat(mark="S1", x_m=5.1, y_m=1), r"seat S1, x_m: read 5\.1 m; expected .* at most 5 m"),
        (Seat(x_m=1, y_m=-1), r"seat, y_m: read -1 m; expected at least 0 m"),
        (Seat(x_m=1, y_m=1, eye_height_m=3), r"eye_height_m: read 3 m; expected .* at most 2\.6 m"),
    ],
)
def test_a_seat_outside_the_room_is_refused(seat, message):
    with pytest.raises(ImpossibleInput, match=message):
        view_from(room(window()), seat)


def test_what_the_view_refuses():
    with pytest.raises(ImpossibleInput, match="count: read 4; expected at least 1 and at most 3"):
        view_field(room(window())).share_with_layers(4)
