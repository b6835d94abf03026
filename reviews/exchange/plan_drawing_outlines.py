"""Closed outlines of what is drawn on one layer: closed as such, nearly, or by lines that meet.

In the drawing's own units, whatever they are: what is near is told by the size of what is drawn.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from statistics import median

import numpy as np

Point = tuple[float, float]
Segment = tuple[Point, Point]
Line = tuple[Point, ...]

NEAR = 0.003
"""Points of an outline nearer than this part of its size are one, so that what overshoots or falls
short by some millimetres closes [1]."""
NEAR_LOOSE = 0.004
"""The same of ends of loose lines, of the length of their middle one [1]."""
MOST_CORNERS = 400
"""An outline of more corners is a picture of something, not a room."""
MOST_SPLIT = 3000
"""Of more loose lines only those that meet at their ends are joined."""
ON_OTHERS = 0.5
"""Outlines of which others fill so much are of a building, not of a room [1]."""


@dataclass(frozen=True)
class Outline:
    """Corners in order, against the clock, the first not repeated."""

    corners: Line

    @cached_property
    def area(self) -> float:
        """What lies inside, in square units of the drawing."""
        return abs(_signed(self.corners))

    @cached_property
    def box(self) -> tuple[float, float, float, float]:
        """Least and greatest x and y: x, y, x, y."""
        xs, ys = zip(*self.corners, strict=True)
        return min(xs), min(ys), max(xs), max(ys)

    @property
    def size(self) -> tuple[float, float]:
        """How far it reaches across and up."""
        left, low, right, high = self.box
        return right - left, high - low

    @property
    def sides(self) -> list[Segment]:
        """From corner to corner."""
        return list(zip(self.corners, (*self.corners[1:], self.corners[0]), strict=True))

    @property
    def is_simple(self) -> bool:
        """Whether no side crosses another."""
        sides = self.sides
        n = len(sides)
        return not any(
            _cross(sides[a], sides[b]) for a in range(n) for b in range(a + 2, n - (a == 0))
        )

    @property
    def is_rectangle(self) -> bool:
        """Whether it fills its box, within 1 %."""
        across, up = self.size
        return self.area >= 0.99 * across * up

    def holds(self, point: Point) -> bool:
        """Whether a point lies inside."""
        x, y = point
        left, low, right, high = self.box
        if not (left <= x <= right and low <= y <= high):
            return False
        is_in = False
        for (ax, ay), (bx, by) in self.sides:
            if (ay > y) != (by > y) and x < ax + (y - ay) * (bx - ax) / (by - ay):
                is_in = not is_in
        return is_in

    def distance(self, point: Point) -> tuple[float, Segment]:
        """How far a point is from the nearest side, and which that is."""
        return min((_distance(point, side), side) for side in self.sides)


def outlines_of(lines: Iterable[tuple[Line, bool]]) -> list[Outline]:
    """Return the closed outlines of lines, each with whether it says that it is closed.

    The same twice is once.
    """
    found: list[Outline] = []
    loose: list[Segment] = []
    for points, says_closed in lines:
        corners = tidied(points)
        is_closed = says_closed or _is_nearly_closed(points)
        if is_closed and 3 <= len(corners) <= MOST_CORNERS:
            found.append(Outline(corners))
        elif not is_closed:
            loose += pairwise(points)
    found += (Outline(corners) for corners in map(tidied, _faces(loose)) if len(corners) >= 3)
    return list({_told_apart(outline): outline for outline in found if outline.area}.values())


def without_wholes(outlines: Sequence[Outline]) -> tuple[list[Outline], list[Outline]]:
    """Part outlines of rooms from those that hold others of them: of storeys, of the building."""
    middles = [_inside(outline) for outline in outlines]
    rooms: list[Outline] = []
    wholes: list[Outline] = []
    for outline in outlines:
        held = sum(
            other.area
            for other, middle in zip(outlines, middles, strict=True)
            if other.area < outline.area and outline.holds(middle)
        )
        (wholes if held > ON_OTHERS * outline.area else rooms).append(outline)
    return rooms, wholes


def tidied(points: Sequence[Point]) -> Line:
    """Return corners against the clock, without those that repeat, lie between, or turn back.

    >>> tidied([(0, 0), (5, 0), (5, 4), (0, 4), (0, -0.003)])
    ((0, 0), (5, 0), (5, 4), (0, 4))
    """
    near = NEAR * _reach(points)
    corners: list[Point] = []
    for point in points:
        if not corners or math.dist(point, corners[-1]) > near:
            corners.append(point)
    while len(corners) > 1 and math.dist(corners[0], corners[-1]) <= near:
        corners.pop()
    at = 0
    while len(corners) >= 3 and at < len(corners):
        before, here, after = corners[at - 1], corners[at], corners[(at + 1) % len(corners)]
        if _is_straight(before, here, after):
            del corners[at]
            at = max(at - 1, 0)
        else:
            at += 1
    return tuple(corners if _signed(corners) >= 0 else corners[::-1])


def _is_straight(a: Point, b: Point, c: Point) -> bool:
    """Whether the way from a over b to c turns nowhere, or turns back."""
    across = (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0])
    return abs(across) <= 1e-4 * math.dist(a, b) * math.dist(b, c)


def _reach(points: Sequence[Point]) -> float:
    xs, ys = zip(*points, strict=True) if points else ((0.0,), (0.0,))
    return math.hypot(max(xs) - min(xs), max(ys) - min(ys))


def _is_nearly_closed(points: Sequence[Point]) -> bool:
    return len(points) > 3 and math.dist(points[0], points[-1]) <= NEAR * _reach(points)


def _signed(corners: Sequence[Point]) -> float:
    pairs = zip(corners, (*corners[1:], *corners[:1]), strict=True)
    return sum(ax * by - bx * ay for (ax, ay), (bx, by) in pairs) / 2


def _told_apart(outline: Outline) -> tuple[int, ...]:
    """The same of outlines that lie on each other."""
    grain = 0.01 * max(outline.size)
    return (len(outline.corners), *(round(side / grain) for side in outline.box))


def _distance(point: Point, side: Segment) -> float:
    (ax, ay), (bx, by) = side
    length = (bx - ax) ** 2 + (by - ay) ** 2
    along = ((point[0] - ax) * (bx - ax) + (point[1] - ay) * (by - ay)) / length if length else 0.0
    along = min(max(along, 0.0), 1.0)
    return math.dist(point, (ax + along * (bx - ax), ay + along * (by - ay)))


def _cross(one: Segment, other: Segment) -> bool:
    def side(a: Point, b: Point, c: Point) -> float:
        return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])

    (a, b), (c, d) = one, other
    return side(a, b, c) * side(a, b, d) < 0 and side(c, d, a) * side(c, d, b) < 0


def _inside(outline: Outline) -> Point:
    """A point inside: halfway through where a level line first comes in."""
    _, low, _, high = outline.box
    for share in (0.5, 0.37, 0.71, 0.13):
        y = low + share * (high - low)
        cuts = sorted(
            ax + (y - ay) * (bx - ax) / (by - ay)
            for (ax, ay), (bx, by) in outline.sides
            if (ay > y) != (by > y)
        )
        if len(cuts) > 1:
            return (cuts[0] + cuts[1]) / 2, y
    return outline.corners[0]


def _faces(loose: Sequence[Segment]) -> Iterator[Line]:
    """The outlines that lines make between them: each the least way round."""
    lengths = [math.dist(*segment) for segment in loose]
    if not lengths or not any(lengths):
        return
    nodes, edges = _joined(loose, NEAR_LOOSE * median(length for length in lengths if length))
    ways: dict[int, list[int]] = {}
    for a, b in edges:
        ways.setdefault(a, []).append(b)
        ways.setdefault(b, []).append(a)
    _prune(ways)
    turn = {n: _by_angle(nodes, n, others) for n, others in ways.items()}
    before = {(n, to): others[i - 1] for n, others in turn.items() for i, to in enumerate(others)}
    seen: set[tuple[int, int]] = set()
    for start in before:
        way, edge = [], start
        while edge not in seen:
            seen.add(edge)
            way.append(nodes[edge[0]])
            # at its end the way that turns most to the left
            edge = (edge[1], before[edge[1], edge[0]])
        if 3 <= len(way) <= MOST_CORNERS and _signed(way) > 0:
            yield tuple(way)


def _joined(loose: Sequence[Segment], near: float) -> tuple[list[Point], set[tuple[int, int]]]:
    """Ends that are near each other as one, and which are joined; lines end where others meet."""
    nodes: list[Point] = []
    grid: dict[tuple[int, int], list[int]] = {}

    def node(point: Point) -> int:
        x, y = math.floor(point[0] / near), math.floor(point[1] / near)
        around = (grid.get((x + i, y + j), ()) for i in (-1, 0, 1) for j in (-1, 0, 1))
        for at in (at for cell in around for at in cell):
            if math.dist(nodes[at], point) <= near:
                return at
        nodes.append(point)
        grid.setdefault((x, y), []).append(len(nodes) - 1)
        return len(nodes) - 1

    edges = {(min(a, b), max(a, b)) for a, b in ((node(p), node(q)) for p, q in loose) if a != b}
    if len(edges) > MOST_SPLIT:
        return nodes, edges
    where = np.array(nodes)
    return nodes, {pair for edge in edges for pair in _split(where, edge, near)}


def _split(where: np.ndarray, edge: tuple[int, int], near: float) -> Iterator[tuple[int, int]]:
    """An edge as its pieces, between the nodes that lie on it."""
    a, b = where[edge[0]], where[edge[1]]
    way = b - a
    length = float(np.hypot(*way))
    along = (where - a) @ way / length
    off = np.abs((where[:, 0] - a[0]) * way[1] - (where[:, 1] - a[1]) * way[0]) / length
    on = np.flatnonzero((off <= near) & (along > near) & (along < length - near))
    stops = [edge[0], *(int(n) for n in on[np.argsort(along[on])]), edge[1]]
    return ((min(p, q), max(p, q)) for p, q in pairwise(stops))


def _prune(ways: dict[int, list[int]]) -> None:
    """Take away what leads nowhere."""
    ends = [n for n, others in ways.items() if len(others) == 1]
    while ends:
        end = ends.pop()
        for other in ways.pop(end, ()):
            ways[other].remove(end)
            if len(ways[other]) == 1:
                ends.append(other)
    for lone in [n for n, others in ways.items() if not others]:
        del ways[lone]


def _by_angle(nodes: Sequence[Point], here: int, others: Sequence[int]) -> list[int]:
    x, y = nodes[here]
    return sorted(others, key=lambda n: math.atan2(nodes[n][1] - y, nodes[n][0] - x))
