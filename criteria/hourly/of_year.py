"""The year of a package: weather, building, plant and stores put together, and run three times."""

from collections import deque
from collections.abc import Callable
from dataclasses import dataclass
from typing import Generic, NoReturn, TypeVar
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
from criteria.hourly.year import Run, TankYear, Year
from criteria.package import Package
from criteria.typed.cells import Lacking, is_supposed

Y = TypeVar("Y")


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
    """Return the year of a package with what it stands on; of the last few it is kept.

    spread   when loads run that don't say it
    """
    if is_supposed():
        _ask(package, spread)
    return _YEARS.of(package, spread, _reckon)


def bare_year(package: Package, spread: Spread = Spread.AWAKE) -> Bare:
    """Return a package's year without plant; of the last few it is kept. Raises Lacking."""
    if is_supposed():
        building(package, weather_of(package), spread)
        raise NotRun
    return _BARE.of(package, spread, _run_bare)


def _run_bare(package: Package, spread: Spread) -> Bare:
    weather = weather_of(package)
    assembled = building(package, weather, spread)
    ready = Ready(assembled.building, weather)
    return Bare(assembled=assembled, ready=ready, run=ready.run(NO_PLANT)[0])


class _LastFew(Generic[Y]):
    """Years of the packages that were asked of last: one is some 9 MB, and a process keeps many.

    A package is told by itself, not by its rows: a changed one is another.
    """

    def __init__(self) -> None:
        self._held: deque[tuple[ref[Package], Spread, Y]] = deque(maxlen=MOST_KEPT)

    def of(self, package: Package, spread: Spread, make: Callable[[Package, Spread], Y]) -> Y:
        for whose, how, year in tuple(self._held):
            if whose() is package and how is spread:
                return year
        made = make(package, spread)
        self._held.append((ref(package), spread, made))
        return made


MOST_KEPT = 6
_YEARS: _LastFew[Reckoned] = _LastFew()
_BARE: _LastFew[Bare] = _LastFew()


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
        said=(*map(Step, weather.said), *assembled.said),
    )


def _tanks(package: Package, weather: Weather, taking: Taking) -> tuple[TankYear, ...]:
    """Tanks by case; what they lack is said by their own check, and leaves the room its year."""
    try:
        return by_case(package, weather, taking)
    except Lacking:
        return ()
