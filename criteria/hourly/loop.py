"""The heart of the year: 9,504 hours one after the other, in floats.

All that doesn't depend on the room's own temperature is reckoned before, in arrays; here an hour is
a handful of scalars.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.linalg.blas import daxpy

from criteria.hourly.air import FlowLaw
from criteria.hourly.blocks import LONGEST, ORDER, Blocks, Ran
from criteria.hourly.building import Building, PlantLimits
from criteria.hourly.inputs import Inputs
from criteria.hourly.on_battery import Bus
from criteria.hourly.room import Steps
from criteria.hourly.slices import STEP_S
from criteria.hourly.weather import HOURS, Flags, Hours, Weather

NEAR_K = 1e-4
"""How near is enough to the temperature at which windows stand wide open [K]."""
START_K = 291.15
EVEN = range(0, 2 * LONGEST, 2)
LEAST_LEFT = 0.1
"""Part of a fire's heat that is left to the room at least, however cold the air that it draws."""


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
    blocks = Blocks(steps, is_shut, inputs, START_K)
    wide_open = _WideOpen(wind)
    use, air, store = building.use, building.air, steps[0].room.air_j_k / STEP_S
    whole = (store + blocks.own + wind.fixed_w_k[ORDER]).tolist()
    known = (inputs.to_air_w + wind.fixed_w_k * weather.air_k)[ORDER].tolist()
    both = (1 + blocks.back).tolist()
    opens_at = np.where(air.may_open, np.fmax(air.open_above_k, use.warm_k), np.nan)
    cools_at = use.cool_k if plant.cool_w else np.full(HOURS, np.nan)
    warm_at, hot_at = use.warm_k[ORDER].tolist(), np.fmin(opens_at, cools_at)[ORDER].tolist()
    no_cop = [None] * HOURS
    heat_cop = no_cop if plant.heat_cop is None else plant.heat_cop.tolist()
    cool_cop = no_cop if plant.cool_cop is None else plant.cool_cop.tolist()
    runs = [True] * HOURS if plant.heat_runs is None else plant.heat_runs.tolist()
    opens, cools, margin = opens_at.tolist(), cools_at.tolist(), air.open_margin_k.tolist()
    outside, order, feels = weather.air_k.tolist(), ORDER.tolist(), use.is_operative
    temps, gave, opened, shares, fired = ([0.0] * len(order) for _ in range(5))
    draws = plant.draws_m3_j * wind.air_j_m3k
    t = START_K
    for first, last in blocks.ends:
        reads, follows = blocks.begin(first)
        here = slice(first, last)
        twice = 2 * (last - first)
        for i, at, k, whole_w_k, known_w, warm, hot in zip(
            range(first, last),
            EVEN,
            order[here],
            whole[here],
            known[here],
            warm_at[here],
            hot_at[here],
            strict=False,
        ):
            t, drawn = (reads.item(at) + known_w + store * t) / whole_w_k, 0.0
            if feels:
                radiant = reads.item(at + 1)
                warm, hot = (2 * warm - radiant) / both[i], (2 * hot - radiant) / both[i]
            if t < warm:
                if runs[k]:
                    te = outside[k]
                    # what a fire draws comes in as cold as outside, and is warmed with the rest
                    needed = whole_w_k * (warm - t)
                    if draws:
                        needed /= max(1 - draws * (warm - te), LEAST_LEFT)
                    q, drawn = _within(needed, plant.heat_w, heat_cop[k], bus, k)
                    fire = draws * q
                    t = (whole_w_k * t + q + fire * te) / (whole_w_k + fire)
                    gave[i], fired[i] = q, fire
            elif t > hot:
                free, te = t, outside[k]
                want, cool = opens[k], cools[k]
                if feels:
                    want, cool = (2 * want - radiant) / both[i], (2 * cool - radiant) / both[i]
                if t > want and te < t - margin[k]:
                    t, opened[i], shares[i] = wide_open.held(k, t, want, te, whole_w_k)
                if t > cool:
                    opened[i] = shares[i] = 0.0
                    q, drawn = _within(whole_w_k * (free - cool), plant.cool_w, cool_cop[k], bus, k)
                    t, gave[i] = free - q / whole_w_k, -q
            temps[i] = t
            if bus is not None:
                bus.close(k, drawn)
            left = twice - at - 2
            if left:
                daxpy(follows, reads, left, t, 0, 1, at + 2, 1)
        blocks.end(first, temps[first:last])
    return blocks.ran(np.array(temps), *map(np.array, (gave, opened, shares, fired)))


class _WideOpen:
    """How far windows are opened to hold a temperature, and what they hold wide open."""

    def __init__(self, wind: Wind) -> None:
        self._law = wind.law.times(wind.air_j_m3k)
        self._squared = (wind.speed_m_s**2).tolist()

    def held(
        self, k: int, shut_k: float, want_k: float, te: float, whole_w_k: float
    ) -> tuple[float, float, float]:
        """Return the air [K], what windows add [W/K] and how far they stand open [1].

        People throttle: the flow that holds what is wanted, else all there is. Flinging open and
        shut by the hour would be ill-posed: one decision moves the hours after it by many kelvin.
        """
        passes, squared = self._law.passes, self._squared[k]
        if te < want_k:
            # what comes in less what leaves by shut ways, over what a degree of open window takes
            needed = whole_w_k * (shut_k - want_k) / (want_k - te)
            wide = passes(want_k - te, squared)
            if needed <= wide:
                return want_k, needed, needed / wide
        # wide open: more flow lowers it, evenly bent, so that the secant finds the one root
        at, near_w = max(want_k, te), NEAR_K * whole_w_k
        added = passes(at - te, squared)
        over = whole_w_k * (shut_k - at) - added * (at - te)
        t = at + over / (whole_w_k + 1.5 * added)
        added = passes(t - te, squared)
        left = whole_w_k * (shut_k - t) - added * (t - te)
        while abs(left) > near_w:
            at, t, over = t, t - left * (t - at) / (left - over), left
            added = passes(t - te, squared)
            left = whole_w_k * (shut_k - t) - added * (t - te)
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
