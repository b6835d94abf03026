"""Isolines over the plan, as polylines in plan coordinates: geometry only, nothing drawn."""

import math
from collections.abc import Iterable
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from criteria.daylight.depth import sky_margin_plane
from criteria.daylight.field import Field
from criteria.daylight.moments import Floats
from criteria.daylight.refusals import require_within
from criteria.daylight.room import Room

Point = tuple[float, float]
Edge = tuple[int, int, int]
"""A grid edge: row and column of its first node, and 0 along x or 1 along y."""

# The four edges of a cell, counted round it from the bottom, as steps from its first node.
_EDGES = ((0, 0, 0), (0, 1, 1), (1, 0, 0), (0, 0, 1))

# Which edges a line joins, by which corners are at or over the level (1, 2, 4, 8 counted round
# the cell from its first node). Cases 5 and 10 are saddles: both ways are given, the second
# for a middle that is at or over the level too.
_JOINS: dict[int, tuple[tuple[int, int], ...]] = {
    1: ((3, 0),), 2: ((0, 1),), 3: ((3, 1),), 4: ((1, 2),), 6: ((0, 2),), 7: ((3, 2),),
    8: ((2, 3),), 9: ((2, 0),), 11: ((2, 1),), 12: ((1, 3),), 13: ((1, 0),), 14: ((0, 3),),
}  # fmt: skip
_SADDLES: dict[tuple[int, bool], tuple[tuple[int, int], ...]] = {
    (5, False): ((3, 0), (1, 2)),
    (5, True): ((3, 2), (0, 1)),
    (10, False): ((0, 1), (2, 3)),
    (10, True): ((3, 0), (1, 2)),
}


@dataclass(frozen=True, kw_only=True)
class Contour:
    """One line of equal daylight factor.

    level_pct   [%]
    points      (x, y) along the line in plan coordinates [m]; a closed line ends where it began
    """

    level_pct: float
    points: tuple[Point, ...]

    @property
    def is_closed(self) -> bool:
        """Whether the line returns to where it began."""
        return len(self.points) > 2 and self.points[0] == self.points[-1]

    @property
    def length_m(self) -> float:
        """Length along the line [m]."""
        return math.fsum(self._lengths())

    @property
    def label_point(self) -> Point:
        """Where to write the level: the middle of the line by length, (x, y) [m]."""
        start, end, share = self._middle()
        return (start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1]))

    @property
    def label_angle_deg(self) -> float:
        """Direction of the line there from +x towards +y, over −90 to 90: words stand up [deg]."""
        start, end, _ = self._middle()
        angle = math.degrees(math.atan2(end[1] - start[1], end[0] - start[0]))
        return angle - 180 if angle > 90 else angle + 180 if angle <= -90 else angle

    def _lengths(self) -> list[float]:
        return [math.dist(a, b) for a, b in pairwise(self.points)]

    def _middle(self) -> tuple[Point, Point, float]:
        lengths = np.array(self._lengths())
        reached = np.cumsum(lengths)
        index = int(np.searchsorted(reached, reached[-1] / 2))
        share = 1 - (reached[index] - reached[-1] / 2) / lengths[index]
        return self.points[index], self.points[index + 1], float(share)


def isolines(x: Floats, y: Floats, values: Floats, level: float) -> list[tuple[Point, ...]]:
    """Lines along which a gridded quantity has a value, by marching squares.

    x (nx,), y (ny,)    rising coordinates of the nodes
    values              (ny, nx)

    Linear between nodes; a line ends at the grid's edge or closes on itself.
    """
    over = values >= level
    case = over[:-1, :-1] * 1 + over[:-1, 1:] * 2 + over[1:, 1:] * 4 + over[1:, :-1] * 8
    joined: dict[Edge, list[Edge]] = {}
    for row, column in zip(*np.nonzero((case > 0) & (case < 15)), strict=True):
        kind = int(case[row, column])
        if kind in (5, 10):
            middle = values[row : row + 2, column : column + 2].mean()
            joins = _SADDLES[kind, bool(middle >= level)]
        else:
            joins = _JOINS[kind]
        for pair in joins:
            one, two = (
                (int(row) + down, int(column) + right, way)
                for down, right, way in (_EDGES[index] for index in pair)
            )
            joined.setdefault(one, []).append(two)
            joined.setdefault(two, []).append(one)

    def place(edge: Edge) -> Point:
        row, column, way = edge
        low = values[row, column]
        if way == 0:
            share = (level - low) / (values[row, column + 1] - low)
            return (float(x[column] + share * (x[column + 1] - x[column])), float(y[row]))
        share = (level - low) / (values[row + 1, column] - low)
        return (float(x[column]), float(y[row] + share * (y[row + 1] - y[row])))

    # open lines first, each from an end at the grid's edge; what is left are rings
    starts = [edge for edge, others in joined.items() if len(others) == 1] + list(joined)
    lines = []
    for start in starts:
        if not joined.get(start):
            continue
        chain = [start]
        while joined[chain[-1]]:
            following = joined[chain[-1]].pop()
            joined[following].remove(chain[-1])
            chain.append(following)
        points = [place(edge) for edge in chain]
        # a level met exactly at a node gives the same point from several edges
        kept = [points[0], *(b for a, b in pairwise(points) if a != b)]
        if len(kept) > 1:
            lines.append(tuple(kept))
    return lines


def contours(field: Field, levels_pct: Iterable[float]) -> list[Contour]:
    """Return the lines of equal daylight factor of a field, level by level as given.

    The lines end where the field's cells have their outermost middles: half a cell within its
    inset. For lines from wall to wall compute the field with ``inset_m=0``.
    """
    found: list[Contour] = []
    for level in levels_pct:
        require_within("levels_pct", level, "%", above=0)
        if min(field.df_pct.shape) < 2:
            continue  # one row of points has no area to draw a line over
        found.extend(
            Contour(level_pct=level, points=points)
            for points in isolines(field.x_m, field.y_m, field.df_pct, level)
        )
    return found


def no_sky_lines(room: Room, *, plane_height_m: float) -> list[tuple[Point, ...]]:
    """Return the lines on the plan beyond which a point of the plane sees no sky, (x, y) [m]."""
    x, y, margin = sky_margin_plane(room, plane_height_m)
    if not room.openings:
        return []
    return isolines(x, y, margin, 0.0)
