"""A line along which a walker of some width comes from one place to another, past bodies.

`widest` says how wide a way is and where it is narrow, not where it runs. Here it is found: among
the lines that keep as far from bodies as they can (Voronoi's, of points along their edges), the
shortest that keeps half the width, then drawn taut as far as it still does.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import csr_array
from scipy.sparse.csgraph import dijkstra
from scipy.spatial import Voronoi

from criteria.walking.bodies import Floats, Plan, Point

KEEPS_M = 0.0005
"""By how much a line may come nearer to a body than half the width [m]: half a millimetre is no
finding."""
LEAST_APART_M = 0.05
"""Between points along edges, where nothing asks for less [m]."""
COARSE_M = 0.2
"""The same, at first: it does where no gap as wide is long [m]."""
OFF_M = 0.0003
"""By how much Voronoi's lines, of points alone, may lie off the middle of a gap [m]."""
NEAR_M = 0.1
"""Gaps that are wider by less have points where they are narrow [m]."""
NODES = 250
"""Places nearest to each end that it is joined to."""
FAR_M = 4.0
"""How far beyond all bodies a way may run [m]."""
LONG_M, MOST_PARTS = 0.3, 60
"""Lines that are longer are parted, into so many at most [m]."""
NOTHING: Floats = np.zeros((0, 2))


def ribbon(plan: Plan, start: Point, end: Point, width_m: float) -> tuple[Point, ...]:
    """Return the bends of a line that keeps half a width from all bodies, less KEEPS_M.

    Empty where the width is none, or nothing so wide comes there.
    """
    if not width_m > 2 * KEEPS_M:
        return ()
    keeps = _Keeping(plan, width_m / 2 - KEEPS_M)
    ends = np.array([start, end], dtype=float)
    if keeps.line(ends[:1], ends[1:])[0]:
        return _points(ends)
    fine_m = min(LEAST_APART_M, math.sqrt(8 * OFF_M * width_m))
    for apart_m in (max(fine_m, min(COARSE_M, width_m / 2)), fine_m):
        line = _line(plan, keeps, ends, width_m, apart_m)
        if len(line):
            return _points(_taut(keeps, _taut(keeps, line)))
    return ()


def _line(plan: Plan, keeps: _Keeping, ends: Floats, width_m: float, apart_m: float) -> Floats:
    """A line by Voronoi's of points so far apart along edges; none where they are too far."""
    sites = _sites(plan, ends, width_m, apart_m)
    nodes, first, second = _lines(sites, width_m / 2 - KEEPS_M)
    used = np.unique(np.append(first, second))
    for at in (0, 1):
        near = used[np.argsort(np.hypot(*(nodes[used] - ends[at]).T))[:NODES]]
        near = near[keeps.line(np.repeat(ends[at : at + 1], len(near), 0), nodes[near])]
        first = np.append(first, np.full(len(near), len(nodes) + at))
        second = np.append(second, near)
    return _shortest(keeps, np.vstack([nodes, ends]), first, second)


def _shortest(
    keeps: _Keeping, nodes: Floats, first: NDArray[np.intp], second: NDArray[np.intp]
) -> Floats:
    """The shortest line by joined nodes from the last but one to the last, held to all bodies.

    Joined lines know points along edges alone; one that comes too near to an edge after all is
    none.
    """
    length = np.hypot(*(nodes[first] - nodes[second]).T) + 1e-12
    start, end = len(nodes) - 2, len(nodes) - 1
    graph = csr_array((length, (first, second)), shape=(len(nodes), len(nodes)))
    distances, coming = dijkstra(graph, directed=False, indices=[start], return_predecessors=True)
    if math.isinf(distances[0, end]):
        return NOTHING
    found = [end]
    while found[-1] != start:
        found.append(int(coming[0, found[-1]]))
    line = nodes[found[::-1]]
    return line if keeps.line(line[:-1], line[1:]).all() else NOTHING


def _points(line: Floats) -> tuple[Point, ...]:
    return tuple((float(x), float(y)) for x, y in line)


def _lines(sites: Floats, keeps_m: float) -> tuple[Floats, NDArray[np.intp], NDArray[np.intp]]:
    """Voronoi's corners, and which are joined by a line that keeps a distance from its points."""
    made = Voronoi(sites)
    joined = np.array(made.ridge_vertices)
    bounded = (joined >= 0).all(axis=1)
    joined, beside = joined[bounded], sites[made.ridge_points[bounded, 0]]
    one, other = made.vertices[joined[:, 0]], made.vertices[joined[:, 1]]
    keeps = _squared(beside.T, one.T, other.T) >= keeps_m**2
    return _parted(made.vertices, joined[keeps, 0], joined[keeps, 1])


def _parted(
    nodes: Floats, first: NDArray[np.intp], second: NDArray[np.intp]
) -> tuple[Floats, NDArray[np.intp], NDArray[np.intp]]:
    """Part long lines, as before a door, so that an end beside them is near a node of theirs."""
    run = nodes[second] - nodes[first]
    counts = np.minimum(1 + np.hypot(*run.T) // LONG_M, MOST_PARTS).astype(int)
    parts = [nodes]
    links = [np.stack([first, second], axis=1)[counts == 1]]
    at = len(nodes)
    for n in np.flatnonzero(counts > 1):
        share = np.arange(1, counts[n])[:, None] / counts[n]
        parts.append(nodes[first[n]] + share * run[n])
        chain = [first[n], *range(at, at + counts[n] - 1), second[n]]
        links.append(np.array(list(pairwise(chain))))
        at += counts[n] - 1
    joined = np.vstack(links)
    return np.vstack(parts), joined[:, 0], joined[:, 1]


def _sites(plan: Plan, ends: Floats, width_m: float, apart_m: float) -> Floats:
    """Points along the edges of bodies, and where gaps about as wide are narrow."""
    parts = [_along(a, b, apart_m) for a, b in zip(plan.corners, plan.ends, strict=True)]
    radii = plan.radii[plan.owner]
    for corner, radius in zip(plan.corners[radii > 0], radii[radii > 0], strict=True):
        turns = np.arange(0, 2 * math.pi, min(0.3, math.sqrt(2 * OFF_M / radius)))
        parts.append(corner + radius * np.stack([np.cos(turns), np.sin(turns)], axis=1))
    parts += _narrow(plan, width_m)
    all_of = np.vstack([ends, *parts])
    low, high = all_of.min(axis=0) - FAR_M, all_of.max(axis=0) + FAR_M
    corners = np.array([(low[0], low[1]), (high[0], low[1]), (high[0], high[1]), (low[0], high[1])])
    return np.unique(np.round(np.vstack([*parts, corners]), 7), axis=0)


def _along(one: Floats, other: Floats, apart_m: float) -> Floats:
    count = 1 + math.ceil(math.dist(one, other) / apart_m)
    return one + np.linspace(0.0, 1.0, count)[:, None] * (other - one)


def _narrow(plan: Plan, width_m: float) -> Iterator[Floats]:
    gaps = plan.gaps
    is_near = (gaps.width_m > width_m - NEAR_M) & (gaps.width_m < width_m + NEAR_M)
    first, second = gaps.at_first[is_near], gaps.at_second[is_near]
    run = second - first
    apart = np.hypot(*run.T)[:, None]
    toward = run / np.where(apart > 0, apart, 1.0)
    yield first + toward * plan.radii[gaps.first[is_near]][:, None]
    yield second - toward * plan.radii[gaps.second[is_near]][:, None]


def _taut(keeps: _Keeping, line: Floats) -> Floats:
    """Leave out what bends a line without need: from each place go straight as far as it keeps."""
    at, kept = 0, [line[0]]
    pieces = [_along(one, other, COARSE_M)[:-1] for one, other in pairwise(line)]
    fine = np.vstack([*pieces, line[-1:]])
    while at < len(fine) - 1:
        further = fine[at + 1 :]
        clear = np.flatnonzero(keeps.line(np.repeat(fine[at : at + 1], len(further), 0), further))
        at += 1 + int(clear[-1] if len(clear) else 0)
        kept.append(fine[at])
    return np.array(kept)


class _Keeping:
    """Tells which lines keep a distance from all bodies of a plan."""

    def __init__(self, plan: Plan, keeps_m: float) -> None:
        self._starts, self._ends = plan.corners.T[:, None], plan.ends.T[:, None]
        self._keeps = keeps_m + plan.radii[plan.owner]

    def line(self, one: Floats, other: Floats) -> NDArray[np.bool_]:
        """Tell which lines from one point to another keep it."""
        a, b, c, d = one.T[:, :, None], other.T[:, :, None], self._starts, self._ends
        nearest = np.minimum(
            np.minimum(_squared(a, c, d), _squared(b, c, d)),
            np.minimum(_squared(c, a, b), _squared(d, a, b)),
        )
        crosses = (_side(a, b, c) != _side(a, b, d)) & (_side(c, d, a) != _side(c, d, b))
        keeps: NDArray[np.bool_] = ((nearest >= self._keeps**2) & ~crosses).all(axis=1)
        return keeps


def _squared(point: Floats, start: Floats, end: Floats) -> Floats:
    """Squared distance from points to lines, x and y first in each [m²]."""
    (x, y), (along, up) = point - start, end - start
    length = along**2 + up**2
    share = np.clip((x * along + y * up) / np.where(length > 0, length, 1.0), 0.0, 1.0)
    found: Floats = (x - share * along) ** 2 + (y - share * up) ** 2
    return found


def _side(start: Floats, end: Floats, point: Floats) -> NDArray[np.bool_]:
    (x, y), (along, up) = point - start, end - start
    left: NDArray[np.bool_] = along * y - up * x > 0
    return left
