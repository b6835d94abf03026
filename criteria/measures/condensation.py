"""Damp on inside surfaces and between layers.

Teaching checks: corners, steel frames and other bridges are colder than a layer's figure says, and
a damp wall wants whoever knows the local climate and codes.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from criteria.errors import InputError, require_fraction, require_not_negative, require_positive

SURFACE_INSIDE_M2K_W = 0.25
"""Resistance inside where furniture and corners keep air off (ISO 13788:2012, Table 2, from
memory)."""

GLASS_INSIDE_M2K_W = 0.13
"""The same of glass and frames (as above, from memory)."""

MOULD_HUMIDITY = 0.8
"""Humidity at a surface above which mould grows (ISO 13788:2012, 5, from memory)."""

VAPOUR_KG_M_S_PA = 2e-10
"""What still air lets through, δ_0 (ISO 13788:2012, from memory)."""

MOST_SD_M = 1e5
"""Equivalent of a layer that lets nothing through, such as steel [m]."""


AT_ZERO_PA = 610.5
OVER_WATER, OVER_ICE = (17.269, 237.3), (21.875, 265.5)
"""Of the formula of saturation: at 0 °C [Pa]; factor [1] and offset [K] above and below it."""


def saturation_pa(celsius: float) -> float:
    """Return the vapour pressure at which air is saturated [Pa].

        p = 610.5 · exp(17.269 · θ ÷ (237.3 + θ)); below 0 °C 610.5 · exp(21.875 · θ ÷ (265.5 + θ))

    Applies to: −60 to 80 °C. Source: ISO 13788:2012, Annex E (from memory).

    >>> round(saturation_pa(20)), round(saturation_pa(-10))
    (2337, 259)
    """
    if not -60 <= celsius <= 80:
        raise InputError(f"temperature is {celsius:g} °C; expected −60 to 80 °C")
    a, b = OVER_WATER if celsius >= 0 else OVER_ICE
    return AT_ZERO_PA * math.exp(a * celsius / (b + celsius))


VAPOUR_J_KG_K = 461.5
"""Gas constant of water vapour (from memory)."""
ZERO_C_K = 273.15
ASLEEP_KG_S, AWAKE_KG_S = 0.040 / 3600, 0.050 / 3600
"""Water that a person gives off to the air, 40 g an hour asleep and 50 awake (from memory)."""


def vapour_kg_m3(celsius: float, humidity: float) -> float:
    """Return how much water air holds [kg/m³]: φ · p_sat ÷ (461.5 · T).

    >>> round(1000 * vapour_kg_m3(20, 0.5), 2)
    8.64
    """
    held = require_fraction("humidity", humidity) * saturation_pa(celsius)
    return held / (VAPOUR_J_KG_K * (celsius + ZERO_C_K))


def given_kg_m3(people: int, each_kg_s: float, air_m3_s: float) -> float:
    """Return by how much people wet the air that is brought to them [kg/m³]: n · G ÷ q.

    Settled, well mixed. ISO 13788:2012, Annex A has v_i = v_e + G ÷ q (from memory).

    >>> round(1000 * given_kg_m3(4, ASLEEP_KG_S, 0.016), 1)  # four asleep with 16 L/s
    2.8
    """
    return people * each_kg_s / require_positive("air", air_m3_s, "m³/s")


def dew_point_c(vapour_pa: float) -> float:
    """Return the temperature at which air with so much vapour is saturated [°C].

    >>> round(dew_point_c(0.5 * saturation_pa(20)), 2)
    9.27
    """
    ratio = math.log(require_positive("vapour pressure", vapour_pa, "Pa") / AT_ZERO_PA)
    a, b = OVER_WATER if ratio >= 0 else OVER_ICE
    return b * ratio / (a - ratio)


def temperature_factor(
    resistance_m2k_w: float, inside_m2k_w: float, at_surface_m2k_w: float = SURFACE_INSIDE_M2K_W
) -> float:
    """Return f, how warm an inside surface is between outside (0) and inside (1) [1].

        f = 1 − R_si ÷ (R − R_si,U + R_si)

        R         of the part as its U-value has it             [m²K/W]
        R_si,U    the inside resistance within that             [m²K/W]
        R_si      at the surface that is asked about            [m²K/W]

    Source: ISO 13788:2012, 5 (from memory).

    >>> round(temperature_factor(2.0, 0.13), 3)
    0.882
    """
    rest = resistance_m2k_w - require_not_negative("inside resistance", inside_m2k_w, "m²K/W")
    require_positive("resistance behind the surface", rest, "m²K/W")
    at = require_positive("resistance at the surface", at_surface_m2k_w, "m²K/W")
    return 1 - at / (rest + at)


def surface_c(factor: float, inside_c: float, outside_c: float) -> float:
    """Return the temperature of an inside surface [°C]: θ_e + f · (θ_i − θ_e)."""
    return outside_c + factor * (inside_c - outside_c)


def least_factor(
    inside_c: float, outside_c: float, humidity: float, at_surface: float = MOULD_HUMIDITY
) -> float:
    """Return the least temperature factor that keeps a surface from mould, or from running [1].

        f = (θ_si − θ_e) ÷ (θ_i − θ_e), θ_si where the inside vapour is so much of saturation

        humidity     inside, a share                                      [1]
        at_surface   0.8 against mould, 1 against water that runs         [1]

    Source: ISO 13788:2012, 5 (from memory). At 20 °C, 50 % and −5 °C it gives DIN 4108-2's 0.70.

    >>> round(least_factor(20, -5, 0.5), 3)
    0.705
    """
    if not inside_c > outside_c:
        raise InputError(f"inside is {inside_c:g} °C, outside {outside_c:g} °C; expected warmer")
    require_fraction("humidity inside", humidity)
    require_fraction("humidity at the surface", at_surface)
    vapour = require_positive("humidity inside", humidity, "") * saturation_pa(inside_c)
    wanted = dew_point_c(vapour / require_positive("humidity at the surface", at_surface, ""))
    return (wanted - outside_c) / (inside_c - outside_c)


@dataclass(frozen=True)
class VapourLayer:
    """One layer, from inside out.

    resistance   [m²K/W]
    sd_m         thickness of still air that lets as much vapour through, μ · d [m]
    """

    resistance: float
    sd_m: float


@dataclass(frozen=True)
class Wetting:
    """Where vapour condenses between layers, and how fast.

    between     number of the layer inside of it, from 1; None where it stays dry
    kg_m2s      water that stays there [kg/m²s]
    c           temperature there [°C]
    """

    between: int | None
    kg_m2s: float
    c: float


def wetting(
    layers: Sequence[VapourLayer],
    inside: tuple[float, float],
    outside: tuple[float, float],
    at_surfaces_m2k_w: tuple[float, float] = (SURFACE_INSIDE_M2K_W, 0.04),
) -> Wetting:
    """Return where most vapour condenses between layers in steady cold weather.

        p falls straight along s_d between what condenses; g = δ_0 · (Δp_in ÷ s_d,in − Δp_out ÷
        s_d,out)

        inside, outside   temperature [°C] and humidity, a share [1]

    Applies to: layers side by side without air moving through; steady cold weather (Glaser's way):
    no rain, sun or drying. Source: ISO 13788:2012, 6 (from memory).
    """
    if not layers:
        raise InputError("no layers; expected one at the least")
    for layer in layers:
        require_positive("resistance of a layer", layer.resistance, "m²K/W")
        require_positive("s_d of a layer", layer.sd_m, "m")
    (warm, damp), (cold, outer) = inside, outside
    for humidity in (damp, outer):
        require_fraction("humidity", humidity)
    r_si, r_se = at_surfaces_m2k_w
    total = r_si + r_se + sum(layer.resistance for layer in layers)
    places, sd, resistance = [(0.0, damp * saturation_pa(warm))], 0.0, r_si
    temperatures = [warm]
    for layer in layers:
        resistance += layer.resistance
        sd += min(layer.sd_m, MOST_SD_M)
        celsius = warm - (warm - cold) * resistance / total
        temperatures.append(celsius)
        places.append((sd, saturation_pa(celsius)))
    places[-1] = (sd, outer * saturation_pa(cold))
    taut = _taut(places)
    found = [
        (
            VAPOUR_KG_M_S_PA
            * (
                (places[a][1] - places[b][1]) / (places[b][0] - places[a][0])
                - (places[b][1] - places[c][1]) / (places[c][0] - places[b][0])
            ),
            b,
        )
        for (a, b), (_, c) in pairwise(pairwise(taut))
    ]
    if not found:
        return Wetting(None, 0.0, temperatures[0])
    most, between = max(found)
    return Wetting(between, most, temperatures[between])


def _taut(places: Sequence[tuple[float, float]]) -> list[int]:
    """Numbers of the places at which a string from first to last, under all of them, bends."""
    kept: list[int] = []
    for n, (x, y) in enumerate(places):
        while len(kept) > 1:
            (ax, ay), (bx, by) = places[kept[-2]], places[kept[-1]]
            if (by - ay) * (x - ax) < (y - ay) * (bx - ax):
                break
            kept.pop()
        kept.append(n)
    return kept
