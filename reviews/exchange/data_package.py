"""Schedules as a ZIP of CSV that scripts read, and that comes in again on another installation.

The files are described by `described`, of the columns' own declarations. Figures are metric and to
full precision. Where cells were typed otherwise, 4'-6" or a word for a bearing, the table as typed
stands beside.
"""

from __future__ import annotations

import io
import zipfile
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime

from criteria.typed.columns import Column, Kind
from criteria.typed.csv_cells import csv_of
from criteria.typed.rows import Schedule
from criteria.units import Notation
from reviews.exchange.described import (
    APOSTROPHES,
    Head,
    Leads,
    Table,
    Type,
    Whole,
    descriptions,
)

Records = Sequence[Mapping[str, str]]

TABLES, TYPED = "tables", "typed"
"""Folders of the metric tables, and of those that were typed otherwise."""

AS_TYPED = "-typed"
"""Ends the name of a table as it was typed."""

CAUTION = f"Figures are metric. {APOSTROPHES} Teaching checks, not a code approval."

_LONG_AGO = (1980, 1, 1, 0, 0, 0)
_TYPES = {Kind.YES_NO: Type.YES_NO, Kind.COUNT: Type.WHOLE, Kind.QUANTITY: Type.FIGURE}


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
class _Filled:
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
    made = [_filled(schedule, records, told.notation) for schedule, records in tables if records]
    described = [_described(each, made) for each in made]
    described += [_as_typed(each) for each in made if each.typed]
    whole = Whole(
        name=told.name,
        title=told.title,
        words=CAUTION,
        made_at=told.made_at,
        more={"decimalSign": told.notation.decimal.value},
    )
    parts = [Part(*told_of) for told_of in descriptions(described, whole)]
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


def _filled(schedule: Schedule, records: Records, notation: Notation) -> _Filled:
    metric = [schedule.record(schedule.parse(record, notation.kept)) for record in records]
    typed = [{head: record.get(head) or "" for head in schedule.heads} for record in records]
    is_otherwise = any(
        text and text != written[head]
        for record, written in zip(typed, metric, strict=True)
        for head, text in record.items()
    )
    return _Filled(schedule, metric, typed if is_otherwise else ())


def _csv(schedule: Schedule, records: Records) -> str:
    lines = ([record.get(head, "") for head in schedule.heads] for record in records)
    return csv_of([schedule.heads, *lines])


def _described(filled: _Filled, made: Sequence[_Filled]) -> Table:
    schedule = filled.schedule
    return Table(
        name=schedule.slug,
        path=filled.path,
        title=schedule.title,
        words=schedule.purpose,
        heads=[_head(column) for column in schedule.columns],
        keys=[column.head for column in schedule.keys],
        leads=[*_leads(filled, made)],
    )


def _leads(filled: _Filled, made: Sequence[_Filled]) -> Iterator[Leads]:
    """Heads of a table that hold marks of one that is there."""
    by_slug = {each.schedule.slug: each.schedule for each in made}
    for column in filled.schedule.columns:
        other = by_slug.get(column.refers_to)
        if other and other.mark_head:
            yield Leads(
                heads=[column.head],
                to=other.slug,
                by=[other.mark_head],
                is_filled=all(record[column.head] for record in filled.metric),
            )


def _as_typed(filled: _Filled) -> Table:
    schedule = filled.schedule
    return Table(
        name=f"{schedule.slug}{AS_TYPED}",
        path=filled.typed_path,
        title=f"{schedule.title}, as typed",
        words=f"The same lines as {filled.path}, each cell as it was typed.",
        heads=[Head(name=column.head, label=column.label) for column in schedule.columns],
    )


def _head(column: Column) -> Head:
    least, most = (
        None if si is None or column.scale is None else float(column.scale.metric.from_si(si))
        for si in (column.least, column.most)
    )
    return Head(
        name=column.head,
        label=column.label,
        help=column.help,
        type=_TYPES.get(column.kind, Type.TEXT),
        unit=column.unit(),
        is_required=column.required,
        least=least,
        most=most,
        words=column.choices if column.kind is Kind.WORD else (),
        longest=column.longest if column.kind is Kind.TEXT else None,
    )
