"""The heart of the year: 9,504 hours one after the other, in floats.

All that doesn't depend on the room's own temperature is reckoned before, in arrays; here an hour is
one product of a matrix and a handful of scalars.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import chain

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
ROUNDS = 6
"""Halvings to the temperature at which windows stand wide open; forty move it by 0.03 K at most."""
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
    """

    def __init__(self, steps: Sequence[Steps], is_shut: Flags, inputs: Inputs) -> None:
        room = steps[0].room
        self.count = n = len(room.keeps_j_k)
        parts = len(room.parts)
        to_air, spread = room.in_air_w_k, room.spread
        # heat from faces to the air, and their radiant mean, of hourly means at inner faces
        reads = np.stack((to_air, spread))
        own = [reads @ each.mean_by_air[parts:] for each in steps]
        self.own = [float(to_air.sum() - heat) for heat, _ in own]
        self.back = [float(mean) for _, mean in own]
        by_node = [reads @ each.mean_follow[parts:] for each in steps]
        self.moves = [[_move(one, then) for then in by_node] for one in steps]
        modes = np.where(is_shut, len(steps) - 1, 0)
        self.modes = [*modes[ORDER].tolist(), 0]
        brings = np.empty((HOURS, n))
        reading = np.empty((HOURS, 2))
        for mode, each in enumerate(steps):
            at = slice(None) if len(steps) == 1 else modes == mode
            watts = inputs.at_faces_w[at]
            brings[at] = watts @ each.by_watts.T
            reading[at] = watts @ (reads @ each.mean_by_watts[parts:]).T
        long_wave = room.in_long_w_k.sum()
        if long_wave:
            reading[:, 1] += inputs.radiant_w / long_wave
        rows = np.zeros((len(ORDER) + 1, n + 3))
        rows[0, :n] = START_K
        rows[1:, :n] = brings[ORDER]
        rows[0, n + 1 :] = by_node[self.modes[0]] @ rows[0, :n]
        then = np.array(self.modes[1:])
        for mode, read in enumerate(by_node):
            after = np.concatenate(([False], then == mode))
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
    n, move, modes, rows = ready.count, ready.moves, ready.modes, list(ready.rows)
    flow, speeds, air_j_m3k = wind.law.flow_m3_s, wind.speed_m_s.tolist(), wind.air_j_m3k
    store = steps[0].room.air_j_k / STEP_S
    own, back = [store + each for each in ready.own], [1 + each for each in ready.back]
    brought, fixed = inputs.to_air_w.tolist(), wind.fixed_w_k.tolist()
    outside, use, air = weather.air_k.tolist(), building.use, building.air
    warm_at, cool_at, feels = use.warm_k.tolist(), use.cool_k.tolist(), use.is_operative
    opens, above = air.may_open.tolist(), air.open_above_k.tolist()
    margin = air.open_margin_k.tolist()
    runs = [True] * HOURS if plant.heat_runs is None else plant.heat_runs.tolist()
    no_cop = [None] * HOURS
    heat_cop = no_cop if plant.heat_cop is None else plant.heat_cop.tolist()
    cool_cop = no_cop if plant.cool_cop is None else plant.cool_cop.tolist()
    temps, gave, opened, shares = ([0.0] * HOURS for _ in range(4))
    t = START_K
    for i, k in enumerate(ORDER.tolist()):
        if i == FIRST:
            before_k = t
        row, mode = rows[i], modes[i]
        d, h0, te = own[mode], fixed[k], outside[k]
        g = row.item(n + 1) + brought[k] + store * t
        t = (g + h0 * te) / (d + h0)
        warm, cool, want = warm_at[k], cool_at[k], above[k]
        if feels:
            radiant, both = row.item(n + 2), back[mode]
            warm, cool = (2 * warm - radiant) / both, (2 * cool - radiant) / both
            want = (2 * want - radiant) / both
        q = drawn = added = share = 0.0
        if t < warm:
            if runs[k]:
                q, drawn = _within((d + h0) * (warm - t), plant.heat_w, heat_cop[k], bus, k)
                t += q / (d + h0)
        else:
            free = t
            if want < warm:
                want = warm
            if opens[k] and t > want and te < t - margin[k]:
                wide = air_j_m3k * flow(want - te, speeds[k])
                added = (g - d * want) / (want - te) - h0 if te < want else wide + 1
                if added <= wide:
                    t, share = want, added / wide
                else:
                    low, high = max(want, te), t
                    for _ in range(ROUNDS):
                        middle = (low + high) / 2
                        added = air_j_m3k * flow(middle - te, speeds[k])
                        if g + (h0 + added) * te > middle * (d + h0 + added):
                            low = middle
                        else:
                            high = middle
                    added, share = air_j_m3k * flow((low + high) / 2 - te, speeds[k]), 1.0
                    t = (g + (h0 + added) * te) / (d + h0 + added)
            if t > cool and plant.cool_w:
                t, added, share = free, 0.0, 0.0
                q, drawn = _within((d + h0) * (t - cool), plant.cool_w, cool_cop[k], bus, k)
                q = -q
                t += q / (d + h0)
        temps[k], gave[k], opened[k], shares[k] = t, q, added, share
        if bus is not None:
            bus.close(k, drawn)
        row[n] = t
        dgemv(1.0, move[mode][modes[i + 1]], row[: n + 1], 1.0, rows[i + 1], 0, 1, 0, 1, 0, 1)
    air_k = np.array(temps)
    return Ran(
        nodes_k=ready.rows[FIRST:, :n],
        air_k=air_k,
        air_before_k=np.concatenate(([before_k], air_k[:-1])),
        plant_w=np.array(gave),
        opened_w_k=np.array(opened),
        open_share=np.array(shares),
    )


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
