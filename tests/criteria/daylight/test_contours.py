"""Isolines: where a linear field has its level, exactly; rings, saddles and edges."""

import math

import numpy as np
import pytest

from criteria.daylight import Contour, ImpossibleInput, contours, daylight_field, no_sky_lines
from criteria.daylight.contours import isolines
from tests.criteria.daylight.open_cases import BY_ID, room_of

X = np.linspace(0.0, 4.0, 9)
Y = np.linspace(0.0, 3.0, 7)


def plane(function):
    return function(*np.meshgrid(X, Y))


def test_a_slope_has_one_straight_line_across():
    (line,) = isolines(X, Y, plane(lambda x, y: x + 2 * y), 3.1)
    assert all(x + 2 * y == pytest.approx(3.1) for x, y in line)
    ends = sorted([line[0], line[-1]])
    assert ends == [pytest.approx((0.0, 1.55)), pytest.approx((3.1, 0.0))]


def test_a_hill_has_a_ring_that_closes():
    (line,) = isolines(X, Y, plane(lambda x, y: -((x - 2) ** 2) - (y - 1.5) ** 2), -1.0)
    ring = Contour(level_pct=1.0, points=line)
    assert ring.is_closed
    radii = [math.dist(point, (2.0, 1.5)) for point in line]
    # straight between nodes 0.5 m apart: off by up to h²/8 of the curvature, 0.07 m
    assert np.allclose(radii, 1.0, atol=0.07)
    assert ring.length_m == pytest.approx(2 * math.pi, rel=0.05)


def test_a_saddle_is_joined_by_its_middle():
    values = np.array([[1.0, 0.0], [0.0, 1.0]])
    x = y = np.array([0.0, 1.0])
    low = isolines(x, y, values, 0.4)  # the middle, 0.5, is over: the high corners are joined
    high = isolines(x, y, values, 0.6)
    assert len(low) == len(high) == 2
    assert {frozenset(line) for line in low}.isdisjoint({frozenset(line) for line in high})
    for line in low:
        # a line that keeps the low corner to itself: both ends on the two edges at that corner
        corner = (1.0, 0.0) if line[0][0] + line[1][0] > 1 else (0.0, 1.0)
        assert all(math.dist(point, corner) == pytest.approx(0.4) for point in line)
    for line in high:
        corner = (0.0, 0.0) if line[0][0] + line[1][0] < 1 else (1.0, 1.0)
        assert all(math.dist(point, corner) == pytest.approx(0.4) for point in line)


def test_the_other_saddle_too():
    x = y = np.array([0.0, 1.0])
    for level in (0.4, 0.6):
        lines = isolines(x, y, np.array([[0.0, 1.0], [1.0, 0.0]]), level)
        assert len(lines) == 2
        assert all(len(line) == 2 for line in lines)


def test_a_level_met_exactly_at_nodes_gives_a_clean_line():
    (line,) = isolines(X, Y, plane(lambda x, y: x), 2.0)
    assert [point[0] for point in line] == pytest.approx([2.0] * len(line))
    assert len(set(line)) == len(line)


def test_a_level_met_at_a_single_corner_is_no_line():
    assert isolines(X, Y, plane(lambda x, y: x + y), 7.0) == []


def test_a_level_above_or_below_everything_has_no_line():
    values = plane(lambda x, y: x)
    assert isolines(X, Y, values, 5.0) == []
    assert isolines(X, Y, values, -1.0) == []


def test_lines_agree_with_a_reference_library():
    contourpy = pytest.importorskip("contourpy", reason="a second opinion only")
    field = daylight_field(room_of(BY_ID["D04"]))
    generator = contourpy.contour_generator(field.x_m, field.y_m, field.df_pct, quad_as_tri=False)
    for level in (4.0, 5.0, 7.5, 15.0):
        theirs = generator.lines(level)
        ours = contours(field, [level])
        assert len(ours) == len(theirs)
        length = sum(np.hypot(*np.diff(line, axis=0).T).sum() for line in theirs)
        assert sum(line.length_m for line in ours) == pytest.approx(length, rel=1e-6)


def test_contours_lie_between_brighter_and_darker_cells():
    field = daylight_field(room_of(BY_ID["D01"]))
    found = contours(field, [2.0, 5.0, 10.0])
    assert sorted({line.level_pct for line in found}) == [2.0, 5.0, 10.0]
    for line in found:
        for x, y in line.points:
            column = np.clip(np.searchsorted(field.x_m, x - 1e-9) - 1, 0, len(field.x_m) - 2)
            row = np.clip(np.searchsorted(field.y_m, y - 1e-9) - 1, 0, len(field.y_m) - 2)
            around = field.df_pct[row : row + 2, column : column + 2]
            assert around.min() <= line.level_pct * (1 + 1e-9)
            assert around.max() >= line.level_pct * (1 - 1e-9)


def test_a_label_stands_in_the_middle_and_upright():
    line = Contour(level_pct=2.0, points=((0.0, 0.0), (1.0, 0.0), (4.0, 0.0)))
    assert line.label_point == (2.0, 0.0)
    assert line.label_angle_deg == 0
    for points, angle in (
        (((4.0, 0.0), (0.0, 0.0)), 0),
        (((0.0, 0.0), (1.0, 1.0)), 45),
        (((1.0, 1.0), (0.0, 0.0)), 45),
        (((0.0, 1.0), (0.0, 0.0)), 90),
    ):
        assert Contour(level_pct=1.0, points=points).label_angle_deg == pytest.approx(angle)


def test_a_plane_one_cell_wide_has_no_lines():
    field = daylight_field(room_of(BY_ID["D01"]), inset_m=1.4)
    assert field.df_pct.shape[0] == 1
    assert contours(field, [2.0]) == []


def test_a_level_of_nothing_is_refused():
    with pytest.raises(ImpossibleInput, match="levels_pct: read 0 %; expected more than 0 %"):
        contours(daylight_field(room_of(BY_ID["D01"])), [0])


def test_the_no_sky_line_runs_at_its_depth():
    printed = BY_ID["D05"]["no_sky_line"]
    lines = no_sky_lines(room_of(BY_ID["D05"]), plane_height_m=printed["workplane_height_m"])
    longest = max(lines, key=lambda points: Contour(level_pct=0.0, points=points).length_m)
    middle = [x for x, y in longest if 1.0 < y < 1.8]
    assert middle == pytest.approx(
        [printed["depth_from_inner_wall_face_m"]] * len(middle), abs=2e-3
    )


def test_a_room_without_openings_has_no_no_sky_line():
    assert no_sky_lines(room_of(BY_ID["D05"]).with_openings(windows=[]), plane_height_m=0.85) == []
