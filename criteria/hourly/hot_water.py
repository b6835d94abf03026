"""Water warmed by the sun: a collector and its tank, hour by hour.

Hot water scalds, and lukewarm tanks breed legionella: local codes and a licensed plumber decide.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from criteria.errors import InputError, require_not_negative, require_positive
from criteria.hourly.panels import on_cells_w_m2
from criteria.hourly.sky import Plane
from criteria.hourly.weather import CELSIUS_K, HOUR_S, HOURS, Hours
from criteria.measures.water import WATER_HEAT_J_M3K

HOTTEST_K = 95 + CELSIUS_K
"""At what the collector's pump stops [K]. Common practice."""
BEGINS_H = 31 * 24
"""Hours of December that are run first, so that the year begins as it goes on."""


@dataclass(frozen=True)
class Collector:
    """What a collector takes in, by its clear area: ISO 9806:2017's three figures.

    a0   of the sun, with no loss                 [1]
    a1   lost for each kelvin over the outside    [W/m²K]
    a2   and for its square                       [W/m²K²]
    """

    a0: float
    a1: float
    a2: float


COLLECTORS: Mapping[str, Collector] = {
    "flat": Collector(0.78, 3.5, 0.015),
    "tubes": Collector(0.65, 1.5, 0.005),
}
"""Common figures by kind, from memory; a test report's own are better."""


@dataclass(frozen=True, kw_only=True)
class WarmTank:
    """A tank of one temperature.

    volume_m3  of water [m³]
    loss_w_k   through its jacket to where it stands [W/K]
    want_k     as it is drawn, mixed down where the tank is warmer [K]
    cold_k     as it comes in [K]
    """

    volume_m3: float
    loss_w_k: float
    want_k: float
    cold_k: float


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class WarmWaterYear:
    """Hot water by hour: shape (8760,).

    tank_k      at the end of the hour [K]
    sun_w       what the collector brought, what was thrown away left out [W]
    drawn_w     heat drawn with the water, of the tank [W]
    topped_w    what another heater had to add to what was drawn [W]
    lost_w      through the tank's jacket [W]
    """

    tank_k: Hours
    sun_w: Hours
    drawn_w: Hours
    topped_w: Hours
    lost_w: Hours


def after_draw_k(at_k: float, drawn_m3: float, tank: WarmTank) -> float:
    """Return how warm a tank is after hot water was drawn and cold came in, well mixed [K].

        while T > T_want it is mixed down: M dT = −V (T_want − T_cold); then T falls to
        T_cold + (T − T_cold) · e^(−V ÷ M)

    Source: mass and energy balance of one mixed node; never colder than what comes in makes it.
    """
    if drawn_m3 == 0.0:
        return at_k
    mixed_m3 = 0.0
    if at_k > tank.want_k:
        span_k = tank.want_k - tank.cold_k
        mixed_m3 = min(drawn_m3, (at_k - tank.want_k) * tank.volume_m3 / span_k)
        at_k -= mixed_m3 * span_k / tank.volume_m3
    left = math.exp(-(drawn_m3 - mixed_m3) / tank.volume_m3)
    return tank.cold_k + (at_k - tank.cold_k) * left


def warmed(
    plane: Plane,
    outside_k: Hours,
    stands_k: Hours,
    drawn_m3: Hours,
    *,
    area_m2: float,
    kind: str,
    tank: WarmTank,
) -> WarmWaterYear:
    """Return a collector and its tank through a year.

        M c dT = (A q − U (T − T_room)) dt after what is drawn, T at most 95 °C
        q = η_0 · K · G − a_1 (T − T_e) − a_2 (T − T_e)², never below 0

        plane      sun on the collector, G; its glass takes of it, K, as a panel's does   [W/m²]
        outside_k, stands_k  air outside, T_e, and where the tank stands, T_room          [K]
        drawn_m3   hot water drawn, as it is used, at the beginning of each hour          [m³]
        area_m2    clear area of the collector, A                                         [m²]
        kind       flat or tubes

    The collector's water is as warm as the tank's, and runs only where that gains. What is drawn
    takes from the tank what it has; another heater adds what it lacks. December is run first. An
    hour is solved exactly, its q's square taken at its beginning. Frost is left out.
    Source: ISO 9806:2017, steady state (its three figures are from memory), and the energy balance.

    Raises InputError for an unknown kind, no water, an area or loss below 0, water drawn below 0,
    or wanted no warmer than it comes.
    """
    if kind not in COLLECTORS:
        raise InputError(f"collector is “{kind}”; expected {' or '.join(COLLECTORS)}")
    require_positive("tank", tank.volume_m3, "m³")
    require_positive("hot less cold water", tank.want_k - tank.cold_k, "K")
    require_not_negative("loss of the tank", tank.loss_w_k, "W/K")
    require_not_negative("collector", area_m2, "m²")
    require_not_negative("hot water drawn", float(drawn_m3.min()), "m³")
    of = COLLECTORS[kind]
    holds_w_k = tank.volume_m3 * WATER_HEAT_J_M3K / HOUR_S
    gains_w = (area_m2 * of.a0 * on_cells_w_m2(plane)).tolist()
    air, room, draws = outside_k.tolist(), stands_k.tolist(), drawn_m3.tolist()
    at_k, hours = tank.cold_k, []
    for k in (*range(HOURS - BEGINS_H, HOURS), *range(HOURS)):
        before_k, at_k = at_k, after_draw_k(at_k, draws[k], tank)
        drawn_w = (before_k - at_k) * holds_w_k
        loss_w_k = area_m2 * (of.a1 + of.a2 * abs(at_k - air[k]))
        if gains_w[k] <= loss_w_k * (at_k - air[k]):
            loss_w_k = 0.0
        gain_w = gains_w[k] if loss_w_k else 0.0
        mean_k = _mean_k(
            at_k,
            gain_w + loss_w_k * air[k] + tank.loss_w_k * room[k],
            loss_w_k + tank.loss_w_k,
            holds_w_k,
        )
        sun_w = gain_w - loss_w_k * (mean_k - air[k])
        if sun_w < 0.0:
            sun_w = 0.0
        lost_w = tank.loss_w_k * (mean_k - room[k])
        at_k += (sun_w - lost_w) / holds_w_k
        if at_k > HOTTEST_K:
            sun_w -= (at_k - HOTTEST_K) * holds_w_k
            at_k = HOTTEST_K
        hours.append((at_k, sun_w, drawn_w, lost_w))
    tank_k, sun, drawn, lost = np.array(hours[BEGINS_H:]).T
    wanted = drawn_m3 * ((tank.want_k - tank.cold_k) * WATER_HEAT_J_M3K / HOUR_S)
    return WarmWaterYear(
        tank_k=tank_k, sun_w=sun, drawn_w=drawn, topped_w=wanted - drawn, lost_w=lost
    )


def _mean_k(at_k: float, given_w: float, loss_w_k: float, holds_w_k: float) -> float:
    """Mean over an hour of a tank that is given heat and loses by its warmth [K].

    What loses nothing is given nothing here: its collector would lose.
    """
    if loss_w_k == 0.0:
        return at_k
    rests_k, way = given_w / loss_w_k, loss_w_k / holds_w_k
    return rests_k - (at_k - rests_k) * math.expm1(-way) / way
