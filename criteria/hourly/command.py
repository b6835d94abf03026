"""`python -m criteria year FOLDER`: the year of a package by the hour, and its checks."""

import argparse
import json
import sys
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from criteria.check_sheet.sheet import CheckSheet, judge, unasked
from criteria.checks.catalogue import CATALOGUE
from criteria.command import report
from criteria.command.folder import Unreadable
from criteria.command.folder_asked import add_folder, name_asked, read_asked
from criteria.errors import InputError
from criteria.findings import Finding, Step
from criteria.hourly.assumed import Assumed
from criteria.hourly.figures import figures
from criteria.hourly.of_year import Reckoned, reckoned
from criteria.hourly.site_weather import weather_of
from criteria.hourly.told import LIMITS, NOT_SETTLED
from criteria.hourly.weather import CELSIUS_K, HOUR_S, Origin, Weather
from criteria.hourly.weather_file import read_epw
from criteria.hourly.weather_refused import WeatherRefused
from criteria.hourly.worst import is_night_settled, worst_night, worst_week
from criteria.hourly.year import Run, Year
from criteria.own_words import in_units
from criteria.package import Package
from criteria.targets.reading import Target
from criteria.typed.cells import Lacking
from criteria.units import POWER, STORED_ENERGY, TEMPERATURE, System

RUNS = {
    "without_plant": "without plant",
    "plant_without_end": "with plant of any power",
    "plant_as_drawn": "with the plant that is drawn",
}
"""The three runs of a year, by key and in words."""


@dataclass(frozen=True, kw_only=True)
class YearTold:
    """What the command tells of a package.

    weather, year   None where cells lack without which there is none, named in `missing`
    findings        targets that ask for a year, then the other checks of the year
    """

    name: str
    weather: Weather | None
    year: Reckoned | None
    missing: tuple[str, ...]
    findings: tuple[Finding, ...]


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Give a parser the arguments of the year command."""
    add_folder(parser)
    parser.add_argument(
        "--weather",
        metavar="FILE.epw",
        type=Path,
        help="a year of weather in the hourly format; without it, made of the climate by month",
    )
    parser.add_argument("--json", action="store_true", help="all figures, not rounded")


def run(options: argparse.Namespace) -> int:
    """Print a package's year; return 0, 1 or 2 as `check` does, 1 too where there is no year."""
    try:
        reading = read_asked(options)
        package = reading.package
        if options.weather:
            package = package.but(weather=read_epw(options.weather.read_bytes()))
    except Unreadable as unreadable:
        print(*unreadable.problems, sep="\n", file=sys.stderr)
        return report.EXIT_UNREADABLE
    except WeatherRefused as refused:
        lines = (f"{options.weather}, {fault}" for fault in refused.faults)
        print(*lines, sep="\n", file=sys.stderr)
        return report.EXIT_UNREADABLE
    print(*reading.refused, sep="\n", end="\n" if reading.refused else "", file=sys.stderr)
    told = year_told(package, reading.targets, name_asked(options))
    if options.json:
        print(json.dumps(as_json(told), ensure_ascii=False, indent=2, allow_nan=False))
    else:
        print(as_text(told, System(options.units)), end="")
    if told.year is None:
        return report.EXIT_NOT_MET
    return report.exit_code(CheckSheet(told.findings, ()), reading.refused)


def year_told(package: Package, targets: tuple[Target, ...], name: str) -> YearTold:
    """Reckon a package's year, and hold it to those targets that ask for one."""
    weather = year = None
    missing: tuple[str, ...] = ()
    try:
        weather = weather_of(package)
        year = reckoned(package)
    except InputError as impossible:
        missing = (f"a figure that can be: {impossible}",)
    except Lacking as lacking:
        missing = tuple(dict.fromkeys(map(str, lacking.cells)))
    asked = [judge(package, each) for each in targets if each.check and each.check.is_yearly]
    answered = {finding.check for finding in asked}
    rest = (c for c in CATALOGUE if c.is_yearly and c.slug not in answered)
    findings = (*asked, *(unasked(package, check) for check in rest))
    return YearTold(name=name, weather=weather, year=year, missing=missing, findings=findings)


def as_text(told: YearTold, system: System = System.METRIC) -> str:
    """Write a year for a terminal: its weather, its runs, a line a check, what was assumed."""
    width = max(len(finding.title) for finding in told.findings)
    lines = [f"The year by the hour: {told.name}", report.TEACHING, ""]
    if told.weather is not None:
        lines += _weather_lines(told.weather, system)
    if told.year is None:
        lines.append(f"No data, still needs {', '.join(told.missing)}")
    else:
        lines += _year_lines(told.year.year, system)
    lines += ["", *(report.finding_line(each, width, system) for each in told.findings)]
    if told.year is not None:
        of_weather = told.year.year.weather.said
        said = [_sentence(step, system) for step in told.year.said if step.words not in of_weather]
        lines += ["", *said] if said else []
        lines += ["", "Assumed, as the cells are blank:"]
        lines += [f"  {_assumed_line(each, system)}" for each in told.year.assumed] or ["  nothing"]
    limits = (f"  {in_units(limit, system)}" for limit in LIMITS)
    return "\n".join([*lines, "", "Limits:", *limits]) + "\n"


def as_json(told: YearTold) -> dict[str, Any]:
    """Return a year as it is scripted against: units in the key or beside the value.

    `runs_of_room` and what follows it are null where there is no year: then `missing` says why.
    """
    found: dict[str, Any] = {
        "package": told.name,
        "weather": told.weather and _weather_json(told.weather),
        "missing": list(told.missing),
        "findings": [report.finding_json(finding) for finding in told.findings],
        "runs_of_room": None,
        "worst_night": None,
        "worst_week": None,
        "electricity": None,
        "assumed": None,
        "said": None,
        "limits": list(LIMITS),
    }
    if told.year is None:
        return found
    year = told.year.year
    night = worst_night(year)
    mean_k = float(year.drawn.operative_k[night.at].mean())
    return found | {
        "runs_of_room": {
            key: {**figures(run), "closure": run.closure} for key, run in _runs(year).items()
        },
        "worst_night": {
            "when": night.words,
            "inside_mean_c": mean_k - CELSIUS_K,
            "is_settled": is_night_settled(year.weather),
        },
        "worst_week": {"when": worst_week(year).words},
        "electricity": _electricity(year),
        "assumed": [_assumed_json(each) for each in told.year.assumed],
        "said": [step.write() for step in told.year.said],
    }


def _runs(year: Year) -> dict[str, Run]:
    return dict(zip(RUNS, (year.bare, year.held, year.drawn), strict=True))


def _weather_lines(weather: Weather, system: System) -> list[str]:
    words = {Origin.FILE: "the file of {}", Origin.MONTHS: "made of the twelve months of {}"}
    unsettled = [] if is_night_settled(weather) else [NOT_SETTLED]
    told = [f"Weather: {words[weather.origin].format(weather.name)}"]
    return [*told, *(f"  {in_units(each, system)}" for each in (*weather.said, *unsettled)), ""]


def _year_lines(year: Year, system: System) -> list[str]:
    lines = []
    for key, run in _runs(year).items():
        heat, cool = (
            STORED_ENERGY.write(float(hours.sum()) * HOUR_S, system)
            for hours in (run.heat_w, run.cool_w)
        )
        peak, sink = (POWER.write(float(hours.max()), system) for hours in (run.heat_w, run.cool_w))
        low, high = (
            TEMPERATURE.write(float(k), system) for k in (run.air_k.min(), run.air_k.max())
        )
        lines.append(
            f"{RUNS[key]:<28}  air {low} to {high}; heat {heat}, at most {peak}; "
            f"cooling {cool}, at most {sink}"
        )
    closure = max(run.closure for run in _runs(year).values())
    night, week = worst_night(year).words, worst_week(year).words
    return [
        *lines,
        f"worst night {night}; worst week {week}",
        f"heat in and out of the room and its walls agree to {closure:.0e} of what passes",
    ]


def _sentence(step: Step, system: System) -> str:
    return in_units(step.write(system), system)


def _assumed_line(assumed: Assumed, system: System) -> str:
    cells = ", ".join(cell.label for cell in assumed.cells)
    where = " ".join(filter(None, (assumed.schedule, assumed.mark or str(assumed.row or ""))))
    return f"{in_units(assumed.write(system), system)} ({where}: {cells}; {assumed.source})"


def _assumed_json(assumed: Assumed) -> dict[str, Any]:
    return {
        "schedule": assumed.schedule,
        "mark": assumed.mark or None,
        "row": assumed.row or None,
        "cells": {cell.head: cell.value for cell in assumed.cells},
        "said": assumed.write(),
        "source": assumed.source,
    }


def _weather_json(weather: Weather) -> dict[str, Any]:
    place = weather.place
    return {
        "name": weather.name,
        "from": str(weather.origin),
        "without_spell": [str(spell) for spell in weather.without],
        "latitude_deg": place.latitude_deg,
        "longitude_deg": place.longitude_deg,
        "time_zone_h": place.zone_h,
        "altitude_m": place.altitude_m,
        "said": list(weather.said),
    }


def _electricity(year: Year) -> dict[str, float] | None:
    """Sums of the year [kWh], and what is in the battery at its least [kWh]; None without power."""
    power = year.power
    if power is None:
        return None
    sums = {
        "made_kwh": power.made_w,
        "essential_loads_kwh": power.essential_w,
        "other_loads_kwh": power.rest_w,
        "plant_kwh": power.plant_w,
        "essential_not_given_kwh": power.unserved_essential_w,
        "others_not_given_kwh": power.unserved_rest_w,
        "spilled_kwh": power.spilled_w,
    }
    told = {key: float(watts.sum()) / 1e3 for key, watts in sums.items()}
    return told | {"least_stored_kwh": float((power.stored_j.min() - power.least_j) / 3.6e6)}
