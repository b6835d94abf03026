"""The hut with a climate, so that a year can be reckoned of it; and as a folder of files."""

from pathlib import Path
from typing import Any

from criteria.package import Package
from criteria.schedules import BY_SLUG
from criteria.schedules.site import MONTHS
from criteria.typed.tables import write_csv
from tests.criteria.hourly.hut import HUT, Rows, hut

OPEN = range(5, 10)
MEANS = (-8, -9, -7, -4, 0, 4, 7, 7, 4, 0, -5, -7)
SUN = (2.5, 3.3, 4.2, 4.5, 4.4, 4.4, 4.7, 4.5, 4.2, 3.6, 2.6, 2.1)
CLIMATE: Rows = [
    {
        "month": month,
        "mean_c": str(mean),
        "mean_min_c": str(mean - 3),
        "rain_mm": "60",
        "snow_cm": "0",
        "sun_hours_60s": str(sun),
        "wind_ms": "6",
        "open": "yes" if at in OPEN else "no",
    }
    for at, (month, mean, sun) in enumerate(zip(MONTHS, MEANS, SUN, strict=True))
]
"""A made mountain of no place, open from June to October."""


def year_hut(**changes: Any) -> Package:
    """Return the hut in its climate; a dict changes cells of a first row, a list all rows."""
    return hut(**{"climate": CLIMATE, **changes})


def folder_of(folder: Path, **changes: dict[str, str] | Rows) -> str:
    """Write the same as a folder of files."""
    tables: dict[str, Rows] = {**HUT, "climate": CLIMATE}
    for slug, change in changes.items():
        is_cells = isinstance(change, dict)
        tables[slug] = [{**tables.get(slug, [{}])[0], **change}] if is_cells else change  # type: ignore
    for slug, rows in tables.items():
        text = write_csv(BY_SLUG[slug], rows)
        (folder / f"{slug}.csv").write_text(text, encoding="utf-8")
    return str(folder)
