"""In which order pieces can move: what geometry forces, and what stops the rest.

A move is tried from every set of pieces that may have moved before (up to MOST_MOVERS movers); it
is possible where the space it sweeps meets nothing that stays. By hand: boxes along axes.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from itertools import permutations

import numpy as np

from criteria.errors import InputError
from criteria.folding.pieces import Floats, Nest

MEETS_M = 1e-6
"""How deep boxes must lie in each other to meet: to touch is free [m]."""

MOST_MOVERS = 10

Moved = frozenset[str]


@dataclass(frozen=True)
class Stop:
    """What stops a move, and by how much they would lie in each other [m]."""

    mark: str
    by_m: float


@dataclass(frozen=True)
class Order:
    """What geometry says of the order in which pieces move.

    after     for each mover what must have moved before it, whatever the order
    either    for a mover that waits for nothing in all orders, yet isn't free from the start, the
              least sets of which one must have moved
    moved     the most that can have moved; all movers where everything goes
    stopped   what stops each of the rest then
    """

    after: dict[str, Moved]
    either: dict[str, list[Moved]]
    moved: Moved
    stopped: dict[str, list[Stop]]

    @property
    def is_possible(self) -> bool:
        """Whether all can move."""
        return not self.stopped


def order_of(nest: Nest) -> Order:
    """Return what must move before what. Raises InputError for more than MOST_MOVERS movers."""
    movers = nest.movers
    if len(movers) > MOST_MOVERS:
        raise InputError(f"{len(movers)} pieces move; expected at most {MOST_MOVERS}")
    stops = cache(lambda mark, moved: stops_of(nest, mark, moved))
    goes: dict[Moved, list[str]] = {}
    reached = [Moved()]
    for moved in reached:
        goes[moved] = [m for m in movers if m not in moved and not stops(m, moved)]
        reached += {moved | {m} for m in goes[moved]}.difference(reached)
    everything = Moved(movers)
    if everything not in goes:
        most = max(reached, key=lambda moved: (len(moved), sorted(moved)))
        left = sorted(everything - most)
        return Order({}, {}, most, {mark: stops(mark, most) for mark in left})
    living = _living(goes, everything)
    before = defaultdict(list)
    for moved in living:
        for mark in goes[moved]:
            if moved | {mark} in living:
                before[mark].append(moved)
    after = {mark: Moved.intersection(*before[mark]) for mark in movers}
    either = {
        mark: _least(before[mark])
        for mark in movers
        if not after[mark] and Moved() not in before[mark]
    }
    return Order(after, either, everything, {})


def first_that_cannot(nest: Nest, sequence: list[str]) -> tuple[str, list[Stop]] | None:
    """Return the first move of a sequence that is stopped, and what stops it; None if all go."""
    moved = Moved()
    for mark in sequence:
        if stops := stops_of(nest, mark, moved):
            return mark, stops
        moved |= {mark}
    return None


def stops_of(nest: Nest, mark: str, moved: Moved) -> list[Stop]:
    """Return what stops a piece that moves with what rides in it, the deepest first.

    Of a move along two axes the order that meets least counts.
    """
    along = [axis for axis, by in enumerate(nest.pieces[mark].move) if by]
    tried = [_stops(nest, mark, moved, axes) for axes in permutations(along) if axes]
    return min(tried, key=lambda found: (len(found), [stop.by_m for stop in found]), default=[])


def _stops(nest: Nest, mark: str, moved: Moved, axes: tuple[int, ...]) -> list[Stop]:
    group = {mark, *nest.riders[mark]}
    swept = np.vstack(list(_swept(nest, mark, moved, axes, group)))
    found = []
    for other in nest.pieces:
        if other not in group:
            by_m = _deepest(swept, nest.plates(other, moved))
            if by_m > MEETS_M:
                found.append(Stop(other, by_m))
    return sorted(found, key=lambda stop: (-stop.by_m, stop.mark))


def _swept(
    nest: Nest, mark: str, moved: Moved, axes: tuple[int, ...], group: set[str]
) -> Iterator[Floats]:
    """The boxes that a group sweeps, plate by plate and axis after axis."""
    move = nest.pieces[mark].move
    for each in group:
        plates = nest.plates(each, moved).copy()
        for axis in axes:
            swept = plates.copy()
            plates[:, :, axis] += move[axis]
            swept[:, 0, axis] = np.minimum(swept[:, 0, axis], plates[:, 0, axis])
            swept[:, 1, axis] = np.maximum(swept[:, 1, axis], plates[:, 1, axis])
            yield swept


def _deepest(one: Floats, other: Floats) -> float:
    """How deep boxes of one lot lie in those of another: the least of the three axes [m]."""
    low = np.maximum(one[:, None, 0], other[None, :, 0])
    high = np.minimum(one[:, None, 1], other[None, :, 1])
    return float((high - low).min(axis=2).max(initial=0.0))


def _living(goes: dict[Moved, list[str]], everything: Moved) -> set[Moved]:
    """The sets from which all can still move."""
    living = {everything}
    for moved in sorted(goes, key=len, reverse=True):
        if any(moved | {mark} in living for mark in goes[moved]):
            living.add(moved)
    return living


def _least(sets: list[Moved]) -> list[Moved]:
    """Those that hold no other."""
    least = [each for each in sets if not any(other < each for other in sets)]
    return sorted(least, key=sorted)
