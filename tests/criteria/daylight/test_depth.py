"""Limiting depth and no-sky line. No published numeric example was found: by hand from the
cited formula, or from the open cases' own arithmetic."""

import math
from dataclasses import replace

import pytest

from criteria.daylight import (
    ImpossibleInput,
    Obstruction,
    Rooflight,
    Room,
    Wall,
    Window,
    depth_limits,
    is_within_depth,
    limiting_depth_m,
    no_sky_share,
)
from tests.criteria.daylight.open_cases import BY_ID, CASES, room_of


@pytest.mark.parametrize(
    ("width_m", "head_m", "rear", "by_hand_m"),
    [(3.0, 2.1, 0.5, 4.941), (2.4, 2.0, 0.4, 3.636), (3.6, 2.4, 0.5, 5.76)],
)
def test_limiting_depth_by_hand(width_m, head_m, rear, by_hand_m):
    found = limiting_depth_m(width_m=width_m, head_m=head_m, rear_reflectance=rear)
    assert found == pytest.approx(by_hand_m, abs=6e-4)


@pytest.mark.parametrize(
    ("case", "wall"), [(case, wall) for case in CASES for wall in case["depth_by_wall"]]
)
def test_rooms_have_the_open_cases_depths(case, wall):
    printed = case["depth_by_wall"][wall]
    (found,) = (limit for limit in depth_limits(room_of(case)) if limit.wall == wall)
    assert found.depth_m == pytest.approx(printed["depth_m"])
    assert found.width_m == pytest.approx(printed["width_m"])
    assert found.head_m == pytest.approx(printed["head_m"])
    assert found.rear_reflectance == pytest.approx(printed["rear_half_reflectance"], abs=6e-5)
    assert found.sum == pytest.approx(printed["lhs"], abs=6e-4)
    assert found.limit == pytest.approx(printed["limit"], abs=6e-4)
    assert found.deepest_m == pytest.approx(printed["max_depth_m"], abs=6e-4)
    assert found.is_within is printed["passes"]


def window(wall="west", **changes):
    given = {"offset_m": 0.4, "sill_m": 0.9, "width_m": 1.0, "height_m": 1.2}
    return Window(wall=wall, **(given | changes))


@pytest.mark.parametrize(("over_m", "within"), [(-1e-6, True), (0.0, True), (1e-6, False)])
def test_the_limiting_depth_itself_is_within(over_m, within):
    # all surfaces 0.5: R_b is 0.5 whatever the depth, so W 3.0 and H 2.1 give 4.0/(1/3 + 1/2.1)
    deepest = 4.0 / (1 / 3.0 + 1 / 2.1)
    room = Room(
        length_m=deepest + over_m,
        width_m=3.0,
        height_m=2.4,
        floor_reflectance=0.5,
        wall_reflectance=0.5,
        ceiling_reflectance=0.5,
        windows=[window()],
    )
    assert is_within_depth(room) is within


def test_one_more_window_never_makes_a_room_too_deep():
    deep = room_of(BY_ID["D05"])
    assert is_within_depth(deep) is False
    beside = window("south", offset_m=5.0)
    assert is_within_depth(replace(deep, windows=(*deep.windows, beside))) is True


def test_the_highest_head_of_a_wall_counts():
    room = Room(
        length_m=4,
        width_m=3,
        height_m=2.4,
        windows=[window(), window(offset_m=1.6, sill_m=1.5, height_m=0.9)],
    )
    assert [limit.head_m for limit in depth_limits(room)] == [2.4]


def test_a_room_lit_from_above_has_no_limiting_depth():
    room = room_of(BY_ID["D03"])
    assert depth_limits(room) == ()
    assert is_within_depth(room) is None


def test_no_sky_area_of_the_obstructed_room():
    # case D05, jamb corners counted; cells of 0.027 m at the line are worth 0.2 % of the plan
    printed = BY_ID["D05"]["no_sky_line"]
    room = room_of(BY_ID["D05"])
    found = 100 * no_sky_share(room, plane_height_m=printed["workplane_height_m"])
    assert found == pytest.approx(printed["no_sky_area_pct_with_jamb_corners"], abs=0.25)
    near = printed["if_obstruction_is_10_m_away"]
    # the same angle from the middle of the window, 1.5 m above the floor
    top_m = 1.5 + 10 * math.tan(math.radians(30))
    other = replace(room, obstructions=(Obstruction(wall="west", top_m=top_m, distance_m=10.0),))
    assert 100 * no_sky_share(other, plane_height_m=0.85) == pytest.approx(
        near["no_sky_area_pct"], abs=0.25
    )


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["id"])
def test_no_sky_is_where_the_direct_light_is_none_but_the_obstructions(case):
    # a black obstruction leaves direct light exactly where sky is seen
    from criteria.daylight.depth import sky_margins
    from criteria.daylight.direct import apertures, light_through
    from criteria.daylight.field import plane_points

    room = replace(room_of(case), obstruction_luminance_factor=0.0)
    _, _, points = plane_points(room, height_m=0.85, inset_m=0.05, cell_m=0.1)
    for opening in apertures(room):
        light = light_through(room, opening, points, 2, 1)
        assert ((light > 1e-12) == (sky_margins(room, opening, points) > 1e-9)).all()


def test_a_rooflight_among_skylines_shows_no_sky_where_they_reach():
    def share(angle):
        room = Room(
            length_m=4,
            width_m=4,
            height_m=2.5,
            obstructions=[Obstruction(wall=wall, angle_deg=angle) for wall in Wall],
            rooflights=[Rooflight(x_m=1.5, y_m=1.5, size_x_m=1, size_y_m=1)],
        )
        return no_sky_share(room, plane_height_m=0.5)

    assert share(0) == 0
    # 2 m under the glass a skyline of 45° hides what lies 2 m aside: all but 5 m of plan, so none
    assert share(45) == pytest.approx(0.0, abs=0.01)
    # tan 60°: 1.155 m aside of a 1 m opening: a square of 3.309 m of the 4 m plan still sees sky
    assert share(60) == pytest.approx(1 - 3.309**2 / 16, abs=0.01)


@pytest.mark.parametrize(
    ("build", "message"),
    [
        (
            lambda: limiting_depth_m(width_m=0, head_m=2, rear_reflectance=0.5),
            "width_m: read 0 m; expected more than 0 m",
        ),
        (
            lambda: limiting_depth_m(width_m=3, head_m=2, rear_reflectance=1),
            "rear_reflectance: read 1; expected at least 0 and less than 1",
        ),
        (
            lambda: no_sky_share(room_of(BY_ID["D01"]), plane_height_m=2.4),
            "plane_height_m: read 2.4 m; expected at least 0 m and less than 2.4 m",
        ),
    ],
)
def test_what_the_depths_refuse(build, message):
    with pytest.raises(ImpossibleInput, match=message):
        build()
