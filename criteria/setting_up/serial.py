"""Sequences built one step after another, each at the earliest minute at which hands are free.

Serial scheduling by a rule of priority, then justified: all steps are pushed as late as they can
go, then as early, until that no longer shortens (Valls, Ballestín and Quintanilla, European Journal
of Operational Research 165, 2005, from memory).
"""

from __future__ import annotations

import random
from bisect import bisect_left
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from criteria.setting_up.network import Network

FEW = 3
"""So many of the rules' sequences are justified where there are too many steps to vary them."""

Starts = list[int]
"""The minute at which each step starts, in the order of the network's steps."""


@dataclass(frozen=True)
class Resources:
    """What steps need and what there is: people first, then each tool.

    need    a row a step
    have    of each, at least as much as any step needs
    """

    need: tuple[tuple[int, ...], ...]
    have: tuple[int, ...]

    @classmethod
    def of(cls, network: Network, people: int, tools: dict[str, int]) -> Resources:
        """Resources of a network's steps; a tool that one step alone takes is never short."""
        taken = Counter(name for step in network.steps for name in step.tools)
        names = sorted(name for name in tools if taken[name] > 1)
        need = tuple(
            (step.people, *(step.tools.get(name, 0) for name in names)) for step in network.steps
        )
        return cls(need, (people, *(tools[name] for name in names)))


class _Profile:
    """What is free from each minute on; minutes at which it changes, in order."""

    def __init__(self, have: tuple[int, ...]) -> None:
        self.at: list[int] = [0]
        self.free: list[list[int]] = [list(have)]

    def earliest(self, ready: int, minutes: int, need: tuple[int, ...]) -> int:
        """The first minute from `ready` on at which so much is free for so long."""
        start, k = ready, max(0, bisect_left(self.at, ready + 1) - 1)
        at, free = self.at, self.free
        wanted = [(r, n) for r, n in enumerate(need) if n]
        while k < len(at) and at[k] < start + minutes:
            for r, n in wanted:
                if free[k][r] < n:
                    start = at[k + 1]
                    break
            k += 1
        return start

    def take(self, start: int, minutes: int, need: tuple[int, ...]) -> None:
        """Take so much from a minute on for so long."""
        first, last = self._cut(start), self._cut(start + minutes)
        for free in self.free[first:last]:
            for r, n in enumerate(need):
                free[r] -= n

    def _cut(self, minute: int) -> int:
        k = bisect_left(self.at, minute)
        if k == len(self.at) or self.at[k] != minute:
            self.at.insert(k, minute)
            self.free.insert(k, list(self.free[k - 1]))
        return k


def build(network: Network, resources: Resources, priority: Sequence[float]) -> Starts:
    """Place the steps, the lowest priority number first of those whose forerunners are placed."""
    starts = [0] * len(network.steps)
    left = [len(before) for before in network.before]
    ready = [n for n, count in enumerate(left) if not count]
    profile = _Profile(resources.have)
    while ready:
        n = min(ready, key=lambda k: (priority[k], network.steps[k].mark))
        ready.remove(n)
        minutes = network.steps[n].minutes
        after = max((starts[p] + network.steps[p].minutes for p in network.before[n]), default=0)
        starts[n] = profile.earliest(after, minutes, resources.need[n])
        profile.take(starts[n], minutes, resources.need[n])
        for other in network.following[n]:
            left[other] -= 1
            if not left[other]:
                ready.append(other)
    return starts


def length_of(network: Network, starts: Starts) -> int:
    """The minute at which the last step ends."""
    return max((s + step.minutes for s, step in zip(starts, network.steps, strict=True)), default=0)


def justified(network: Network, back: Network, resources: Resources, starts: Starts) -> Starts:
    """Push all steps to the end and to the beginning for as long as that shortens."""
    best = length_of(network, starts)
    while True:
        ends = [s + step.minutes for s, step in zip(starts, network.steps, strict=True)]
        late = build(back, resources, [-end for end in ends])
        from_end = length_of(back, late)
        latest = [from_end - s - step.minutes for s, step in zip(late, network.steps, strict=True)]
        early = build(network, resources, latest)
        if (length := length_of(network, early)) >= best:
            return starts
        best, starts = length, early


def rules(network: Network) -> list[list[float]]:
    """Five rules of priority: latest end, latest start, longest tail, most work, earliest start."""
    heads, tails, length = network.heads(), network.tails(), network.length
    minutes = [step.minutes for step in network.steps]
    work = [step.minutes * step.people for step in network.steps]
    following = [_all_following(network, n) for n in range(len(minutes))]
    return [
        [float(length - tail + m) for tail, m in zip(tails, minutes, strict=True)],
        [float(length - tail) for tail in tails],
        [-float(tail) for tail in tails],
        [-float(work[n] + sum(work[f] for f in following[n])) for n in range(len(minutes))],
        [float(head) for head in heads],
    ]


def _all_following(network: Network, n: int) -> set[int]:
    found: set[int] = set()
    asked = [n]
    while asked:
        for other in network.following[asked.pop()]:
            if other not in found:
                found.add(other)
                asked.append(other)
    return found


def shortest_found(network: Network, resources: Resources, least: int, variants: int) -> Starts:
    """The shortest of the five rules' sequences and of so many seeded variants, each justified.

    Where there are no variants, only the shortest are justified. Ends as soon as one is as short as
    `least`, below which none is.
    """
    draw, back, given = random.Random(1), network.reversed(), rules(network)
    if not variants:
        made = [build(network, resources, priority) for priority in given]
        made.sort(key=lambda starts: length_of(network, starts))
        shifted = [justified(network, back, resources, starts) for starts in made[:FEW]]
        return min(shifted, key=lambda starts: length_of(network, starts))
    best: Starts = []
    for k in range(len(given) + variants):
        priority = given[k % len(given)]
        if k >= len(given):
            spread = 0.3 * (max(priority) - min(priority))
            priority = [each + draw.uniform(-spread, spread) for each in priority]
        starts = justified(network, back, resources, build(network, resources, priority))
        if not best or length_of(network, starts) < length_of(network, best):
            best = starts
        if length_of(network, best) <= least:
            break
    return best
