"""Read a package from one JSON file, as a site gives it to scripts (`#/$defs/package`)."""

import json
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from criteria.command.folder import FolderReading, Unreadable
from criteria.command.schema import ASKED_BY, VERSION
from criteria.errors import InputError
from criteria.hourly.weather import Weather
from criteria.hourly.weather_record import from_record
from criteria.package import read_package
from criteria.schedules import BY_SLUG
from criteria.targets.reading import TARGETS, Target, read_targets
from criteria.typed.rows import Schedule
from criteria.typed.tables import MOST_ROWS, Record
from criteria.units import DecimalSign, Notation

MOST_BYTES = 40_000_000
MOST_READ = 60
"""Signs of what was read that are said again."""


def read_package_file(path: Path, *, scheme: str = "", rev: str = "") -> FolderReading:
    """Read a package and the targets it is held to, with the weather of its brief.

    scheme, rev   which one is meant, where that is said: another is refused

    Raises Unreadable where the file isn't of that form; a cell that can't be read is named in
    `refused`, and what asks for it has no data.
    """
    held = _object(path, _loaded(path), "the file")
    if held.get("version", VERSION) != VERSION:
        raise _odd(path, "version", held["version"], f"{VERSION}")
    about = _object(path, held.get("about", {}), "about")
    for name, asked in (("scheme", scheme), ("revision", rev)):
        if asked and about.get(name, asked) != asked:
            raise _odd(path, name, about[name], asked)
    sign = held.get("decimal", str(DecimalSign.POINT))
    if sign not in [str(each) for each in DecimalSign]:
        raise _odd(path, "decimal", sign, " or ".join(DecimalSign))
    notation = Notation(decimal=DecimalSign(sign))
    tables = _object(path, held.get("schedules"), "schedules")
    if unknown := sorted(tables.keys() - BY_SLUG.keys()):
        raise _odd(path, "schedules", unknown[0], f"any of {', '.join(BY_SLUG)}")
    records = {slug: _rows(path, BY_SLUG[slug], rows) for slug, rows in tables.items()}
    reading = read_package(records, notation, weather=_weather(path, held.get("weather")))
    refused = [
        f"{path.name}, {slug}, {cell}" for slug, cells in reading.refused.items() for cell in cells
    ]
    lines = _rows(path, TARGETS, held.get("targets", []), ASKED_BY)
    read = read_targets(lines, notation)
    refused += [f"{path.name}, {TARGETS.slug}, {cell}" for cell in read.refused]
    targets = tuple(_from(target, lines) for target in read.targets)
    return FolderReading(reading.package, targets, {}, tuple(refused), records)


def _loaded(path: Path) -> Any:
    if path.stat().st_size > MOST_BYTES:
        raise _odd(path, "the file", f"{path.stat().st_size} bytes", f"at most {MOST_BYTES}")
    try:
        return json.loads(path.read_bytes())
    except (ValueError, RecursionError):
        raise Unreadable(
            [f"{path.name}: read no JSON; expected a package as JSON, or a folder of schedule CSVs"]
        ) from None


def _odd(path: Path, where: str, read: object, expected: str) -> Unreadable:
    said = read if isinstance(read, str) else json.dumps(read, ensure_ascii=False)
    return Unreadable([f"{path.name}, {where}: read “{said[:MOST_READ]}”; expected {expected}"])


def _object(path: Path, held: Any, where: str) -> Mapping[str, Any]:
    if not isinstance(held, dict):
        raise _odd(path, where, held, "an object of names and values")
    return held


def _rows(path: Path, schedule: Schedule, held: Any, *beside: str) -> list[Record]:
    """A schedule's rows: the heads of its columns, and text in each cell."""
    slug = schedule.slug
    if not isinstance(held, list) or len(held) > MOST_ROWS:
        raise _odd(path, slug, held, f"a list of at most {MOST_ROWS} rows")
    known = {*schedule.heads, *beside}
    for number, row in enumerate(held, start=1):
        where = f"{slug}, row {number}"
        for head, cell in _object(path, row, where).items():
            if head not in known:
                raise _odd(path, where, head, f"any of {', '.join(schedule.heads)}")
            if not isinstance(cell, str):
                raise _odd(path, f"{where}, {head}", cell, "text, as it is typed")
    return held


def _weather(path: Path, held: Any) -> Weather | None:
    if held is None:
        return None
    named = _object(path, held, "weather")
    try:
        return from_record(str(named.get("digest")), str(named.get("year")))
    except InputError as error:
        said = f"{path.name}, weather: {error}; expected the year as the site gave it, or null"
        raise Unreadable([said]) from None


def _from(target: Target, lines: list[Record]) -> Target:
    """A target with where it comes from, where its line says so."""
    by = next((line.get(ASKED_BY) for line in lines if line.get("id") == target.ref), "")
    return target.asked(by) if by else target
