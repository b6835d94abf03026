"""Tables of a ZIP described for scripts, twice and both times from the same declarations.

datapackage.json is a Frictionless Data Package v1 with Table Schema v1 (specs.frictionlessdata.io);
csv-metadata.json the Metadata Vocabulary for Tabular Data (W3C Recommendation of 17 December 2015).
"""

from __future__ import annotations

import json
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import UTC, datetime
from enum import Enum
from typing import Any, NamedTuple

Json = dict[str, Any]

DESCRIBED, DESCRIBED_FOR_WEB = "datapackage.json", "csv-metadata.json"
YES, NO = "yes", "no"
"""How a boolean stands in a cell."""

APOSTROPHES = (
    "A cell that a spreadsheet would run begins with an apostrophe, which isn’t part of it."
)


class Type(Enum):
    """What a column's cells are, by Table Schema and by the vocabulary of the W3C."""

    TEXT = "string", "string"
    WHOLE = "integer", "integer"
    FIGURE = "number", "decimal"
    YES_NO = "boolean", "boolean"
    DAY = "date", "date"
    HOUR = "time", "time"
    MOMENT = "datetime", "dateTime"
    ANY = "any", "json"

    @property
    def for_package(self) -> str:
        """By Table Schema."""
        return self.value[0]

    @property
    def for_web(self) -> str:
        """By the Metadata Vocabulary."""
        return self.value[1]


@dataclass(frozen=True, kw_only=True)
class Head:
    """A column of a file.

    name         its head
    label, help  in words
    unit         of its figures
    least, most  what its figures are within, in that unit
    words        the only ones that it takes
    longest      of a text [letters]
    """

    name: str
    label: str = ""
    help: str = ""
    type: Type = Type.TEXT
    unit: str = ""
    is_required: bool = False
    least: float | None = None
    most: float | None = None
    words: Sequence[str] = ()
    longest: int | None = None


@dataclass(frozen=True, kw_only=True)
class Leads:
    """Heads whose cells name a line of a table.

    to         that table's name
    by         its heads, in the same order
    is_filled  whether no line leaves them blank; the vocabulary of the W3C has no word for a blank
    """

    heads: Sequence[str]
    to: str
    by: Sequence[str]
    is_filled: bool = True


@dataclass(frozen=True, kw_only=True)
class Table:
    """A CSV in the ZIP: name, path, what it is in words, heads; `keys` tell its lines apart."""

    name: str
    path: str
    title: str
    heads: Sequence[Head]
    words: str = ""
    keys: Sequence[str] = ()
    leads: Sequence[Leads] = ()


@dataclass(frozen=True, kw_only=True)
class Whole:
    """What all of it is called; `made_at` is None where it says so of no moment."""

    name: str
    title: str
    words: str
    made_at: datetime | None = None
    more: Mapping[str, Any] = field(default_factory=dict)


class Description(NamedTuple):
    """A file that describes the others: its path, what it is in words, its text."""

    path: str
    words: str
    text: str


def descriptions(tables: Sequence[Table], whole: Whole) -> tuple[Description, Description]:
    """The two files that describe tables, the same of them in both."""
    return (
        Description(DESCRIBED, "Tables described: Data Package", package_of(tables, whole)),
        Description(DESCRIBED_FOR_WEB, "Tables described: CSV on the Web", web_of(tables, whole)),
    )


def package_of(tables: Sequence[Table], whole: Whole) -> str:
    """Write datapackage.json."""
    told: Json = {
        "profile": "tabular-data-package",
        "name": re.sub(r"[^a-z0-9]+", "-", whole.name.lower()).strip("-") or "tables",
        "title": whole.title,
        "description": whole.words,
        **whole.more,
    }
    if whole.made_at:
        told["created"] = whole.made_at.astimezone(UTC).strftime("%Y-%m-%dT%H:%M:%SZ")
    return _json(told | {"resources": [_resource(table) for table in tables]})


def web_of(tables: Sequence[Table], whole: Whole) -> str:
    """Write csv-metadata.json."""
    paths = {table.name: table.path for table in tables}
    return _json(
        {
            "@context": ["http://www.w3.org/ns/csvw", {"@language": "en"}],
            "dc:title": whole.title,
            "tables": [_web_table(table, paths) for table in tables],
        }
    )


def _json(told: Json) -> str:
    return json.dumps(told, ensure_ascii=False, indent=1) + "\n"


def _one(names: Sequence[str]) -> str | list[str]:
    """A single name stands alone."""
    return names[0] if len(names) == 1 else [*names]


def _limits(head: Head) -> Json:
    found = (("minimum", head.least), ("maximum", head.most))
    return {name: _figure(limit) for name, limit in found if limit is not None}


def _figure(number: float) -> float | int:
    """A limit without the digits that binary figures bring."""
    short = float(f"{number:.10g}")
    return int(short) if short.is_integer() else short


def _resource(table: Table) -> Json:
    schema: Json = {"fields": [_field(head) for head in table.heads], "missingValues": [""]}
    if table.keys:
        schema["primaryKey"] = [*table.keys]
    if table.leads:
        schema["foreignKeys"] = [
            {
                "fields": _one(each.heads),
                "reference": {
                    "resource": "" if each.to == table.name else each.to,
                    "fields": _one(each.by),
                },
            }
            for each in table.leads
        ]
    return {
        "profile": "tabular-data-resource",
        "name": table.name,
        "path": table.path,
        "title": table.title,
        "description": table.words,
        "format": "csv",
        "mediatype": "text/csv",
        "encoding": "utf-8",
        "schema": schema,
    }


def _field(head: Head) -> Json:
    told: Json = {"name": head.name, "title": head.label or head.name}
    told["type"] = head.type.for_package
    if head.help:
        told["description"] = head.help
    if head.unit:
        told["unit"] = head.unit
    if head.type is Type.YES_NO:
        told |= {"trueValues": [YES], "falseValues": [NO]}
    if head.type is Type.MOMENT:
        told["format"] = "any"  # with parts of a second, which the default leaves no room for
    rules: Json = {"required": True} if head.is_required else {}
    rules |= _limits(head)
    if head.words:
        rules["enum"] = [*head.words]
    if head.longest is not None:
        rules["maxLength"] = head.longest + 1  # an apostrophe may stand before it
    return told | ({"constraints": rules} if rules else {})


def _web_table(table: Table, paths: Mapping[str, str]) -> Json:
    schema: Json = {"columns": [_web_column(head) for head in table.heads]}
    if table.keys:
        schema["primaryKey"] = [*table.keys]
    keys = [
        {
            "columnReference": _one(each.heads),
            "reference": {"resource": paths[each.to], "columnReference": _one(each.by)},
        }
        for each in table.leads
        if each.is_filled
    ]
    if keys:
        schema["foreignKeys"] = keys
    return {"url": table.path, "dc:title": table.title, "tableSchema": schema}


def _web_column(head: Head) -> Json:
    told: Json = {"name": head.name, "titles": head.name, "datatype": _datatype(head)}
    if head.label:
        told["rdfs:label"] = head.label
    if head.help:
        told["dc:description"] = head.help
    if head.unit:
        told["schema:unitText"] = head.unit
    return told | ({"required": True} if head.is_required else {})


def _datatype(head: Head) -> str | Json:
    base = head.type.for_web
    if head.type is Type.YES_NO:
        return {"base": base, "format": f"{YES}|{NO}"}
    if head.words:
        return {"base": base, "format": "|".join(map(re.escape, head.words))}
    if limits := _limits(head):
        return {"base": base, **limits}
    return base
