"""The least sequence, proved, by searching depth first over the smallest sets of steps to delay.

At each moment all steps that may start are started; where that takes more than there is, one of
the smallest sets of steps that must wait does so, each set a branch. What was reached before with
the same steps, no later, is not looked at again. Source: Demeulemeester and Herroelen, Management
Science 38, 1992 (from memory); held to published least lengths and an integer program in its tests.
"""

from __future__ import annotations

from operator import add, le, sub
from typing import NamedTuple

from criteria.setting_up.network import Network
from criteria.setting_up.serial import Resources, Starts, length_of

MOST_SETS, MOST_TRIED = 400, 2000
"""Branches of one moment, and how many are tried for them: with more, nothing is proved."""
A_NODE = 60
"""So many that are tried take about as long as a node."""


class _Node(NamedTuple):
    """A moment with the steps that were started, and the numbers of the moments that led to it."""

    moment: int
    starts: dict[int, int]
    path: frozenset[int]


class _Reached(NamedTuple):
    """A moment that was looked at: its number, and when the steps that run then end."""

    number: int
    moment: int
    running: dict[int, int]


class Search:
    """One search, bounded by nodes.

    best        the shortest sequence known, given and bettered
    is_whole    whether all was looked at, so that nothing shorter than the best is left
    """

    def __init__(self, network: Network, resources: Resources, best: Starts, nodes: int) -> None:
        self.network, self.resources = network, resources
        self.minutes = [step.minutes for step in network.steps]
        self.tails = network.tails()
        self.best, self.nodes, self.is_whole = best, nodes, True
        self.length = length_of(network, best)
        self.seen: dict[frozenset[int], list[_Reached]] = {}
        self.reached = 0
        self.by_behind = sorted(
            range(len(self.minutes)), key=lambda n: self.minutes[n] - self.tails[n]
        )

    def run(self, least: int) -> None:
        """Search until nothing is left, a sequence is as short as `least`, or the nodes are up."""
        waiting = [_Node(0, {}, frozenset())]
        while waiting and self.length > least:
            if not self.nodes:
                self.is_whole = False
                return
            self.nodes -= 1
            waiting += self._branches(waiting.pop())

    def _branches(self, node: _Node) -> list[_Node]:
        """What a moment leads to, the most promising last."""
        moment, starts, path = node
        while True:
            if self._bound(moment, starts) >= self.length:
                return []
            if (reached := self._reach(moment, starts, path)) is None:
                return []
            path = path | {reached}
            running = {n for n, s in starts.items() if s + self.minutes[n] > moment}
            for n in range(len(self.minutes)):
                if n not in starts and self._may_start(n, moment, starts):
                    starts[n] = moment
                    running.add(n)
            if self._is_short(running):
                return self._delays(running, starts, path)
            if len(starts) == len(self.minutes):
                self._keep(starts)
                return []
            moment = min(starts[n] + self.minutes[n] for n in running)

    def _delays(
        self, running: set[int], starts: dict[int, int], path: frozenset[int]
    ) -> list[_Node]:
        found = []
        for late in self._smallest_sets(sorted(running)):
            until = min(starts[n] + self.minutes[n] for n in running if n not in late)
            bound = max(until + self.tails[n] for n in late)
            if bound < self.length:
                kept = {n: s for n, s in starts.items() if n not in late}
                found.append((bound, _Node(until, kept, path)))
        found.sort(key=lambda each: -each[0])
        return [node for _, node in found]

    def _may_start(self, n: int, moment: int, starts: dict[int, int]) -> bool:
        return all(
            p in starts and starts[p] + self.minutes[p] <= moment for p in self.network.before[n]
        )

    def _is_short(self, running: set[int]) -> bool:
        need = self.resources.need
        return any(sum(need[n][r] for n in running) > h for r, h in enumerate(self.resources.have))

    def _smallest_sets(self, running: list[int]) -> list[frozenset[int]]:
        """Sets whose delay ends the shortage, none holding another: all but a largest that fits.

        A step that would fit waits only where those still to come may take what it needs.
        """
        found, need = list[frozenset[int]](), self.resources.need
        coming = [tuple(0 for _ in self.resources.have)]
        for n in reversed(running):
            coming.append(tuple(map(add, coming[-1], need[n])))
        coming.reverse()
        tried = 0

        def keep(k: int, late: tuple[int, ...], left: tuple[int, ...]) -> None:
            nonlocal tried
            tried += 1
            if len(found) == MOST_SETS or tried > MOST_TRIED:
                self.is_whole = False
                return
            least = tuple(map(sub, left, coming[k]))
            if any(_fits(need[n], least) for n in late):
                return
            if k == len(running):
                found.append(frozenset(late))
                return
            n = running[k]
            if _fits(need[n], left):
                keep(k + 1, late, tuple(map(sub, left, need[n])))
            keep(k + 1, (*late, n), left)

        keep(0, (), self.resources.have)
        self.nodes = max(0, self.nodes - tried // A_NODE)
        return found

    def _bound(self, moment: int, starts: dict[int, int]) -> int:
        """What this leads to can't end before.

        Of the steps that so many minutes must still follow, all the work left, and then those.
        """
        bound = max((s + self.tails[n] for n, s in starts.items()), default=0)
        work = [0] * len(self.resources.have)
        for n in self.by_behind:
            left, begun = self.minutes[n], starts.get(n)
            if begun is None:
                bound = max(bound, moment + self.tails[n])
            else:
                left = min(left, max(0, begun + left - moment))
            if not left:
                continue
            for r, have in enumerate(self.resources.have):
                if taken := self.resources.need[n][r]:
                    work[r] += left * taken
                    bound = max(
                        bound, moment - (-work[r] // have) + self.tails[n] - self.minutes[n]
                    )
        return bound

    def _reach(self, moment: int, starts: dict[int, int], path: frozenset[int]) -> int | None:
        """Note a moment and return its number; None where it was reached before, and better.

        Better is another path with the same steps begun, no later, of which those still running end
        no later. What a moment itself leads to is no other path.
        """
        ends = {n: s + self.minutes[n] for n, s in starts.items()}
        reached = self.seen.setdefault(frozenset(starts), [])
        for other in reached:
            is_no_later = other.moment <= moment and all(
                end <= max(moment, ends[n]) for n, end in other.running.items()
            )
            if is_no_later and other.number not in path:
                return None
        self.reached += 1
        running = {n: end for n, end in ends.items() if end > moment}
        reached.append(_Reached(self.reached, moment, running))
        return self.reached

    def _keep(self, starts: dict[int, int]) -> None:
        """Keep a whole sequence; it is shorter than the best, or its bound had stopped it."""
        self.best = [starts[n] for n in range(len(self.minutes))]
        self.length = length_of(self.network, self.best)


def _fits(need: tuple[int, ...], left: tuple[int, ...]) -> bool:
    return all(map(le, need, left))
