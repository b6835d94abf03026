"""The largest circle that is clear, and the largest that is reached by a way of some width.

Clearance never changes faster than one walks, so a square's best is at most that of its middle and
half its diagonal: squares that can't hold a better circle are left, the others quartered.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from criteria.walking.bodies import Floats, Plan, Point
from criteria.walking.widest import widest_ways

CELL_M = 0.2
"""Side of the first squares [m]."""

FINE_M = 0.0005
"""By how little a radius may be short of the largest [m]."""

UNDECIDED_M = 0.01
"""Half a diagonal below which a square isn't quartered any more whose middle nobody reaches [m]."""

LEAST_M = 0.1
"""Diameter below which a circle is none [m]: nobody turns in it."""

AT_ONCE = 400
"""Places whose ways are asked for in one pass."""


@dataclass(frozen=True)
class Circle:
    """A clear circle: its diameter and its middle [m]."""

    diameter_m: float
    middle: Point


def largest_circle(plan: Plan, low: Point, high: Point) -> Circle | None:
    """Return the largest clear circle with its middle between two corners; None below LEAST_M.

    Its radius is short of the largest by FINE_M at most.
    """
    return _largest(plan, low, high, lambda middles: np.ones(len(middles), dtype=bool), LEAST_M / 2)


def largest_circle_reached(
    shut: Plan, opened: Plan, start: Point, way_m: float, low: Point, high: Point
) -> Circle | None:
    """Return the largest clear circle that a walker of some width comes to from a start.

    shut, opened   the plan with its doors shut, for the circle, and open, for the way
    way_m          the width that the walker needs [m]

    None where none wider than the way is reached; one that is wider by less than 4 × UNDECIDED_M
    may be missed.
    """

    def reached(middles: Floats) -> NDArray[np.bool_]:
        parts = np.array_split(middles, max(1, -(-len(middles) // AT_ONCE)))
        ways = [way for part in parts for way in widest_ways(opened, start, part.tolist())]
        return np.array([way.width_m is not None and way.width_m >= way_m for way in ways], bool)

    return _largest(shut, low, high, reached, way_m / 2)


def _largest(
    plan: Plan,
    low: Point,
    high: Point,
    reached: Callable[[Floats], NDArray[np.bool_]],
    passes_m: float,
) -> Circle | None:
    """Quarter squares until none may hold a circle that is larger by more than FINE_M.

    passes_m   clearance that a walker needs: where all of a square has it, it is one place
    """
    half = CELL_M / 2
    across, up = (np.arange(a + half, b + half, CELL_M) for a, b in zip(low, high, strict=True))
    cells: Floats = np.stack(np.meshgrid(across, up), axis=-1).reshape(-1, 2)
    best, middle = passes_m, None
    while len(cells):
        inside = np.minimum(np.maximum(cells, low), high)
        clear, _ = plan.clearance_m(inside)
        reach = half * math.sqrt(2) + np.hypot(*(inside - cells).T)
        may = clear + reach > best + FINE_M
        inside, cells, clear, reach = inside[may], cells[may], clear[may], reach[may]
        is_reached = np.zeros(len(cells), dtype=bool)
        free = clear > 0
        is_reached[free] = reached(inside[free])
        if is_reached.any() and (most := clear[is_reached].max()) > best:
            best, at = float(most), inside[is_reached][clear[is_reached].argmax()]
            middle = float(at[0]), float(at[1])
        is_apart = ~is_reached & free & ((clear - reach >= passes_m) | (reach < UNDECIDED_M))
        cells = cells[(clear + reach > best + FINE_M) & ~is_apart]
        half /= 2
        quarters = half * np.array([(-1, -1), (-1, 1), (1, -1), (1, 1)])
        cells = (cells[:, None, :] + quarters).reshape(-1, 2)
    return Circle(2 * best, middle) if middle else None
