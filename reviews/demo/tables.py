"""The demo's tables as the files hold them, and as typed records for a package."""

import csv
from pathlib import Path
from typing import Any

from criteria.schedules import SCHEDULES

DATA = Path(__file__).parent / "data"
GENERATED = DATA / "generated"

TABLES = (*(schedule.slug for schedule in SCHEDULES if not schedule.is_single), "single_values")

Rows = list[dict[str, Any]]


def read_csv(name: str, folder: Path = DATA) -> Rows:
    """Read one of the demo's tables."""
    with (folder / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def climate_of(site: dict[str, str]) -> Rows:
    """Return the months of the climate that a site names."""
    rows = [row for row in read_csv("climate") if row["site"] == site["climate_site"]]
    return [{h: v for h, v in row.items() if h != "site" and v} for row in rows]


def use_of(letter: str) -> dict[str, Rows]:
    """Return the states and people cases of a cohort's brief."""
    return {
        name: [
            {h: v for h, v in row.items() if h != "cohort" and v}
            for row in read_csv(name)
            if row["cohort"] == letter
        ]
        for name in ("states", "cases")
    }


def given(number: str, rev: str, folder: Path = DATA) -> dict[str, Rows]:
    """Return the tables of one package, less the columns that name it."""
    tables = {}
    for name in TABLES:
        if not (folder / f"{name}.csv").is_file():
            continue
        rows = [r for r in read_csv(name, folder) if r["scheme"] == number and r["rev"] == rev]
        tables[name] = [{h: v for h, v in r.items() if h not in ("scheme", "rev")} for r in rows]
    return tables


def typed(tables: dict[str, Rows]) -> dict[str, list[dict[str, str]]]:
    """Return tables as typed records by schedule; single values go to their own schedules."""
    records = {
        slug: [{h: "" if v is None else str(v) for h, v in row.items()} for row in rows]
        for slug, rows in tables.items()
    }
    single = records.pop("single_values", [])
    for schedule in SCHEDULES:
        if schedule.is_single and single:
            row = {head: single[0][head] for head in schedule.heads if head in single[0]}
            if any(row.values()):
                records[schedule.slug] = [row]
    return records
