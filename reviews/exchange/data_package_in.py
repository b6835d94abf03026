"""Read a ZIP of CSV tables with datapackage.json: ours of another installation, or anybody's.

Only files that the description names are read. A table is of the schedule that its resource is
named for; a unit that a field names is that of its bare figures.
"""

from __future__ import annotations

import csv
import io
import json
import zipfile
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from criteria.errors import Refused
from criteria.schedules import BY_SLUG
from criteria.typed.columns import Column
from criteria.typed.csv_cells import as_typed
from criteria.typed.rows import Schedule
from reviews.exchange.data_package import AS_TYPED
from reviews.exchange.described import DESCRIBED
from reviews.exchange.proposed import Proposal, ProposedRow
from reviews.exchange.table_lines import UNITS_ASKED, Lines, Told, asked_units, listed, rows_of
from reviews.exchange.zip_parts import parts_of

KIND = "data-package"

MOST_TABLE_MB = 20
"""One CSV, or the description."""

EXPECTED = "a ZIP of CSV tables with datapackage.json"

Json = Mapping[str, Any]


def read(path: str, answers: Mapping[str, str]) -> Proposal:
    """Read a ZIP of tables. Raises Refused for one that reaches out of itself or is too large."""
    with parts_of(path) as archive:
        return _read(archive, answers.get(UNITS_ASKED, ""))


def _read(archive: zipfile.ZipFile, units: str) -> Proposal:
    described, found = _description(archive), _Found([], [], [], [])
    resources = {str(each.get("name", "")): each for each in described}
    beside = {f"{name}{AS_TYPED}" for name in resources}
    for name, resource in resources.items():
        if name in beside:
            continue
        schedule = BY_SLUG.get(name)
        if schedule is None:
            found.unknown.append(name)
            continue
        typed = resources.get(f"{name}{AS_TYPED}")
        lines = _lines(archive, schedule, resource, typed, units)
        found.rows += lines.rows
        found.said += lines.said
        found.bare += lines.bare
    if found.unknown:
        found.said.append(f"No schedule is called {listed(found.unknown)}: left out.")
    question = asked_units(found.bare, units)
    return Proposal(
        kind=KIND,
        rows=tuple(found.rows),
        said=tuple(found.said),
        questions=(question,) if question else (),
    )


@dataclass
class _Found:
    """What was read so far."""

    rows: list[ProposedRow]
    said: list[str]
    bare: list[tuple[Column, str]]
    unknown: list[str]


def _require_within(path: str) -> None:
    """Refuse a path that leads out of the ZIP."""
    steps = path.replace("\\", "/").split("/")
    if ".." in steps or not steps[0] or ":" in steps[0]:
        raise Refused(f"the path {path[:80]}", "paths within the ZIP")


def _text(archive: zipfile.ZipFile, path: str) -> str:
    try:
        part = archive.getinfo(path)
        if part.file_size > MOST_TABLE_MB * 2**20:
            raise Refused(
                f"{path}, {part.file_size / 2**20:,.0f} MB", f"at most {MOST_TABLE_MB} MB"
            )
        return archive.read(part).decode("utf-8-sig")
    except KeyError:
        raise Refused(f"{path[:80]}, which isn’t in the ZIP", EXPECTED) from None
    except UnicodeDecodeError:
        raise Refused(f"{path}, which is no UTF-8", "tables in UTF-8") from None


def _description(archive: zipfile.ZipFile) -> list[Json]:
    """The tables that the ZIP says it holds."""
    text = _text(archive, DESCRIBED)
    try:
        told = json.loads(text)
    except (ValueError, RecursionError):
        raise Refused(f"{DESCRIBED}, which is no JSON", EXPECTED) from None
    resources = told.get("resources") if isinstance(told, dict) else None
    if not isinstance(resources, list) or not all(isinstance(each, dict) for each in resources):
        raise Refused(f"{DESCRIBED} without a list of resources", EXPECTED)
    return resources


def _lines(
    archive: zipfile.ZipFile, schedule: Schedule, resource: Json, typed: Json | None, units: str
) -> Lines:
    path, grid = _grid(archive, resource)
    said: tuple[str, ...] = ()
    if typed:
        typed_path, over = _grid(archive, typed)
        if [len(line) for line in over] == [len(line) for line in grid]:
            grid = [grid[0], *map(_laid_over, grid[1:], over[1:])]
        else:
            said = (f"{typed_path} has other lines than {path}, and isn’t read.",)
    heads = grid[0] if grid else []

    def where(row: int, column: int) -> str:
        head = heads[column] if column < len(heads) else f"cell {column + 1}"
        return f"{path}, line {row + 1}, {head}"

    named = [[_with_unit(head, resource) for head in heads], *grid[1:]]
    lines = rows_of(schedule, named, Told(where=where), units)
    return Lines(lines.rows, (*said, *lines.said), lines.bare)


def _grid(archive: zipfile.ZipFile, resource: Json) -> tuple[str, list[list[str]]]:
    """The path of a table and its cells, heads first."""
    path = resource.get("path")
    if not isinstance(path, str):
        raise Refused(f"a table at {json.dumps(path)[:80]}", "one file in the ZIP for each")
    _require_within(path)
    dialect = resource.get("dialect")
    sign = dialect.get("delimiter", ",") if isinstance(dialect, dict) else ","
    text = io.StringIO(_text(archive, path), newline="")
    try:
        return path, [list(map(as_typed, line)) for line in csv.reader(text, delimiter=sign)]
    except (csv.Error, TypeError):
        raise Refused(f"{path}, which is no CSV", EXPECTED) from None


def _laid_over(line: list[str], typed: list[str]) -> list[str]:
    """A line with its cells as they were typed, where that is told."""
    return [was or text for text, was in zip(line, typed, strict=True)]


def _with_unit(head: str, resource: Json) -> str:
    """A head with the unit that its field names."""
    schema = resource.get("schema")
    fields = schema.get("fields") if isinstance(schema, dict) else None
    for field in fields if isinstance(fields, list) else ():
        if isinstance(field, dict) and field.get("name") == head:
            unit = field.get("unit")
            return f"{head} [{unit}]" if isinstance(unit, str) and unit else head
    return head
