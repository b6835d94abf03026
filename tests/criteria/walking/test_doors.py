"""How far doors open: by hand, and beside a leaf turned in small steps."""

import math

import numpy as np
import pytest
from shapely import LineString, Point, Polygon

from criteria.walking.bodies import disc, rectangle, wall
from criteria.walking.doors import Leaf, first_meeting

LEAF = Leaf((0, 0), 0.9, 0)


def angle(*bodies, leaf=LEAF):
    met = first_meeting(leaf, bodies)
    return met and met.angle_deg


def test_a_leafs_edge_meets_a_side_before_its_line_meets_the_corner():
    # the edge meets the lower side: atan(0.3 / √(0.81 − 0.09)); the corner lies at 30.96°
    found = first_meeting(LEAF, [rectangle((0.5, 1.0), (0.3, 0.8), mark="U4")])
    assert found.angle_deg == pytest.approx(math.degrees(math.asin(0.3 / 0.9)))
    assert found.body.mark == "U4"


def test_what_stands_out_of_reach_is_cleared():
    # nearest corner √(0.49 + 0.36) = 0.922
    assert angle(rectangle((0.7, 1.2), (0.6, 1.0))) is None
    assert angle(rectangle((-1, -0.2), (0.1, 0.5))) is None
    assert angle() is None


def test_the_line_of_a_leaf_meets_a_corner_within_its_reach():
    assert angle(rectangle((-0.5, 0.2), (0.4, 0.6))) == pytest.approx(
        math.degrees(math.atan2(2, 1))
    )


def test_a_round_thing_is_touched_by_the_line_or_by_the_edge():
    assert angle(disc(0.5, 0.5, 0.1)) == pytest.approx(45 - math.degrees(math.asin(0.1 / 0.5**0.5)))
    away = math.hypot(0.7, 0.7)
    half = math.acos((away**2 + 0.81 - 0.04) / (2 * away * 0.9))
    assert angle(disc(0.7, 0.7, 0.2)) == pytest.approx(45 - math.degrees(half))
    assert angle(disc(0.9, 0.9, 0.2)) is None
    assert angle(disc(0.1, 0.05, 0.3)) == 0


def test_what_stands_in_a_shut_leaf_is_met_at_once():
    assert angle(rectangle((0.4, 0.6), (-0.2, 0.2))) == pytest.approx(0, abs=1e-6)
    assert angle(disc(0.5, 0.05, 0.1)) == 0


def test_a_leaf_that_opens_the_other_way_meets_what_stands_there():
    leaf = Leaf((0, 0), 0.9, 180, -90)
    assert angle(rectangle((-1.0, -0.5), (0.3, 0.8)), leaf=leaf) == pytest.approx(
        math.degrees(math.asin(0.3 / 0.9))
    )
    assert angle(rectangle((0.5, 1.0), (0.3, 0.8)), leaf=leaf) is None


@pytest.mark.parametrize("seed", range(40))
def test_a_leaf_turned_in_small_steps_agrees(seed):
    rng = np.random.default_rng(seed)
    sign = rng.choice([-1, 1])
    leaf = Leaf(tuple(rng.uniform(-1, 1, 2)), 0.9, rng.uniform(0, 360), sign * 90)
    cx, cy, w, d = *(np.array(leaf.hinge) + rng.uniform(-1.2, 0.8, 2)), *rng.uniform(0.1, 0.6, 2)
    if seed % 3 == 0:
        body, shape = disc(cx, cy, w / 2), Point(cx, cy).buffer(w / 2, quad_segs=256)
    elif seed % 3 == 1:
        body = rectangle((cx, cx + w), (cy, cy + d), rng.uniform(0, 180))
        shape = Polygon(body.corners)
    else:
        body = wall((cx, cy), (cx + w, cy + d))
        shape = LineString(body.corners)
    met = None
    for opened in np.arange(0, 90.01, 0.05):
        bearing = math.radians(leaf.closed_deg + sign * opened)
        x, y = leaf.hinge
        tip = x + leaf.length_m * math.cos(bearing), y + leaf.length_m * math.sin(bearing)
        if LineString([leaf.hinge, tip]).intersects(shape):
            met = opened
            break
    found = first_meeting(leaf, [body])
    if met is None:
        assert found is None or found.angle_deg > 89.9
    else:
        assert found.angle_deg == pytest.approx(met, abs=0.2)
