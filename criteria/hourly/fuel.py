"""Fuel by the hour, of the heat that an appliance gives: how much, when most, and when it can burn.

A fire that takes air from a tight room can kill: a licensed installer decides.
"""

from dataclasses import dataclass

import numpy as np

from criteria.errors import require_fraction, require_positive
from criteria.hourly.weather import HOUR_S, Flags, Hours
from criteria.hourly.worst import Span
from criteria.measures.heat import FUEL_J_KG

WEEK_H = 168
EMBERS_H = 2
"""How long a stove gives heat after the last log [h]. Common practice."""
FIRE_AIR_M3_KG = 10.0
"""Air that a fire without a duct draws out of the room for each kilogram of wood [m³/kg].

Common practice: twice what its chemistry wants, about 4 to 5 m³."""


@dataclass(frozen=True)
class Fuel:
    """Fuel of a year [kg], and of the seven days that took most of it."""

    year_kg: float
    week_kg: float
    week: Span


def burnt_kg(heat_w: Hours, heat_j_kg: float, given_share: float) -> Hours:
    """Return the fuel that each hour takes [kg].

        m = Q · Δt ÷ (η · H)

        heat_w       Q, what the appliance gives to the room                     [W]
        heat_j_kg    H, heat in the fuel, 15 MJ/kg of dry logs                   [J/kg]
        given_share  η, part of it that stays in the room, 0.75 of a wood stove  [1]

    Both figures are from memory. Source: energy balance.
    Raises InputError for what is no share, or no heat.
    """
    require_positive("share of the fuel's heat", require_fraction("given share", given_share), "")
    require_positive("heat in the fuel", heat_j_kg, "J/kg")
    burnt: Hours = heat_w * (HOUR_S / (given_share * heat_j_kg))
    return burnt


def fuel_of(burnt: Hours) -> Fuel:
    """Return the fuel of a year and of the seven days, from any midnight, that take most of it.

    The year follows itself, so that a week at its turn counts. Nothing burnt is a week of 0 kg.
    """
    days = burnt.reshape(-1, 24).sum(axis=1)
    again = np.concatenate((days, days[:6]))
    weeks = np.lib.stride_tricks.sliding_window_view(again, 7).sum(axis=1)
    first = int(np.argmax(weeks))
    return Fuel(float(burnt.sum()), float(weeks[first]), Span(24 * first, WEEK_H))


def stove_runs(is_awake: Flags) -> Flags:
    """Tell in which hours a stove can burn: while somebody is awake to feed it, and two after.

    Common practice: logs want a hand, embers last. Pellets, gas and oil feed themselves.
    """
    runs = is_awake.copy()
    for after in range(1, EMBERS_H + 1):
        runs |= np.roll(is_awake, after)
    return runs


def fire_air_m3_j(given_share: float) -> float:
    """Return the air that a fire without a duct draws out of the room for each joule [m³/J].

        v = 10 m³/kg ÷ (η · 15 MJ/kg)

    with η the part of the fuel's heat that stays [1]; of other fuels by their heat as of wood.
    Common practice. Raises InputError for what is no share.
    """
    share = require_positive(
        "share of the fuel's heat", require_fraction("given share", given_share), ""
    )
    return FIRE_AIR_M3_KG / (share * FUEL_J_KG["wood stove"])
