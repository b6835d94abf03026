"""How much room there is before something: a worktop, a drawer, a bed's side."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from criteria.walking.bodies import Body, Point

EDGE_M = 1e-9
"""What counts as touching alone [m]."""


@dataclass(frozen=True)
class Front:
    """A side that is used: it runs from one point to the other, and is used from its left [m]."""

    start: Point
    end: Point


@dataclass(frozen=True)
class Depth:
    """The room before a front over its whole width [m], and what ends it."""

    depth_m: float
    body: Body | None


def free_depth(front: Front, bodies: Sequence[Body]) -> Depth:
    """Return how far it is from a front to the nearest body before it, endless where none is.

    A body that reaches into the strip counts as far as it lies there (Sutherland and Hodgman's
    clip); what stands beside the strip, or only touches its edge, doesn't.
    """
    (x, y), (to_x, to_y) = front.start, front.end
    width = math.hypot(to_x - x, to_y - y)
    run, rise = (to_x - x) / width, (to_y - y) / width
    best = Depth(math.inf, None)
    for body in bodies:
        local = [
            ((cx - x) * run + (cy - y) * rise, (cy - y) * run - (cx - x) * rise)
            for cx, cy in body.corners
        ]
        depth = _depth(body, local, width, best.depth_m)
        if depth < best.depth_m:
            best = Depth(depth, body)
    return best


def _depth(body: Body, local: list[Point], width: float, nearest_m: float) -> float:
    """How far a body is before a front, as far as it lies in its strip [m].

    local       its corners, along the front and before it
    nearest_m   what another leaves: a body that is no nearer isn't clipped
    """
    if body.radius_m:
        return min(_of_disc(u, v, body.radius_m, width) for u, v in local)
    across, before = zip(*local, strict=True)
    if max(across) <= EDGE_M or min(across) >= width - EDGE_M:  # beside it, as most things are
        return math.inf
    if max(before) <= EDGE_M or min(before) >= nearest_m:
        return math.inf
    for side in (lambda u, v: u, lambda u, v: width - u, lambda u, v: v):
        local = clip(local, side)
    inner = [v for u, v in local if EDGE_M < u < width - EDGE_M]
    spans = any(u <= EDGE_M for u, _ in local) and any(u >= width - EDGE_M for u, _ in local)
    if not (inner or spans) or max(v for _, v in local) <= EDGE_M:
        return math.inf
    return min(v for _, v in local)


def clip(corners: list[Point], inside: Callable[[float, float], float]) -> list[Point]:
    """Return what of a convex polygon lies where a linear function isn't below 0."""
    found: list[Point] = []
    for (u, v), (to_u, to_v) in pairwise([*corners, *corners[:1]]):
        here, there = inside(u, v), inside(to_u, to_v)
        if here >= 0:
            found.append((u, v))
        if here * there < 0:
            share = here / (here - there)
            found.append((u + share * (to_u - u), v + share * (to_v - v)))
    return found


def _of_disc(u: float, v: float, radius_m: float, width_m: float) -> float:
    beside = max(0.0, -u, u - width_m)
    if beside >= radius_m - EDGE_M:
        return math.inf
    half = math.sqrt(radius_m**2 - beside**2)
    return max(0.0, v - half) if v + half > EDGE_M else math.inf
