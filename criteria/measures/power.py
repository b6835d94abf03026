"""Electricity made, used and kept."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from criteria.errors import InputError, require_fraction, require_not_negative, require_positive


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


@dataclass(frozen=True)
class Drawn:
    """Loads alike: how many, the power of one [W], how many times that as it starts [1]."""

    n: int
    power_w: float
    start: float = 1.0
    is_together: bool = True

    @property
    def running_w(self) -> float:
        """All of them [W]."""
        return self.n * self.power_w

    @property
    def starting_w(self) -> float:
        """What one draws beyond its power as it starts [W]."""
        return (self.start - 1) * self.power_w if self.n else 0.0


def drawn_at_once(loads: Sequence[Drawn]) -> tuple[float, float]:
    """Return what an inverter must give all the while, and for a moment [W].

        P = Σ(n · W) of what may run at once; P_start = P + max((k − 1) · W)

    What is kept apart from the rest runs alone. One starts at a time. Source: common practice.

    >>> drawn_at_once([Drawn(1, 1500), Drawn(1, 880, 5), Drawn(1, 306)])
    (2686.0, 6206.0)
    """
    for load in loads:
        require_not_negative("power", load.running_w, "W")
    shared = [load for load in loads if load.is_together]
    running = float(sum(load.running_w for load in shared))
    starting = running + max((load.starting_w for load in shared), default=0.0)
    for load in loads:
        if not load.is_together:
            running = max(running, load.running_w)
            starting = max(starting, load.running_w + load.starting_w)
    return running, starting


LEAD_COLD = ((-3.9, 1.52), (4.4, 1.30), (15.6, 1.11), (25.0, 1.00))
"""How many times the label a lead battery needs at a temperature [°C, 1].

IEEE 485, Table 1, from memory.
"""


def lead_cold_factor(celsius: float) -> float:
    """Return by how much a cold lead battery gives less than its label [1].

    Straight between the table's lines; 1 where it is warmer. Raises InputError where it is colder.

    >>> lead_cold_factor(-3.9), lead_cold_factor(25), lead_cold_factor(40)
    (1.52, 1.0, 1.0)
    """
    coldest, most = LEAD_COLD[0]
    if not celsius >= coldest - 1e-6:
        raise InputError(f"battery is at {celsius:.4g} °C; expected {coldest:g} °C or more")
    for (low, more), (high, less) in pairwise(LEAD_COLD):
        if celsius <= high:
            return min(most, more + (less - more) * (celsius - low) / (high - low))
    return LEAD_COLD[-1][1]
