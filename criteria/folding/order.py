"""In which order pieces can move: what geometry forces, and what stops the rest.

A move is tried from every set of pieces that may have moved before (up to MOST_MOVERS movers); it
is possible where the space it sweeps meets nothing that stays. By hand: boxes along axes; a piece
that turns is looked at in the plane square to its hinge.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import permutations

import numpy as np

from criteria.errors import InputError
from criteria.folding.hinges import turns_until_deg
from criteria.folding.pieces import Floats, Fold, Nest, Piece
from criteria.walking.bodies import Point

MEETS_M = 1e-6
"""How deep boxes must lie in each other to meet: to touch is free [m]."""

MOST_MOVERS = 10

Moved = frozenset[str]


@dataclass(frozen=True)
class Stop:
    """What stops a move.

    by_m     how deep they would lie in each other on the way, or of a turn at its end [m]
    at_deg   of a turn, how far it goes [°]; None of a move along axes
    """

    mark: str
    by_m: float
    at_deg: float | None = None


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
    goes: dict[Moved, list[str]] = {}
    reached = [Moved()]
    for moved in reached:
        goes[moved] = [m for m in movers if m not in moved and not stops_of(nest, m, moved)]
        reached += {moved | {m} for m in goes[moved]}.difference(reached)
    everything = Moved(movers)
    if everything not in goes:
        most = max(reached, key=lambda moved: (len(moved), sorted(moved)))
        left = sorted(everything - most)
        return Order({}, {}, most, {mark: stops_of(nest, mark, most) for mark in left})
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

    Of a move along two axes the order that meets least counts, and of two turns the freer.
    """
    piece = nest.pieces[mark]
    if not piece.moves:
        return []
    tried = [_stops(nest, mark, moved, way) for way in _ways(piece)]
    return min(tried, key=lambda found: (len(found), [stop.by_m for stop in found]))


Way = tuple[int, ...] | Fold
"""The axes of a move, one after another, or a turn."""


def _ways(piece: Piece) -> Iterable[Way]:
    along = [axis for axis, by in enumerate(piece.move) if by]
    return piece.folds or permutations(along)


def _stops(nest: Nest, mark: str, moved: Moved, way: Way) -> list[Stop]:
    found = (
        _stop(nest, mark, other, moved, way)
        for other in nest.pieces
        if other != mark and other not in nest.riders[mark]
    )
    return sorted((stop for stop in found if stop), key=lambda stop: (-stop.by_m, stop.mark))


def _stop(nest: Nest, mark: str, other: str, moved: Moved, way: Way) -> Stop | None:
    """Return whether one other piece stops a way, kept by what of the moved matters to the two.

    What carries both matters to neither.
    """
    carries, other_too = ({each, *nest.holders[each]} for each in (mark, other))
    key = mark, other, way, moved & (nest.riders[mark] | (carries ^ other_too))
    found: Stop | None
    if key not in nest.met:
        then = key[3] | {mark} if nest.pieces[mark].is_carried else key[3]
        group = [nest.plates(m, then, frame=mark) for m in (mark, *sorted(nest.riders[mark]))]
        stands = nest.plates(other, key[3], frame=mark)
        if isinstance(way, Fold):
            found = _met_by_turn(group, stands, other, way)
        else:
            swept = np.vstack(list(_swept(group, nest.pieces[mark], way)))
            by_m = _deepest(swept, stands)
            found = Stop(other, by_m) if by_m > MEETS_M else None
        nest.met[key] = found
    found = nest.met[key]
    return found


def _swept(group: Sequence[Floats], piece: Piece, axes: tuple[int, ...]) -> Iterator[Floats]:
    """The boxes that a group sweeps, plate by plate and axis after axis; where it is carried to."""
    if piece.is_carried:
        yield from group
    for start in group:
        plates = start.copy()
        for axis in axes:
            swept = plates.copy()
            plates[:, :, axis] += piece.move[axis]
            swept[:, 0, axis] = np.minimum(swept[:, 0, axis], plates[:, 0, axis])
            swept[:, 1, axis] = np.maximum(swept[:, 1, axis], plates[:, 1, axis])
            yield swept


def _met_by_turn(group: Sequence[Floats], stands: Floats, other: str, fold: Fold) -> Stop | None:
    """What a group that turns meets of another piece: the least angle of all their plates."""
    met = [
        angle
        for plates in group
        for panel in plates
        for thing in stands
        if _overlap_m(panel, thing, fold.axis) > MEETS_M
        and (angle := _turned_until(panel, thing, fold)) is not None
    ]
    if not met:
        return None
    ends = np.vstack([fold.turned(plates, fold.turns) for plates in group])
    return Stop(other, _deepest(ends, stands), min(met))


def _overlap_m(one: Floats, other: Floats, axis: int) -> float:
    return float(min(one[1, axis], other[1, axis]) - max(one[0, axis], other[0, axis]))


def _turned_until(panel: Floats, thing: Floats, fold: Fold) -> float | None:
    """How far a plate turns before it meets another; 0 where they lie in each other already."""
    if all(_overlap_m(panel, thing, axis) > MEETS_M for axis in fold.plane):
        return 0.0
    sections = [_section(plate, fold) for plate in (panel, thing)]
    return turns_until_deg(sections[0], fold.at, 90.0 * fold.turns, sections[1])


def _section(plate: Floats, fold: Fold) -> list[Point]:
    """The corners of a plate in the plane of a turn, a hair smaller: to touch is free."""
    one, other = fold.plane
    (left, low), (right, high) = plate[0, [one, other]] + MEETS_M, plate[1, [one, other]] - MEETS_M
    return [(left, low), (right, low), (right, high), (left, high)]


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
