"""A hut's year with figures put into it by hand, so that what a check counts of it is known."""

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import numpy as np

from criteria.checks.catalogue import CHECKS
from criteria.findings import Measured
from criteria.hourly.of_year import bare_year, reckoned
from criteria.hourly.people_hours import Spread
from criteria.hourly.weather import HOURS, Hours
from criteria.hourly.year import PowerYear, Run, Year
from criteria.package import Package

Change = Callable[[Year], Year]


def only(package: Package, slug: str) -> Measured:
    """Measure a check that has one subject."""
    (measured,) = CHECKS[slug].of(package)
    return measured


def working(measured: Measured) -> str:
    return "; ".join(step.write() for step in measured.steps)


def notes(measured: Measured) -> str:
    return "; ".join(step.write() for step in measured.notes)


def level(value: float) -> Hours:
    return np.full(HOURS, value)


def put(values: Hours, at: Any, value: Any) -> Hours:
    changed = values.copy()
    changed[at] = value
    return changed


def with_year(package: Package, change: Change, *spreads: Spread) -> Package:
    """Return the package anew, its year changed by hand in each way that loads may run."""
    anew = package.but()
    for spread in spreads or (Spread.AWAKE,):
        found = reckoned(package, spread)
        years = anew.__dict__.setdefault("_years", {})
        years[spread] = replace(found, year=change(found.year))
    return anew


def with_drawn(package: Package, **runs: Any) -> Package:
    return with_year(package, lambda year: replace(year, drawn=replace(year.drawn, **runs)))


def with_bare(package: Package, operative: Callable[[Any], Hours]) -> Package:
    """Return the package anew, its room without plant as warm as it is told by hand."""
    bare, anew = bare_year(package), package.but()
    run: Run = replace(bare.run, operative_k=operative(bare.assembled))
    anew.__dict__["_bare_years"] = {Spread.AWAKE: replace(bare, run=run)}
    return anew


def electricity(**hours: Hours) -> PowerYear:
    """A made year of power: 100 W of essential loads, nothing else, 3.6 MJ that can be used."""
    nothing = level(0.0)
    given: dict[str, Any] = {
        "made_w": nothing,
        "essential_w": level(100.0),
        "rest_w": nothing,
        "plant_w": nothing,
        "unserved_essential_w": nothing,
        "unserved_rest_w": nothing,
        "spilled_w": nothing,
        "stored_j": nothing,
        "least_j": 0.0,
        "most_j": 3.6e6,
    }
    return PowerYear(**(given | hours))
