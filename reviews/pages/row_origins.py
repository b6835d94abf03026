"""Where the cells of a schedule come from: typed, or brought in, by what and how."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime
from typing import NamedTuple

from criteria.typed.columns import Column
from criteria.typed.rows import Schedule
from criteria.units import System
from reviews.deeds.package_keeping import named
from reviews.deeds.record_typed import figure_text
from reviews.exchange.merging import mean_alike
from reviews.models import Package, Row
from reviews.pages.file_page import kind_words


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

    pk: int
    name: str
    cells: list[CellOrigin]
    typed: int


def origins_of(package: Package, schedule: Schedule, system: System) -> list[RowOrigins]:
    """Each row of a schedule with where its cells come from."""
    rows = list(package.rows.filter(schedule=schedule.slug))
    files = {str(each.key): each.name for each in package.brought_files.defer("told")}
    return [
        RowOrigins(
            row.pk,
            named(row),
            cells := list(_cells(package, schedule, row, files, system)),
            len([head for head in row.cells if head not in {c.column.head for c in cells}]),
        )
        for row in rows
    ]


def _cells(
    package: Package, schedule: Schedule, row: Row, files: dict[str, str], system: System
) -> Iterator[CellOrigin]:
    notation = package.notation
    shown = notation.read_in(system)
    brought = row.origin.get("cells", {})
    for column in schedule.columns:
        if not (came := brought.get(column.head)):
            continue
        here = row.cells.get(column.head, "")
        stands = mean_alike(column, here, came["text"], notation)
        name = files.get(came.get("key", ""), "")
        kind = kind_words(came.get("of", ""))
        yield CellOrigin(
            column,
            figure_text(column, here, shown),
            "" if stands else figure_text(column, came["text"], shown),
            came["how"],
            came.get("place", ""),
            came.get("beside", ""),
            f"{name}, {kind}" if name else kind,
            datetime.fromisoformat(came["at"]),
        )
