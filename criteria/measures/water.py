"""How long stored water lasts."""

from criteria.errors import require_fraction, require_not_negative, require_positive

DAY_S = 86_400.0
"""Seconds in a day [s]."""


def water_days(usable_m3: float, people: int, use_m3_pd: float) -> float:
    """Return how long stored water lasts a full house [s].

        t = V / (n · q)

        V   usable volume, not nominal              [m³]
        n   people                                  [no.]
        q   use per person and day                  [m³/day]

    Applies to: stored water alone; rain and refilling are left out.
    Source: mass balance; worked case W2 of the tests.

    >>> round(water_days(0.400, 2, 0.015) / DAY_S, 2)
    13.33
    """
    require_not_negative("usable water", usable_m3, "m³")
    require_positive("people", people, "no.")
    return usable_m3 / (people * require_positive("use per person-day", use_m3_pd, "m³")) * DAY_S


def water_per_person_day(usable_m3: float, people: int, supply_s: float) -> float:
    """Return the stored water for each person and day between two supply visits [m³/day].

    The inverse of water_days, to hold against Sphere 2018's 15 L a person and day.

    >>> round(water_per_person_day(0.420, 4, 7 * DAY_S) * 1000, 6)
    15.0
    """
    require_not_negative("usable water", usable_m3, "m³")
    require_positive("people", people, "no.")
    return usable_m3 / (people * require_positive("days between visits", supply_s, "s") / DAY_S)


def waste_days(usable_m3: float, people: int, made_m3_pd: float) -> float:
    """Return how long a full house takes to fill a tank [s]; the mass balance of water_days."""
    return water_days(usable_m3, people, made_m3_pd)


def rain_catch(rain_m: float, roof_m2: float, kept_share: float) -> float:
    """Return what a roof catches of some rain [m³].

        V = h · A · k

        h   rain             [m]
        A   roof on plan     [m²]
        k   part that reaches the tank, 0.8 to 0.9 off a hard roof (common practice)   [1]

    >>> round(rain_catch(0.034, 80, 0.8), 3)
    2.176
    """
    require_not_negative("rain", rain_m, "m")
    require_not_negative("roof", roof_m2, "m²")
    return rain_m * roof_m2 * require_fraction("kept share", kept_share)


WATER_KG_M3 = 1000.0
"""Water at 4 °C [kg/m³]; 998 at 20 °C, a difference below what is typed."""


def water_mass(volume_m3: float) -> float:
    """Return the mass of a full tank [kg].

    >>> water_mass(0.420)
    420.0
    """
    return require_not_negative("volume", volume_m3, "m³") * WATER_KG_M3


STEEPEST_ACCESSIBLE = 1 / 48
"""Steepest fall of a floor that a wheelchair turns on [1]. 2010 ADA Standards, 304.2."""
LEAST_TO_DRAIN = 0.25 / 12
"""Least fall of a shower floor to its drain [1]. IRC 2021, P2709.1: a quarter inch in 12.

The two are the same number, 2.0833 %: one fall does both, and no other.
"""


def fall(rise_m: float, run_m: float) -> float:
    """Return a floor's fall, rise over run [1].

    >>> fall(0.01875, 0.900) == STEEPEST_ACCESSIBLE == LEAST_TO_DRAIN
    True
    """
    return require_not_negative("rise", rise_m, "m") / require_positive("run", run_m, "m")


WATER_HEAT_J_M3K = 4.186e6
"""Heat that water holds [J/m³K]: 1.163 Wh/L·K."""


def hot_water_j(litres_m3: float, cold_k: float, hot_k: float) -> float:
    """Return the heat in hot water [J]: V · c · (θ − θ_c).

    Raises InputError where the cold water is warmer.

    >>> round(hot_water_j(4 * 0.015, 281.15, 313.15) / 3.6e6, 4)
    2.2325
    """
    require_not_negative("hot water", litres_m3, "m³")
    rise = require_not_negative("hot less cold water", hot_k - cold_k, "K")
    return litres_m3 * WATER_HEAT_J_M3K * rise
