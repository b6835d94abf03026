"""Days of the room, each as one: what its hours read, without the room's own air, reckoned at once.

Within a block the shutters stand as they do, so that a room decays in its modes and the air of one
hour is felt by those after it by their distance alone.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from criteria.hourly.inputs import Inputs
from criteria.hourly.room import Matrix, Steps
from criteria.hourly.weather import HOURS, Flags, Hours

ORDER = np.array([*range(HOURS - 31 * 24, HOURS), *range(HOURS)])
"""Hours as they run: December first, so that the year doesn't know how it began."""
FIRST = len(ORDER) - HOURS
Numbers = NDArray[np.intp]
LONGEST = 24
"""Hours of a block at most."""


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Ran:
    """The year as it ran.

    faces_k     means of outer faces by part, then of inner ones, shape (8760, 2p) [K]
    kept_j      what all nodes took up in each hour [J]
    air_k       [K], and of the hour before each
    plant_w     heat given, negative where it is taken [W]
    opened_w_k  what open windows passed [W/K]; open_share how far they stood open [1]
    fired_w_k   what a fire drew out of the room [W/K]
    """

    faces_k: Matrix
    kept_j: Hours
    air_k: Hours
    air_before_k: Hours
    plant_w: Hours
    opened_w_k: Hours
    open_share: Hours
    fired_w_k: Hours


class _Mode:
    """A room with its shutters open, or shut."""

    def __init__(self, steps: Steps, inputs: Inputs) -> None:
        room = steps.room
        parts = len(room.parts)
        self.steps = steps
        # heat from faces to the air, and their radiant mean, of hourly means at inner faces
        reads = np.stack((room.in_air_w_k, room.spread))
        self.own, self.back = reads @ steps.mean_by_air[parts:]
        of_modes = reads @ steps.mean_of[parts:]
        long_wave = room.in_long_w_k.sum()
        powers = steps.decays ** np.arange(LONGEST + 1)[:, np.newaxis]
        self.powers = powers
        self.reads = (of_modes[np.newaxis] * powers[:-1, np.newaxis]).reshape(2 * LONGEST, -1)
        self.follows = np.ascontiguousarray(self.reads @ steps.by_air)
        self.of_airs = (steps.by_air * powers[LONGEST - 1 :: -1]).T
        self.of_modes = of_modes
        self.comes = inputs.at_faces_w @ steps.by_watts.T
        self.direct = inputs.at_faces_w @ (reads @ steps.mean_by_watts[parts:]).T
        if long_wave:
            self.direct[:, 1] += inputs.radiant_w / long_wave
        self.heat = room.keeps_j_k @ steps.nodes


class Blocks:
    """A year in blocks of hours in which the shutters don't move.

    ends        first hour of each block and the first after it, as hours run
    own, back   what the flow from the faces to the air loses by the air of the hour [W/K], and how
                far the radiant temperature follows it [1], by hour as it runs
    """

    def __init__(
        self, steps: Sequence[Steps], is_shut: Flags, inputs: Inputs, start_k: float
    ) -> None:
        self._inputs = inputs
        self._modes = [_Mode(each, inputs) for each in steps]
        mode = np.where(is_shut, len(steps) - 1, 0)[ORDER]
        self._mode = mode
        room = steps[0].room
        to_air = float(room.in_air_w_k.sum())
        self.own = np.array([to_air - each.own for each in self._modes])[mode]
        self.back = np.array([each.back for each in self._modes])[mode]
        self.ends = tuple(_blocks(mode))
        first = np.array([begins for begins, _ in self.ends])
        self._first = first
        self._length = np.array([ends - begins for begins, ends in self.ends])
        self._number = {begins: n for n, (begins, _) in enumerate(self.ends)}
        self._begins = np.empty((len(first), len(room.keeps_j_k)))
        self._reads = self._without_air()
        nodes = np.full(len(room.keeps_j_k), start_k)
        self._now = steps[mode[0]].modes @ nodes

    def _by_step(self) -> Iterator[tuple[_Mode, Numbers, Numbers]]:
        """Go through blocks side by side: in which mode, which blocks, and their hours."""
        for number, mode in enumerate(self._modes):
            mine = np.flatnonzero(self._mode[self._first] == number)
            for step in range(LONGEST):
                going = mine[self._length[mine] > step]
                if going.size:
                    yield mode, going, self._first[going] + step

    def _without_air(self) -> Matrix:
        """Return what each hour reads of what came in since its block began: (hours, 2)."""
        reads = np.empty((len(ORDER), 2))
        self._ended = np.zeros_like(self._begins)
        state = self._ended
        for mode, blocks, hours in self._by_step():
            k = ORDER[hours]
            reads[hours] = state[blocks] @ mode.of_modes.T + mode.direct[k]
            state[blocks] = state[blocks] * mode.steps.decays + mode.comes[k]
        return reads

    def begin(self, first: int) -> tuple[Hours, Hours]:
        """Return what the hours of a block read by turns (flow, radiant), and how each follows.

        The first changes as the air of its hours becomes known: of an hour's air [K] so many times
        the second is added from the next hour on.
        """
        number = self._number[first]
        length, mode = int(self._length[number]), self._modes[self._mode[first]]
        self._begins[number] = self._now
        reads = mode.reads[: 2 * length] @ self._now
        reads += self._reads[first : first + length].ravel()
        return reads, mode.follows

    def end(self, first: int, temps: list[float]) -> None:
        """Go on to the next block, once the air of all hours of one is known."""
        number, at = self._number[first], int(self._mode[first])
        mode, length = self._modes[at], len(temps)
        now = mode.powers[length] * self._now + self._ended[number]
        now += mode.of_airs[:, LONGEST - length :] @ np.array(temps)
        after = first + length
        if after < len(ORDER) and self._mode[after] != at:
            now = self._modes[self._mode[after]].steps.modes @ (mode.steps.nodes @ now)
        self._now = now

    def ran(
        self,
        air_k: Hours,
        plant_w: Hours,
        opened_w_k: Hours,
        open_share: Hours,
        fired_w_k: Hours,
    ) -> Ran:
        """Return the year, once all hours are known."""
        states = np.empty((len(ORDER), self._begins.shape[1]))
        now = self._begins
        for mode, blocks, hours in self._by_step():
            states[hours] = was = now[blocks]
            comes = mode.comes[ORDER[hours]] + np.outer(air_k[hours], mode.steps.by_air)
            now[blocks] = was * mode.steps.decays + comes
        faces, kept = np.empty((HOURS, self._inputs.at_faces_w.shape[1])), np.empty(HOURS)
        for number, mode in enumerate(self._modes):
            at = slice(None) if len(self._modes) == 1 else self._mode[FIRST:] == number
            was, air, watts = states[FIRST:][at], air_k[FIRST:][at], self._inputs.at_faces_w[at]
            steps = mode.steps
            faces[at] = was @ steps.mean_of.T + watts @ steps.mean_by_watts.T
            faces[at] += np.outer(air, steps.mean_by_air)
            kept[at] = was @ (mode.heat * (steps.decays - 1)) + mode.comes[at] @ mode.heat
            kept[at] += air * float(steps.by_air @ mode.heat)
        return Ran(
            faces_k=faces,
            kept_j=kept,
            air_k=air_k[FIRST:],
            air_before_k=air_k[FIRST - 1 : -1],
            plant_w=plant_w[FIRST:],
            opened_w_k=opened_w_k[FIRST:],
            open_share=open_share[FIRST:],
            fired_w_k=fired_w_k[FIRST:],
        )


def _blocks(mode: Numbers) -> Iterator[tuple[int, int]]:
    """Part hours as they run where the mode changes, and after 24 at the longest."""
    turns = np.flatnonzero(np.diff(mode)) + 1
    for begins, ends in pairwise((0, *turns.tolist(), len(mode))):
        edges = (*range(begins, ends, LONGEST), ends)
        yield from pairwise(edges)
