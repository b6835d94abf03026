"""A battery hour by hour: what it takes and gives, what cold leaves of it, how long it lasts alone.

Teaching figures: batteries and their wiring can burn and kill; a licensed electrician designs them.
"""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from criteria.errors import InputError, require_fraction, require_not_negative
from criteria.hourly.building import PowerSupply
from criteria.hourly.weather import CELSIUS_K, HOUR_S, HOURS, Flags, Hours
from criteria.hourly.worst import DRY_W, Span, longest
from criteria.hourly.year import PowerYear
from criteria.schedules.power import LEAD, LITHIUM_IRON

DAY_H = 24
EFFICIENCY: Mapping[str, float] = {LITHIUM_IRON: 0.95, LEAD: 0.90}
"""Part of a unit that is kept as it is charged, and again as it is given back [1]. From memory."""
CHARGE_PER_H = 0.5
"""Part of the label that may go in within an hour, where no limit is typed [1/h]. From memory."""
GIVE_PER_H = 1.0
"""Part of the label that may come out within an hour, likewise [1/h]. From memory."""
LOSES_A_DAY = 0.0001
"""Part of what is stored that is lost in a day of standing [1]. From memory."""
LEAD_K, LEAD_PER_K = 298.15, 0.008
"""A lead label holds at 25 °C; each kelvin below takes 0.8 % of it. From memory."""


def step(
    stored_j: Hours | float,
    surplus_w: Hours | float,
    most_j: float,
    least_j: float,
    charge_share: float,
    discharge_share: float,
    charge_w: Hours | float,
    discharge_w: float,
    kept: float = 1.0,
) -> tuple[Hours, Hours, Hours]:
    """Return what is stored at the hour's end [J], what is unserved, and what is spilled [W].

        e ← e · (1 − s)
        p ≥ 0: c = min(p, P_c, (E_max − e) ÷ (Δt · η_c)); e += c · Δt · η_c; spilled p − c
        p < 0: d = min(−p, P_d, (e − E_min) · η_d ÷ Δt); e −= d · Δt ÷ η_d; unserved −p − d

        surplus_w        p, made less asked for, at the loads' side; negative is wanting   [W]
        most_j, least_j  E_max, E_min between which it is used                             [J]
        charge_share, discharge_share  η_c, η_d                                            [1]
        charge_w, discharge_w  P_c, P_d at the loads' side; 0 where it is too cold for it  [W]
        kept             1 − s, part of what is stored that an hour's standing leaves      [1]

    What stands outside of the two marks, by standing or in the cold, neither gives nor takes. Of
    one hour, or of many whose beginnings are known.
    Source: energy balance with limits, common practice.

    >>> float(step(500 * 3600, -100, 1800 * 3600, 360 * 3600, 0.95, 0.95, 500, 350)[0]) / 3600
    394.7368421052632
    """
    takes, gives = HOUR_S * charge_share, HOUR_S / discharge_share
    held_j = stored_j * kept
    can_take_w = np.minimum(charge_w, np.maximum((most_j - held_j) / takes, 0.0))
    can_give_w = np.minimum(discharge_w, np.maximum((held_j - least_j) / gives, 0.0))
    served_w = np.clip(surplus_w, -can_give_w, can_take_w)
    left_w = surplus_w - served_w
    stored = held_j + served_w * np.where(served_w > 0, takes, gives)
    return stored, np.maximum(-left_w, 0.0), np.maximum(left_w, 0.0)


def lead_cold_share(celsius: float) -> float:
    """Return what cold leaves of a lead battery's label [1]: 1 − 0.008 · (25 − θ), 1 above 25 °C.

    A capacity by the hour, from memory; the days that a battery lasts are elsewhere held to
    IEEE 485's factors, which size cells with a margin and end at −3.9 °C. Below −100 °C nothing.

    >>> lead_cold_share(25), round(lead_cold_share(-10), 2)
    (1.0, 0.72)
    """
    return min(1.0, max(0.0, 1 - LEAD_PER_K * (LEAD_K - CELSIUS_K - celsius)))


def supply_of(
    *,
    made_w: Hours,
    essential_w: Hours,
    rest_w: Hours,
    label_j: float,
    usable_share: float,
    kind: str,
    charge_w: float | None = None,
    discharge_w: float | None = None,
    stands_k: Hours | None = None,
    kept_days: float = 0.0,
) -> PowerSupply:
    """Return panels, wind and a battery as the year draws on them.

        E_max = label · cold, E_min = (1 − usable) · E_max, P_c = label · 0.5/h, P_d = label · 1/h

        made_w         panels and wind by hour; essential_w, rest_w asked for by hour   [W]
        label_j        nominal, and usable_share of it; 0 where there is no battery     [J], [1]
        kind           lead or lithium iron, as the schedule words them
        charge_w, discharge_w  as typed, at the loads' side; None is by the label       [W]
        stands_k       air where it stands, by hour; None is within the warm part       [K]
        kept_days      days of essential loads that plant may not draw                  [days]

    A lithium iron cell must not be charged below 0 °C: such hours it only gives, and what cold
    takes of that is left out. Lead is taken all year at what its coldest day leaves of it, for a
    heavy battery follows the day, not the hour.
    The day by which what is kept is reckoned is that with most essential loads.
    Source: common practice; the figures are from memory (constants above).

    Raises InputError for another kind, a share outside 0 to 1, or anything below 0.
    """
    if kind not in EFFICIENCY:
        raise InputError(f"battery is “{kind}”; expected {' or '.join(EFFICIENCY)}")
    require_not_negative("battery", label_j, "J")
    usable = require_fraction("usable share", usable_share)
    require_not_negative("days kept for essential loads", kept_days, "days")
    efficiency, most_j = EFFICIENCY[kind], label_j
    may_charge: Flags = np.ones(HOURS, dtype=np.bool_)
    if stands_k is not None and kind == LITHIUM_IRON:
        may_charge = stands_k >= CELSIUS_K
    elif stands_k is not None:
        coldest_k = float(by_day(stands_k).mean(axis=1).min())
        most_j *= lead_cold_share(coldest_k - CELSIUS_K)
    least_j = (1 - usable) * most_j
    asked_j = float(by_day(essential_w).sum(axis=1).max()) * HOUR_S * kept_days
    return PowerSupply(
        made_w=made_w,
        essential_w=essential_w,
        rest_w=rest_w,
        most_j=most_j,
        least_j=least_j,
        charge_share=efficiency,
        discharge_share=efficiency,
        charge_w=_limit("charging", charge_w, label_j * CHARGE_PER_H / HOUR_S),
        discharge_w=_limit("giving", discharge_w, label_j * GIVE_PER_H / HOUR_S),
        may_charge=may_charge,
        kept_for_essential_j=min(asked_j / efficiency, most_j - least_j),
        loses_share=LOSES_A_DAY / DAY_H,
    )


def _limit(doing: str, typed_w: float | None, by_label_w: float) -> float:
    return by_label_w if typed_w is None else require_not_negative(doing, typed_w, "W")


def by_day(hours: Hours) -> Hours:
    """Return the hours of a year by day: shape (365, 24)."""
    return hours.reshape(-1, DAY_H)


@dataclass(frozen=True)
class Alone:
    """How long a full battery carries its loads with nothing made: from which hour, counted from 0.

    days   until it can give no more [days]
    """

    first: int
    days: float


def alone(supply: PowerSupply, asked_w: Hours) -> Alone | None:
    """Return how long the battery lasts full, without sun or wind, from the worst hour of the year.

        t: Σ P · Δt = (E_max − E_min) · η_d, the shortest of all hours to begin at

        asked_w   what is to be carried, by hour: essential loads, or all   [W]

    The year follows itself. None where nothing is asked for all year: there is nothing to carry.
    What standing loses is left out, a ten thousandth a day. A load above what the battery can give
    at once is no end of it here; the hours without say that. Source: energy balance.
    """
    year_j = float(asked_w.sum()) * HOUR_S
    if not year_j > 0:
        return None
    holds_j = (supply.most_j - supply.least_j) * supply.discharge_share
    whole, rest_j = divmod(holds_j, year_j)
    summed = np.concatenate(([0.0], np.cumsum(np.concatenate((asked_w, asked_w))) * HOUR_S))
    ends_j = summed[:HOURS] + rest_j
    last = np.searchsorted(summed, ends_j, side="left").clip(1)
    short_j = summed[last] - ends_j
    hours = last - short_j / np.maximum(summed[last] - summed[last - 1], 1e-300) - np.arange(HOURS)
    first = int(np.argmin(hours))
    return Alone(first, (whole * HOURS + max(float(hours[first]), 0.0)) / DAY_H)


@dataclass(frozen=True)
class Wanting:
    """What electricity lacked in a year.

    lost_hours, dark_hours  hours in which any load went without, and any that is essential
    longest_dark            the longest run of the latter
    unserved_j, dark_j      what wasn't given, to all loads and to those [J]
    spilled_share           what was thrown away of what was made [1]; None of nothing made
    """

    lost_hours: int
    dark_hours: int
    longest_dark: Span
    unserved_j: float
    dark_j: float
    spilled_share: float | None


def wanting(power: PowerYear) -> Wanting:
    """Return what electricity lacked. Less than half a watt unserved is the arithmetic's own."""
    unserved = power.unserved_essential_w + power.unserved_rest_w
    is_dark = power.unserved_essential_w > DRY_W
    made = float(power.made_w.sum())
    return Wanting(
        lost_hours=int(np.count_nonzero(unserved > DRY_W)),
        dark_hours=int(np.count_nonzero(is_dark)),
        longest_dark=longest(is_dark),
        unserved_j=float(unserved.sum()) * HOUR_S,
        dark_j=float(power.unserved_essential_w.sum()) * HOUR_S,
        spilled_share=float(power.spilled_w.sum()) / made if made > 0 else None,
    )
