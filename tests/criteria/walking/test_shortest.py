"""How far is walked: by hand, beside another library's graph, and what must hold of any plan."""

import math

import networkx
import numpy as np
import pytest
from shapely import LineString, Point, Polygon

from criteria.errors import InputError
from criteria.walking.bodies import Plan, disc, rectangle, wall
from criteria.walking.shortest import shortest_ways
from tests.criteria.walking.rooms import before, room
from tests.criteria.walking.test_widest import DOOR, furnished

SCREEN = room((6, 2.4), (0, 0), wall((3, 0), (3, 1.4)))


def test_a_point_round_a_screen():
    (way,) = shortest_ways(SCREEN, [(1, 0.5)], (5, 0.5), keeps_m=1e-6)
    assert way.length_m == pytest.approx(2 * math.hypot(2, 0.9), abs=1e-5)
    assert [way.by[0], way.by[-1]] == [(1, 0.5), (5, 0.5)]
    assert all(math.dist(bend, (3, 1.4)) < 1e-5 for bend in way.by[1:-1])


def test_a_walker_has_a_width():
    with pytest.raises(InputError, match="half the width of a walker is 0 m"):
        shortest_ways(SCREEN, [(1, 0.5)], (5, 0.5), keeps_m=0)


def test_a_body_of_300_mm_round_a_screen_is_never_too_short_and_hardly_too_long():
    (way,) = shortest_ways(SCREEN, [(1, 0.5)], (5, 0.5), keeps_m=0.3)
    # by hand: two tangents of sqrt(2.193171² − 0.3²) and an arc of 0.3 m over 64.179°
    exact = 4.681155611686314
    assert exact <= way.length_m < 1.005 * exact


def test_what_stands_free_is_walked_straight():
    for plan in (Plan([]), Plan([disc(9, 9, 1)])):
        (way,) = shortest_ways(plan, [(0, 0)], (3, 4), keeps_m=0.3)
        assert (way.length_m, way.by) == (5, ((0, 0), (3, 4)))


def test_a_way_may_run_along_a_wall_but_not_through_it():
    plan = Plan([rectangle((1, 2), (0, 1))])
    along, through = shortest_ways(plan, [(0, 1.2), (0, 0.5)], (3, 1.2), keeps_m=0.2)
    assert along.length_m == pytest.approx(3)
    assert through.length_m > math.hypot(3, 0.7) + 0.05


@pytest.mark.parametrize(
    "start", [(1.5, 0.5), (0.9, 0.5)], ids=["in a body", "nearer to one than a walker is"]
)
def test_without_room_there_is_no_way(start):
    (way,) = shortest_ways(Plan([rectangle((1, 2), (0, 1))]), [start], (4, 4), keeps_m=0.2)
    assert (way.length_m, way.by) == (math.inf, ())


def test_a_screen_from_wall_to_wall_leaves_no_way():
    plan = room((6, 2.4), DOOR, wall((3, 0), (3, 2.4)))
    inside, beyond = shortest_ways(plan, [(2, 1), (5, 1)], before(DOOR), keeps_m=0.2)
    assert inside.length_m < 3
    assert beyond.length_m == math.inf


@pytest.mark.parametrize("seed", range(6))
def test_another_librarys_graph_of_what_sees_what_is_as_long(seed):
    rng = np.random.default_rng(seed)
    plan, keeps = furnished(rng, 3), 0.2
    end = before(DOOR)
    starts = [tuple(rng.uniform((0.3, 0.3), (5.7, 3.7))) for _ in range(3)]
    apothem = 1 / math.cos(math.pi / 8)
    eight = [
        (apothem * math.cos(a), apothem * math.sin(a))
        for a in ((k + 0.5) * math.pi / 4 for k in range(8))
    ]
    shapes = []
    for body in plan.bodies:
        r = body.radius_m + keeps
        points = [(x + r * a, y + r * b) for x, y in body.corners for a, b in eight]
        shapes.append(Polygon(LineString(points).convex_hull.exterior))
    cores = [shape.buffer(-1e-7) for shape in shapes]
    nodes = [end, *starts, *(at for shape in shapes for at in shape.exterior.coords[:-1])]
    nodes = [at for at in nodes if not any(core.contains(Point(at)) for core in cores)]
    graph = networkx.Graph()
    graph.add_nodes_from([end, *starts])
    for k, one in enumerate(nodes):
        for other in nodes[k + 1 :]:
            line = LineString([one, other])
            if not any(core.intersects(line) for core in cores):
                graph.add_edge(one, other, length=line.length)
    for start, way in zip(starts, shortest_ways(plan, starts, end, keeps_m=keeps), strict=True):
        if not networkx.has_path(graph, start, end):
            assert way.length_m == math.inf
        else:
            least = networkx.shortest_path_length(graph, start, end, weight="length")
            assert way.length_m == pytest.approx(least, abs=1e-5)


@pytest.mark.parametrize("seed", range(10))
def test_more_furniture_never_shortens_a_way_nor_a_wider_walker(seed):
    rng = np.random.default_rng(seed)
    plan, end = furnished(rng, 5), before(DOOR)
    starts = [tuple(rng.uniform((0.3, 0.3), (5.7, 3.7))) for _ in range(4)]
    fuller = Plan([*plan.bodies, *furnished(rng, 2).bodies[-2:]])
    free = shortest_ways(plan, starts, end, keeps_m=0.2)
    for other in (
        shortest_ways(fuller, starts, end, keeps_m=0.2),
        shortest_ways(plan, starts, end, keeps_m=0.25),
    ):
        for one, two in zip(free, other, strict=True):
            assert two.length_m >= one.length_m - 1e-9
