"""The draw: an order by lot, thirds rotated against the crit before."""

from __future__ import annotations

import random
import secrets
from collections.abc import Collection, Iterable, Iterator, Sequence
from functools import cache
from itertools import accumulate
from math import factorial

LOTS = 10_000
"""Lots that are suggested: four figures can be called out in front of the class."""

Counts = tuple[int, int, int]
"""How many go to the first, the middle and the last third."""


def new_lot() -> int:
    """Return a lot to suggest."""
    return secrets.randbelow(LOTS)


def thirds(order: Sequence[str]) -> tuple[tuple[str, ...], tuple[str, ...], tuple[str, ...]]:
    """The first, middle and last third of an order; what is left over belongs to the middle.

    >>> thirds("abcdefgh")
    (('a', 'b'), ('c', 'd', 'e', 'f'), ('g', 'h'))
    """
    third = len(order) // 3
    last = len(order) - third
    return tuple(order[:third]), tuple(order[third:last]), tuple(order[last:])


def draw(numbers: Iterable[str], lot: int, *, before: Sequence[str] = ()) -> list[str]:
    """Draw the numbers of schemes into an order by lot.

    before   the order of the crit before: as few as can be stand in the first third again, and
             of those orders in which that is so, as few as can be in the middle or last again.
             Later schemes tend to be marked higher, so turns are shared

    The same lot, numbers and order before give the same order, however the numbers are listed.
    Each order that remains is as likely as any other.

    Source: later performers are marked higher, Bruine de Bruin 2005, Acta Psychologica 118:245.

    >>> draw(["H03", "H01", "H02"], 7) == draw(["H01", "H02", "H03"], 7)
    True
    >>> draw(["H01", "H02", "H03"], 7, before=["H01", "H02", "H03"]) in (
    ...     ["H02", "H03", "H01"], ["H03", "H01", "H02"]
    ... )
    True
    """
    order = sorted(set(numbers))
    by_lot = random.Random(lot)
    by_lot.shuffle(order)
    if not before:
        return order
    sizes = tuple(len(third) for third in thirds(order))
    parts: list[list[str]] = [[], [], []]
    for group, counts in _dealt(_groups(order, before), (sizes[0], sizes[1], sizes[2]), by_lot):
        dealt = iter(group)  # shuffled already, so its first are any of it
        for part, count in zip(parts, counts, strict=True):
            part += [next(dealt) for _ in range(count)]
    for part in parts:
        by_lot.shuffle(part)
    return [number for part in parts for number in part]


def opening_pair(
    order: Sequence[str], agree: Collection[str], lot: int, pair: int = 2
) -> list[str]:
    """Put schemes that agree to open, drawn by lot, before an order; the others keep theirs.

    Where fewer than `pair` agree, the first of the order follow them.
    """
    willing = sorted(set(agree) & set(order))
    random.Random(f"opening {lot}").shuffle(willing)
    opening = willing[:pair]
    return opening + [number for number in order if number not in opening]


def _groups(order: Sequence[str], before: Sequence[str]) -> tuple[list[str], ...]:
    """The order parted by the third in which each stood before; those who didn't come last."""
    was = {number: place for place, third in enumerate(thirds(before)) for number in third}
    return tuple([number for number in order if was.get(number, 3) == n] for n in range(4))


def _dealt(
    groups: Sequence[list[str]], sizes: Counts, by_lot: random.Random
) -> Iterator[tuple[list[str], Counts]]:
    """Say of each group how many go to which third: any way of the fewest repeats as likely.

    Ways are counted exactly, from the last group to the first, then one is picked by its number.
    """

    @cache
    def best(place: int, left: Counts) -> tuple[int, int]:
        """Fewest repeats of the groups from here on in what is left, and in how many ways."""
        if place == len(groups):
            return 0, 1
        found = list(choices(place, left))
        fewest = min(repeats for _, repeats, _ in found)
        return fewest, sum(ways for _, repeats, ways in found if repeats == fewest)

    def choices(place: int, left: Counts) -> Iterator[tuple[Counts, int, int]]:
        size = len(groups[place])
        for first in range(min(size, left[0]) + 1):
            for middle in range(min(size - first, left[1]) + 1):
                last = size - first - middle
                if last <= left[2]:
                    counts = first, middle, last
                    rest = left[0] - first, left[1] - middle, left[2] - last
                    repeats, ways = best(place + 1, rest)
                    again = _repeats(place, counts, sum(sizes))
                    yield counts, repeats + again, ways * _ways(counts)

    left = sizes
    for place, group in enumerate(groups):
        fewest, ways = best(place, left)
        found = [(each, n) for each, repeats, n in choices(place, left) if repeats == fewest]
        counts = _picked(found, by_lot.randrange(ways))
        left = left[0] - counts[0], left[1] - counts[1], left[2] - counts[2]
        yield group, counts


def _picked(found: Sequence[tuple[Counts, int]], number: int) -> Counts:
    """The counts in which a way falls, the ways of all being numbered through."""
    reached = accumulate(ways for _, ways in found)
    return next(counts for (counts, _), end in zip(found, reached, strict=True) if number < end)


def _repeats(group: int, counts: Counts, all_of_them: int) -> int:
    """Those of a group who stay in their third; one in the first weighs more than all others."""
    if group > 2:
        return 0
    return counts[group] * (all_of_them if group == 0 else 1)


def _ways(counts: Counts) -> int:
    """In how many ways a group is parted so."""
    ways = factorial(sum(counts))
    for count in counts:
        ways //= factorial(count)
    return ways
