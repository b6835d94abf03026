"""The states of a brief's building and its people cases: a few rows of each."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

from django import forms

from criteria.schedules import CASES
from criteria.schedules.states import DAYS_A_YEAR
from criteria.typed.columns import Kind
from criteria.typed.rows import Schedule
from criteria.typed.tables import read_records
from criteria.units import Notation
from reviews.deeds import brief_writing
from reviews.forms.columns import CellsForm
from reviews.forms.fields import says

# a row that holds nothing is no row, so that none of its cells must hold something
_PLACES = {name: replace(c, required=False) for name, c in brief_writing.USE_COLUMNS.items()}


@dataclass(frozen=True)
class UseTable:
    """One of the two tables: its heads with what they mean, and the fields of each row.

    rows   number of each, and beside each field whether it takes words, for which there is room
    """

    schedule: Schedule
    rows: list[tuple[int, list[tuple[forms.BoundField, bool]]]]


class UseForm(CellsForm):
    """States and people cases, a field for each cell; every row that holds something is read."""

    def __init__(self, notation: Notation, kept: Mapping[str, str], *args: Any, **more: Any):
        super().__init__(_PLACES, notation, kept, *args, **more)
        for name in _PLACES:
            slug, number, _ = name.split("-")
            what = "State" if slug == "states" else "Case"
            field = self.fields[name]
            field.label, field.help_text = f"{what} {number}: {field.label}", ""

    @property
    def tables(self) -> list[UseTable]:
        """Both tables, row by row."""
        return [
            UseTable(
                schedule,
                [
                    (
                        number,
                        [
                            (self[f"{schedule.slug}-{number}-{c.head}"], c.kind is Kind.TEXT)
                            for c in schedule.columns
                        ],
                    )
                    for number in range(1, most + 1)
                ],
            )
            for schedule, most in brief_writing.USE_ROWS.items()
        ]

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or {}
        typed = {name: cleaned.get(name, "") for name in _PLACES}
        rows = brief_writing.rows_of_use(typed)
        for schedule in brief_writing.USE_ROWS:
            self._read(schedule, rows[schedule.slug])
        if not self.errors:
            self._fit_into_a_year(rows[CASES.slug])
        return cleaned

    def _read(self, schedule: Schedule, rows: Mapping[int, Mapping[str, str]]) -> None:
        numbers = list(rows)
        heads = {column.label: column.head for column in schedule.columns}
        for cell in read_records(schedule, rows.values(), self.notation).refused:
            name = f"{schedule.slug}-{numbers[cell.row - 1]}-{heads[cell.column]}"
            if name not in self.errors:
                self.add_error(name, says(cell.read, cell.expected))

    def _fit_into_a_year(self, rows: Mapping[int, Mapping[str, str]]) -> None:
        read = read_records(CASES, rows.values(), self.notation).read
        days = sum(row.typed("days") or 0 for row in read)
        if days > DAYS_A_YEAR:
            expected = f"at most {DAYS_A_YEAR} days of all cases together"
            self.add_error(f"{CASES.slug}-{max(rows)}-days", says(f"{days} days", expected))
