"""Turning circles: by hand, beside a fine grid, and what must hold of any plan."""

import math

import numpy as np
import pytest

from criteria.walking.bodies import Plan, rectangle, wall
from criteria.walking.circles import FINE_M, largest_circle, largest_circle_reached
from tests.criteria.walking.rooms import before, room
from tests.criteria.walking.test_widest import DOOR, furnished

FINE = 2 * FINE_M


def shut(plan, door):
    return Plan([*plan.bodies, wall((door[0], 0), (door[1], 0))])


def test_between_a_cupboard_and_a_wall():
    plan = room((3, 2), (0, 0), rectangle((0, 3), (1.4, 2)))
    assert largest_circle(plan, (0, 0), (3, 2)).diameter_m == pytest.approx(1.4, abs=FINE)


def test_it_touches_two_walls_and_a_boxs_corner():
    plan = room((2, 2), (0, 0), rectangle((1.5, 2), (1.5, 2)))
    found = largest_circle(plan, (0, 0), (2, 2))
    # by hand: √2 · (1.5 − r) = r
    radius = 1.5 * math.sqrt(2) / (1 + math.sqrt(2))
    assert found.diameter_m == pytest.approx(2 * radius, abs=FINE)
    assert found.middle == pytest.approx((radius, radius), abs=0.02)


@pytest.mark.parametrize(("way", "diameter"), [(0.7, 2.4), (0.76, 2.0)])
def test_behind_a_narrow_place_only_who_passes_it_has_the_larger(way, diameter):
    # 0.75 m stays beside the screen
    door = (0.3, 1.3)
    plan = room((6, 2.4), door, rectangle((2, 2.1), (0, 1.65)))
    found = largest_circle_reached(shut(plan, door), plan, before(door), way, (0, 0), (6, 2.4))
    assert found.diameter_m == pytest.approx(diameter, abs=FINE)


def test_nobody_reaches_what_is_walled_off():
    plan = room((3, 2), (1, 1.9))
    closed = shut(plan, (1, 1.9))
    assert largest_circle_reached(closed, closed, before(DOOR), 0.6, (0, 0), (3, 2)) is None
    assert largest_circle(Plan([rectangle((-1, 4), (-1, 3))]), (0, 0), (3, 2)) is None


@pytest.mark.parametrize("seed", range(6))
def test_a_fine_grid_finds_none_larger_and_none_much_smaller(seed):
    rng = np.random.default_rng(seed)
    opened = furnished(rng, 7)
    plan, start = shut(opened, DOOR), before(DOOR)
    step = 0.02
    grid = np.stack(np.meshgrid(np.arange(0, 6, step), np.arange(0, 4, step)), axis=-1).reshape(
        -1, 2
    )
    clear = np.concatenate([plan.clearance_m(part) for part in np.array_split(grid, 30)])
    found = largest_circle(plan, (0, 0), (6, 4))
    assert 2 * clear.max() - FINE <= found.diameter_m <= 2 * clear.max() + math.sqrt(2) * step
    for way in (0.4, 0.8):
        reached = largest_circle_reached(plan, opened, start, way, (0, 0), (6, 4))
        assert reached is None or reached.diameter_m <= found.diameter_m + FINE
    wide, narrow = (
        largest_circle_reached(plan, opened, start, way, (0, 0), (6, 4)) for way in (0.4, 0.8)
    )
    if narrow:
        assert wide.diameter_m >= narrow.diameter_m - FINE
