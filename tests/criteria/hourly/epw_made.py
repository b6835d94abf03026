"""Denver's weather, and files in the hourly format made of it, right or wrong in one way."""

import gzip
from collections.abc import Callable
from functools import cache
from pathlib import Path

from criteria.hourly.weather import Place, Weather
from criteria.hourly.weather_file import COLUMNS, FIELDS, read_weather_csv

FILE = Path(__file__).parent / "data/weather-denver.csv.gz"
DENVER = Place(latitude_deg=39.83, longitude_deg=-104.65, zone_h=-7.0, altitude_m=1650.0)
HEADS = (
    "LOCATION,Denver Intl Ap,CO,USA,TMY3,725650,39.83,-104.65,-7.0,1650.0",
    "DESIGN CONDITIONS,0",
    "TYPICAL/EXTREME PERIODS,0",
    "GROUND TEMPERATURES,0",
    "HOLIDAYS/DAYLIGHT SAVINGS,No,0,0,0",
    "COMMENTS 1,",
    "COMMENTS 2,",
    "DATA PERIODS,1,1,Data,Sunday, 1/ 1,12/31",
)
MISSING = {"cloud": "99", "snow": "999", "rain": "999"}


@cache
def csv() -> bytes:
    return gzip.decompress(FILE.read_bytes())


@cache
def denver() -> Weather:
    return read_weather_csv(csv(), DENVER, "Denver")


@cache
def _rows() -> tuple[tuple[str, ...], ...]:
    lines = [line for line in csv().decode().splitlines() if not line.startswith("#")]
    heads = lines[0].split(",")
    made = []
    for line in lines[1:]:
        held = dict(zip(heads, line.split(","), strict=True))
        row = ["1999", held["month"], held["day"], held["hour"], "0", "?9?9", *["0"] * 29]
        for column, what in COLUMNS.items():
            row[FIELDS[what] - 1] = held.get(column, MISSING.get(what, ""))
        made.append(tuple(row))
    return tuple(made)


Rows = list[list[str]]


def epw(
    change: Callable[[Rows], object] | None = None, heads: tuple[str, ...] = HEADS, end: str = "\n"
) -> bytes:
    """Return a file of Denver's year; `change` is given its rows to change in place."""
    rows = [list(row) for row in _rows()]
    if change:
        change(rows)
    return end.join((*heads, *(",".join(row) for row in rows), "")).encode()


def setting(what: str, figures: dict[int, str] | str) -> Callable[[Rows], None]:
    """Return a change of some rows' figures (row from 1), or of all of them."""

    def change(rows: Rows) -> None:
        at = FIELDS[what] - 1
        every = dict.fromkeys(range(1, len(rows) + 1), figures)
        for row, figure in (every if isinstance(figures, str) else figures).items():
            rows[row - 1][at] = figure

    return change
