"""Where cells come from, of a package in preparation and as it was issued."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from criteria.schedules import BY_SLUG
from criteria.units import Notation
from reviews.exchange.merging import mean_alike
from reviews.models import Package, Row

ORIGINS = "origins"
"""Under which what is issued says where its cells come from."""

Origins = dict[str, dict[str, dict[str, Any]]]


def standing_origins(package: Package) -> Origins:
    """Cells that stand as something brought them in: by schedule, place among its rows, head.

    Rows without a cell have no place, as in what is issued.
    """
    found: Origins = {}
    places: dict[str, int] = {}
    for row in package.rows.all():
        if not any(text.strip() for text in row.cells.values()):
            continue
        place = places[row.schedule] = places.get(row.schedule, -1) + 1
        if cells := {h: c for h, c in brought(row).items() if stands(row, h, package.notation)}:
            found.setdefault(row.schedule, {})[str(place)] = cells
    return found


def brought(row: Row) -> Mapping[str, Any]:
    """Each cell of a row as it was last brought in, by head."""
    cells: Mapping[str, Any] = row.origin.get("cells", {})
    return cells


def stands(row: Row, head: str, notation: Notation) -> bool:
    """Whether a cell is still as it was brought in."""
    column = BY_SLUG[row.schedule].column(head)
    return mean_alike(column, row.cells.get(head, ""), brought(row)[head]["text"], notation)
