"""A floor on the ground: soil as layers, and what lies under them."""

from math import log, pi

import numpy as np

from criteria.errors import require_positive
from criteria.hourly.building import Layer
from criteria.hourly.sun import DAY
from criteria.hourly.weather import Hours

SOIL_W_MK, SOIL_J_M3K, SOIL_M = 2.0, 2.0e6, 0.5
"""Sand or gravel: conductivity and heat (ISO 13370:2017, Table 7), and how much is in the room's
equations."""
FLOOR_IN_M2K_W, OUT_M2K_W = 0.17, 0.04
LATE_DAYS, SMALLER = 30.4, 0.5
"""Under the soil the year swings half as far as the air's months, a month late. ISO 13370:2017
Annex B has the exact figures."""


def u_on_ground(area_m2: float, edge_m: float, wall_m: float, floor_m2k_w: float) -> float:
    """Return a slab's U with the ground under it [W/m²K].

        B′ = 2A/P, d_t = w + λ (R_si + R_f + R_se)
        d_t < B′: U = 2λ/(πB′ + d_t) · ln(πB′/d_t + 1), else U = λ/(0.457 B′ + d_t)

        area_m2  A of the floor [m²]; edge_m  P, its exposed edge [m]; wall_m  w [m]
        floor_m2k_w  R_f of its layers [m²K/W]

    ISO 13370:2017, 7.2. Raises InputError where area or edge isn't over 0.
    """
    require_positive("floor area", area_m2, "m²")
    require_positive("exposed edge", edge_m, "m")
    wide = 2 * area_m2 / edge_m
    thick = wall_m + SOIL_W_MK * (FLOOR_IN_M2K_W + floor_m2k_w + OUT_M2K_W)
    if thick < wide:
        return 2 * SOIL_W_MK / (pi * wide + thick) * log(pi * wide / thick + 1)
    return SOIL_W_MK / (0.457 * wide + thick)


def layers_on_ground(
    floor: tuple[Layer, ...], area_m2: float, edge_m: float, wall_m: float = 0.3
) -> tuple[Layer, ...]:
    """Return a floor's layers with soil under them, so that together they have the slab's U.

    Half a metre of soil keeps heat; what lacks of 1/U beneath it is one layer without mass.
    """
    own = sum(layer.resistance_m2k_w for layer in floor)
    whole = 1 / u_on_ground(area_m2, edge_m, wall_m, own)
    soil = Layer(
        name="soil",
        thickness_m=SOIL_M,
        lambda_w_mk=SOIL_W_MK,
        density_kg_m3=SOIL_J_M3K / 1000,
        heat_j_kgk=1000,
    )
    left = max(whole - FLOOR_IN_M2K_W - own - soil.resistance_m2k_w, 0.01)
    return Layer(name="ground", without_mass_m2k_w=left), soil, *floor


def under_soil_k(air_k: Hours) -> Hours:
    """Return the temperature under the soil by hour [K], of the air's year.

    A sine of half the amplitude of the air's first harmonic, a month late.
    """
    turn = 2 * pi * DAY / 365
    mean = float(air_k.mean())
    east, north = (2 * float(np.mean(air_k * wave(turn))) for wave in (np.cos, np.sin))
    late = 2 * pi * (DAY - LATE_DAYS) / 365
    held: Hours = mean + SMALLER * (east * np.cos(late) + north * np.sin(late))
    return held
