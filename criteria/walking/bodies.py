"""What stops a walker on a plan: convex bodies, and the gaps between all of them at once.

A body is a convex polygon grown by a radius: a cupboard is four corners and no radius, a round
table one corner and its radius, a wall two corners. Plan frame: x to the right, y up, metres.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Point = tuple[float, float]

IN_LINE_M = 1e-9
"""How near to a line a corner counts as in it: floating point alone [m]."""


@dataclass(frozen=True)
class Body:
    """Something that nobody walks through.

    corners     of its convex core, anticlockwise [m]; one of a disc, two of a wall
    radius_m    by which the core is grown
    mark        what it is called in a schedule
    """

    corners: tuple[Point, ...]
    radius_m: float = 0.0
    mark: str = ""

    @cached_property
    def middle(self) -> Point:
        """A point inside it: the mean of its corners [m]."""
        xs, ys = zip(*self.corners, strict=True)
        return sum(xs) / len(xs), sum(ys) / len(ys)


def rectangle(
    x: tuple[float, float], y: tuple[float, float], turn_deg: float = 0.0, mark: str = ""
) -> Body:
    """Return a rectangle between two x and two y [m], turned anticlockwise about its middle.

    >>> rectangle((0, 2), (0, 1)).corners
    ((0.0, 0.0), (2.0, 0.0), (2.0, 1.0), (0.0, 1.0))
    """
    (left, right), (low, high) = sorted(x), sorted(y)
    across, along = (left + right) / 2, (low + high) / 2
    cos, sin = math.cos(math.radians(turn_deg)), math.sin(math.radians(turn_deg))
    corners = ((left, low), (right, low), (right, high), (left, high))
    if turn_deg == 0:
        return Body(tuple((float(a), float(b)) for a, b in corners), mark=mark)
    turned = tuple(
        (
            across + (a - across) * cos - (b - along) * sin,
            along + (a - across) * sin + (b - along) * cos,
        )
        for a, b in corners
    )
    return Body(turned, mark=mark)


def hull(points: Sequence[Point]) -> list[Point]:
    """Return the corners of the convex hull, anticlockwise (Andrew's monotone chain, from memory).

    >>> hull([(0, 0), (1, 0), (2, 0), (2, 2), (1, 1), (0, 2)])
    [(0, 0), (2, 0), (2, 2), (0, 2)]
    """
    order = sorted(set(points))

    def chain(among: Sequence[Point]) -> list[Point]:
        kept: list[Point] = []
        for x, y in among:
            while len(kept) > 1:
                (ax, ay), (bx, by) = kept[-2:]
                run, turn = (
                    math.dist(kept[-2], kept[-1]),
                    (bx - ax) * (y - ay) - (by - ay) * (x - ax),
                )
                if turn > IN_LINE_M * run:
                    break
                kept.pop()
            kept.append((x, y))
        return kept[:-1]

    return chain(order) + chain(order[::-1])


def disc(x: float, y: float, radius_m: float, mark: str = "") -> Body:
    """Return a disc about a middle."""
    return Body(((float(x), float(y)),), radius_m, mark)


def wall(start: Point, end: Point, mark: str = "") -> Body:
    """Return a wall without thickness from one point to another."""
    return Body((start, end), mark=mark)


@dataclass(frozen=True)
class Gaps:
    """The gaps between all pairs of n bodies, each pair once, the narrowest first.

    first, second   indices of the two bodies, each of length n(n − 1)/2
    width_m         between them; 0 where they touch or cross
    at_first        the nearest point of the first body's core, pairs × 2 [m]
    at_second       that of the second's
    """

    first: NDArray[np.intp]
    second: NDArray[np.intp]
    width_m: Floats
    at_first: Floats
    at_second: Floats


class Plan:
    """Bodies laid out as one table of corners and one of edges, so that all is asked at once."""

    def __init__(self, bodies: Sequence[Body]) -> None:
        self.bodies = tuple(bodies)
        counts = [len(body.corners) for body in self.bodies]
        self.corners: Floats = np.array(
            [corner for body in self.bodies for corner in body.corners], dtype=float
        ).reshape(-1, 2)
        self.owner = np.repeat(np.arange(len(counts)), counts)
        self.begins = np.cumsum([0, *counts[:-1]]) if counts else np.zeros(0, dtype=int)
        following = np.arange(len(self.corners)) + 1
        if counts:
            following[np.cumsum(counts) - 1] = self.begins
        self.ends: Floats = self.corners[following]
        self.radii: Floats = np.array([body.radius_m for body in self.bodies], dtype=float)
        self.middles: Floats = np.array([body.middle for body in self.bodies]).reshape(-1, 2)

    @cached_property
    def gaps(self) -> Gaps:
        """The gap of each pair of bodies."""
        n = len(self.bodies)
        first, second = np.triu_indices(n, 1)
        near_m, at_corner, at_edge = self._corners_to_edges()
        one_way = near_m[first, second] <= near_m[second, first]
        apart = np.where(one_way, near_m[first, second], near_m[second, first])
        one, other = one_way[:, None], ~one_way[:, None]
        at_first = at_corner[first, second] * one + at_edge[second, first] * other
        at_second = at_edge[first, second] * one + at_corner[second, first] * other
        crosses, where = self._crossings()
        meets = crosses[first, second]
        apart[meets] = 0.0
        at_first[meets] = at_second[meets] = where[first, second][meets]
        width = np.maximum(0.0, apart - self.radii[first] - self.radii[second])
        rising = np.argsort(width, kind="stable")
        return Gaps(
            first[rising], second[rising], width[rising], at_first[rising], at_second[rising]
        )

    def clearance_m(self, points: Floats) -> Floats:
        """Return how far points are from the nearest body, 0 inside one [m]."""
        if not self.bodies:
            return np.full(len(points), math.inf)
        near = np.sqrt(_squared_to_edges(points, self.corners, self.ends)[0])
        clear: Floats = np.maximum(0.0, (near - self.radii[self.owner]).min(axis=1))
        clear[self._inside(points).any(axis=1)] = 0.0
        return clear

    def _inside(self, points: Floats) -> NDArray[np.bool_]:
        """Which points lie in which bodies' cores, points × bodies; the rim counts as outside."""
        run = self.ends - self.corners
        x, y = points[:, :1] - self.corners[:, 0], points[:, 1:] - self.corners[:, 1]
        left = run[:, 0] * y - run[:, 1] * x > 0
        within: NDArray[np.bool_] = np.logical_and.reduceat(left, self.begins, axis=1)
        return within

    def _corners_to_edges(self) -> tuple[Floats, Floats, Floats]:
        """From each body's corners to each other's edges: least distance, and both its points."""
        n = len(self.bodies)
        squared, share = _squared_to_edges(self.corners, self.corners, self.ends)
        per_edge = np.minimum.reduceat(squared, self.begins, axis=1)
        best = np.minimum.reduceat(per_edge, self.begins, axis=0)
        is_best = squared <= best[self.owner][:, self.owner]
        corner, edge = np.nonzero(is_best)
        at_corner, at_edge = np.zeros((n, n, 2)), np.zeros((n, n, 2))
        pair = self.owner[corner], self.owner[edge]
        along = share[corner, edge][:, None]
        at_corner[pair] = self.corners[corner]
        at_edge[pair] = self.corners[edge] + along * (self.ends[edge] - self.corners[edge])
        return np.sqrt(best), at_corner, at_edge

    def _edges_near(self) -> tuple[NDArray[np.intp], NDArray[np.intp]]:
        """Pairs of edges of two bodies each whose bounds overlap: no other two cross."""
        low = np.minimum.reduceat(self.corners, self.begins, axis=0)
        high = np.maximum.reduceat(self.corners, self.begins, axis=0)
        overlap = np.triu(
            (low[:, None] <= high).all(axis=2) & (high[:, None] >= low).all(axis=2), 1
        )
        one, other = np.nonzero(overlap[self.owner][:, self.owner])
        return one, other

    def _crossings(self) -> tuple[NDArray[np.bool_], Floats]:
        """Which bodies' cores cross or lie in each other, n × n, and a point of both."""
        n = len(self.bodies)
        crosses, where = np.zeros((n, n), dtype=bool), np.zeros((n, n, 2))
        corner, body = np.nonzero(self._inside(self.corners))
        own = self.owner[corner]
        crosses[own, body] = crosses[body, own] = True
        where[own, body] = where[body, own] = self.corners[corner]
        one, other = self._edges_near()
        start, run = self.corners, self.ends - self.corners
        (to_x, to_y), (ax, ay), (bx, by) = (start[other] - start[one]).T, run[one].T, run[other].T
        turn = ax * by - ay * bx
        side, size = np.sign(turn), np.abs(turn)
        along, beside = (to_x * by - to_y * bx) * side, (to_x * ay - to_y * ax) * side
        meets = (along >= 0) & (along <= size) & (beside >= 0) & (beside <= size) & (size > 0)
        one, other, share = one[meets], other[meets], along[meets] / size[meets]
        a, b = self.owner[one], self.owner[other]
        crosses[a, b] = crosses[b, a] = True
        where[a, b] = where[b, a] = start[one] + share[:, None] * run[one]
        return crosses, where


def _squared_to_edges(points: Floats, starts: Floats, ends: Floats) -> tuple[Floats, Floats]:
    """Squared distances of points to edges, points × edges [m²], and where along each [1]."""
    run = ends - starts
    length = np.where((squared := (run**2).sum(axis=1)) > 0, squared, 1.0)
    x, y = points[:, :1] - starts[:, 0], points[:, 1:] - starts[:, 1]
    share = np.clip((x * run[:, 0] + y * run[:, 1]) / length, 0.0, 1.0)
    x -= share * run[:, 0]
    y -= share * run[:, 1]
    return x * x + y * y, share
