"""Claims of never and always, held to the hours and days of a year.

One differs where the year lacks what it says for more than a day in all, however loads run that
don't say when and however a month's rain falls; it agrees where it lacks it for no more, in all of
them. What depends on that isn't judged, nor what the schedules don't have: a stove isn't run by
panels.
"""

from collections.abc import Callable, Sequence

import numpy as np

from criteria.check_sheet.never_reading import By, Never
from criteria.checks.year_room import DESIGNED_FOR, too_cold, too_hot
from criteria.findings import Amount, Measured, Step
from criteria.hourly.of_tanks import by_case
from criteria.hourly.of_year import Bare, Reckoned, bare_year, spreads
from criteria.hourly.people_hours import Spread
from criteria.hourly.rain_tank import SHORT_M3, is_short
from criteria.hourly.site_weather import weather_of
from criteria.hourly.weather import Flags, Spell
from criteria.hourly.worst import above, below, dark
from criteria.hourly.year import TankYear
from criteria.package import Package
from criteria.schedules.plant import BURNING
from criteria.schedules.states import PeopleCase
from criteria.units import WHOLE_HOURS

HOUR_S, DAY_S = 3600.0, 86400.0
NEVER_S = DAY_S
"""What lacks for no longer in a year, all in all, is never said to lack [s]: as much is the first
day of a season, or an hour's mean. Common practice."""

BY_PANELS = ("electric heater", "heat pump")
BARE: dict[str, Callable[[Bare], Flags]] = {"cold_hours": too_cold, "hot_hours": too_hot}
WITH_PLANT: dict[str, Callable[[Reckoned], Flags]] = {
    "hours_not_held": lambda found: below(found.year.drawn, found.year),
    "hot_not_held": lambda found: above(found.year.drawn, found.year),
    "dark_hours": lambda found: dark(found.year),
}
SPELLS = {"cold_hours": Spell.COLD, "hot_hours": Spell.HOT}
"""Checks that count hours of a year without its worst days too: enough to differ, not to agree."""


def unlike(package: Package, never: Never) -> Step | None:
    """Say why a claim can't be held to its check: something else does it, or nothing."""
    plant = package.leniently.plant
    if never.by is By.PANELS and never.slug == "hot_not_held" and not plant.cooling_w:
        return Step("nothing is scheduled that cools (heat and air plant)")
    if never.by is By.PANELS and package.leniently.power.panels_w is None:
        return Step("no panels are scheduled (power plant)")
    if never.slug != "hours_not_held" or plant.heater is None:
        return None
    does = {By.PANELS: BY_PANELS, By.STOVE: BURNING}.get(never.by)
    if does is None or plant.heater in does:
        return None
    return Step("what heats it is scheduled as {}", (plant.heater,))


def lacks_s(package: Package, slug: str) -> list[list[float]]:
    """Return how long a year lacks what is said never to lack [s]: for each case, in each way."""
    if slug == "rain_days":
        return [[_dry_s(each) for each in years] for years in _tanks(package).values()]
    if slug in BARE:
        first = bare_year(package)
        ways = [bare_year(package, each) for each in Spread] if first.assembled.unsaid else [first]
        return [[_span_s(BARE[slug](way)) for way in ways]]
    return [[_span_s(WITH_PLANT[slug](found)) for _, found in spreads(package)]]


def lacks_always(lacks: Sequence[Sequence[float]]) -> bool:
    """Whether for one of the cases something lacks in whatever way loads run and rain falls."""
    return any(all(each > NEVER_S for each in ways) for ways in lacks)


def lacks_never(lacks: Sequence[Sequence[float]]) -> bool:
    """Whether for none of the cases anything lacks in any way."""
    return all(each <= NEVER_S for ways in lacks for each in ways)


def unsettled(package: Package, slug: str) -> Step | None:
    """Say what the worst days lack of a year whose hours alone would agree."""
    weather, spell = weather_of(package), SPELLS.get(slug)
    if spell is None or weather.has_spells or spell not in weather.without:
        return None
    words = "still needs {} (site sheet), or a weather file in the brief"
    return Step(words, (DESIGNED_FOR[spell],))


def worst_shown(
    package: Package, slug: str, measured: Sequence[Measured]
) -> tuple[Measured | None, float]:
    """Return what stands worst of what was measured, and the figure that a claim asserts of it [s].

    No hour; of rain, as many days as the people of its case want water, the case being the one in
    which most days lack it.
    """
    known = [each for each in measured if each.values]
    if not known or slug != "rain_days":
        return max(known, key=lambda each: each.values[0], default=None), 0.0
    wanted = {case: _wanted_s(years[0]) for case, years in _tanks(package).items()}
    of_each = [(each, wanted[each.in_case.partition(", ")[0]]) for each in known]
    return max(of_each, key=lambda pair: pair[1] - pair[0].values[0])


def tolerance() -> Step:
    """Say how much still is never."""
    return Step("up to {} in the year are taken as none", (Amount(NEVER_S, WHOLE_HOURS),))


def _tanks(package: Package) -> dict[str, list[TankYear]]:
    """Tanks through a year by people case, of those that the brief holds to its targets."""
    held = {case.case or "" for case in package.rows_of(PeopleCase) if case.is_held} or {""}
    found: dict[str, list[TankYear]] = {}
    for year in by_case(package, weather_of(package)):
        if year.case in held:
            found.setdefault(year.case, []).append(year)
    return found


def _dry_s(tank: TankYear) -> float:
    return float(np.count_nonzero(is_short(tank))) * DAY_S


def _wanted_s(tank: TankYear) -> float:
    return float(np.count_nonzero(tank.drawn_m3 + tank.short_m3 > SHORT_M3)) * DAY_S


def _span_s(flags: Flags) -> float:
    return float(np.count_nonzero(flags)) * HOUR_S
