"""Denver's typical year, and the cases of Standard 140 in it."""

import gzip
import json
from functools import cache
from pathlib import Path
from typing import Any

from criteria.hourly.building import ANY_PLANT
from criteria.hourly.case_file import case_of
from criteria.hourly.running import Ready
from criteria.hourly.weather import Place, Weather
from criteria.hourly.weather_file import read_weather_csv
from criteria.hourly.year import Run

DATA = Path(__file__).parent / "data"
DENVER = Place(latitude_deg=39.83, longitude_deg=-104.65, zone_h=-7, altitude_m=1650)


@cache
def denver() -> Weather:
    """Return the year: TMY3 station 725650, US government data."""
    return read_weather_csv(gzip.decompress((DATA / "weather-denver.csv.gz").read_bytes()), DENVER)


@cache
def oracle(name: str) -> dict[str, Any]:
    """Return published figures by the name of their file."""
    figures: dict[str, Any] = json.loads((DATA / f"{name}.json").read_text())
    return figures


@cache
def ready(name: str) -> Ready:
    """Return a case in its weather, through the engine's public input."""
    return Ready(case_of(oracle("standard-140")["cases"][name]["case"]).building, denver())


@cache
def run_of(name: str) -> Run:
    """Return a case's year."""
    return ready(name).run(ANY_PLANT)[0]
