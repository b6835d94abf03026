"""Where people stand beside what they use: the sides of a piece, and the places before them."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from criteria.walking.bodies import Body, Plan, Point, wall
from criteria.walking.fronts import Depth, Front, free_depth
from criteria.walking.storeys import Storey, kept, plan

STANDS_M = 0.6
"""How far from a piece somebody who uses it stands at most [m]. Common practice."""
SHARES = (0.1, 0.3, 0.5, 0.7, 0.9)
"""Where along a side a place is looked for, as a share of it [1]."""
TRIM = 0.05
"""How much of a side's ends a wall may take, as a piece may be drawn a little into it [1]. Ours."""
STRIP_M = 0.02
"""How wide a strip tells how much is free before such a place [m]."""


@dataclass(frozen=True)
class Beside:
    """A place to stand beside a piece, and what stands on its other side, "" where none is near."""

    point: Point
    other: str


def sides(body: Body, front: str) -> tuple[Front, ...]:
    """Return the sides of a piece that it is used from; all of a round one, as of its square.

    front   a word of the furniture schedule
    """
    corners = body.corners
    if body.radius_m:
        (x, y), r = body.corners[0], body.radius_m
        corners = ((x - r, y - r), (x + r, y - r), (x + r, y + r), (x - r, y + r))
    all_four = [Front(corners[(n + 1) % 4], corners[n]) for n in range(4)]
    lengths = [math.dist(side.start, side.end) for side in all_four]
    first_are_long = lengths[0] >= lengths[1] - 1e-9
    is_long = [(n % 2 == 0) == first_are_long for n in range(4)]
    if front == "none":
        return ()
    if body.radius_m or front == "all":
        return tuple(all_four)
    wanted = front != "short"
    return tuple(side for side, long in zip(all_four, is_long, strict=True) if long is wanted)


@kept(Depth(math.inf, None))
def room_before(storey: Storey, body: Body, side: Front, beside: tuple[str, ...] = ()) -> Depth:
    """Return how much is free before a side of a piece, with all doors shut.

    beside   marks of what may stand there: the seats of a table
    What covers the piece's middle lies over or under it. A wall counts wherever it runs in the
    half of the piece on that side: places are typed, and a bed may be drawn a little into it.
    Where no wall lies before it, that side looks out of the building, and nothing is free.
    """
    walls, things = _about(storey, body, math.inf)
    return _free(body, side, walls, [thing for thing in things if thing.mark not in beside])


@kept((0.0, None))
def nearest(storey: Storey, point: Point) -> tuple[float, Body | None]:
    """Return how far a point is from the nearest body, all doors shut [m], and which that is."""
    at = np.array([point], dtype=float)
    bodies = plan(storey, frozenset()).bodies
    return min(
        ((float(Plan([body]).clearance_m(at)[0]), body) for body in bodies),
        key=lambda each: each[0],
        default=(math.inf, None),
    )


@kept(())
def distances(
    storey: Storey, body: Body, within_m: float = math.inf
) -> tuple[tuple[str, float], ...]:
    """Return how far walls and things near a body are from it, by mark [m]; its own left out."""
    return _apart(storey, body, {body.mark}, within_m)


@kept(())
def crossed(storey: Storey, one: Body, other: Body) -> tuple[str, ...]:
    """Return marks of what stands between the middles of two things, walls and shut doors too."""
    line = wall(one.middle, other.middle)
    return tuple(mark for mark, m in _apart(storey, line, {one.mark, other.mark}, 0.0) if not m)


def _apart(
    storey: Storey, body: Body, without: set[str], within_m: float
) -> tuple[tuple[str, float], ...]:
    solid = [each for each in plan(storey, frozenset()).bodies if each.mark not in without]
    others = [each for each in solid if _bounds_apart_m(body, each) <= within_m]
    gaps = Plan([body, *others]).gaps
    own = gaps.first == 0
    away = zip(gaps.second[own].tolist(), gaps.width_m[own].tolist(), strict=True)
    return tuple((others[at - 1].mark, width_m) for at, width_m in away)


def _bounds_apart_m(one: Body, other: Body) -> float:
    """How far apart two bodies are along x or y: no farther than they are themselves [m]."""
    off: list[float] = []
    for own, its in zip(
        zip(*one.corners, strict=True), zip(*other.corners, strict=True), strict=True
    ):
        off += [min(its) - max(own), min(own) - max(its)]
    return max(off) - one.radius_m - other.radius_m


def _about(storey: Storey, body: Body, within_m: float) -> tuple[list[Body], list[Body]]:
    """Return the walls, and the things that come within a distance of a piece."""
    solid = plan(storey, frozenset()).bodies
    own = _reach_m(body) + within_m
    things = [
        thing
        for thing in storey.things
        if thing.mark != body.mark
        and math.dist(thing.middle, body.middle) < own + _reach_m(thing)
        and not covers(thing, body.middle)
    ]
    return list(solid[: len(solid) - len(storey.things)]), things


def _reach_m(body: Body) -> float:
    """How far a body's corners lie from its middle [m]."""
    return max(math.dist(corner, body.middle) for corner in body.corners) + body.radius_m


def _free(body: Body, side: Front, walls: Sequence[Body], things: Sequence[Body]) -> Depth:
    half = _half_m(body, side)
    to_wall = free_depth(_back(_trimmed(side), half), walls)
    if math.isinf(to_wall.depth_m):
        return Depth(0.0, None)
    to_wall = Depth(max(0.0, to_wall.depth_m - half), to_wall.body)
    return min(to_wall, free_depth(side, things), key=lambda each: each.depth_m)


@kept(())
def places_of(
    storey: Storey, fronts: tuple[tuple[str, str], ...]
) -> tuple[tuple[str, Beside], ...]:
    """Return the places beside several pieces, each with its mark: so one pass asks for all."""
    bodies = {body.mark: body for body in storey.things}
    return tuple(
        (mark, beside)
        for mark, front in fronts
        if mark in bodies
        for beside in _places(storey, bodies[mark], front)
    )


def _places(storey: Storey, body: Body, front: str) -> Iterator[Beside]:
    walls, things = _about(storey, body, 2 * STANDS_M)
    for side in sides(body, front):
        (x, y), (to_x, to_y) = side.start, side.end
        length = math.dist(side.start, side.end)
        run = (to_x - x) / length, (to_y - y) / length
        for share in SHARES:
            at = x + run[0] * length * share, y + run[1] * length * share
            strip = Front(
                (at[0] - run[0] * STRIP_M / 2, at[1] - run[1] * STRIP_M / 2),
                (at[0] + run[0] * STRIP_M / 2, at[1] + run[1] * STRIP_M / 2),
            )
            free = _free(body, strip, walls, things)
            away = min(STANDS_M, free.depth_m / 2)
            if away > 0:
                other = free.body.mark if free.body else ""
                yield Beside((at[0] - run[1] * away, at[1] + run[0] * away), other)


def _trimmed(side: Front) -> Front:
    (x, y), (to_x, to_y) = side.start, side.end
    across, up = (to_x - x) * TRIM, (to_y - y) * TRIM
    return Front((x + across, y + up), (to_x - across, to_y - up))


def _half_m(body: Body, side: Front) -> float:
    """Half of how deep a piece is behind a side [m]."""
    (x, y), (to_x, to_y) = side.start, side.end
    length = math.dist(side.start, side.end)
    mx, my = body.middle
    return abs((mx - x) * (to_y - y) - (my - y) * (to_x - x)) / length


def _back(side: Front, by_m: float) -> Front:
    (x, y), (to_x, to_y) = side.start, side.end
    length = math.dist(side.start, side.end)
    across, up = (to_y - y) / length * by_m, (x - to_x) / length * by_m
    return Front((x + across, y + up), (to_x + across, to_y + up))


def covers(body: Body, point: Point) -> bool:
    """Tell whether a point lies in a body; its rim is outside."""
    if body.radius_m:
        return math.dist(body.corners[0], point) < body.radius_m
    pairs = zip(body.corners, (*body.corners[1:], body.corners[0]), strict=True)
    return len(body.corners) > 2 and all(
        (bx - ax) * (point[1] - ay) - (by - ay) * (point[0] - ax) > 0
        for (ax, ay), (bx, by) in pairs
    )
