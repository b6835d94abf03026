"""Heat lost on the coldest night, and heat to take out on the hottest afternoon."""

import math
from dataclasses import dataclass

from criteria.errors import InputError, require_fraction, require_not_negative, require_positive

SEA_LEVEL_AIR_J_M3K = 0.33 * 3600
"""Heat that air holds at 20 °C and sea level [J/m³K]: 0.33 Wh/m³K, as CIBSE Guide A prints."""
SEA_LEVEL_K = 293.15
"""Temperature to which that figure belongs [K]."""


def air_heat(altitude_m: float, mean_k: float) -> float:
    """Return the heat that air holds at an altitude and temperature [J/m³K].

        c = 0.33 · (1 − 2.25577e-5 · z)^5.25588 · 293.15 / T      [Wh/m³K]

        z   altitude            [m]
        T   mean temperature of the air, inside and outside       [K]

    Applies to: up to 11 000 m, dry air.
    Source: pressure of the ICAO standard atmosphere (Doc 7488, 1993) as ASHRAE Fundamentals,
        chapter 1, equation 3 gives it; 0.33 at 20 °C as CIBSE Guide A.

    At 2,640 m between −18 °C and 16 °C:

    >>> round(air_heat(2640, 272.15) / 3600, 2)
    0.26
    """
    if not -5000 <= altitude_m <= 11000:
        raise InputError(f"altitude is {altitude_m:g} m; expected −5000 m to 11 000 m")
    pressure_ratio: float = (1 - 2.25577e-5 * altitude_m) ** 5.25588
    warm = SEA_LEVEL_K / require_positive("mean temperature", mean_k, "K")
    return SEA_LEVEL_AIR_J_M3K * pressure_ratio * warm


@dataclass(frozen=True)
class Air:
    """Outdoor air that a building is reckoned with [m³/s].

    fresh   brought in for people, past whatever recovers its heat
    leaks   through cracks and doors: nothing recovers its heat
    """

    fresh: float
    leaks: float

    @property
    def total(self) -> float:
        """All of it [m³/s]."""
        return self.fresh + self.leaks


def design_air(volume_m3: float, people: int, each_m3_s: float, changes_per_h: float) -> Air:
    """Return the larger of air changes and people's need; what exceeds their need is leaks.

    >>> round(design_air(182.42, 13, 0.004, 0.5).total * 3600, 1)
    187.2
    """
    require_not_negative("volume", volume_m3, "m³")
    require_not_negative("people", people, "no.")
    changes = require_not_negative("air changes", changes_per_h, "1/h") * volume_m3 / 3600
    fresh = people * require_not_negative("air per person", each_m3_s, "m³/s")
    return Air(fresh, max(changes - fresh, 0.0))


def air_loss_rate(air: Air, heat_j_m3k: float, recovery: float) -> float:
    """Return heat lost with the air for a degree of difference [W/K]: c · (q − η · q_fresh).

    What comes in through cracks is never recovered.

    >>> round(air_loss_rate(Air(fresh=0.03, leaks=0.01), 1200, 0.75), 9)
    21.0
    """
    require_not_negative("fresh air", air.fresh, "m³/s")
    require_not_negative("leaks", air.leaks, "m³/s")
    require_positive("heat that air holds", heat_j_m3k, "J/m³K")
    return heat_j_m3k * (air.total - require_fraction("recovery", recovery) * air.fresh)


def heat_loss(fabric_w_k: float, air_w_k: float, inside_k: float, outside_k: float) -> float:
    """Return the steady loss of a building [W].

        Q = (H_fabric + H_air) · (T_in − T_out)

    Applies to: the coldest hours, without sun, people or stored heat.
    Source: ISO 13789:2017 and EN 12831-1:2017 in their simplest form.

    >>> heat_loss(50.0, 25.0, 293.15, 263.15)
    2250.0
    """
    require_not_negative("fabric loss", fabric_w_k, "W/K")
    require_not_negative("air loss", air_w_k, "W/K")
    if inside_k <= outside_k:
        raise InputError(f"inside is {inside_k:g} K; expected warmer than outside, {outside_k:g} K")
    return (fabric_w_k + air_w_k) * (inside_k - outside_k)


def balance_temperature(inside_k: float, gains_w: float, loss_w_k: float) -> float:
    """Return the outside temperature at which gains alone hold the inside [K].

        T_b = T_in − Q_gain / H

    "Needs no heating" is true down to here, and false below.

    >>> balance_temperature(293.15, 1000, 100)
    283.15
    """
    require_not_negative("gains", gains_w, "W")
    return inside_k - gains_w / require_positive("loss rate", loss_w_k, "W/K")


TIMBER_J_KGK = 1600.0
"""Specific heat of timber [J/kgK]. ISO 10456:2007, Table 3, from memory."""
STONE_J_KGK = 1000.0
"""Specific heat of stone, plaster and concrete [J/kgK]. ISO 10456:2007, Table 3, from memory."""


def warm_up(capacity_j_k: float, loss_w_k: float, heat_w: float, rise_k: float) -> float:
    """Return how long a steady heat takes to warm a cold building through a rise [s].

        t = (C / H) · ln(Q / (Q − H · ΔT))

        C    heat that air and what warms with it hold      [J/K]
        H    loss of the whole for a degree of difference    [W/K]
        Q    heat given, steady                              [W]
        ΔT   outside, from which it starts, to inside        [K]

    Applies to: one mass at one temperature, which starts as cold as outside. Derived by hand
        from C · dT/dt = Q − H · (T − T_out). Without a loss it is C · ΔT / Q.

    1 MJ/K, 50 W/K and 4 kW through 20 K: 20 000 s · ln(4 / 3):

    >>> round(warm_up(1e6, 50, 4000, 20), 1)
    5753.6
    >>> warm_up(1e6, 0, 4000, 20)
    5000.0
    """
    capacity = require_positive("heat held", capacity_j_k, "J/K")
    rate = require_not_negative("loss rate", loss_w_k, "W/K")
    rise = require_positive("rise", rise_k, "K")
    if heat_w <= rate * rise:
        raise InputError(f"heat is {heat_w:g} W; expected more than the loss, {rate * rise:g} W")
    if rate == 0:
        return capacity * rise / heat_w
    return -capacity / rate * math.log1p(-rate * rise / heat_w)


DARK_M2K_W = 0.052
"""Sun's heat taken up over what the outside film gives back, of a dark face [m²K/W].

ASHRAE Fundamentals, chapter 18, quoted: 0.052 dark and 0.026 light, by absorptances of 0.9 and
0.45.
"""
SKY_K = 3.9
"""What a roof loses to the sky [K]. ASHRAE Fundamentals, chapter 18, quoted."""


def taken_up(absorptance: float) -> float:
    """Return α / h_o of a face [m²K/W], in proportion to the dark one that ASHRAE prints.

    >>> round(taken_up(0.45), 3), round(taken_up(0.9), 3)
    (0.026, 0.052)
    """
    return DARK_M2K_W * require_fraction("absorptance", absorptance) / 0.9


def sol_air(outside_k: float, sun_w_m2: float, absorbed_per_film: float, sky_k: float = 0) -> float:
    """Return the outside temperature that stands for air and sun together [K].

        T_sa = T_o + (α / h_o) · I − ε ΔR / h_o

        α / h_o   0.026 light to 0.052 dark      [m²K/W]
        I         sun on the face                [W/m²]
        ε ΔR/h_o  3.9 K facing the sky, 0 upright

    Source: ASHRAE Fundamentals, chapter 18, equations 28 to 30, quoted.

    >>> round(sol_air(308.15, 900, 0.052, 3.9) - 273.15, 1)
    77.9
    """
    require_not_negative("sun", sun_w_m2, "W/m²")
    return outside_k + absorbed_per_film * sun_w_m2 - sky_k


ROOF_SUN = 1.8
"""Sun on a level roof beside that on a wall [1]. Common practice."""


def sun_on_glass(
    sun_w_m2: float, face: str, latitude_deg: float | None, sun_share: float = 1.0
) -> float:
    """Return the design sun on glass that faces a way, "up" for roof lights [W/m²].

    sun_w_m2    design sun on walls and glass
    sun_share   part of it that the shade lets past [1]

    None on a face that looks from the sun of noon to the nearer pole; without a latitude no face
    is spared. Applies to: outside the tropics; within them the sun stands on either side.

    >>> [sun_on_glass(500, face, -33.9) for face in ("N", "S", "up")]
    [500.0, 0.0, 900.0]
    """
    if latitude_deg is not None and face == ("N" if latitude_deg >= 0 else "S"):
        return 0.0
    return sun_w_m2 * (ROOF_SUN if face == "up" else 1.0) * require_fraction("shade", sun_share)


def solar_gain(area_m2: float, solar_factor: float, sun_w_m2: float) -> float:
    """Return sun through glass [W]: A · g · I, of the sun that stands on it.

    >>> solar_gain(4.0, 0.40, 500)
    800.0
    """
    require_not_negative("glass", area_m2, "m²")
    require_not_negative("sun", sun_w_m2, "W/m²")
    if not 0 <= solar_factor <= 0.92:
        raise InputError(f"solar factor is {solar_factor:g}; expected 0 to 0.92, clear glass")
    return area_m2 * solar_factor * sun_w_m2


PERSON_SENSIBLE_W = 75.0
PERSON_LATENT_W = 55.0
"""Heat of one person at light office work [W]. ASHRAE Fundamentals 2013, chapter 18, Table 1."""


FUEL_J_KG = {
    "wood stove": 15e6,
    "pellet stove": 17e6,
    "gas heater": 46e6,
    "oil heater": 43e6,
}
"""Heat in fuel by what burns it [J/kg]: dry logs, pellets, propane, heating oil. From memory."""


def fuel_lasts_s(fuel_kg: float, heat_j_kg: float, share: float, loss_w: float) -> float:
    """Return how long fuel makes up a steady loss [s]: m · H · η ÷ Q.

    >>> round(fuel_lasts_s(120, 15e6, 0.75, 3600) / 86_400, 4)
    4.3403
    """
    require_not_negative("fuel", fuel_kg, "kg")
    require_positive("heat in the fuel", heat_j_kg, "J/kg")
    return (
        fuel_kg
        * heat_j_kg
        * require_fraction("share", share)
        / require_positive("heat loss", loss_w, "W")
    )
