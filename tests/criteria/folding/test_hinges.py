"""Panels that turn: by hand, and beside another library's polygons turned in small steps."""

import math

import numpy as np
import pytest
from shapely import Polygon, affinity

from criteria.folding.hinges import turns_until_deg


def box(left, right, low, high):
    return [(left, low), (right, low), (right, high), (left, high)]


WALL = box(-0.08, 0, 0.9, 3.3)
HINGE = (0, 0.9)


def test_a_wall_that_folds_down_on_a_step():
    # flat, its underside lies on the hinge's level, 0.90; the step is 0.95 high and ends at −0.8
    met = turns_until_deg(WALL, HINGE, 90, box(-1.2, -0.8, 0, 0.95))
    # its outer face, 0.08 from the hinge's plane, comes to the step's corner (−0.8, 0.05)
    far = math.hypot(0.8, 0.05)
    corner, face = math.atan2(0.05, -0.8), math.atan2(math.sqrt(far**2 - 0.08**2), -0.08)
    assert met == pytest.approx(math.degrees(corner - face))
    assert turns_until_deg(WALL, HINGE, 90, box(-3, 3, -1, 0)) is None


def test_it_turns_fully_over_what_it_only_comes_to_lie_on():
    # at 90° the outer face lies at 0.90 + 0 − 0.08: what is lower than that is cleared
    assert turns_until_deg(WALL, HINGE, 90, box(-1.2, -0.8, 0, 0.80)) is None


def test_clockwise_it_meets_what_stands_on_the_other_side():
    mirrored = [(-x, y) for x, y in WALL]
    thing = [(-x, y) for x, y in box(-1.2, -0.8, 0, 0.95)]
    assert turns_until_deg(mirrored, HINGE, -90, thing) == pytest.approx(
        turns_until_deg(WALL, HINGE, 90, box(-1.2, -0.8, 0, 0.95))
    )
    assert turns_until_deg(WALL, HINGE, -90, box(-1.2, -0.8, 0, 0.95)) is None


def test_what_it_touches_where_it_begins_is_not_met():
    assert turns_until_deg(WALL, HINGE, 45, box(0, 1, 0.9, 3.3)) is None


@pytest.mark.parametrize("seed", range(40))
def test_a_panel_turned_in_small_steps_agrees(seed):
    rng = np.random.default_rng(seed)
    panel = box(*sorted(rng.uniform(-0.3, 0.3, 2)), *sorted(rng.uniform(0.2, 2, 2)))
    x, y, w, h = *rng.uniform(-2, 1.5, 2), *rng.uniform(0.1, 0.8, 2)
    thing = box(x, x + w, y, y + h)
    first, still = Polygon(panel), Polygon(thing)
    if first.intersects(still):
        return
    turns = float(rng.choice([-1, 1]) * rng.uniform(30, 180))
    steps = np.append(np.arange(0, abs(turns), 0.1), abs(turns))
    expected = next(
        (
            step
            for step in steps
            if affinity.rotate(first, math.copysign(step, turns), origin=(0, 0)).intersects(still)
        ),
        None,
    )
    found = turns_until_deg(panel, (0, 0), turns, thing)
    if expected is None:
        assert found is None or found > abs(turns) - 0.5
    else:
        assert found == pytest.approx(expected, abs=0.11)
