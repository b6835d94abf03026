"""Widths of ways: by hand, beside a grid of pixels, and what must hold of any plan."""

import math

import numpy as np
import pytest
from scipy import ndimage
from shapely import LineString, Point, Polygon, box, unary_union

from criteria.walking.bodies import Body, Plan, disc, rectangle
from criteria.walking.widest import comes_to, widest_ways
from tests.criteria.walking.rooms import before, room, thing

ROOM = (6.0, 2.4)
DOOR = (1.0, 1.9)
WIDE_DOOR = (0.2, 1.4)

BY_HAND = {
    "only the door is narrow": (
        DOOR, [("rect", 4, 6, 0, 1), ("rect", 2, 3, 1.5, 2.4)], {(5.6, 1.7): 0.9},
    ),
    "a bed made beside the table": (
        DOOR,
        [("rect", 4, 6, 0, 1), ("rect", 4, 5, 1.6, 2.4)],
        {(5.6, 1.7): 1.6 - 1.0, (3.5, 1.2): 0.9},
    ),
    "across a corner": (
        DOOR,
        [("rect", 1.95, 2.95, 0, 1), ("rect", 3.25, 4.25, 1.4, 2.4)],
        {(5, 1.2): math.hypot(0.3, 0.4)},
    ),
    "a square turned by 45 degrees": (
        WIDE_DOOR, [("rect", 2.5, 3.5, 0.7, 1.7, 45)], {(5, 1.2): 1.2 - math.sqrt(0.5)},
    ),
    "a round table": (WIDE_DOOR, [("disc", 3, 1.2, 0.5)], {(5, 1.2): 1.2 - 0.5}),
    "the wider of two ways": (DOOR, [("rect", 2.5, 3.5, 0.4, 1.6)], {(5, 1.2): 0.8}),
    "two islands": (
        DOOR,
        [("rect", 2.2, 3, 0.5, 1.5), ("rect", 4, 4.8, 0.8, 1.8)],
        {(5.4, 1.2): 0.8, (3.5, 1.2): 0.9},
    ),
    "a screen from wall to wall": (
        DOOR, [("rect", 3, 3.1, 0, 2.4)], {(5, 1.2): 0.0, (2, 1): 0.9},
    ),
    "into a pocket and past it": (
        DOOR,
        [("rect", 3, 5, 0.3, 0.4), ("rect", 3, 5, 1.5, 1.6), ("rect", 4.9, 5, 0.4, 1.5)],
        {(4.5, 1.0): 0.9, (5.5, 1.0): 2.4 - 1.6},
    ),
}  # fmt: skip


@pytest.mark.parametrize(("door", "things", "expected"), BY_HAND.values(), ids=BY_HAND)
def test_widths_by_hand(door, things, expected):
    plan = room(ROOM, door, *(thing(*each) for each in things))
    ways = widest_ways(plan, before(door), list(expected))
    assert [way.width_m for way in ways] == pytest.approx(list(expected.values()), abs=1e-9)


def test_start_target_and_corners_on_common_lines():
    plan = room((6, 3), (1, 2), thing("rect", 0.75, 1.25, 1.5, 2.5))
    (way,) = widest_ways(plan, before((1, 2)), [(0.5, 1.0)])
    assert way.width_m == pytest.approx(1.0, abs=1e-9)


def test_the_narrow_place_is_named_with_both_its_sides():
    table, bed = rectangle((4, 6), (0, 1), mark="U3"), rectangle((4, 5), (1.6, 2.4), mark="U5")
    (way,) = widest_ways(room(ROOM, DOOR, table, bed), before(DOOR), [(5.6, 1.7)])
    assert {way.narrowest.first.mark, way.narrowest.second.mark} == {"U3", "U5"}
    (x, y), (beside, above) = sorted(way.narrowest.at, key=lambda at: at[1])
    assert (y, above) == pytest.approx((1.0, 1.6))
    assert x == pytest.approx(beside)
    assert 4 <= x <= 5


def test_the_narrow_place_beside_a_round_table_lies_on_its_rim():
    (way,) = widest_ways(
        room(ROOM, WIDE_DOOR, disc(3, 1.2, 0.5, "U1")), before(WIDE_DOOR), [(5, 1.2)]
    )
    assert math.dist(*way.narrowest.at) == pytest.approx(way.width_m)
    assert min(math.dist(at, (3, 1.2)) for at in way.narrowest.at) == pytest.approx(0.5)


def test_a_target_in_a_body_has_no_width():
    for body in (rectangle((2, 3), (1, 2)), disc(2.5, 1.5, 0.5)):
        way, free = widest_ways(room(ROOM, DOOR, body), before(DOOR), [(2.5, 1.5), (5, 1)])
        assert (way.width_m, way.narrowest, way.room_m) == (None, None, 0)
        assert free.width_m == pytest.approx(0.9)


def test_a_start_in_a_body_reaches_nothing():
    plan = room(ROOM, DOOR, rectangle((1, 2), (-1.5, -0.5)))
    (way,) = widest_ways(plan, before(DOOR), [(5, 1)])
    assert (way.width_m, way.narrowest) == (None, None)


def test_nothing_narrows_a_way_in_the_open():
    for plan in (Plan([]), Plan([rectangle((1, 2), (1, 2))])):
        (way,) = widest_ways(plan, (0, 0), [(5, 5)])
        assert (way.width_m, way.narrowest) == (math.inf, None)


def test_room_to_stand_is_twice_the_clearance():
    (way,) = widest_ways(room(ROOM, DOOR), before(DOOR), [(5.0, 1.2)])
    assert way.room_m == pytest.approx(2.0, abs=1e-6)


def furnished(rng, count):
    """A room of 6 × 4 m with things anywhere, turned anyhow, crossing each other too."""
    things = []
    for _ in range(count):
        x, y = rng.uniform(0.2, 5.8), rng.uniform(0.2, 3.8)
        if rng.random() < 0.25:
            things.append(disc(x, y, rng.uniform(0.1, 0.6)))
            continue
        wide, deep = rng.uniform(0.2, 1.6, 2)
        turn = rng.choice([0, 90, rng.uniform(0, 180)])
        things.append(rectangle((x - wide / 2, x + wide / 2), (y - deep / 2, y + deep / 2), turn))
    return room((6, 4), DOOR, *things)


STEP_M = 0.02


def by_pixels(plan, start, target):
    """The widest disc whose middle goes from pixel to pixel, start and target included."""
    xs, ys = np.arange(-0.3, 6.3, STEP_M), np.arange(-1.3, 4.3, STEP_M)
    grid = np.stack(np.meshgrid(xs, ys), axis=-1).reshape(-1, 2)
    clear = np.concatenate([plan.clearance_m(part) for part in np.array_split(grid, 30)])
    clear = clear.reshape(len(ys), len(xs))
    ends = [(round((y - ys[0]) / STEP_M), round((x - xs[0]) / STEP_M)) for x, y in (start, target)]
    low, high = 0.0, min(clear[end] for end in ends)
    while high - low > 1e-4:
        middle = (low + high) / 2
        labels, _ = ndimage.label(clear > middle, np.ones((3, 3)))
        one, other = (labels[end] for end in ends)
        low, high = (middle, high) if one and one == other else (low, middle)
    return 2 * low


@pytest.mark.parametrize("seed", range(8))
def test_a_grid_of_pixels_agrees_within_its_own_error(seed):
    rng = np.random.default_rng(seed)
    plan, start = furnished(rng, 4 + seed), before(DOOR)
    target = tuple(rng.uniform((0.3, 0.3), (5.7, 3.7)))
    (way,) = widest_ways(plan, start, [target])
    if way.width_m is None:
        assert plan.clearance_m(np.array([target])) < 1e-6
        return
    room_before = 2 * plan.clearance_m(np.array([start]))[0]
    expected = min(way.width_m, way.room_m, room_before)
    assert by_pixels(plan, start, target) == pytest.approx(expected, abs=STEP_M * math.sqrt(2))


def grown(plan, by_m):
    """All bodies grown, by a library of plane geometry, arcs in 4 × 64 sides."""
    shapes = [
        (Point if len(body.corners) == 1 else LineString if len(body.corners) == 2 else Polygon)(
            body.corners if len(body.corners) > 1 else body.corners[0]
        ).buffer(body.radius_m + by_m, quad_segs=64)
        for body in plan.bodies
    ]
    return unary_union(shapes)


def are_joined(plan, wide_m, start, target):
    """Whether a disc passes: start and target lie in one part of what the grown bodies leave."""
    left = box(-9, -9, 15, 13).difference(grown(plan, wide_m / 2))
    parts = getattr(left, "geoms", [left])
    return any(part.covers(Point(start)) and part.covers(Point(target)) for part in parts)


@pytest.mark.parametrize("seed", range(40))
def test_another_librarys_polygons_agree(seed):
    rng = np.random.default_rng(seed)
    plan, start = furnished(rng, 3 + seed % 8), before(DOOR)
    targets = [tuple(rng.uniform((0.1, 0.1), (5.9, 3.9))) for _ in range(6)]
    for target, way in zip(targets, widest_ways(plan, start, targets), strict=True):
        if way.width_m is None:
            assert grown(plan, 1e-6).covers(Point(target))
            continue
        most = min(way.width_m, way.room_m)
        assert most < 1e-3 or are_joined(plan, most - 1e-3, start, target)
        assert not are_joined(plan, most + 1e-3, start, target)


@pytest.mark.parametrize("seed", range(6))
def test_a_full_plan_is_walked_as_its_polygons_say_and_comes_to_what_is_wide_enough(seed):
    rng = np.random.default_rng(seed)
    plan, start = furnished(rng, 30), before(DOOR)
    targets = [
        at
        for at in map(tuple, rng.uniform((0.1, 0.1), (5.9, 3.9), (60, 2)))
        if plan.clearance_m(np.array([at]))[0] > 0.01
    ][:8]
    found = widest_ways(plan, start, targets)
    for target, way in zip(targets, found, strict=True):
        most = min(way.width_m, way.room_m)
        assert most < 1e-3 or are_joined(plan, most - 1e-3, start, target)
        assert not are_joined(plan, most + 1e-3, start, target)
    for wide_m in (0.05, 0.2, 0.5):
        reached = comes_to(plan, start, targets, wide_m)
        assert reached.tolist() == [way.width_m >= wide_m for way in found]


def test_nobody_comes_from_a_start_in_a_body():
    plan = room(ROOM, DOOR, rectangle((1, 2), (-2, 0)))
    assert not comes_to(plan, before(DOOR), [(5, 1)], 0.1).any()


@pytest.mark.parametrize("seed", range(30))
def test_more_furniture_never_widens_a_way(seed):
    rng = np.random.default_rng(seed)
    plan, start = furnished(rng, 6), before(DOOR)
    targets = [tuple(rng.uniform((0.1, 0.1), (5.9, 3.9))) for _ in range(8)]
    fuller = Plan([*plan.bodies, *furnished(rng, 2).bodies[-2:]])
    for less, more in zip(
        widest_ways(plan, start, targets), widest_ways(fuller, start, targets), strict=True
    ):
        assert more.width_m is None or (less.width_m or 0) >= more.width_m - 1e-6


@pytest.mark.parametrize("seed", range(30))
def test_turning_and_moving_a_plan_changes_nothing(seed):
    rng = np.random.default_rng(seed)
    plan, start = furnished(rng, 7), before(DOOR)
    targets = [tuple(rng.uniform((0.1, 0.1), (5.9, 3.9))) for _ in range(8)]
    angle, (east, north) = rng.uniform(0, 2 * math.pi), rng.uniform(-40, 40, 2)

    def moved(at):
        x, y = at
        cos, sin = math.cos(angle), math.sin(angle)
        return x * cos - y * sin + east, x * sin + y * cos + north

    there = Plan([Body(tuple(map(moved, b.corners)), b.radius_m) for b in plan.bodies])
    here = widest_ways(plan, start, targets)
    for one, other in zip(
        here, widest_ways(there, moved(start), list(map(moved, targets))), strict=True
    ):
        if min(one.room_m, other.room_m) > 1e-5:
            assert other.width_m == pytest.approx(one.width_m, abs=1e-6)
