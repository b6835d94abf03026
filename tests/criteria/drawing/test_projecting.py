"""Boxes seen from a corner: lengths and heights true, widths halved, at their angles."""

import math

import pytest

from criteria.drawing.marks import around
from criteria.drawing.projecting import Dimetric, extent_m
from criteria.drawing.scales import DrawnScale

SIZES = (4.0, 2.0, 1.5)
VIEW = Dimetric.of(SIZES, DrawnScale(100, "1:100"), 10.0, 20.0)


@pytest.mark.parametrize(
    ("to", "mm", "degrees"),
    [((4.0, 0, 0), 40.0, -7.0), ((0, 2.0, 0), 10.0, 42.0), ((0, 0, 1.5), 15.0, 90.0)],
)
def test_each_axis_has_its_length_and_its_angle(to, mm, degrees):
    """ISO 5456-3, dimetric, from memory: 7° and 42°, the second halved."""
    (x, y), (to_x, to_y) = VIEW.at(0, 0, 0), VIEW.at(*to)
    assert math.hypot(to_x - x, to_y - y) == pytest.approx(mm)
    assert math.degrees(math.atan2(y - to_y, to_x - x)) == pytest.approx(degrees)


def test_a_box_fills_the_paper_that_its_extent_says_from_its_left_and_top():
    points = [point for path in VIEW.solid(SIZES) for point in path.points]
    points += [point for segment in VIEW.edges(SIZES).segments for point in segment]
    wide, tall = extent_m(SIZES)
    assert around(points) == pytest.approx((10.0, 20.0, 10.0 + 10 * wide, 20.0 + 10 * tall))


def test_three_faces_are_seen_and_twelve_edges_bound_it():
    assert [len(path.points) for path in VIEW.solid(SIZES)] == [4, 4, 4]
    edges = VIEW.edges(SIZES).segments
    assert len(set(edges)) == 12
    assert {point for face in VIEW.faces((0, 0, 0), SIZES) for point in face} <= {
        point for edge in edges for point in edge
    }
