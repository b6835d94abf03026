"""Steps and what goes before what: the critical path, the slack of each step, packing in reverse.

Source: Kelley and Walker, Critical-Path Planning and Scheduling, 1959 (from memory); held to a
worked example and to another library's longest paths in its tests.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace

from criteria.errors import InputError

MOST_STEPS = 200
"""Of one sequence: a small building has fewer, and more would be searched too long."""


@dataclass(frozen=True)
class Step:
    """One step of setting up.

    mark      by which other steps name it
    minutes   it takes, whole, at least one
    people    it needs all the while, at least one
    after     marks of the steps that must have ended
    tools     how many of each tool it holds all the while
    """

    mark: str
    minutes: int
    people: int
    after: tuple[str, ...] = ()
    tools: Mapping[str, int] = field(default_factory=dict, hash=False)


@dataclass(frozen=True)
class Times:
    """When a step may start and end, in minutes from the beginning."""

    earliest_start: int
    earliest_end: int
    latest_start: int
    latest_end: int

    @property
    def slack(self) -> int:
        """By how many minutes it may slip before the end does."""
        return self.latest_start - self.earliest_start


class Network:
    """Steps in an order in which each may be done, with what follows each.

    Raises InputError for a mark twice, an `after` that names no step, a circle, named in full, and
    more steps than are searched.
    """

    def __init__(self, steps: Sequence[Step]) -> None:
        if len(steps) > MOST_STEPS:
            raise InputError(f"{len(steps):,} steps; expected at most {MOST_STEPS}")
        self.steps = tuple(steps)
        self.index = {step.mark: n for n, step in enumerate(self.steps)}
        if len(self.index) < len(self.steps):
            twice = next(s.mark for n, s in enumerate(self.steps) if self.index[s.mark] != n)
            raise InputError(f"step {twice} stands twice; expected a mark of its own for each")
        for step in self.steps:
            if odd := next((mark for mark in step.after if mark not in self.index), None):
                raise InputError(f"step {step.mark} comes after {odd}, which is no step")
        self.before = [[self.index[mark] for mark in step.after] for step in self.steps]
        self.following: list[list[int]] = [[] for _ in self.steps]
        for n, before in enumerate(self.before):
            for other in before:
                self.following[other].append(n)
        self.order = self._order()

    def _order(self) -> list[int]:
        left = [len(before) for before in self.before]
        order = [n for n, count in enumerate(left) if not count]
        for n in order:
            for other in self.following[n]:
                left[other] -= 1
                if not left[other]:
                    order.append(other)
        if len(order) < len(self.steps):
            raise InputError(f"steps go round in a circle: {' after '.join(self._circle(left))}")
        return order

    def _circle(self, left: Sequence[int]) -> list[str]:
        """The marks of one circle, the first again at its end; each comes after the next."""
        path = [next(n for n, count in enumerate(left) if count)]
        while path[-1] not in path[:-1]:
            path.append(next(n for n in self.before[path[-1]] if left[n]))
        return [self.steps[n].mark for n in path[path.index(path[-1]) :]]

    def heads(self) -> list[int]:
        """For each step the longest chain that must have ended before it starts [min]."""
        heads = [0] * len(self.steps)
        for n in self.order:
            heads[n] = max((heads[p] + self.steps[p].minutes for p in self.before[n]), default=0)
        return heads

    def tails(self) -> list[int]:
        """For each step the longest chain from its start to the end of all, itself in it [min]."""
        tails = [0] * len(self.steps)
        for n in reversed(self.order):
            after = max((tails[f] for f in self.following[n]), default=0)
            tails[n] = self.steps[n].minutes + after
        return tails

    @property
    def length(self) -> int:
        """Minutes of the critical path: the least however many people there are."""
        return max(self.tails(), default=0)

    def times(self) -> dict[str, Times]:
        """When each step may start and end if nobody is short."""
        heads, tails, length = self.heads(), self.tails(), self.length
        return {
            step.mark: Times(head, head + step.minutes, length - tail, length - tail + step.minutes)
            for step, head, tail in zip(self.steps, heads, tails, strict=True)
        }

    def critical_path(self) -> list[str]:
        """The marks of one longest chain, from the first step to the last; ties by mark."""
        tails, path = self.tails(), []
        among: Iterable[int] = (n for n, before in enumerate(self.before) if not before)
        while among := sorted(among, key=lambda n: (-tails[n], self.steps[n].mark)):
            path.append(self.steps[among[0]].mark)
            among = self.following[among[0]]
        return path

    def longest_between(self, first: str, last: str) -> int | None:
        """Minutes of the longest chain from one step to another, both in it; None without one.

        However many people there are, from the start of the first to the end of the last is never
        less.
        """
        start, end = self.index[first], self.index[last]
        longest = {start: self.steps[start].minutes}
        for n in self.order:
            if n != start and (before := [longest[p] for p in self.before[n] if p in longest]):
                longest[n] = max(before) + self.steps[n].minutes
        return longest.get(end)

    def reversed(self, minutes_back: Mapping[str, int] | None = None) -> Network:
        """Packing: every step after those that came after it, in its own minutes where given."""
        back = minutes_back or {}
        return Network(
            [
                replace(
                    step,
                    minutes=back.get(step.mark, step.minutes),
                    after=tuple(self.steps[f].mark for f in self.following[n]),
                )
                for n, step in enumerate(self.steps)
            ]
        )
