"""The line of a way: it keeps the width that `widest` says, from start to end, past everything."""

import numpy as np
import pytest
from shapely import LineString, Point, Polygon

from criteria.walking.bodies import Plan, disc, rectangle
from criteria.walking.ribbon import KEEPS_M, ribbon
from criteria.walking.widest import widest_ways
from tests.criteria.walking.rooms import before, room
from tests.criteria.walking.test_widest import DOOR, furnished


def kept_m(plan, line):
    """How near a line comes to any body: shapely's distances, a second opinion [m]."""
    path = LineString(line)

    def shape(body):
        kinds = {1: lambda corners: Point(*corners), 2: LineString}
        return kinds.get(len(body.corners), Polygon)(body.corners)

    return min(shape(body).distance(path) - body.radius_m for body in plan.bodies)


def test_it_keeps_the_width_of_the_widest_way():
    found = 0
    for seed in range(8):
        rng = np.random.default_rng(seed)
        plan, start = furnished(rng, 9 + seed % 4), before(DOOR)
        targets = [(float(x), float(y)) for x, y in rng.uniform((0.3, 0.3), (5.7, 3.7), (3, 2))]
        for target, way in zip(targets, widest_ways(plan, start, targets), strict=True):
            width = min(way.width_m or 0.0, way.room_m)
            if width < 0.1:
                continue
            line = ribbon(plan, start, target, width)
            assert (line[0], line[-1]) == (start, target)
            assert kept_m(plan, line) >= width / 2 - KEEPS_M - 1e-9
            found += 1
    assert found > 10


def test_it_runs_through_the_narrowest_place():
    """Between a locker and the wall stay 620 mm: in the middle of them."""
    plan = room((6, 2.4), (1.0, 1.9), rectangle((2.5, 3.5), (0, 1.78)))
    line = ribbon(plan, (1.45, -1), (5, 1.2), 0.62)
    through = LineString(line).intersection(LineString([(3, 1.78), (3, 2.4)]))
    assert through.y == pytest.approx(2.09, abs=0.001)


def test_it_goes_straight_where_nothing_is_in_the_way():
    plan = room((6, 2.4), (1.0, 1.9))
    assert ribbon(plan, (1.45, -1), (1.45, 2), 0.8) == ((1.45, -1), (1.45, 2))


def test_it_bends_round_a_round_table():
    plan = room((6, 2.4), (0.2, 1.4), disc(3, 1.2, 0.5))
    line = ribbon(plan, (0.8, -1), (5, 1.2), 0.7)
    assert len(line) > 3
    assert kept_m(plan, line) >= 0.35 - KEEPS_M - 1e-9


def test_nothing_so_wide_comes_there():
    plan = room((6, 2.4), (1.0, 1.9), rectangle((2.5, 3.5), (0, 1.78)))
    assert ribbon(plan, (1.45, -1), (5, 1.2), 0.64) == ()
    assert ribbon(plan, (1.45, -1), (5, 1.2), 0.0) == ()
    assert ribbon(Plan([]), (0, 0), (1, 0), 2.0) == ((0.0, 0.0), (1.0, 0.0))
