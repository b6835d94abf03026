"""The heart of the year: 9,504 hours one after the other, in floats.

All that doesn't depend on the room's own temperature is reckoned before, in arrays; here an hour is
one product of a matrix and a handful of scalars.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import count

import numpy as np
from scipy.linalg.blas import dgemv

from criteria.hourly.air import FlowLaw
from criteria.hourly.building import Building, PlantLimits
from criteria.hourly.inputs import Inputs
from criteria.hourly.on_battery import Bus
from criteria.hourly.room import Matrix, Steps
from criteria.hourly.slices import STEP_S
from criteria.hourly.weather import HOURS, Flags, Hours, Weather

ORDER = np.array([*range(HOURS - 31 * 24, HOURS), *range(HOURS)])
"""Hours as they run: December first, so that the year doesn't know how it began."""
FIRST = len(ORDER) - HOURS
ROUNDS = 8
"""Steps to the temperature at which windows stand wide open; forty move it by under 0.001 K."""
START_K = 291.15


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Ran:
    """The year as it ran.

    nodes_k     at the beginning of each hour, and at the end of the last, shape (8761, n) [K]
    air_k       [K], and of the hour before each
    plant_w     heat given, negative where it is taken [W]
    opened_w_k  what open windows passed [W/K]; open_share how far they stood open [1]
    """

    nodes_k: Matrix
    air_k: Hours
    air_before_k: Hours
    plant_w: Hours
    opened_w_k: Hours
    open_share: Hours


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Wind:
    """What passes with outside air: fixed by hour [W/K], and what windows add by a law of flow.

    air_j_m3k   heat of a cubic metre of air [J/m³K]
    speed_m_s   local wind by hour
    """

    fixed_w_k: Hours
    law: FlowLaw
    air_j_m3k: float
    speed_m_s: Hours


class _Transitions:
    """From one hour to the next as one matrix, for each pair of open and shut.

    A row holds the nodes, the air of the hour (set when it is known), what flows from the faces to
    an air of 0 K, and the radiant temperature but for what follows the air of the hour.

    rows        one for each hour as it runs and one after: first what comes in alone
    moves       the matrix that leads from each to the next
    own, back   what of the flow, and of the radiant temperature, follows the air of the hour
    """

    def __init__(self, steps: Sequence[Steps], is_shut: Flags, inputs: Inputs) -> None:
        room = steps[0].room
        self.count = n = len(room.keeps_j_k)
        parts = len(room.parts)
        to_air, spread = room.in_air_w_k, room.spread
        modes = np.where(is_shut, len(steps) - 1, 0)[ORDER]
        then = np.append(modes[1:], 0)
        # heat from faces to the air, and their radiant mean, of hourly means at inner faces
        reads = np.stack((to_air, spread))
        follows = np.array([reads @ each.mean_by_air[parts:] for each in steps])
        self.own = to_air.sum() - follows[modes, 0]
        self.back = follows[modes, 1]
        by_node = [reads @ each.mean_follow[parts:] for each in steps]
        moves = [[_move(one, next_reads) for next_reads in by_node] for one in steps]
        self.moves = [moves[one][other] for one, other in zip(modes, then, strict=True)]
        brings = np.empty((HOURS, n))
        reading = np.empty((HOURS, 2))
        for mode, each in enumerate(steps):
            at = slice(None) if len(steps) == 1 else is_shut == bool(mode)
            watts = inputs.at_faces_w[at]
            brings[at] = watts @ each.by_watts.T
            reading[at] = watts @ (reads @ each.mean_by_watts[parts:]).T
        long_wave = room.in_long_w_k.sum()
        if long_wave:
            reading[:, 1] += inputs.radiant_w / long_wave
        rows = np.zeros((len(ORDER) + 1, n + 3))
        rows[0, :n] = START_K
        rows[1:, :n] = brings[ORDER]
        rows[0, n + 1 :] = by_node[modes[0]] @ rows[0, :n]
        for mode, read in enumerate(by_node):
            after = np.append(False, then == mode)
            rows[after, n + 1 :] = rows[after, :n] @ read.T
        rows[:-1, n + 1 :] += reading[ORDER]
        self.rows = rows


def _move(one: Steps, reads_then: Matrix) -> Matrix:
    """Return what an hour's nodes and air make of the next row."""
    nodes = np.column_stack((one.follow, one.by_air))
    none = np.zeros((1, nodes.shape[1]))
    return np.asfortranarray(np.vstack((nodes, none, reads_then @ nodes)))


def through(
    steps: tuple[Steps, ...],
    is_shut: Flags,
    inputs: Inputs,
    building: Building,
    weather: Weather,
    wind: Wind,
    plant: PlantLimits,
    bus: Bus | None,
) -> Ran:
    """Run the hours of December and then of the year.

    Air: C (T − T⁻)/Δt = Σ H_c (T̄_i − T) + H_v (T_e − T) + Q. What flows from the faces is known but
    for the part that follows the air of the hour itself, so that T is one division.
    """
    ready = _Transitions(steps, is_shut, inputs)
    rows, n = list(ready.rows), ready.count
    wide_open = _WideOpen(wind)
    use, air, store = building.use, building.air, steps[0].room.air_j_k / STEP_S
    from_outside = wind.fixed_w_k * weather.air_k
    whole = store + ready.own + wind.fixed_w_k[ORDER]
    opens_at = np.where(air.may_open, np.fmax(air.open_above_k, use.warm_k), np.nan)
    cools_at = use.cool_k if plant.cool_w else np.full(HOURS, np.nan)
    feels, radiant_at = use.is_operative, n + 2
    no_cop = [None] * HOURS
    heat_cop = no_cop if plant.heat_cop is None else plant.heat_cop.tolist()
    cool_cop = no_cop if plant.cool_cop is None else plant.cool_cop.tolist()
    runs = [True] * HOURS if plant.heat_runs is None else plant.heat_runs.tolist()
    opens, cools, margin = opens_at.tolist(), cools_at.tolist(), air.open_margin_k.tolist()
    temps, gave, opened, shares = ([0.0] * len(ORDER) for _ in range(4))
    outside = weather.air_k.tolist()
    t = START_K
    for i, k, row, after, move, both, whole_w_k, known_w, warm, hot in zip(
        count(),
        ORDER.tolist(),
        rows,
        rows[1:],
        ready.moves,
        (1 + ready.back).tolist(),
        whole.tolist(),
        (inputs.to_air_w + from_outside)[ORDER].tolist(),
        use.warm_k[ORDER].tolist(),
        np.fmin(opens_at, cools_at)[ORDER].tolist(),
        strict=False,
    ):
        t = (row.item(n + 1) + known_w + store * t) / whole_w_k
        drawn = 0.0
        if feels:
            radiant = row.item(radiant_at)
            warm, hot = (2 * warm - radiant) / both, (2 * hot - radiant) / both
        if t < warm:
            if runs[k]:
                q, drawn = _within(whole_w_k * (warm - t), plant.heat_w, heat_cop[k], bus, k)
                t += q / whole_w_k
                gave[i] = q
        elif t > hot:
            free, te, added = t, outside[k], 0.0
            want, cool = opens[k], cools[k]
            if feels:
                want, cool = (2 * want - radiant) / both, (2 * cool - radiant) / both
            if t > want and te < t - margin[k]:
                t, added, shares[i] = wide_open.held(k, t, want, te, whole_w_k)
            opened[i] = added
            if t > cool:
                opened[i] = shares[i] = 0.0
                q, drawn = _within(whole_w_k * (free - cool), plant.cool_w, cool_cop[k], bus, k)
                t, gave[i] = free - q / whole_w_k, -q
        temps[i] = t
        if bus is not None:
            bus.close(k, drawn)
        row[n] = t
        dgemv(1.0, move, row[: n + 1], 1.0, after, 0, 1, 0, 1, 0, 1)
    air_k = np.array(temps)
    return Ran(
        nodes_k=ready.rows[FIRST:, :n],
        air_k=air_k[FIRST:],
        air_before_k=air_k[FIRST - 1 : -1],
        plant_w=np.array(gave[FIRST:]),
        opened_w_k=np.array(opened[FIRST:]),
        open_share=np.array(shares[FIRST:]),
    )


class _WideOpen:
    """How far windows are opened to hold a temperature, and what they hold wide open."""

    def __init__(self, wind: Wind) -> None:
        self._flow, self._air_j_m3k = wind.law.flow_m3_s, wind.air_j_m3k
        self._speed = wind.speed_m_s.tolist()

    def held(
        self, k: int, shut_k: float, want_k: float, te: float, whole_w_k: float
    ) -> tuple[float, float, float]:
        """Return the air [K], what windows add [W/K] and how far they stand open [1].

        People throttle: the flow that holds what is wanted, else all there is. Flinging open and
        shut by the hour would be ill-posed: one decision moves the hours after it by many kelvin.
        """
        speed = self._speed[k]
        if te < want_k:
            # what comes in less what leaves by shut ways, over what a degree of open window takes
            needed = whole_w_k * (shut_k - want_k) / (want_k - te)
            wide = self._air_j_m3k * self._flow(want_k - te, speed)
            if needed <= wide:
                return want_k, needed, needed / wide
        return self._wide(max(want_k, te), shut_k, te, whole_w_k, speed)

    def _wide(
        self, low: float, high: float, te: float, whole_w_k: float, speed: float
    ) -> tuple[float, float, float]:
        """Find where all that is open holds the room: more flow lowers it, so the root is single.

        By false position between ends that close in from both sides (Illinois).
        """
        shut_k, air = high, self._air_j_m3k
        over = whole_w_k * (shut_k - low) - air * self._flow(low - te, speed) * (low - te)
        under = -air * self._flow(high - te, speed) * (high - te)
        for _ in range(ROUNDS):
            t = (low * under - high * over) / (under - over)
            left = whole_w_k * (shut_k - t) - air * self._flow(t - te, speed) * (t - te)
            if left > 0:
                low, over, under = t, left, under / 2
            else:
                high, under, over = t, left, over / 2
        added = air * self._flow(t - te, speed)
        return (whole_w_k * shut_k + added * te) / (whole_w_k + added), added, 1.0


def _within(
    needed_w: float, most_w: float, cop: float | None, bus: Bus | None, k: int
) -> tuple[float, float]:
    """Return heat that plant moves of what is needed, and what it draws of electricity [W]."""
    moved = min(needed_w, most_w)
    if cop is None:
        return moved, 0.0
    if bus is not None:
        moved = min(moved, cop * bus.left_w(k))
    return moved, moved / cop
