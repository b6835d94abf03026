"""Vapour in the room by the hour, and how humid it is at the coldest face.

Teaching figures: corners, frames and what stands before a wall are colder than a face's mean, and
a damp wall wants whoever knows the local climate and codes.
"""

import numpy as np

from criteria.hourly.people_hours import PeopleYear
from criteria.hourly.weather import CELSIUS_K, Hours
from criteria.measures.condensation import (
    ASLEEP_KG_S,
    AT_ZERO_PA,
    AWAKE_KG_S,
    OVER_ICE,
    OVER_WATER,
    VAPOUR_J_KG_K,
)

LEAST_AIR_M3_S = 1e-9
"""Less than so much is no air [m³/s]."""


def saturation_pa(at_k: Hours) -> Hours:
    """Return the vapour pressure at which air is saturated, hour by hour [Pa].

    As criteria.measures.condensation.saturation_pa: ISO 13788:2012, Annex E (from memory).

    >>> saturation_pa(np.array([263.15, 293.15])).round().tolist()
    [259.0, 2337.0]
    """
    celsius = at_k - CELSIUS_K
    a, b = (np.where(celsius >= 0, *pair) for pair in zip(OVER_WATER, OVER_ICE, strict=True))
    saturated: Hours = AT_ZERO_PA * np.exp(a * celsius / (b + celsius))
    return saturated


def given_kg_s(people: PeopleYear) -> Hours:
    """Return the water that people give off to the air by hour [kg/s]: 50 g an hour awake, 40
    asleep, each (from memory). Cooking, washing and drying come on top and aren't in it.
    """
    given: Hours = AWAKE_KG_S * people.awake + ASLEEP_KG_S * people.asleep
    return given


def vapour_pa(
    outside_k: Hours, dew_k: Hours, room_k: Hours, given: Hours, air_m3_s: Hours
) -> Hours:
    """Return the vapour pressure of the room's air, settled in each hour [Pa].

        v = p_sat(T_dew) ÷ (461.5 T_e) + G ÷ q;  p = 461.5 · v · T, p_sat(T) at most

        outside_k, dew_k, room_k  T_e, T_dew and T: air and dew point outside, air inside   [K]
        given       G, water given off by hour                                             [kg/s]
        air_m3_s    q, air that comes in from outside by hour                              [m³/s]

    Where water is given off and no air comes, the air fills up with it. Walls, linings and bedding
    take up and give back water through a day: peaks are lower than this says, and longer.
    Source: ISO 13788:2012, Annex A (from memory), well mixed.
    """
    outside = saturation_pa(dew_k) / (VAPOUR_J_KG_K * outside_k)
    enough = np.maximum(air_m3_s, LEAST_AIR_M3_S)
    added = np.where(given > 0, given / enough, 0.0)
    pressure = VAPOUR_J_KG_K * (outside + added) * room_k
    held: Hours = np.minimum(pressure, saturation_pa(room_k))
    return held


def surface_humidity(face_k: Hours, vapour: Hours) -> Hours:
    """Return how humid the air is at a face [1]: p ÷ p_sat(T_face).

    Over 0.8 mould grows in time, over 1 water runs (ISO 13788:2012, 5, from memory).
    """
    humidity: Hours = vapour / saturation_pa(face_k)
    return humidity
