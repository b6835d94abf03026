"""How far a panel turns on its hinge before it meets something, in the plane square to the hinge.

By hand: one of its corners, on a circle about the hinge, meets a side of the thing; or a corner of
the thing, on its own circle, is met by a side of the panel.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise

from criteria.walking.bodies import Point
from criteria.walking.doors import on_circle

TOUCH_DEG = 1e-6
"""Within such an angle a panel touches where it begins, and meets nothing [°]."""


def turns_until_deg(
    panel: Sequence[Point], hinge: Point, turns_deg: float, thing: Sequence[Point]
) -> float | None:
    """Return by how much a panel turns before it meets a thing; None where it turns fully.

    panel, thing   corners of convex sections that don't overlap at first [m]
    turns_deg      anticlockwise; below 0 clockwise
    """
    sign = -1.0 if turns_deg < 0 else 1.0
    own, other = ([_about(at, hinge, sign) for at in corners] for corners in (panel, thing))
    angles = [(a - b) % 360 for a, b in (*_meetings(own, other), *_met(own, other))]
    met = [angle for angle in angles if TOUCH_DEG < angle <= abs(turns_deg) + TOUCH_DEG]
    return min(met, default=None)


def _about(at: Point, hinge: Point, sign: float) -> Point:
    """A corner seen from the hinge; mirrored where the panel turns clockwise."""
    return at[0] - hinge[0], sign * (at[1] - hinge[1])


def _meetings(panel: list[Point], thing: list[Point]) -> Iterator[tuple[float, float]]:
    """Bearings of where a corner's circle crosses the thing, and of that corner [°]."""
    for corner in panel:
        for one, other in pairwise([*thing, thing[0]]):
            for at in on_circle(one, other, math.hypot(*corner)):
                yield _bearing(at), _bearing(corner)


def _met(panel: list[Point], thing: list[Point]) -> Iterator[tuple[float, float]]:
    """Bearings of a corner of the thing, and of where its circle crosses the panel [°]."""
    for corner in thing:
        for one, other in pairwise([*panel, panel[0]]):
            for at in on_circle(one, other, math.hypot(*corner)):
                yield _bearing(corner), _bearing(at)


def _bearing(at: Point) -> float:
    return math.degrees(math.atan2(at[1], at[0]))
