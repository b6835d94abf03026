"""Schedules as a ZIP of CSV that scripts read, and that comes in again on another installation.

The files are described twice, both times made of the columns' own declarations: datapackage.json
(Frictionless Data Package v1 with Table Schema v1) and csv-metadata.json (Metadata Vocabulary for
Tabular Data, W3C Recommendation of 17 December 2015). Figures are metric and to full precision.
Where cells were typed otherwise, 4'-6" or a word for a bearing, the table as typed stands beside.
"""

from __future__ import annotations

import io
import json
import re
import zipfile
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Any

from criteria.typed.columns import Column, Kind
from criteria.typed.csv_cells import csv_of
from criteria.typed.rows import Schedule
from criteria.units import Notation

Json = dict[str, Any]
Records = Sequence[Mapping[str, str]]

DESCRIBED, DESCRIBED_FOR_WEB = "datapackage.json", "csv-metadata.json"
TABLES, TYPED = "tables", "typed"
"""Folders of the metric tables, and of those that were typed otherwise."""

AS_TYPED = "-typed"
"""Ends the name of a table as it was typed."""

_LONG_AGO = (1980, 1, 1, 0, 0, 0)


@dataclass(frozen=True, kw_only=True)
class Told:
    """What the whole is called.

    name      a short one, of which other signs than letters, figures and dashes are taken out
    title     in words
    notation  in which its cells are kept
    made_at   when it was issued; None where it says so of no moment
    """

    name: str
    title: str
    notation: Notation
    made_at: datetime | None = None


@dataclass(frozen=True)
class Part:
    """One file: its path, what it is in words, and its text."""

    path: str
    words: str
    text: str


@dataclass(frozen=True)
class _Table:
    """A schedule with rows: metric, and as typed where a cell of it is typed otherwise."""

    schedule: Schedule
    metric: Records
    typed: Records

    @property
    def path(self) -> str:
        return f"{TABLES}/{self.schedule.slug}.csv"

    @property
    def typed_path(self) -> str:
        return f"{TYPED}/{self.schedule.slug}.csv"


def data_package(tables: Sequence[tuple[Schedule, Records]], told: Told) -> list[Part]:
    """Write the schedules that have rows, and what describes them."""
    made = [_table(schedule, records, told.notation) for schedule, records in tables if records]
    parts = [
        Part(DESCRIBED, "The tables described: Data Package", _json(_package(made, told))),
        Part(DESCRIBED_FOR_WEB, "The same: CSV on the Web", _json(_group(made, told))),
    ]
    for table in made:
        title = table.schedule.title
        parts.append(Part(table.path, f"{title}, metric", _csv(table.schedule, table.metric)))
        if table.typed:
            typed = _csv(table.schedule, table.typed)
            parts.append(Part(table.typed_path, f"{title}, as typed", typed))
    return parts


def zip_of(parts: Sequence[Part]) -> bytes:
    """Pack files as a ZIP; the same files are the same bytes."""
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
        for part in parts:
            info = zipfile.ZipInfo(part.path, _LONG_AGO)
            info.compress_type = zipfile.ZIP_DEFLATED
            info.external_attr = 0o644 << 16
            archive.writestr(info, part.text)
    return out.getvalue()


def _table(schedule: Schedule, records: Records, notation: Notation) -> _Table:
    metric = [schedule.record(schedule.parse(record, notation.kept)) for record in records]
    typed = [{head: record.get(head) or "" for head in schedule.heads} for record in records]
    is_otherwise = any(
        text and text != written[head]
        for record, written in zip(typed, metric, strict=True)
        for head, text in record.items()
    )
    return _Table(schedule, metric, typed if is_otherwise else ())


def _csv(schedule: Schedule, records: Records) -> str:
    lines = ([record.get(head, "") for head in schedule.heads] for record in records)
    return csv_of([schedule.heads, *lines])


def _json(told: Json) -> str:
    return json.dumps(told, ensure_ascii=False, indent=1) + "\n"


def _limits(column: Column) -> Json:
    """The least and the most that a column holds, in its metric unit."""
    assert column.scale is not None
    found = (("minimum", column.least), ("maximum", column.most))
    metric = column.scale.metric
    return {name: _figure(float(metric.from_si(si))) for name, si in found if si is not None}


def _figure(number: float) -> float | int:
    """A limit without the digits that binary figures bring."""
    short = float(f"{number:.10g}")
    return int(short) if short.is_integer() else short


def _references(table: _Table, made: Sequence[_Table]) -> Iterator[tuple[str, _Table]]:
    """Heads of a table that hold marks of one that is there, each with that table."""
    by_slug = {each.schedule.slug: each for each in made}
    for column in table.schedule.columns:
        other = by_slug.get(column.refers_to)
        if other and other.schedule.mark_head:
            yield column.head, other


# Data Package and Table Schema, specs.frictionlessdata.io, version 1


def _package(made: Sequence[_Table], told: Told) -> Json:
    resources = [_resource(table, made) for table in made]
    resources += [_typed_resource(table) for table in made if table.typed]
    described: Json = {
        "profile": "tabular-data-package",
        "name": re.sub(r"[^a-z0-9]+", "-", told.name.lower()).strip("-") or "schedules",
        "title": told.title,
        "description": "Figures are metric. A cell that a spreadsheet would run begins with an "
        "apostrophe, which isn’t part of it. Teaching checks, not a code approval.",
        "decimalSign": told.notation.decimal.value,
    }
    if told.made_at:
        described["created"] = told.made_at.astimezone(UTC).strftime("%Y-%m-%dT%H:%M:%SZ")
    return described | {"resources": resources}


def _resource(table: _Table, made: Sequence[_Table]) -> Json:
    schedule = table.schedule
    schema: Json = {"fields": [_field(column) for column in schedule.columns]}
    schema["missingValues"] = [""]
    if schedule.keys:
        schema["primaryKey"] = [column.head for column in schedule.keys]
    keys = [
        {
            "fields": head,
            "reference": {
                "resource": "" if other is table else other.schedule.slug,
                "fields": other.schedule.mark_head,
            },
        }
        for head, other in _references(table, made)
    ]
    if keys:
        schema["foreignKeys"] = keys
    return _as_resource(schedule.slug, table.path, schedule.title, schedule.purpose, schema)


def _typed_resource(table: _Table) -> Json:
    schedule = table.schedule
    fields = [{"name": c.head, "title": c.label, "type": "string"} for c in schedule.columns]
    words = f"The same lines as {table.path}, each cell as it was typed."
    schema: Json = {"fields": fields, "missingValues": [""]}
    name, title = f"{schedule.slug}{AS_TYPED}", f"{schedule.title}, as typed"
    return _as_resource(name, table.typed_path, title, words, schema)


def _as_resource(name: str, path: str, title: str, words: str, schema: Json) -> Json:
    return {
        "profile": "tabular-data-resource",
        "name": name,
        "path": path,
        "title": title,
        "description": words,
        "format": "csv",
        "mediatype": "text/csv",
        "encoding": "utf-8",
        "schema": schema,
    }


_TYPES = {Kind.YES_NO: "boolean", Kind.COUNT: "integer", Kind.QUANTITY: "number"}


def _field(column: Column) -> Json:
    field: Json = {
        "name": column.head,
        "title": column.label,
        "type": _TYPES.get(column.kind, "string"),
    }
    if column.help:
        field["description"] = column.help
    if column.unit():
        field["unit"] = column.unit()
    if column.kind is Kind.YES_NO:
        field |= {"trueValues": ["yes"], "falseValues": ["no"]}
    rules: Json = {"required": True} if column.required else {}
    if column.scale is not None:
        rules |= _limits(column)
    elif column.kind is Kind.WORD:
        rules["enum"] = list(column.choices)
    elif column.kind is Kind.TEXT:
        rules["maxLength"] = column.longest + 1  # an apostrophe may stand before it
    return field | ({"constraints": rules} if rules else {})


# Metadata Vocabulary for Tabular Data, www.w3.org/TR/2015/REC-tabular-metadata-20151217


def _group(made: Sequence[_Table], told: Told) -> Json:
    tables = [_web_table(table, made) for table in made]
    tables += [_web_typed(table) for table in made if table.typed]
    return {
        "@context": ["http://www.w3.org/ns/csvw", {"@language": "en"}],
        "dc:title": told.title,
        "tables": tables,
    }


def _web_table(table: _Table, made: Sequence[_Table]) -> Json:
    schedule = table.schedule
    schema: Json = {"columns": [_web_column(column) for column in schedule.columns]}
    if schedule.keys:
        schema["primaryKey"] = [column.head for column in schedule.keys]
    keys = [
        {
            "columnReference": head,
            "reference": {
                "resource": other.path,
                "columnReference": other.schedule.mark_head,
            },
        }
        for head, other in _references(table, made)
        # a blank references no row, which this vocabulary has no word for
        if all(record[head] for record in table.metric)
    ]
    if keys:
        schema["foreignKeys"] = keys
    return {"url": table.path, "dc:title": schedule.title, "tableSchema": schema}


def _web_typed(table: _Table) -> Json:
    columns = [{"name": h, "titles": h, "datatype": "string"} for h in table.schedule.heads]
    title = f"{table.schedule.title}, as typed"
    return {"url": table.typed_path, "dc:title": title, "tableSchema": {"columns": columns}}


def _web_column(column: Column) -> Json:
    told: Json = {
        "name": column.head,
        "titles": column.head,
        "rdfs:label": column.label,
        "datatype": _datatype(column),
    }
    if column.help:
        told["dc:description"] = column.help
    if column.unit():
        told["schema:unitText"] = column.unit()
    return told | ({"required": True} if column.required else {})


def _datatype(column: Column) -> str | Json:
    if column.kind is Kind.YES_NO:
        return {"base": "boolean", "format": "yes|no"}
    if column.scale is not None:
        base = "integer" if column.kind is Kind.COUNT else "decimal"
        return {"base": base, **_limits(column)}
    if column.kind is Kind.WORD:
        return {"base": "string", "format": "|".join(map(re.escape, column.choices))}
    return "string"
