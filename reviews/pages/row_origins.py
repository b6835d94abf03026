"""Where the cells of a schedule come from: typed, or brought in, by what and how."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import datetime
from typing import Any, NamedTuple

from django.utils.text import capfirst

from criteria.typed.columns import Column
from criteria.typed.rows import Schedule
from criteria.units import Notation, System
from reviews.deeds.package_keeping import named
from reviews.deeds.record_typed import figure_text
from reviews.exchange.merging import mean_alike
from reviews.models import Package, Revision
from reviews.pages.file_page import kind_words
from reviews.reading.row_origins import ORIGINS, brought


class CellOrigin(NamedTuple):
    """A cell and where it comes from.

    here     as it stands
    came     as it was last brought in; nothing where it stands so
    how      written, measured, reckoned or guessed
    of       the file: its name where it is known here, and what it is
    """

    column: Column
    here: str
    came: str
    how: str
    place: str
    beside: str
    of: str
    at: datetime


class RowOrigins(NamedTuple):
    """A row with those of its cells that something brought in, and how many are typed alone."""

    id: str
    name: str
    cells: list[CellOrigin]
    typed: int


def origins_of(package: Package, schedule: Schedule, system: System) -> list[RowOrigins]:
    """Each row of a schedule in preparation with where its cells come from."""
    files = {str(each.key): each.name for each in package.brought_files.defer("told")}
    return [
        _row(
            f"{row.pk}",
            named(row),
            schedule,
            row.cells,
            brought(row),
            package.notation,
            system,
            files,
        )
        for row in package.rows.filter(schedule=schedule.slug)
    ]


def issued_origins(revision: Revision, schedule: Schedule, system: System) -> list[RowOrigins]:
    """The rows of an issued schedule of which a cell was brought in, as it said when issued."""
    told = revision.contents.get(ORIGINS, {}).get(schedule.slug, {})
    records = revision.contents["schedules"].get(schedule.slug, [])
    return [
        _row(
            f"of-{place}",
            schedule.name_of(record) or f"row {place + 1}",
            schedule,
            record,
            told[str(place)],
            revision.notation,
            system,
            {},
        )
        for place, record in enumerate(records)
        if str(place) in told
    ]


def _row(
    id_: str,
    name: str,
    schedule: Schedule,
    cells: Mapping[str, str],
    came: Mapping[str, Any],
    notation: Notation,
    system: System,
    files: Mapping[str, str],
) -> RowOrigins:
    shown = notation.read_in(system)
    found = list(_cells(schedule, cells, came, notation, shown, files))
    heads = {each.column.head for each in found}
    return RowOrigins(id_, name, found, sum(head not in heads for head in cells))


def _cells(
    schedule: Schedule,
    cells: Mapping[str, str],
    came: Mapping[str, Any],
    notation: Notation,
    shown: Notation,
    files: Mapping[str, str],
) -> Iterator[CellOrigin]:
    for column in schedule.columns:
        if not (told := came.get(column.head)):
            continue
        here = cells.get(column.head, "")
        stands = mean_alike(column, here, told["text"], notation)
        name, kind = files.get(told.get("key", ""), ""), kind_words(told.get("of", ""))
        yield CellOrigin(
            column,
            figure_text(column, here, shown),
            "" if stands else figure_text(column, told["text"], shown) or "blank",
            told["how"],
            told.get("place", ""),
            told.get("beside", ""),
            f"{name}, {kind}" if name else capfirst(kind),
            datetime.fromisoformat(told["at"]),
        )
