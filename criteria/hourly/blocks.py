"""Days of the room, each as one: what its hours read, without the room's own air, reckoned at once.

Within a block the shutters stand as they do, so that a room decays in its modes and the air of one
hour is felt by those after it by their distance alone.
"""

from collections.abc import Iterator, Sequence
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from criteria.hourly.inputs import Inputs
from criteria.hourly.room import Matrix, Room, Steps
from criteria.hourly.weather import HOUR_S, HOURS, Flags, Hours, Weather

DECEMBER = HOURS - 31 * 24
"""Hour at which December begins: it runs before the year, which so doesn't know how it began."""
Numbers = NDArray[np.intp]
LONGEST = 24
"""Hours of a block at most."""


class Mode:
    """A room with its shutters open, or shut: how a block's hours answer, n modes and p parts.

    An hour tells, in rows, the means at outer faces, then at inner ones [K], and what all nodes
    take up [J]. It reads of them what flows from faces to the air [W], and their radiant mean [K].

    decay       what is left of each mode after so many hours, shape (25, n) [1]
    air_adds    what the air of each hour adds to modes as a full block ends, shape (n, 24)
    tells       of modes as a block begins, then of the air of its hours: (24, 2p + 1, n + 24)
    by_watts    what an hour tells of watts at its faces, shape (2p + 1, 2p)
    reads       of modes as a block begins, shape (2, 24, n)
    follows     of the air of hours before, by their distance: 24 down to 0, shape (2, 25); what
                the air itself keeps is in the first
    own         of the air of the hour itself, shape (2,)
    """

    def __init__(self, steps: Steps) -> None:
        room = steps.room
        self.steps, self.to_air = steps, np.stack((room.in_air_w_k, room.spread))
        self.inner = slice(len(room.parts), 2 * len(room.parts))
        heat = room.keeps_j_k @ steps.nodes
        self.decay = steps.decays ** np.arange(LONGEST + 1)[:, np.newaxis]
        self.air_adds = (steps.by_air * self.decay[LONGEST - 1 :: -1]).T
        self.by_watts = np.vstack((steps.mean_by_watts, heat @ steps.by_watts))
        self.of_modes = np.vstack((steps.mean_of, heat * (steps.decays - 1)))
        decaying = self.of_modes * self.decay[:LONGEST, np.newaxis]
        of_air = np.append(steps.mean_by_air, heat @ steps.by_air)
        lags = np.vstack((of_air, decaying @ steps.by_air, np.zeros(len(of_air))))
        apart = np.subtract.outer(np.arange(LONGEST), np.arange(LONGEST))
        later = lags[np.maximum(apart, -1)].transpose(0, 2, 1)
        self.tells = np.concatenate((decaying, later), axis=2)
        self.reads = (self.to_air @ decaying[:, self.inner]).transpose(1, 0, 2)
        self.own = self.to_air @ of_air[self.inner]
        self.follows = self.to_air @ lags[LONGEST::-1, self.inner].T
        self.store_w_k = room.air_j_k / HOUR_S
        self.follows[0, LONGEST - 1] += self.store_w_k
        self.follows[:, LONGEST] = 0.0

    def passes(self, length: int) -> Matrix:
        """Return what a block of so many hours leaves of modes and adds by its air: (n, n + 24)."""
        count = len(self.air_adds)
        passes = np.zeros((count, count + LONGEST))
        np.fill_diagonal(passes, self.decay[length])
        passes[:, count : count + length] = self.air_adds[:, LONGEST - length :]
        return passes

    def known(self, watts: Matrix, length: Numbers) -> tuple[Matrix, Matrix]:
        """Return what blocks tell of what comes in, and what that adds to modes as they end.

        watts   at faces of the hours of b blocks, shape (24, 2p, b); `length` of each [h]
        Shapes (24, 2p + 1, b) and (b, n).
        """
        decays = self.steps.decays[:, np.newaxis]
        # in one stretch of memory: what an hour adds, then what all before it have added
        states = np.zeros((LONGEST + 1, len(decays), watts.shape[2]))
        np.matmul(self.steps.by_watts, watts, out=states[1:])
        for before, after in pairwise(states):
            after += before * decays
        told = self.by_watts @ watts
        told += self.of_modes @ states[:LONGEST]
        return told, states[length, :, np.arange(watts.shape[2])]


class Blocks:
    """A year in blocks of hours in which the shutters don't move, and all that is known of them.

    ends        first hour of each block and the first after it
    feels       whether the radiant mean is read, for a thermostat that feels it
    whole_w_k   what leaves the air for each kelvin of it, or stays in it, by hour [W/K]
    back        how far the radiant mean follows the air of the hour, by hour [1]
    known       what each block's hours read of what comes in since it began: shape (b, 24 or 48)
    passes      of each block, what its end leaves to the next: of modes as it begins and the air of
                its hours, the modes as the next begins and what its hours read of them
    comes       what comes in adds to that: shape (b, n + 24 or 48)
    """

    def __init__(
        self,
        steps: Sequence[Steps],
        is_shut: Flags,
        inputs: Inputs,
        weather: Weather,
        fixed_w_k: Hours,
        *,
        feels: bool,
    ) -> None:
        """Reckon what doesn't hang on the room's air; `fixed_w_k` passes with air from outside."""
        by_hour = np.where(is_shut, len(steps) - 1, 0)
        edges = np.array([0, *_edges(by_hour)])
        first, length = edges[:-1], np.diff(edges)
        self.ends = tuple(pairwise(edges.tolist()))
        self.from_december = int(np.searchsorted(first, DECEMBER))
        self.modes = [Mode(each) for each in steps]
        self.mode_of = by_hour[first]
        room = steps[0].room
        own = np.array([mode.own for mode in self.modes])[by_hour]
        stays_w_k = room.air_j_k / HOUR_S + room.in_air_w_k.sum()
        self.feels, self.back = feels, own[:, 1]
        self.whole_w_k = stays_w_k - own[:, 0] + fixed_w_k
        # past the end of a block stands an hour that there isn't
        step = np.arange(LONGEST)[:, np.newaxis]
        self._hours = np.where(step < length, first + step, HOURS)
        reads = [inputs.to_air_w + fixed_w_k * weather.air_k, _radiant_k(inputs, room)][: 1 + feels]
        known = self._of_blocks(np.stack(reads), slice(None))
        self._told, adds = [], np.empty((len(first), len(room.keeps_j_k)))
        for mode, mine in zip(self.modes, self._by_mode, strict=True):
            told, adds[mine] = mode.known(self._of_blocks(inputs.at_faces_w, mine), length[mine])
            known[:, :, mine] += mode.to_air[: len(reads)] @ told[:, mode.inner]
            self._told.append(told)
        self.known = known.transpose(2, 1, 0).reshape(len(first), -1)
        self._pass_on(length, adds)

    def _of_blocks(self, by_hour: Matrix, blocks: Numbers | slice) -> Matrix:
        """Return rows by hour as the blocks have them: shape (24, rows, b)."""
        hours = self._hours[:, blocks]
        return by_hour.take(hours, axis=1, mode="clip").transpose(1, 0, 2)

    @property
    def _by_mode(self) -> list[Numbers]:
        return [np.flatnonzero(self.mode_of == number) for number in range(len(self.modes))]

    def _pass_on(self, length: Numbers, adds: Matrix) -> None:
        """Join each block to the one after it, the last to the first."""
        following = np.roll(self.mode_of, -1)
        kinds, kind_of = np.unique((length * 2 + self.mode_of) * 2 + following, return_inverse=True)
        self.comes = np.hstack((adds, np.roll(self.known, -1, axis=0)))
        count, matrices = adds.shape[1], []
        for kind in range(len(kinds)):
            at = np.flatnonzero(kind_of == kind)
            here, there, lasts = self.mode_of[at[0]], following[at[0]], int(length[at[0]])
            mode, after = self.modes[here], self.modes[there]
            passes = mode.passes(lasts)
            if here != there:
                turn = after.steps.modes @ mode.steps.nodes
                passes, self.comes[at, :count] = turn @ passes, adds[at] @ turn.T
            reads = after.reads.reshape(-1, count)[: self.known.shape[1]]
            self.comes[at, count:] += self.comes[at, :count] @ reads.T
            passes = np.vstack((passes, reads @ passes))
            passes[count, count + lasts - 1] += mode.store_w_k
            matrices.append(passes)
        self.passes = [matrices[kind] for kind in kind_of.tolist()]

    def follows(self, number: int) -> Matrix:
        """Return how a block's hours follow the air of those before, as its mode says."""
        follows: Matrix = self.modes[self.mode_of[number]].follows
        return follows

    def by_hour(self, held: Matrix) -> tuple[Matrix, Hours]:
        """Return what a year's hours told, and their air [K].

        held    modes as each block began, then the air of its hours: shape (b, n + 24)
        Shapes (2p + 1, 8760) and (8760,).
        """
        told = np.empty((self.modes[0].tells.shape[1], HOURS + 1))
        air = np.empty(HOURS + 1)
        air[self._hours] = held[:, -LONGEST:].T
        for mode, mine, known in zip(self.modes, self._by_mode, self._told, strict=True):
            hours, rows, count = mode.tells.shape
            tells = mode.tells.reshape(-1, count) @ held[mine].T
            tells = tells.reshape(hours, rows, -1)
            tells += known
            told[:, self._hours[:, mine]] = tells.transpose(1, 0, 2)
        return told[:, :HOURS], air[:HOURS]


class Walls:
    """What the room's nodes hold, from block to block of a run; they begin all as warm.

    air     of the hours of the block that runs, written by the loop [K], shape (24,)
    """

    def __init__(self, blocks: Blocks, start_k: float) -> None:
        begins = blocks.from_december
        mode, self._blocks = blocks.modes[blocks.mode_of[begins]], blocks
        self._count = len(mode.steps.decays)
        self._now = np.zeros(self._count + LONGEST)
        self._now[: self._count] = mode.steps.modes @ np.full(self._count, start_k)
        self.air = self._now[self._count :]
        self.held = np.empty((len(blocks.ends), len(self._now)))
        reads = mode.reads.reshape(-1, self._count)[: blocks.known.shape[1]]
        self.reads = blocks.known[begins] + reads @ self._now[: self._count]
        self.reads[0] += mode.store_w_k * start_k

    def pass_on(self, number: int) -> None:
        """Go on to the next block, once the air of all hours of one is known."""
        self.held[number] = self._now
        after = self._blocks.passes[number].dot(self._now)
        after += self._blocks.comes[number]
        self._now[: self._count] = after[: self._count]
        self.reads = after[self._count :]


def _radiant_k(inputs: Inputs, room: Room) -> Hours:
    """Return what radiant heat of people and loads adds to the mean of the faces [K]."""
    across = room.in_long_w_k.sum()
    radiant: Hours = inputs.radiant_w / across if across else np.zeros(HOURS)
    return radiant


def _edges(mode: Numbers) -> Iterator[int]:
    """Part the year's hours where the mode changes or December begins, and after 24 at most."""
    turns = np.flatnonzero(np.diff(mode)) + 1
    for begins, ends in pairwise(sorted({0, DECEMBER, HOURS, *turns.tolist()})):
        yield from (*range(begins + LONGEST, ends, LONGEST), ends)
