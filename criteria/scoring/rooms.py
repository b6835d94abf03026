"""Sharing jurors and schemes out to rooms so that the fewest interests meet.

A small integer program, solved to the end: with an interest or two a person
finds the answer, with a dozen nobody does.
"""

from collections import Counter
from collections.abc import Collection, Mapping, Sequence

import numpy as np
from scipy import optimize, sparse

from criteria.errors import InputError

SECONDS = 10
"""The solver's time limit; the plans it is made for take a tenth of one."""


def share_out(
    schemes: Sequence[str],
    jurors: Sequence[str],
    rooms: int,
    interests: Collection[tuple[str, str]],
    kinds: Mapping[str, str],
) -> tuple[dict[str, int], dict[str, int]]:
    """The room of each juror and of each scheme, from 0.

    interests   (juror, scheme) to keep in different rooms where that can be
    kinds       by juror; each room gets as many of a kind as any other, within one

    Rooms have as many jurors, and as many schemes, as any other within one.
    Without interests jurors are dealt out kind by kind and schemes in turn.
    """
    meeting = [(j, s) for j, s in interests if s in schemes and j in jurors]
    if rooms == 1 or not meeting:
        dealt = sorted(jurors, key=lambda juror: (kinds.get(juror, ""), jurors.index(juror)))
        return (
            {juror: place % rooms for place, juror in enumerate(dealt)},
            {scheme: place % rooms for place, scheme in enumerate(schemes)},
        )
    return _solved(schemes, jurors, rooms, meeting, kinds)


def _solved(
    schemes: Sequence[str],
    jurors: Sequence[str],
    rooms: int,
    meeting: Sequence[tuple[str, str]],
    kinds: Mapping[str, str],
) -> tuple[dict[str, int], dict[str, int]]:
    people, works, R = len(jurors), len(schemes), rooms
    size = (people + works) * R + len(meeting)
    rows: list[dict[int, float]] = []
    low: list[float] = []
    high: list[float] = []

    def at(thing: int, room: int) -> int:
        return thing * R + room

    def rule(entries: dict[int, float], least: float, most: float) -> None:
        rows.append(entries)
        low.append(least)
        high.append(most)

    def evenly(things: Sequence[int]) -> None:
        for room in range(R):
            rule({at(t, room): 1.0 for t in things}, len(things) // R, -(-len(things) // R))

    for thing in range(people + works):
        rule({at(thing, room): 1.0 for room in range(R)}, 1, 1)
    evenly(range(people))
    evenly(range(people, people + works))
    for kind in Counter(kinds.get(juror, "") for juror in jurors):
        evenly([p for p, juror in enumerate(jurors) if kinds.get(juror, "") == kind])
    for place, (juror, scheme) in enumerate(meeting):
        met = (people + works) * R + place
        for room in range(R):
            p, s = at(jurors.index(juror), room), at(people + schemes.index(scheme), room)
            rule({p: 1.0, s: 1.0, met: -1.0}, -np.inf, 1)
    cost = np.zeros(size)
    cost[(people + works) * R :] = 1.0
    table = sparse.lil_array((len(rows), size))
    for number, entries in enumerate(rows):
        for column, value in entries.items():
            table[number, column] = value
    result = optimize.milp(
        cost,
        integrality=np.ones(size),
        bounds=optimize.Bounds(0, 1),
        constraints=optimize.LinearConstraint(table.tocsr(), low, high),
        options={"time_limit": SECONDS},
    )
    if result.x is None:
        raise InputError(f"no way to share out the rooms was found in {SECONDS} s")
    chosen = result.x[: (people + works) * R].reshape(-1, R).argmax(axis=1)
    return (
        dict(zip(jurors, chosen[:people].tolist(), strict=True)),
        dict(zip(schemes, chosen[people:].tolist(), strict=True)),
    )
