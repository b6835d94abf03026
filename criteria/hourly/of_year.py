"""The year of a package: weather, building, plant and stores put together, and run three times."""

from collections import deque
from dataclasses import dataclass
from typing import Any, NoReturn
from weakref import ref

from criteria.findings import Step
from criteria.hourly.assumed import Assumed, Taking
from criteria.hourly.building import ANY_PLANT, NO_PLANT, PlantLimits, PowerSupply
from criteria.hourly.of_package import Assembled, building
from criteria.hourly.of_power import plant_limits, supply
from criteria.hourly.of_tanks import by_case
from criteria.hourly.people_hours import Spread
from criteria.hourly.running import Ready
from criteria.hourly.site_weather import weather_of
from criteria.hourly.weather import Weather
from criteria.hourly.wind_turbine import SPREAD_EVENLY
from criteria.hourly.year import Run, TankYear, Year
from criteria.package import Package
from criteria.typed.cells import Lacking, is_supposed


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Bare:
    """A package without plant: it asks for nothing of heaters, panels or tanks."""

    assembled: Assembled
    ready: Ready
    run: Run


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Reckoned:
    """A package's year and what it stands on.

    assembled   the building as it was reckoned
    plant, supply  what heats and cools, and on what; supply is None without panels or battery
    assumed     what was taken for blank cells
    said        what else to know: of the weather, of shades
    """

    year: Year
    assembled: Assembled
    ready: Ready
    plant: PlantLimits
    supply: PowerSupply | None
    assumed: tuple[Assumed, ...]
    said: tuple[Step, ...]


class NotRun(Exception):
    """Raised where cells only stand in for what lacks: a year of them would be nobody's."""


def year_of(package: Package) -> Year:
    """Return the year of a package. Raises Lacking with cells that it can't do without."""
    return reckoned(package).year


def reckoned(package: Package, spread: Spread = Spread.AWAKE) -> Reckoned:
    """Return the year of a package with what it stands on; reckoned once while it is asked of.

    spread   when loads run that don't say it
    """
    if is_supposed():
        _ask(package, spread)
    kept: dict[Spread, Reckoned] = _kept(package, "_years")
    if spread not in kept:
        kept[spread] = _reckon(package, spread)
    return kept[spread]


def bare_year(package: Package, spread: Spread = Spread.AWAKE) -> Bare:
    """Return a package's year without plant, likewise once. Raises Lacking."""
    kept: dict[Spread, Bare] = _kept(package, "_bare_years")
    if spread in kept and not is_supposed():
        return kept[spread]
    weather = weather_of(package)
    assembled = building(package, weather, spread)
    if is_supposed():
        raise NotRun
    ready = Ready(assembled.building, weather)
    kept[spread] = Bare(assembled=assembled, ready=ready, run=ready.run(NO_PLANT)[0])
    return kept[spread]


MOST_KEPT = 6
"""Packages that keep their years: one is some 9 MB, and a process keeps many packages."""
_LAST: deque[ref[Package]] = deque()
"""Packages that have years, in the order in which they were asked first."""


def _kept(package: Package, name: str) -> dict[Spread, Any]:
    """Return years that stand on a package; of many, those that came first lose theirs."""
    years: dict[Spread, Any] = package.__dict__.setdefault(name, {})
    if not any(each() is package for each in tuple(_LAST)):
        _LAST.append(ref(package))
        while len(_LAST) > MOST_KEPT:
            if (former := _LAST.popleft()()) is not None:
                for each in ("_years", "_bare_years"):
                    former.__dict__.pop(each, None)
    return years


def spreads(package: Package) -> list[tuple[str, Reckoned]]:
    """Return the year in words for each way in which loads may run that don't say when.

    One where all say it. What changes with them depends on when they run.
    """
    found = reckoned(package)
    if not found.assembled.unsaid:
        return [(str(Spread.AWAKE), found)]
    return [(str(spread), reckoned(package, spread)) for spread in Spread]


def _ask(package: Package, spread: Spread) -> NoReturn:
    """Ask for every cell that a year needs, and run nothing."""
    taking, weather = Taking(), weather_of(package)
    assembled = building(package, weather, spread)
    use, ready = assembled.use, Ready(assembled.building, weather)
    plant_limits(package, use, weather, taking)
    supply(package, use, weather, ready.sky, weather.air_k, taking, spread)
    raise NotRun


def _reckon(package: Package, spread: Spread) -> Reckoned:
    taking, bare = Taking(), bare_year(package, spread)
    assembled, ready, weather = bare.assembled, bare.ready, bare.ready.weather
    plant = plant_limits(package, assembled.use, weather, taking)
    feeds = supply(package, assembled.use, weather, ready.sky, bare.run.air_k, taking, spread)
    held, _ = ready.run(ANY_PLANT)
    drawn, power = ready.run(plant, feeds)
    wants, people = assembled.building.use, assembled.use.people
    year = Year(
        weather=weather,
        is_there=people.is_there,
        is_asleep=people.is_asleep,
        warm_k=wants.warm_k,
        cool_k=wants.cool_k,
        bare=bare.run,
        held=held,
        drawn=drawn,
        power=power,
        tanks=_tanks(package, weather, taking),
    )
    return Reckoned(
        year=year,
        assembled=assembled,
        ready=ready,
        plant=plant,
        supply=feeds,
        assumed=(*assembled.assumed, *taking.found),
        said=(*map(Step, weather.said), *assembled.said, *_wind(package)),
    )


def _wind(package: Package) -> tuple[Step, ...]:
    """Say that wind is a day's figure, where there is any."""
    return (Step(SPREAD_EVENLY),) if package.power.unless_blank("wind_j_day") else ()


def _tanks(package: Package, weather: Weather, taking: Taking) -> tuple[TankYear, ...]:
    """Tanks by case; what they lack is said by their own check, and leaves the room its year."""
    try:
        return by_case(package, weather, taking)
    except Lacking:
        return ()
