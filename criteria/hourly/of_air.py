"""The air of a package's building, hour by hour: leaks, vents, and when windows are opened."""

import re

import numpy as np

from criteria.checks.reading import gathered
from criteria.findings import Amount, Step
from criteria.hourly.assumed import Taking
from criteria.hourly.building import Air, Opening
from criteria.hourly.of_openings import opening
from criteria.hourly.people_hours import PeopleYear
from criteria.hourly.weather import HOURS, Flags, Hours, Weather
from criteria.package import Package
from criteria.schedules.air import Vent
from criteria.units import AIR_FLOW

TWENTIETH = 20
"""Air changes at 50 Pa over those of an ordinary day [1]. Kronvall and Persily, from memory."""
LEAKS_50_S = 6 / 3600
"""Air changes at 50 Pa that nothing says: 0.3 an hour on an ordinary day [1/s]. Ours."""
DUCTED = re.compile(r"fan|duct|mechanic|recover|extract|supply|\b(mv)?hrv\b|\berv\b", re.IGNORECASE)
"""Words of a vent whose air passes a fan."""
BY_DAY_K, BY_NIGHT_K = 297.15, 293.15
"""What windows are opened to hold, and at night after a warm day [K]. Common practice."""
WARM_DAY_K = 288.15
"""Mean of a day after which windows stay open in the night [K]. Ours."""
EVENING_H, MORNING_H = 22, 7
"""Between which it is night [h]."""
TERRAIN = "C"
"""Exposure of a site that doesn't say it: open country. Common practice."""


def air_of(
    package: Package,
    weather: Weather,
    volume_m3: float,
    people: PeopleYear,
    warm_k: Hours,
    taking: Taking,
) -> tuple[Air, tuple[Step, ...]]:
    """Return the air of a building, and what to know of it. Raises Lacking.

    Leaks by the pressure test, a twentieth of its air changes; vents as they are left, night and
    day, less what is recovered. Windows are opened by whoever is awake, to hold 24 °C; on nights
    after a day of 15 °C or more in the mean they are left open, to hold 20 °C. They are never
    opened below a degree above what is heated to.
    """
    words = "{}: leaks at 50 Pa are taken as {}"
    leaks = taking.of(package.plant, "leaks_50_s", LEAKS_50_S, words, "ours") / TWENTIETH
    vents_m3_s, said = _vents_m3_s(package)
    openings = gathered(package.windows, lambda row: opening(package, row, taking))
    is_warm_night = _warm_nights(weather)
    hold = np.where(is_warm_night, BY_NIGHT_K, BY_DAY_K)
    air = Air(
        fixed_m3_s=np.full(HOURS, leaks * volume_m3 + vents_m3_s),
        openings=tuple(each for each in openings if isinstance(each, Opening)),
        open_above_k=np.fmax(hold, warm_k + 1),
        may_open=people.is_awake | (people.is_asleep & is_warm_night),
        terrain=package.site.unless_blank("exposure") or TERRAIN,
    )
    return air, said


def _vents_m3_s(package: Package) -> tuple[float, tuple[Step, ...]]:
    """Return what vents bring in that must be warmed [m³/s], and how recovery was reckoned.

    Heat is recovered of what passes a fan; where no vent says that it does, of all of them.
    Without a vent schedule the brief's air for each person is taken.
    """
    rows, recovered = package.rows_of(Vent), package.plant.recovery
    if not rows:
        flow = package.people * package.site.fresh_air_m3_s
        note = Step("no vents are scheduled: {} are taken, by the brief", (Amount(flow, AIR_FLOW),))
        return flow * (1 - recovered), (note,)
    flows = gathered(rows, lambda row: row.n * row.flow_m3_s)
    ducted = [bool(DUCTED.search(row.type or "")) for row in rows]
    through_fans = ducted if any(ducted) else [True] * len(rows)
    pairs = zip(flows, through_fans, strict=True)
    total: float = sum(flow * (1 - recovered * fan) for flow, fan in pairs)
    if recovered and not any(ducted):
        return total, (Step("no vent says that it passes a fan: heat is recovered of all"),)
    return total, ()


def _warm_nights(weather: Weather) -> Flags:
    """Tell which hours are of a night after a warm day."""
    days = weather.air_k.reshape(-1, 24).mean(axis=1) >= WARM_DAY_K
    nights = np.zeros((days.size, 24), dtype=np.bool_)
    nights[:, EVENING_H:] = days[:, None]
    nights[:, :MORNING_H] = np.roll(days, 1)[:, None]
    return nights.ravel()
