"""Electricity made, used and kept."""

from criteria.errors import require_fraction, require_not_negative, require_positive


def made_in_a_day(panels_w: float, sun_s: float, factor: float, wind_j: float = 0.0) -> float:
    """Return electricity made in a day of the design month [J].

        E = P · t · f + E_wind

        P   peak power of the panels             [W]
        t   full-sun hours on their plane        [s]
        f   part of it that arrives              [1]

    Source: definition of performance ratio, IEC 61724-1; f 0.6 to 0.8 is common practice.

    >>> made_in_a_day(1800, 3.6 * 3600, 0.72) / 3600
    4665.6
    """
    require_not_negative("panels", panels_w, "W")
    require_not_negative("sun", sun_s, "s")
    require_not_negative("wind", wind_j, "J")
    return panels_w * sun_s * require_fraction("system factor", factor) + wind_j


def used_in_a_day(n: int, power_w: float, run_s: float) -> float:
    """Return electricity that n loads alike use in a day [J]: n · P · t.

    >>> used_in_a_day(4, 10, 5 * 3600) / 3600
    200.0
    """
    require_not_negative("number", n, "no.")
    require_not_negative("power", power_w, "W")
    return n * power_w * require_not_negative("running time", run_s, "s")


def battery_days(battery_j: float, usable_share: float, used_j: float) -> float:
    """Return how long a battery carries the loads with nothing coming in [s].

    >>> round(battery_days(9.6e3 * 3600, 0.85, 2844 * 3600) / 86400, 2)
    2.87
    """
    require_not_negative("battery", battery_j, "J")
    share = require_fraction("usable share", usable_share)
    return battery_j * share / require_positive("use in a day", used_j, "J") * 86_400
