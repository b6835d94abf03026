"""Published criteria: at, just under and just over each level."""

import math

import numpy as np
import pytest

from criteria.daylight import (
    ImpossibleInput,
    Level,
    Rooflight,
    Room,
    Window,
    daylight_factor_for_pct,
    daylight_field,
    daylight_provision,
    least_average_pct,
    sunlight_level,
    view_level,
)
from criteria.daylight.field import Field

LONDON_LX = 14_100
"""Median diffuse illuminance that EN 17037 lists for London [lx]. From memory."""


@pytest.mark.parametrize(
    ("lux", "by_hand_pct"),
    [(100, 0.71), (150, 1.06), (200, 1.42), (300, 2.13), (500, 3.55), (750, 5.32)],
)
def test_daylight_factors_for_london(lux, by_hand_pct):
    # by hand: 100 E / 14 100, to two decimals
    assert round(daylight_factor_for_pct(lux, LONDON_LX), 2) == by_hand_pct


def field_of(values, *, rooflit=False):
    """Return a field with these daylight factors [%], as if computed."""
    opening = {"windows": [Window(wall="south", offset_m=1, sill_m=1, width_m=1, height_m=1)]}
    if rooflit:
        opening = {"rooflights": [Rooflight(x_m=1, y_m=1, size_x_m=1, size_y_m=1)]}
    values = np.array([[values]], dtype=float)
    return Field(
        room=Room(length_m=4, width_m=3, height_m=2.5, **opening),
        glass="constant",
        plane_height_m=0.85,
        inset_m=0.5,
        x_m=np.arange(values.shape[2], dtype=float),
        y_m=np.array([0.0]),
        by_opening_direct_pct=values,
        by_opening_reflected_pct=np.zeros_like(values),
    )


@pytest.mark.parametrize(
    ("target_points", "least_points", "level"),
    [(50, 95, "minimum"), (49, 95, "none"), (50, 94, "none")],
)
def test_both_shares_are_asked_of_a_side_lit_room(target_points, least_points, level):
    # at 10 000 lx outdoors 300 lx is 3 % and 100 lx is 1 %: exactly on the line counts
    values = [3.0] * target_points + [1.0] * (least_points - target_points)
    values += [0.999] * (100 - least_points)
    assert daylight_provision(field_of(values), median_diffuse_lx=10_000).level == level


def test_higher_levels_ask_more_of_both():
    # medium: 5 % over half, 3 % over 95 %; high: 7.5 % and 5 %
    medium = [5.0] * 50 + [3.0] * 45 + [0.0] * 5
    high = [7.5] * 50 + [5.0] * 45 + [0.0] * 5
    found = daylight_provision(field_of(medium), median_diffuse_lx=10_000)
    assert found.level is Level.MEDIUM
    assert [step.is_met for step in found.steps] == [True, True, False]
    assert found.steps[1].target_share == 0.5
    assert found.steps[1].least_share == 0.95
    assert daylight_provision(field_of(high), median_diffuse_lx=10_000).level is Level.HIGH


def test_rooflights_alone_are_asked_the_target_over_95_per_cent():
    enough = [3.0] * 95 + [0.0] * 5
    found = daylight_provision(field_of(enough, rooflit=True), median_diffuse_lx=10_000)
    assert found.level is Level.MINIMUM
    assert found.steps[0].least_pct is None
    less = [3.0] * 94 + [0.0] * 6
    assert (
        daylight_provision(field_of(less, rooflit=True), median_diffuse_lx=10_000).level
        is Level.NONE
    )


def test_a_room_with_several_uses_takes_the_highest_average():
    # BS 8206-2:2008: kitchen 2, living 1.5, bedroom 1 (quoted)
    assert least_average_pct(["bedroom"]) == 1.0
    assert least_average_pct(["bedroom", "living"]) == 1.5
    assert least_average_pct(["living", "kitchen"]) == 2.0


@pytest.mark.parametrize(
    ("angle", "distance", "layers", "level"),
    [
        (14, 6, 1, "minimum"),
        (13.999, 6, 1, "none"),
        (14, 5.999, 1, "none"),
        (28, 20, 2, "medium"),
        (27.999, 20, 2, "minimum"),
        (28, 19.999, 2, "minimum"),
        (54, 50, 3, "high"),
        (54, 50, 2, "medium"),
        (54, math.inf, 3, "high"),
        (90, 500, 1, "minimum"),
    ],
)
def test_a_view_has_the_lowest_of_angle_distance_and_layers(angle, distance, layers, level):
    found = view_level(
        sight_angle_deg=angle, distance_m=distance, layers=layers, sees_landscape=True
    )
    assert found == level


def test_a_view_without_the_landscape_has_no_level():
    found = view_level(sight_angle_deg=60, distance_m=60, layers=2, sees_landscape=False)
    assert found is Level.NONE


def test_a_view_of_unknown_distance_is_not_levelled_unless_it_has_none_anyway():
    known = {"layers": 3, "sees_landscape": True, "distance_m": None}
    assert view_level(sight_angle_deg=60, **known) is None
    assert view_level(sight_angle_deg=10, **known) is Level.NONE


@pytest.mark.parametrize(
    ("hours", "level"),
    [(1.4999, "none"), (1.5, "minimum"), (2.99, "minimum"), (3, "medium"), (4, "high")],
)
def test_hours_of_sun(hours, level):
    # EN 17037, 1.5, 3 and 4 h: from memory
    assert sunlight_level(hours) == level


@pytest.mark.parametrize(
    ("build", "message"),
    [
        (lambda: daylight_factor_for_pct(-1, 14_100), "illuminance_lx: read -1 lx"),
        (lambda: daylight_factor_for_pct(300, 14.1), "read 14.1 lx; expected at least 1000 lx"),
        (lambda: least_average_pct([]), "uses: read none; expected kitchen, living or bedroom"),
        (lambda: least_average_pct(["porch"]), "'porch'; expected kitchen or living or bedroom"),
    ],
)
def test_what_the_rules_refuse(build, message):
    with pytest.raises(ImpossibleInput, match=message):
        build()


def test_no_room_is_levelled_by_the_light_it_would_have_without_shares():
    room = Room(
        length_m=4,
        width_m=3,
        height_m=2.5,
        windows=[Window(wall="south", offset_m=0.2, sill_m=0.2, width_m=3.6, height_m=2.2)],
    )
    found = daylight_provision(daylight_field(room), median_diffuse_lx=LONDON_LX)
    assert found.median_diffuse_lx == LONDON_LX
    assert found.level in (Level.MEDIUM, Level.HIGH)
