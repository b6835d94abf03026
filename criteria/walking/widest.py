"""The widest way from a start to each target of a plan, exactly, and where it is narrow.

A disc passes from start to target unless bodies that are nearer to each other than its diameter
fence one from the other. So the pairs of bodies are joined by rising gap; whenever a pair closes
a loop that the straight line from start to target crosses an odd number of times, that gap is the
width. Why that is exact: bodies grown by half the width are convex, so their union has the loops
of the graph of which touches which (nerve theorem: Hatcher, Algebraic Topology 2002, corollary
4G.3), and a closed curve parts two points exactly where a line between them crosses it oddly.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from criteria.walking.bodies import Body, Floats, Plan, Point

SHIFTS_M = (1.31e-7, 0.57e-7)
"""By what start and targets are moved: plans are drawn on a lattice, and a line that runs through a
corner is neither left nor right of it."""


@dataclass(frozen=True)
class Narrowest:
    """Where a way is narrow: the two bodies, and the point of each nearest to the other [m]."""

    first: Body
    second: Body
    at: tuple[Point, Point]


@dataclass(frozen=True)
class WidestWay:
    """The widest way to one target.

    width_m     of the largest disc that comes there; 0 where none does, endless where nothing
                narrows the way, None where the target lies in a body, or the start does
    narrowest   the place that decides, where there is one
    room_m      diameter of the largest disc that stands there with its middle on the target
    """

    width_m: float | None
    narrowest: Narrowest | None
    room_m: float


def widest_ways(plan: Plan, start: Point, targets: Sequence[Point]) -> list[WidestWay]:
    """Return the widest way from a start to each target, in order.

    plan    the bodies that stand there
    Errors of floating point alone, about 1e-9 m. Source: by hand, see the module.
    """
    begin = np.array(start, dtype=float) + SHIFTS_M
    ends = np.array(targets, dtype=float).reshape(-1, 2)
    ends = ends - np.array(SHIFTS_M) * (3 + 2 * (np.arange(len(ends))[:, None] % 5))
    clear_m, _ = plan.clearance_m(np.array([start, *targets], dtype=float))
    width_m, decides = _fences(plan, begin, ends)
    ways = []
    for k, room_m in enumerate(2 * clear_m[1:]):
        if not (clear_m[0] and room_m):
            ways.append(WidestWay(None, None, float(room_m)))
            continue
        narrowest = None if decides[k] is None else _narrowest(plan, int(decides[k] or 0))
        ways.append(WidestWay(width_m[k], narrowest, float(room_m)))
    return ways


def _fences(plan: Plan, start: Floats, ends: Floats) -> tuple[list[float], list[int | None]]:
    """For each target the gap of the pair that first fences it off, and which pair that is."""
    width_m: list[float] = [math.inf] * len(ends)
    decides: list[int | None] = [None] * len(ends)
    gaps, joined = plan.gaps, list(range(len(plan.bodies)))
    odd_to_root = [0] * len(joined)
    odd = _odd_crossings(plan, start, ends)
    left = (1 << len(ends)) - 1

    def root(body: int) -> tuple[int, int]:
        path, bits = [], 0
        while joined[body] != body:
            path.append(body)
            body = joined[body]
        for passed in reversed(path):
            bits ^= odd_to_root[passed]
            joined[passed], odd_to_root[passed] = body, bits
        return body, bits

    for pair in np.argsort(gaps.width_m, kind="stable"):
        (one, bits_one), (other, bits_other) = (
            root(int(gaps.first[pair])),
            root(int(gaps.second[pair])),
        )
        loop = bits_one ^ bits_other ^ odd[pair]
        if one != other:
            joined[one], odd_to_root[one] = other, loop
            continue
        for k in _ones(loop & left):
            width_m[k], decides[k] = float(gaps.width_m[pair]), int(pair)
        left &= ~loop
        if not left:
            break
    return width_m, decides


def _odd_crossings(plan: Plan, start: Floats, ends: Floats) -> list[int]:
    """Of each pair a number whose k-th bit says that its link crosses the line to target k oddly.

    A link runs from the middle of one body by its nearest point and the other's to that one's
    middle, all of it in the two bodies grown by half their gap.
    """
    gaps = plan.gaps
    link = np.stack(
        [plan.middles[gaps.first], gaps.at_first, gaps.at_second, plan.middles[gaps.second]]
    )
    run = ends - start
    to = link - start
    side = run[:, 0] * to[..., 1, None] - run[:, 1] * to[..., 0, None] > 0
    left, right = link[:-1, :, None, :], link[1:, :, None, :]
    across = right - left
    from_start = across[..., 0] * (start - left)[..., 1] - across[..., 1] * (start - left)[..., 0]
    from_end = across[..., 0] * (ends - left)[..., 1] - across[..., 1] * (ends - left)[..., 0]
    crosses = (side[:-1] != side[1:]) & ((from_start > 0) != (from_end > 0))
    odd = np.packbits(np.logical_xor.reduce(crosses, axis=0), axis=1, bitorder="little")
    return [int.from_bytes(row.tobytes(), "little") for row in odd]


def _ones(bits: int) -> list[int]:
    return [k for k in range(bits.bit_length()) if bits >> k & 1]


def _narrowest(plan: Plan, pair: int) -> Narrowest:
    gaps = plan.gaps
    first, second = plan.bodies[gaps.first[pair]], plan.bodies[gaps.second[pair]]
    at_first, at_second = gaps.at_first[pair], gaps.at_second[pair]
    apart = math.dist(at_first, at_second)
    if apart:
        towards = (at_second - at_first) / apart
        at_first = at_first + towards * min(first.radius_m, apart)
        at_second = at_second - towards * min(second.radius_m, apart)
    places = tuple((float(x), float(y)) for x, y in (at_first, at_second))
    return Narrowest(first, second, (places[0], places[1]))
