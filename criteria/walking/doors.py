"""How far a door opens before its leaf meets what stands there."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

from criteria.walking.bodies import Body, Plan, Point, hull

TOUCH = 1e-9
"""What counts as the same distance or angle: floating point alone."""

ARC = 16
"""Straight pieces of a quarter of a circle."""
SLACK_M = 0.005
"""How much of a leaf's length is let go where two leaves close on one post [m]. Ours."""

LEAF_M = 0.04
"""How thick the leaf of a door is [m]. Common practice."""
OPEN = ", open"
"""What is added to a door's mark for its leaf at 90°."""


@dataclass(frozen=True)
class Leaf:
    """A door's leaf in plan, a line about its hinge.

    hinge           [m]
    length_m        from hinge to edge
    closed_deg      where it points when shut, anticlockwise from x
    opens_deg       by how much it opens, anticlockwise; below 0 clockwise
    """

    hinge: Point
    length_m: float
    closed_deg: float
    opens_deg: float = 90.0


@dataclass(frozen=True)
class Meeting:
    """Where a leaf first meets something: how far it is open then [°], and what it meets."""

    angle_deg: float
    body: Body


def standing_open(leaf: Leaf, spare_m: float, mark: str) -> Body:
    """Return a leaf at its end, beside what is clear of its door, its mark with OPEN behind it.

    spare_m   of its length what is not clear
    """
    closed, opened = (math.radians(leaf.closed_deg + turn) for turn in (0, leaf.opens_deg))
    spare = min(LEAF_M, spare_m)
    corners = [
        (
            leaf.hinge[0] + along_m * math.cos(closed) + out_m * math.cos(opened),
            leaf.hinge[1] + along_m * math.sin(closed) + out_m * math.sin(opened),
        )
        for along_m in (spare - LEAF_M, spare)
        for out_m in (0.0, leaf.length_m)
    ]
    return Body(tuple(hull(corners)), mark=f"{mark}{OPEN}")


@lru_cache(256)
def meet(one: Leaf, other: Leaf) -> bool:
    """Tell whether two leaves may strike each other: what they sweep over overlaps."""
    return not Plan([_swept(one), _swept(other)]).gaps.width_m[0]


def _swept(leaf: Leaf) -> Body:
    """What a leaf sweeps over, its arc in straight pieces; a touch at the latch is none."""
    turns = [leaf.closed_deg + leaf.opens_deg * n / ARC for n in range(ARC + 1)]
    reach_m = leaf.length_m - SLACK_M
    x, y = leaf.hinge
    arc = [
        (x + reach_m * math.cos(math.radians(turn)), y + reach_m * math.sin(math.radians(turn)))
        for turn in turns
    ]
    return Body(tuple(hull([leaf.hinge, *arc])))


def first_meeting(leaf: Leaf, bodies: Sequence[Body]) -> Meeting | None:
    """Return what a leaf meets first on its way, None where it opens fully.

    bodies   what stands there, without the walls and the frame of the door itself
    By hand: the leaf's line passes a corner that lies within its reach, or its edge meets a side.
    """
    met = [
        Meeting(angle, body)
        for body in bodies
        for angle in _angles(leaf, body)
        if angle <= abs(leaf.opens_deg) + TOUCH
    ]
    return min(met, key=lambda each: each.angle_deg, default=None)


def _angles(leaf: Leaf, body: Body) -> Iterator[float]:
    """Openings at which the leaf may first meet a body [°]; to touch it is not to meet it."""
    corners = [(x - leaf.hinge[0], y - leaf.hinge[1]) for x, y in body.corners]
    if not body.radius_m and _lies_across(leaf, corners):
        yield 0.0
    for x, y in corners:
        if body.radius_m:
            yield from _of_disc(leaf, x, y, body.radius_m)
        elif TOUCH < math.hypot(x, y) < leaf.length_m - TOUCH:
            yield _opened(leaf, math.atan2(y, x))
    for one, other in pairwise([*corners, corners[0]]):
        for x, y in on_circle(one, other, leaf.length_m):
            yield _opened(leaf, math.atan2(y, x))


def _lies_across(leaf: Leaf, corners: Sequence[Point]) -> bool:
    """Whether a body stands in the shut leaf: its sides cross that line on either side of a gap."""
    shut = math.radians(leaf.closed_deg)
    at = [
        (
            x * math.cos(shut) + y * math.sin(shut),
            y * math.cos(shut) - x * math.sin(shut),
        )
        for x, y in corners
    ]
    crossed = [
        u + (to_u - u) * v / (v - to_v)
        for (u, v), (to_u, to_v) in pairwise([*at, at[0]])
        if (v > TOUCH and to_v < -TOUCH) or (v < -TOUCH and to_v > TOUCH)
    ]
    return bool(crossed) and min(crossed) < leaf.length_m - TOUCH and max(crossed) > TOUCH


def _of_disc(leaf: Leaf, x: float, y: float, radius_m: float) -> Iterator[float]:
    """Where the leaf's line touches a disc, or its edge does."""
    away, bearing = math.hypot(x, y), math.atan2(y, x)
    if away <= radius_m:
        yield 0.0
        return
    touches = math.sqrt(away**2 - radius_m**2)
    if touches <= leaf.length_m:
        half = math.asin(radius_m / away)
    elif away - radius_m <= leaf.length_m:
        cosine = (away**2 + leaf.length_m**2 - radius_m**2) / (2 * away * leaf.length_m)
        half = math.acos(min(1.0, cosine))
    else:
        return
    first, last = _opened(leaf, bearing - half), _opened(leaf, bearing + half)
    yield 0.0 if abs(first - last) > 2 * math.degrees(half) + TOUCH else min(first, last)


def on_circle(one: Point, other: Point, radius_m: float) -> Iterator[Point]:
    """Where a side crosses the circle about the hinge."""
    run = other[0] - one[0], other[1] - one[1]
    a = run[0] ** 2 + run[1] ** 2
    if a == 0:
        return
    b = one[0] * run[0] + one[1] * run[1]
    within = b**2 - a * (one[0] ** 2 + one[1] ** 2 - radius_m**2)
    if within < 0:
        return
    for share in ((-b - math.sqrt(within)) / a, (-b + math.sqrt(within)) / a):
        if 0 <= share <= 1:
            yield one[0] + share * run[0], one[1] + share * run[1]


def _opened(leaf: Leaf, bearing_rad: float) -> float:
    """How far the leaf is open when it points somewhere [°], 0 to 360."""
    turned = math.degrees(bearing_rad) - leaf.closed_deg
    opened = (turned if leaf.opens_deg >= 0 else -turned) % 360
    return 0.0 if opened > 360 - 1e-6 else opened
