"""Which juror sits in which room, and who changes at half-time: proposed, nothing is kept."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import combinations, product
from math import factorial, inf, prod

import numpy as np
from numpy.typing import NDArray

from criteria.crit_day.connected import Design, Seen, design, design_of, levels_seen
from criteria.crit_day.crossing import who_could_cross
from criteria.crit_day.panels import LEAST_PANEL, Crossing, Interest, Juror, Sees, short_panels
from criteria.crit_day.timetable import Plan, Timetable
from criteria.crit_day.warnings import KINDS

Ways = NDArray[np.int8]
"""The place of each juror's room, a row a way of sharing the jurors."""

MOST_WAYS = 40_000
"""Ways of sharing jurors among rooms that are all looked at; of more, so many drawn by lot."""

LOOKED_AT = 48
"""Ways, the best by panels and kinds, of which the whole design is worked out."""

FILLED_UP = 6
"""The best of these, in which small panels are filled by crossings before one is chosen."""

CHANGES_A_WAY = 4
"""Choices of who changes at half-time that are looked at in each way."""


@dataclass(frozen=True)
class Arrangement:
    """Jurors in rooms.

    changes    jurors who change rooms at half-time, each with the room to which they go
    filled     schemes for whose one slot somebody crosses, for their panel would be small
    sees       who sees what by all of it
    is_whole   whether every way of sharing the jurors was looked at
    """

    changes: tuple[tuple[str, str], ...]
    filled: tuple[str, ...]
    sees: Sees
    design: Design
    is_whole: bool

    @property
    def crossings(self) -> tuple[Crossing, ...]:
        """What is to be kept beside the rooms, one of a juror and scheme."""
        return tuple({(each.juror, each.number): each for each in self.sees.crossings}.values())


def arrange(
    jurors: Sequence[Juror],
    day: Timetable,
    plan: Plan,
    interests: Sequence[Interest] = (),
    *,
    lot: int,
) -> Arrangement:
    """Propose rooms for jurors, as even as can be, and who changes at half-time.

    Weighed in this order: schemes connected, whoever falls out; rooms mixed by kind; no panel
    under three who set levels; no juror in the room of a scheme in which they have an interest;
    loads even; differences between schemes sure. What is still alike is decided by the lot, so
    that the same lot gives the same rooms. Where a panel stays small, somebody crosses for its
    one slot if anybody can; of the best ways, the one that then lacks fewest is proposed. Rooms
    that jurors had before don't count.

    lot   a whole number
    """
    jurors = sorted(jurors, key=lambda juror: juror.name)
    if not plan.are_parallel or not jurors:
        room = plan.rooms[0] if plan.rooms else ""
        seated = tuple(replace(juror, room=room) for juror in jurors)
        sees = Sees(seated, day.placed, tuple(interests))
        return Arrangement((), (), sees, design_of(sees), is_whole=True)
    by_lot = np.random.default_rng(lot)
    ways, is_whole = _ways(len(jurors), len(plan.rooms), by_lot)
    looked_at = [
        (sees, changes)
        for way in _best_first(ways, jurors, day, plan, interests, by_lot)
        for sees, changes in _changed(way, jurors, day, plan, interests, by_lot)
    ]
    looked_at.sort(key=lambda each: _weight(each[0]))
    tried = [(*_filled(sees, plan), changes) for sees, changes in looked_at[:FILLED_UP]]
    sees, filled, changes = min(tried, key=lambda each: _short(levels_seen(each[0])))
    return Arrangement(changes, filled, sees, design_of(sees), is_whole)


def _ways(jurors: int, rooms: int, by_lot: np.random.Generator) -> tuple[Ways, bool]:
    """Ways of sharing jurors among rooms whose sizes differ by one at most; whether all of them."""
    size, more = divmod(jurors, rooms)
    shares = [
        tuple(size + (room in larger) for room in range(rooms))
        for larger in combinations(range(rooms), more)
    ]
    count = len(shares) * factorial(jurors) // prod(factorial(n) for n in shares[0])
    if count <= MOST_WAYS:
        found = [way for share in shares for way in _every_way(share)]
        return np.array(found, dtype=np.int8), True
    picked = by_lot.integers(len(shares), size=MOST_WAYS)
    rows = np.array([np.repeat(np.arange(rooms), share) for share in shares], dtype=np.int8)
    return by_lot.permuted(rows[picked], axis=1), False


def _every_way(share: Sequence[int]) -> Iterator[list[int]]:
    """Every way in which each room gets its share."""

    def fill(room: int, way: list[int], free: tuple[int, ...]) -> Iterator[list[int]]:
        if room == len(share):
            yield way
            return
        for here in combinations(free, share[room]):
            filled = [room if juror in here else was for juror, was in enumerate(way)]
            yield from fill(room + 1, filled, tuple(j for j in free if j not in here))

    jurors = sum(share)
    return fill(0, [0] * jurors, tuple(range(jurors)))


def _best_first(
    ways: Ways,
    jurors: Sequence[Juror],
    day: Timetable,
    plan: Plan,
    interests: Sequence[Interest],
    by_lot: np.random.Generator,
) -> Ways:
    """The best ways by kinds that a room lacks, levels that are short, and interests."""
    declared = {(each.juror, each.number) for each in interests}
    short = np.zeros(len(ways), dtype=np.int64)
    lacking, near = short.copy(), short.copy()
    for place, room in enumerate(plan.rooms):
        here = (ways == place).astype(np.int64)
        own = [
            [(j.name, t.number) in declared for t in day.placed if t.room == room] for j in jurors
        ]
        away = np.array(own, dtype=np.int64).reshape(len(jurors), -1)
        levels = here @ (1 - away)
        short += np.maximum(0, LEAST_PANEL - levels).sum(axis=1)
        near += (here @ away).sum(axis=1)
        for kind in KINDS:
            lacking += (
                here @ np.array([juror.kind == kind for juror in jurors], dtype=np.int64) == 0
            )
    chance = by_lot.permutation(len(ways))
    order = np.lexsort((chance, near, short, lacking))
    return ways[order[: LOOKED_AT // (CHANGES_A_WAY if plan.half_time_swap else 1)]]


def _changed(
    way: Ways,
    jurors: Sequence[Juror],
    day: Timetable,
    plan: Plan,
    interests: Sequence[Interest],
    by_lot: np.random.Generator,
) -> Iterator[tuple[Sees, tuple[tuple[str, str], ...]]]:
    """A way of sharing the jurors, with each of some choices of who changes at half-time.

    One juror of each room goes to the next and the last room's to the first. Those of one kind
    are looked at before others, for rooms stay as mixed as they were.
    """
    seated = tuple(
        replace(juror, room=plan.rooms[place]) for juror, place in zip(jurors, way, strict=True)
    )
    sees = Sees(seated, day.placed, tuple(interests))
    of_rooms = [[juror for juror in seated if juror.room == room] for room in plan.rooms]
    if day.half_time is None or not all(of_rooms):
        yield sees, ()
        return
    choices = list(product(*of_rooms))
    order = sorted(
        by_lot.permutation(len(choices)), key=lambda n: len({j.kind for j in choices[n]})
    )
    for number in order[:CHANGES_A_WAY]:
        going = dict(zip(choices[number], (*plan.rooms[1:], plan.rooms[0]), strict=True))
        crossings = [
            Crossing(juror.name, turn.number, comes=turn.room == to)
            for juror, to in going.items()
            for turn in day.placed
            if turn.starts >= day.half_time and turn.room in (juror.room, to)
        ]
        changes = tuple((juror.name, to) for juror, to in going.items())
        yield sees.with_crossings(crossings), changes


def _weight(sees: Sees) -> tuple[float, ...]:
    """What is wrong with a day, the weightiest first."""
    seen = levels_seen(sees)
    found = design(sees.numbers, sees.names, seen)
    of_rooms = [[j.kind for j in sees.jurors if j.room == r] for r in {j.room for j in sees.jurors}]
    loads = seen.sum(axis=0)
    return (
        not found.is_connected,
        not found.is_firm,
        sum(len(set(KINDS) - set(kinds)) for kinds in of_rooms),
        _short(seen),
        sum(sees.juror(i.juror).room == sees.turn(i.number).room for i in sees.interests),
        int(loads.max() - loads.min()),
        inf if found.mean_variance is None else round(found.mean_variance, 9),
    )


def _short(seen: Seen) -> int:
    """Levels that are lacking where each panel is to have three who set them."""
    return int(np.maximum(0, LEAST_PANEL - seen.sum(axis=1)).sum())


def _filled(sees: Sees, plan: Plan) -> tuple[Sees, tuple[str, ...]]:
    """The same with somebody crossing for each small panel that one proposal fills."""
    filled = []
    for panel in short_panels(sees):
        proposals = who_could_cross(panel.number, sees, opening=plan.opening)
        if proposals and proposals[0].fills:
            sees = sees.with_crossings(proposals[0].crossings)
            filled.append(panel.number)
    return sees, tuple(filled)
