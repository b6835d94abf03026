"""What a file proposes, as it stands on its page: by schedule, new rows and cells that differ."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime
from functools import cached_property
from typing import NamedTuple

from criteria.schedules import BY_SLUG
from criteria.typed.columns import Column, Kind
from criteria.typed.rows import Schedule
from criteria.units import Notation, System
from reviews.deeds.file_bringing import REVISION
from reviews.deeds.file_taking import CellAt, Choices, last_change_of, merged_with, read_of
from reviews.deeds.record_typed import figure_text
from reviews.exchange.kinds import BY_NAME
from reviews.exchange.known_again import Standing
from reviews.exchange.merging import Merged, MergedCell, MergedRow, News
from reviews.exchange.proposed import How, Proposal
from reviews.models import BroughtFile, Package

_WORD = re.compile(r"\b\w+\b")

LONG = 8
"""So many rows fill a page."""
GUESSED, DIFFERS = "guessed", "differs"
"""What can be ticked at once."""


@dataclass(frozen=True, kw_only=True)
class FileCell:
    """A proposed cell as it is shown.

    here, there  as figures with their units
    name         of its tick; nothing where it comes with its row
    expected     what its column takes, where the text is refused
    """

    column: Column
    here: str
    there: str
    how: str
    is_guessed: bool
    place: str
    beside: str
    news: str
    name: str
    is_ticked: bool
    expected: str

    @property
    def is_plain(self) -> bool:
        """Whether it stands in its table as it stands here: no more needs to be said."""
        return self.how == How.WRITTEN and not self.beside


class FileHead(NamedTuple):
    """A column of new rows, and how all of its cells are known where that is the same."""

    column: Column
    how: str
    place: str


class NewRow(NamedTuple):
    """A row that isn't here yet: the cells stand under the heads of all such rows."""

    number: int
    name: str
    is_ticked: bool
    cells: Sequence[FileCell | None]


class KnownRow(NamedTuple):
    """A row that is here, with the cells that would change."""

    name: str
    cells: Sequence[FileCell]


class GoneRow(NamedTuple):
    """A row that an earlier edition brought in and this one hasn't."""

    pk: int
    name: str
    is_ticked: bool


@dataclass(frozen=True, kw_only=True)
class FilePart:
    """What a file says of one schedule.

    same    cells that are here already as the file has them
    kept    rows with cells that are otherwise here since, and that the file has as before
    beside  rows that are here and not in the file
    """

    schedule: Schedule
    heads: Sequence[FileHead]
    new: Sequence[NewRow]
    known: Sequence[KnownRow]
    gone: Sequence[GoneRow]
    same: int
    kept: Sequence[KnownRow]
    beside: int

    @property
    def kept_cells(self) -> int:
        """How many cells are left as they are here."""
        return sum(len(row.cells) for row in self.kept)

    @property
    def has_news(self) -> bool:
        """Whether there is anything to tick."""
        return bool(self.new or self.known or self.gone)


class Counted(NamedTuple):
    """How many cells a file holds of a package: all, and those that only a person can confirm."""

    cells: int
    guessed: int


@dataclass(frozen=True)
class FilePage:
    """A file and what it proposes.

    ticked   what was ticked where it couldn't be taken over; None where nothing was said yet
    tick     what is ticked beside what is anyhow: all that is GUESSED, or all that DIFFERS
    """

    brought: BroughtFile
    package: Package
    system: System
    ticked: Choices | None = None
    tick: str = ""

    @cached_property
    def proposal(self) -> Proposal:
        """What was read."""
        return self.brought.proposal

    @cached_property
    def merged(self) -> Merged:
        """The same beside what is here."""
        return merged_with(self.package, self.brought)

    @cached_property
    def seen(self) -> int:
        """The package's last change, as the page carries it."""
        return last_change_of(self.package)

    @cached_property
    def undone_at(self) -> datetime | None:
        """When what it brought in was taken back; None where some of it stands."""
        changes = self.package.changes.filter(pk__in=self.brought.changes)
        if changes.filter(undone_at=None).exists():
            return None
        return changes.values_list("undone_at", flat=True).order_by("undone_at").last()

    @cached_property
    def read(self) -> int:
        """The version of the proposal, as the page carries it."""
        return read_of(self.brought)

    @property
    def called(self) -> str:
        """What the file is, in words."""
        return kind_words(self.brought.kind)

    @cached_property
    def said(self) -> list[str]:
        """What has to be known, with the marks that the file's rows have here."""
        marks = self.merged.marks
        return [_WORD.sub(lambda m: marks.get(m[0], m[0]), s) for s in self.proposal.said]

    @property
    def has_news(self) -> bool:
        """Whether taking it over would change anything."""
        return not self.merged.is_empty

    @property
    def can_be_taken(self) -> bool:
        """Whether there is anything to tick: also what was left as it is here before."""
        return self.has_news or any(part.kept for part in self.parts)

    @cached_property
    def counted(self) -> Counted:
        """How many cells it holds."""
        hows = [cell.how for row in self.proposal.rows for cell in row.cells.values()]
        return Counted(len(hows), hows.count(How.GUESSED))

    @cached_property
    def open_guesses(self) -> int:
        """Guessed cells that would change something: each needs a tick of its own."""
        return sum(cell.proposed.how is How.GUESSED for cell in self._news)

    @cached_property
    def open_differences(self) -> int:
        """Cells that are here otherwise than in the file, and by somebody's hand."""
        return sum(cell.news is News.DIFFERS for cell in self._news)

    @property
    def _news(self) -> Iterator[MergedCell]:
        return (cell for row in self.merged.rows for cell in row.news)

    @property
    def is_long(self) -> bool:
        """Whether its buttons stand above its tables too."""
        return len(self.merged.rows) > LONG

    @property
    def is_table(self) -> bool:
        """Whether what it hasn't may go with it: a table is whole, a model tells of its own."""
        return not any(row.source for row in self.proposal.rows)

    @cached_property
    def parts(self) -> list[FilePart]:
        """Each schedule that it says something of, in the order of the file."""
        rows = self.merged.rows
        slugs = dict.fromkeys(
            [row.schedule.slug for row in rows] + [row.schedule for row in self.merged.gone]
        )
        return [
            self._part(BY_SLUG[slug], [row for row in rows if row.schedule.slug == slug])
            for slug in slugs
        ]

    def _part(self, schedule: Schedule, rows: Sequence[MergedRow]) -> FilePart:
        new = [row for row in rows if row.is_new]
        heads = list(_heads(schedule, new))
        known = [
            KnownRow(row.name, [self._cell(row, cell) for cell in row.news])
            for row in rows
            if not row.is_new and row.news
        ]
        here = [row for row in rows if not row.is_new]
        return FilePart(
            schedule=schedule,
            heads=heads,
            new=[self._new(row, heads) for row in new],
            known=known,
            gone=[self._gone(schedule, s) for s in self.merged.gone if s.schedule == schedule.slug],
            same=sum(row.count(News.SAME) for row in here),
            kept=[
                KnownRow(row.name, [self._cell(row, c) for c in row.cells if c.news is News.KEPT])
                for row in here
                if row.count(News.KEPT)
            ],
            beside=len(self.merged.beside.get(schedule.slug, ())),
        )

    def _new(self, row: MergedRow, heads: Sequence[FileHead]) -> NewRow:
        said = {(head.column.head, head.how, head.place) for head in heads}
        by_head = {cell.column.head: self._cell(row, cell, said) for cell in row.cells}
        is_ticked = self.ticked is None or row.number in self.ticked.rows
        cells = [by_head.get(head.column.head) for head in heads]
        return NewRow(row.number, row.name or f"row {row.number + 1}", is_ticked, cells)

    def _gone(self, schedule: Schedule, standing: Standing) -> GoneRow:
        is_ticked = self.ticked is not None and standing.pk in self.ticked.gone
        return GoneRow(standing.pk, schedule.name_of(standing.cells) or "a row", is_ticked)

    def _cell(
        self, row: MergedRow, cell: MergedCell, said: Collection[tuple[str, str, str]] = ()
    ) -> FileCell:
        """A cell as it is shown; said: what stands in the heads of how cells are known."""
        proposed, notation, head = cell.proposed, self._notation, cell.column.head
        is_guessed, is_said = (
            proposed.how is How.GUESSED,
            (head, proposed.how.value, proposed.place) in said,
        )
        at: CellAt = (row.number, head)
        is_ticked = cell.is_proposed_ticked or self._is_ticked_too(cell)
        return FileCell(
            column=cell.column,
            here=figure_text(cell.column, cell.here, notation),
            there=figure_text(cell.column, proposed.text, notation),
            how="" if is_said else proposed.how.value,
            is_guessed=is_guessed,
            place="" if is_said else proposed.place,
            beside=proposed.beside,
            news=cell.news.value,
            name=f"{row.number}:{head}" if not row.is_new or is_guessed else "",
            is_ticked=is_ticked if self.ticked is None else at in self.ticked.cells,
            expected=cell.refusal.expected if cell.refusal else "",
        )

    def _is_ticked_too(self, cell: MergedCell) -> bool:
        is_guessed = cell.proposed.how is How.GUESSED
        return (self.tick == GUESSED and is_guessed) or (
            self.tick == DIFFERS and cell.news is News.DIFFERS and not is_guessed
        )

    @cached_property
    def _notation(self) -> Notation:
        return self.package.notation.read_in(self.system)


def page_again(
    brought: BroughtFile, package: Package, system: System, ticked: Choices, read: int
) -> FilePage:
    """The page where it couldn't be taken over: with the ticks, while they mean the same rows.

    read   the version of the proposal that was ticked
    """
    is_same = read == read_of(brought)
    return FilePage(brought, package, system, ticked if is_same else None)


def _heads(schedule: Schedule, rows: Sequence[MergedRow]) -> Iterator[FileHead]:
    """The columns that new rows have cells of; a row's own mark is its name already."""
    for column in schedule.columns:
        cells = [c.proposed for row in rows for c in row.cells if c.column == column]
        if not cells or column.kind is Kind.MARK:
            continue
        ways = {(cell.how.value, cell.place) for cell in cells}
        how, place = ways.pop() if len(ways) == 1 and len(cells) > 1 else ("", "")
        yield FileHead(column, how, place)


def kind_words(kind: str) -> str:
    """What a kind of file is called, with its article."""
    if kind == REVISION:
        return "an earlier revision"
    return BY_NAME[kind].called if kind in BY_NAME else "a file"
