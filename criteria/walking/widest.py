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
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from criteria.walking.bodies import Body, Floats, Plan, Point

SHIFTS_M = (1.31e-7, 0.57e-7)
"""By what start and targets are moved: plans are drawn on a lattice, and a line that runs through a
corner is neither left nor right of it."""

PART = 256
"""Pairs of bodies that are looked at together."""


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
    clear_m = plan.clearance_m(np.array([start, *targets], dtype=float)).tolist()
    decides = _fences(plan, start, targets)
    narrowest = {pair: _narrowest(plan, pair) for pair in {*decides} if pair is not None}
    ways = []
    for pair, clear in zip(decides, clear_m[1:], strict=True):
        if not (clear_m[0] and clear):
            ways.append(WidestWay(None, None, 2 * clear))
        elif pair is None:
            ways.append(WidestWay(math.inf, None, 2 * clear))
        else:
            ways.append(WidestWay(float(plan.gaps.width_m[pair]), narrowest[pair], 2 * clear))
    return ways


def comes_to(plan: Plan, start: Point, targets: Sequence[Point], way_m: float) -> NDArray[np.bool_]:
    """Tell which targets a way of some width leads to from a start, none of them in a body."""
    if not plan.clearance_m(np.array([start], dtype=float))[0]:
        return np.zeros(len(targets), dtype=bool)
    return np.array([pair is None for pair in _fences(plan, start, targets, way_m)], dtype=bool)


def _fences(
    plan: Plan, start: Point, targets: Sequence[Point], below_m: float = math.inf
) -> list[int | None]:
    """For each target the first pair of bodies, nearer than some width, that fences it off."""
    begin = np.array(start, dtype=float) + SHIFTS_M
    ends = np.array(targets, dtype=float).reshape(-1, 2)
    ends = ends - np.array(SHIFTS_M) * (3 + 2 * (np.arange(len(ends))[:, None] % 5))
    decides: list[int | None] = [None] * len(ends)
    joined, left = list(range(len(plan.bodies))), (1 << len(ends)) - 1
    odd_to_root = [0] * len(joined)

    def root(body: int) -> tuple[int, int]:
        path, bits = [], 0
        while joined[body] != body:
            path.append(body)
            body = joined[body]
        for passed in reversed(path):
            bits ^= odd_to_root[passed]
            joined[passed], odd_to_root[passed] = body, bits
        return body, bits

    for pair, first, second, odd in _links(plan, begin, ends, below_m):
        (one, bits_one), (other, bits_other) = root(first), root(second)
        loop = bits_one ^ bits_other ^ odd
        if one != other:
            joined[one], odd_to_root[one] = other, loop
            continue
        for k in _ones(loop & left):
            decides[k] = pair
        left &= ~loop
        if not left:
            break
    return decides


def _links(
    plan: Plan, start: Floats, ends: Floats, below_m: float
) -> Iterator[tuple[int, int, int, int]]:
    """Give each pair, its two bodies, and a number: bit k, whether its link crosses line k oddly.

    Narrow pairs come first, and most plans are decided by those: they are looked at in parts.
    """
    gaps = plan.gaps
    last = int(np.searchsorted(gaps.width_m, below_m))
    for begin in range(0, last, PART):
        part = slice(begin, min(begin + PART, last))
        bodies = gaps.first[part].tolist(), gaps.second[part].tolist()
        odd = _odd_crossings(plan, part, start, ends)
        yield from zip(range(part.start, part.stop), *bodies, odd, strict=True)


def _odd_crossings(plan: Plan, part: slice, start: Floats, ends: Floats) -> list[int]:
    """Of some pairs a number whose k-th bit says that its link crosses the line to target k oddly.

    A link runs from the middle of one body by its nearest point and the other's to that one's
    middle, all of it in the two bodies grown by half their gap.
    """
    gaps = plan.gaps
    first, second = plan.middles[gaps.first[part]], plan.middles[gaps.second[part]]
    link = np.stack([first, gaps.at_first[part], gaps.at_second[part], second])
    x, y = link[..., :1], link[..., 1:]
    run = ends - start
    side = run[:, 0] * (y - start[1]) - run[:, 1] * (x - start[0]) > 0
    across, up = x[1:] - x[:-1], y[1:] - y[:-1]
    from_start = across * (start[1] - y[:-1]) - up * (start[0] - x[:-1]) > 0
    from_end = across * (ends[:, 1] - y[:-1]) - up * (ends[:, 0] - x[:-1]) > 0
    crosses = (side[:-1] != side[1:]) & (from_start != from_end)
    odd = np.packbits(np.logical_xor.reduce(crosses, axis=0), axis=1, bitorder="little")
    return [int.from_bytes(row, "little") for row in odd]


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
