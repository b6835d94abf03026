"""Room before things: by hand, and beside another library's clipping."""

import math

import numpy as np
import pytest
from shapely import LineString, Point, Polygon

from criteria.walking.beside import sides
from criteria.walking.bodies import disc, rectangle, wall
from criteria.walking.fronts import Front, free_depth

WORKTOP = Front((0, 0.6), (2, 0.6))


def depth(*bodies, front=WORKTOP):
    return free_depth(front, bodies).depth_m


def test_the_nearest_before_the_whole_width_counts_and_is_named():
    table, cupboard = rectangle((1.5, 3), (1.5, 2), mark="U1"), rectangle((-1, -0.01), (0.9, 1))
    found = free_depth(WORKTOP, [cupboard, table])
    assert (found.depth_m, found.body) == (pytest.approx(0.9), table)
    # an island's corner before 100 mm of it
    assert depth(rectangle((1.9, 3), (1.3, 2))) == pytest.approx(0.7)


def test_a_turned_corner_counts_as_far_as_it_lies_before_it():
    square = rectangle((1.9, 2.9), (1.1, 2.1), 45)
    # its corner is (2.4 − √½, 1.6); its lower left side, at 45°, leaves the strip at x = 2
    assert depth(square) == pytest.approx(1.6 - (2 - (2.4 - math.sqrt(0.5))) - 0.6)


def test_a_round_table_and_a_wall_that_ends_before_it():
    assert depth(disc(1, 2, 0.5)) == pytest.approx(0.9)
    assert depth(disc(2.3, 2, 0.5)) == pytest.approx(1.4 - 0.4)
    assert depth(disc(2.5, 2, 0.5)) == math.inf
    assert depth(wall((1, 1.8), (1, 3))) == pytest.approx(1.2)


def test_what_stands_behind_or_only_touches_does_not_count():
    for body in (
        rectangle((0, 2), (0, 0.6)),
        rectangle((2, 3), (0.6, 2)),
        disc(1, 0, 0.6),
        wall((0, 0.6), (0, 3)),
        wall((-1, 0.6), (3, 0.6)),
    ):
        assert free_depth(WORKTOP, [body]) == free_depth(WORKTOP, [])
    assert depth() == math.inf


def test_what_reaches_over_the_front_leaves_nothing():
    assert depth(rectangle((1, 1.5), (0.4, 2))) == 0
    assert depth(disc(1, 0.7, 0.3)) == 0


@pytest.mark.parametrize("seed", range(60))
def test_another_librarys_clipping_agrees(seed):
    rng = np.random.default_rng(seed)
    angle, x, y, width = *rng.uniform(0, 6.2, 1), *rng.uniform(-2, 2, 2), rng.uniform(0.3, 2.5)
    along = np.array([math.cos(angle), math.sin(angle)])
    out = np.array([-along[1], along[0]])
    start = np.array([x, y])
    end = start + width * along
    strip = Polygon([start, end, end + 50 * out, start + 50 * out])
    line = LineString([start - 99 * along, end + 99 * along])
    for _ in range(20):
        cx, cy, w, d = *(start + rng.uniform(-3, 3, 2)), *rng.uniform(0.1, 1.5, 2)
        if rng.random() < 0.3:
            body = disc(cx, cy, w / 2)
            shape = Point(cx, cy).buffer(w / 2, quad_segs=512)
        else:
            body = rectangle((cx, cx + w), (cy, cy + d), rng.uniform(0, 180))
            shape = Polygon(body.corners)
        part = shape.intersection(strip)
        expected = math.inf if part.area < 1e-12 else line.distance(part)
        found = free_depth(Front(tuple(start), tuple(end)), [body]).depth_m
        assert found == pytest.approx(expected, abs=1e-4)


def test_what_is_used_from_no_side_has_none():
    assert sides(rectangle((0, 2), (0, 1)), "none") == ()
