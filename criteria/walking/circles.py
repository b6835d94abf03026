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
from criteria.walking.widest import comes_to

CELL_M = 0.2
"""Side of the first squares [m]."""

FINE_M = 0.0005
"""By how little a radius may be short of the largest [m]."""

UNDECIDED_M = 0.01
"""Half a diagonal below which a square isn't quartered any more whose middle nobody reaches [m]."""

LEAST_M = 0.1
"""Diameter below which a circle is none [m]: nobody turns in it."""

BATCH = 24
"""Places whose ways are asked for in one pass: then others may follow from them."""


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
        return comes_to(opened, start, middles.tolist(), way_m)

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
    best, middle, known = passes_m, None, _Known(reached, passes_m)
    while len(cells):
        inside = np.minimum(np.maximum(cells, low), high)
        clear = plan.clearance_m(inside)
        reach = half * math.sqrt(2) + np.hypot(*(inside - cells).T)
        may = clear + reach > best + FINE_M
        inside, cells, clear, reach = inside[may], cells[may], clear[may], reach[may]
        stands = clear >= passes_m
        is_reached = stands.copy()
        is_reached[stands] = known.reached(inside[stands], clear[stands])
        if is_reached.any() and (most := clear[is_reached].max()) > best:
            best, at = float(most), inside[is_reached][clear[is_reached].argmax()]
            middle = float(at[0]), float(at[1])
        is_apart = ~is_reached & ((clear - reach >= passes_m) | (reach < UNDECIDED_M))
        cells = cells[(clear + reach > best + FINE_M) & ~is_apart]
        half /= 2
        quarters = half * np.array([(-1, -1), (-1, 1), (1, -1), (1, 1)])
        cells = (cells[:, None, :] + quarters).reshape(-1, 2)
    return Circle(2 * best, middle) if middle else None


class _Known:
    """Which places a walker comes to: where there is room beside one, all there are as it is."""

    def __init__(self, reached: Callable[[Floats], NDArray[np.bool_]], passes_m: float) -> None:
        self._ask, self._passes_m = reached, passes_m
        self._middles, self._spare = np.zeros((0, 2)), np.zeros(0)
        self._labels = np.zeros(0, dtype=bool)

    def reached(self, middles: Floats, clear_m: Floats) -> NDArray[np.bool_]:
        """Tell which middles are reached, all of which the walker stands in."""
        found = np.zeros(len(middles), dtype=bool)
        left = np.arange(len(middles))[np.argsort(-clear_m, kind="stable")]
        while True:
            left = self._inherited(middles, left, found)
            if not len(left):
                return found
            asked, left = left[:BATCH], left[BATCH:]
            found[asked] = self._ask(middles[asked])
            self._middles = np.vstack([self._middles, middles[asked]])
            self._spare = np.append(self._spare, clear_m[asked] - self._passes_m)
            self._labels = np.append(self._labels, found[asked])

    def _inherited(
        self, middles: Floats, left: NDArray[np.intp], found: NDArray[np.bool_]
    ) -> NDArray[np.intp]:
        """Write down what lies in the room beside a place that is known; return what doesn't."""
        if not (len(left) and len(self._spare)):
            return left
        apart = self._middles[None, :, :] - middles[left][:, None, :]
        within = np.hypot(apart[..., 0], apart[..., 1]) <= self._spare
        knows = within.any(axis=1)
        found[left[knows]] = self._labels[within[knows].argmax(axis=1)]
        return left[~knows]
