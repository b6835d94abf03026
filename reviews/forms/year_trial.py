"""A trial of the year: the cells that it may change, as they are kept, read in a reader's units."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from uuid import UUID, uuid4

from django import forms
from django.http import QueryDict

from criteria.hourly.trial import TRIED, Tryable, tryable
from criteria.own_words import column_in
from criteria.package import Package as Schedules
from criteria.schedules import BY_SLUG
from criteria.units import Notation
from reviews.deeds.record_typed import is_as_shown
from reviews.deeds.year_trial_adopting import trial_version
from reviews.forms.columns import CellsForm
from reviews.versions import Newer

MOST_ROWS = 60
"""Rows of a schedule that a trial takes, its first: a page sends only so many fields."""

Records = Mapping[str, Sequence[Mapping[str, str]]]


@dataclass(frozen=True)
class TrialCell:
    """A field of the trial, and what is kept where something else is tried."""

    field: forms.BoundField
    was: str


@dataclass(frozen=True)
class TrialTable:
    """The cells of one schedule: rows with a cell or none for each head.

    heads   label, unit, and what is said of it
    beyond  how many rows of the schedule stand behind those that are taken
    """

    slug: str
    title: str
    heads: tuple[tuple[str, str, str], ...]
    rows: tuple[tuple[str, tuple[TrialCell | None, ...]], ...]
    beyond: int


class YearTrialForm(CellsForm):
    """All cells of a package that a trial of its year may change.

    key   made for one adoption, so that adopting twice adopts once
    """

    key = forms.UUIDField(required=False, widget=forms.HiddenInput)

    def __init__(
        self,
        schedules: Schedules,
        records: Records,
        notation: Notation,
        data: QueryDict | None = None,
    ) -> None:
        found = [each for each in tryable(schedules) if each[0].row <= MOST_ROWS]
        self.counted = {slug: len(rows) for slug, rows in records.items()}
        self.cells = {_name(cell): cell for cell, _ in found}
        self.called = {_name(cell): title for cell, title in found}
        self.stands_at = trial_version(records)
        kept = {name: _typed(records, cell) for name, cell in self.cells.items()}
        places = {name: cell.column for name, cell in self.cells.items()}
        start = {"seen": self.stands_at, "key": uuid4()}
        super().__init__(places, notation, kept, data, initial=start)
        for name, title in self.called.items():
            self.fields[name].label = f"{title}, {self.fields[name].label}"

    @property
    def changes(self) -> dict[Tryable, str]:
        """The cells in which something else stands than is kept, with the text to keep."""
        return {
            self.cells[name]: text
            for name, text in self.contents.items()
            if text.strip() != self.kept[name].strip()
        }

    @property
    def adoption(self) -> UUID:
        """The key of this adoption."""
        key: UUID | None = self.cleaned_data.get("key")
        return key or uuid4()

    @property
    def is_refused(self) -> bool:
        """Whether a cell can't be read as it was typed."""
        return self.is_bound and not self.is_valid()

    def say_newer(self) -> None:
        """Set what is kept by now beside what was typed; adopting again is done knowing it."""
        sent = {name: str(self[name].value() or "") for name in self.cells}
        self.show_newer(Newer(self.shown, sent), self.stands_at)

    @property
    def tables(self) -> tuple[TrialTable, ...]:
        """The cells as tables, by schedule."""
        return tuple(
            table for kind in TRIED if (table := self._table(kind.schedule.slug, TRIED[kind])).rows
        )

    def _table(self, slug: str, heads: Sequence[str]) -> TrialTable:
        system = self.notation.system
        schedule = BY_SLUG[slug]
        rows: dict[int, dict[str, str]] = {}
        for name, cell in self.cells.items():
            if cell.schedule == slug:
                rows.setdefault(cell.row, {})[cell.head] = name
        columns = [column_in(schedule.column(head), system) for head in heads]
        return TrialTable(
            slug=slug,
            title=schedule.title,
            heads=tuple((c.label, c.unit(system), c.help) for c in columns),
            rows=tuple(
                (
                    self.called[next(iter(names.values()))],
                    tuple(self._cell(names[head]) if head in names else None for head in heads),
                )
                for names in rows.values()
            ),
            beyond=max(0, self.counted.get(slug, 0) - MOST_ROWS),
        )

    def _cell(self, name: str) -> TrialCell:
        field, shown = self[name], self.shown[name]
        is_kept = not self.is_bound or is_as_shown(str(field.value() or ""), shown)
        return TrialCell(field, "" if is_kept else shown or "blank")


def _name(cell: Tryable) -> str:
    return f"{cell.schedule}-{cell.row}-{cell.head}"


def _typed(records: Records, cell: Tryable) -> str:
    rows = records.get(cell.schedule, [])
    return rows[cell.row - 1].get(cell.head, "") if cell.row <= len(rows) else ""
