"""Columns of a year's weather held to sense: order, limits, gaps, and the sun against its clock."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import lru_cache

import numpy as np

from criteria.hourly.dates import MONTH_DAYS
from criteria.hourly.sky_long_wave import long_wave_w_m2, standard_pressure_pa
from criteria.hourly.sun import positions
from criteria.hourly.weather import CELSIUS_K, HOURS, Flags, Hours, Origin, Place, Weather
from criteria.hourly.weather_refused import Fault, WeatherRefused, numbers
from criteria.schedules.site import MONTHS

FEW = 6
"""Hours of a column that may lack: they are filled between their neighbours and said."""
WARMER_THAN_DRY_K = 0.5
"""Dew point above dry bulb that rounding can bring [K]."""
MORE_THAN_ALL_W_M2 = 5.0
"""Diffuse above global sun that rounding can bring [W/m²]."""
SUN_OFF = 0.05
"""Most by which global sun may differ from beam and diffuse, over the year [1]."""
HALVES_DIFFER = 0.12
"""Most by which beam of mornings and of afternoons may differ from what global leaves it [1].

A clock that is half an hour off brings 0.19 at Denver, one that is right 0.00.
"""

Time = tuple[int, int, int]
"""Month, day and hour, from 1."""
LEAP_DAY = (2, 29)


def _times(has_leap_day: bool) -> tuple[Time, ...]:
    return tuple(
        (month, day, hour)
        for month, days in enumerate(MONTH_DAYS, start=1)
        for day in range(1, days + 1 + (has_leap_day and month == LEAP_DAY[0]))
        for hour in range(1, 25)
    )


COMMON, LEAP = _times(False), _times(True)


@dataclass(frozen=True)
class Table:
    """Times and columns of a file, as read.

    times   month, day and hour of each row
    cells   by what they hold: dry_bulb, dew_point, pressure, long_wave, global, beam, diffuse,
            wind, cloud, snow, rain; a column that the file lacks isn't there
    """

    times: Sequence[tuple[str, ...]]
    cells: Mapping[str, Sequence[str]]


@dataclass(frozen=True)
class Column:
    """What a column may hold.

    missing   from this figure up nothing was measured
    unit      as the file has it
    """

    words: str
    missing: float
    least: float
    most: float
    unit: str


NEEDED = {
    "dry_bulb": Column("dry bulb", 99.9, -70, 60, "°C"),
    "dew_point": Column("dew point", 99.9, -90, 60, "°C"),
    "global": Column("global sun", 9999, 0, 1500, "Wh/m²"),
    "beam": Column("direct normal sun", 9999, 0, 1200, "Wh/m²"),
    "diffuse": Column("diffuse sun", 9999, 0, 1000, "Wh/m²"),
    "wind": Column("wind", 999, 0, 60, "m/s"),
}
"""Columns without which there is no year."""
OFTEN_LACKING = {
    "pressure": Column("pressure", 999_999, 30_000, 120_000, "Pa"),
    "long_wave": Column("sky long wave", 9999, 0, 700, "Wh/m²"),
    "cloud": Column("cloud", 99, 0, 10, "tenths"),
    "snow": Column("snow lying", 999, 0, 990, "cm"),
    "rain": Column("rain", 999, 0, 500, "mm"),
}
"""Columns in whose place something else stands, and is said."""


def weather_of(table: Table, place: Place, name: str) -> Weather:
    """Return the weather of a file's columns. Raises WeatherRefused."""
    year = _Year(table.cells, _rows_of_a_year(table.times))
    found = {what: year.needed(what, column) for what, column in NEEDED.items()}
    maybe = {what: year.maybe(what, column) for what, column in OFTEN_LACKING.items()}
    year.refuse()
    for what, over, above in (
        ("dew_point", WARMER_THAN_DRY_K, "dry_bulb"),
        ("diffuse", MORE_THAN_ALL_W_M2, "global"),
    ):
        year.hold_under(what, found[what] > found[above] + over, above)
    year.refuse()
    _hold_to_the_sun(place, found["global"], found["beam"], found["diffuse"])
    air_k = found["dry_bulb"] + CELSIUS_K
    dew_k = np.minimum(found["dew_point"] + CELSIUS_K, air_k)
    rain, snow, pressure = maybe["rain"], maybe["snow"], maybe["pressure"]
    if pressure is None:
        pressure = np.full(HOURS, standard_pressure_pa(place.altitude_m))
        year.said.append("It gives no pressure: the standard atmosphere's at its altitude stands.")
    if snow is None:
        year.said.append("It doesn't say where snow lies: none is counted.")
    if rain is None or not rain.any():
        year.said.append("It gives no rain.")
    return Weather(
        place=place,
        origin=Origin.FILE,
        name=name,
        air_k=air_k,
        dew_k=dew_k,
        pressure_pa=pressure,
        beam_w_m2=found["beam"],
        diffuse_w_m2=found["diffuse"],
        long_wave_w_m2=_long_wave(maybe, air_k, dew_k, year.said),
        wind_m_s=found["wind"],
        rain_m=rain / 1000 if rain is not None and rain.any() else None,
        has_snow=np.zeros(HOURS, dtype=np.bool_) if snow is None else snow > 0,
        has_spells=True,
        said=tuple(year.said),
    )


def _rows_of_a_year(times: Sequence[tuple[str, ...]]) -> list[int]:
    """Return which rows are the hours of a common year, counted from 0; 29 February is left out.

    Raises WeatherRefused at the first row that isn't where it should be.
    """
    expected = LEAP if len(times) == len(LEAP) else COMMON
    for at, (read, due) in enumerate(zip(times, expected, strict=False)):
        if tuple(map(_whole, read)) != due:
            raise WeatherRefused(
                *_count_fault(times),
                Fault(
                    f"row {at + 1:,}, month, day and hour",
                    ", ".join(times[at]),
                    f"{', '.join(map(str, due))}: every hour of the year, in its order",
                ),
            )
    if faults := _count_fault(times):
        raise WeatherRefused(*faults)
    return [at for at, (month, day, _) in enumerate(expected) if (month, day) != LEAP_DAY]


@lru_cache(maxsize=512)
def _whole(text: str) -> int | None:
    """Return a count of a date; "01" and " 1" are one."""
    return int(text) if text.strip().isdecimal() else None


def _count_fault(times: Sequence[tuple[str, ...]]) -> tuple[Fault, ...]:
    if len(times) in (len(COMMON), len(LEAP)):
        return ()
    expected = f"{len(COMMON):,} rows, or {len(LEAP):,} of a leap year"
    return (Fault("file", f"{len(times):,} rows", expected),)


@dataclass
class _Year:
    """Columns of the hours of a year, with what was found wrong and what was said of them."""

    cells: Mapping[str, Sequence[str]]
    rows: Sequence[int]
    said: list[str] = field(default_factory=list)
    faults: list[Fault] = field(default_factory=list)

    def refuse(self) -> None:
        """Raise WeatherRefused where anything is wrong."""
        if self.faults:
            raise WeatherRefused(*self.faults)

    def needed(self, what: str, column: Column) -> Hours:
        """Return a column that there must be, a few gaps filled between their neighbours."""
        figures = self._figures(what, column)
        lacks = np.isnan(figures)
        if lacks.sum() > FEW:
            self._fault(what, lacks, f"a figure; at most {FEW} h of a year may lack it")
            return figures
        return self._filled(figures, lacks, column)

    def maybe(self, what: str, column: Column) -> Hours | None:
        """Return a column that may lack, None where it does; a few gaps are filled."""
        if what not in self.cells:
            return None
        figures = self._figures(what, column)
        lacks = np.isnan(figures)
        return None if lacks.sum() > FEW else self._filled(figures, lacks, column)

    def hold_under(self, what: str, is_over: Flags, above: str) -> None:
        """Fault the rows in which one column is above another."""
        if is_over.any():
            at = self.rows[int(np.argmax(is_over))]
            self._fault(
                what, is_over, f"at most the {NEEDED[above].words}, {self.cells[above][at]}"
            )

    def _figures(self, what: str, column: Column) -> Hours:
        """Return the figures of a column, nan where nothing was measured; fault the others."""
        cells, blank = self.cells[what], f"{column.missing:g}"
        figures = numbers([cells[at].strip() or blank for at in self.rows])
        is_measured = ~(figures >= column.missing)
        is_wrong = is_measured & ~((figures >= column.least) & (figures <= column.most))
        if is_wrong.any():
            expected = f"{column.words}, {column.least:g} to {column.most:g} {column.unit}"
            self._fault(what, is_wrong, expected.replace("-", "−"))
        return np.where(is_wrong, 0.0, np.where(is_measured, figures, np.nan))

    def _fault(self, what: str, is_wrong: Flags, expected: str) -> None:
        at = self.rows[int(np.argmax(is_wrong))]
        month, day, hour = (LEAP if self.rows[-1] >= HOURS else COMMON)[at]
        column = {**NEEDED, **OFTEN_LACKING}[what]
        where = f"row {at + 1:,} ({day} {MONTHS[month - 1]}, hour {hour}), {column.words}"
        self.faults.append(Fault(where, self.cells[what][at], expected, int(is_wrong.sum()) - 1))

    def _filled(self, figures: Hours, lacks: Flags, column: Column) -> Hours:
        if not lacks.any():
            return figures
        hours = np.arange(HOURS)
        self.said.append(
            f"{int(lacks.sum())} h without {column.words} were filled between their neighbours."
        )
        return np.where(lacks, np.interp(hours, hours[~lacks], figures[~lacks]), figures)


def _long_wave(
    maybe: Mapping[str, Hours | None], air_k: Hours, dew_k: Hours, said: list[str]
) -> Hours:
    given, cloud = maybe["long_wave"], maybe["cloud"]
    if given is not None and given.all():
        return given
    sky = "the clouds that it gives" if cloud is not None else "a clear sky, for it gives no cloud"
    said.append(
        f"It doesn't give the sky's long wave in each hour: reckoned of air, dew point and {sky}."
    )
    return long_wave_w_m2(air_k, dew_k, np.zeros(HOURS) if cloud is None else cloud)


def _hold_to_the_sun(place: Place, whole: Hours, beam: Hours, diffuse: Hours) -> None:
    """Refuse a file whose sun doesn't stand where its place and clock put it."""
    if not whole.any():
        raise WeatherRefused(Fault("file, global sun", "0 all year", "sun"))
    halves, all_year = _sun_shares(place, whole, beam, diffuse)
    if abs(all_year - 1) <= SUN_OFF and abs(halves[0] - halves[1]) <= HALVES_DIFFER:
        return
    read = f"all year {all_year:.2f}, mornings {halves[0]:.2f}, afternoons {halves[1]:.2f}"
    raise WeatherRefused(
        Fault(
            "file, beam and diffuse over global sun",
            read,
            f"1.00 within {SUN_OFF:.2f}, mornings like afternoons, as the sun stands at latitude "
            f"{place.latitude_deg:g}, longitude {place.longitude_deg:g}, "
            f"time zone {place.zone_h:g}{_better_zone(place, whole, beam, diffuse)}",
        )
    )


def _sun_shares(
    place: Place, whole: Hours, beam: Hours, diffuse: Hours
) -> tuple[tuple[float, float], float]:
    """Return beam over what global leaves it, by mornings and afternoons; and all over global."""
    sun = positions(place)
    level = beam * np.maximum(sun.up, 0.0)
    is_morning = sun.vector[:, 0] > 0
    left = np.maximum(whole - diffuse, 0.0)
    halves = [
        float(level[half].sum() / max(left[half].sum(), 1e-9)) for half in (is_morning, ~is_morning)
    ]
    return (halves[0], halves[1]), float((level + diffuse).sum() / whole.sum())


def _better_zone(place: Place, whole: Hours, beam: Hours, diffuse: Hours) -> str:
    """Name the time zone in which the file's sun would stand right, if there is one."""
    tried = {}
    for zone_h in np.arange(-12.0, 14.5, 0.5):
        there = replace(place, zone_h=float(zone_h))
        halves, all_year = _sun_shares(there, whole, beam, diffuse)
        if abs(all_year - 1) <= SUN_OFF:
            tried[float(zone_h)] = abs(halves[0] - halves[1])
    best = min(tried, key=lambda zone_h: tried[zone_h], default=None)
    if best is None or tried[best] > HALVES_DIFFER:
        return ""
    return f"; its rows would fit time zone {best:g}"
