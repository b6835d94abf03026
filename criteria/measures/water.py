"""How long stored water lasts."""

from criteria.errors import require_not_negative, require_positive

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
