"""What a file proposes, as it stands on its page: by schedule, new rows and cells that differ."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple

from criteria.schedules import BY_SLUG
from criteria.typed.columns import Column
from criteria.typed.rows import Schedule
from criteria.units import Notation, System
from reviews.deeds.file_bringing import REVISION
from reviews.deeds.file_taking import CellAt, Choices, last_change_of, merged_with
from reviews.deeds.record_typed import figure_text
from reviews.exchange.kinds import BY_NAME
from reviews.exchange.known_again import Standing
from reviews.exchange.merging import Merged, MergedCell, MergedRow, News
from reviews.exchange.proposed import How, Proposal
from reviews.models import BroughtFile, Package


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
    kept    cells that were changed here since, and that the file has as before
    beside  rows that are here and not in the file
    """

    schedule: Schedule
    heads: Sequence[Column]
    new: Sequence[NewRow]
    known: Sequence[KnownRow]
    gone: Sequence[GoneRow]
    same: int
    kept: int
    beside: int

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
    """

    brought: BroughtFile
    package: Package
    system: System
    ticked: Choices | None = None
    are_guesses_ticked: bool = False

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

    @property
    def called(self) -> str:
        """What the file is, in words."""
        return kind_words(self.brought.kind)

    @property
    def has_news(self) -> bool:
        """Whether taking it over would change anything."""
        return not self.merged.is_empty

    @cached_property
    def counted(self) -> Counted:
        """How many cells it holds."""
        hows = [cell.how for row in self.proposal.rows for cell in row.cells.values()]
        return Counted(len(hows), hows.count(How.GUESSED))

    @cached_property
    def guesses_open(self) -> int:
        """Guessed cells that would change something: each needs a tick of its own."""
        return sum(
            cell.proposed.how is How.GUESSED for row in self.merged.rows for cell in row.news
        )

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
        said = {cell.column.head for row in new for cell in row.cells}
        heads = [column for column in schedule.columns if column.head in said]
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
            kept=sum(row.count(News.KEPT) for row in here),
            beside=len(self.merged.beside.get(schedule.slug, ())),
        )

    def _new(self, row: MergedRow, heads: Iterable[Column]) -> NewRow:
        by_head = {cell.column.head: self._cell(row, cell) for cell in row.cells}
        is_ticked = self.ticked is None or row.number in self.ticked.rows
        cells = [by_head.get(column.head) for column in heads]
        return NewRow(row.number, row.name or f"row {row.number + 1}", is_ticked, cells)

    def _gone(self, schedule: Schedule, standing: Standing) -> GoneRow:
        is_ticked = self.ticked is not None and standing.pk in self.ticked.gone
        return GoneRow(standing.pk, schedule.name_of(standing.cells) or "a row", is_ticked)

    def _cell(self, row: MergedRow, cell: MergedCell) -> FileCell:
        proposed, notation = cell.proposed, self._notation
        is_guessed = proposed.how is How.GUESSED
        at: CellAt = (row.number, cell.column.head)
        is_ticked = cell.is_proposed_ticked or (is_guessed and self.are_guesses_ticked)
        return FileCell(
            column=cell.column,
            here=figure_text(cell.column, cell.here, notation),
            there=figure_text(cell.column, proposed.text, notation),
            how=proposed.how.value,
            is_guessed=is_guessed,
            place=proposed.place,
            beside=proposed.beside,
            news=cell.news.value,
            name=f"{row.number}:{cell.column.head}" if not row.is_new or is_guessed else "",
            is_ticked=is_ticked if self.ticked is None else at in self.ticked.cells,
            expected=cell.refusal.expected if cell.refusal else "",
        )

    @cached_property
    def _notation(self) -> Notation:
        return self.package.notation.read_in(self.system)


def kind_words(kind: str) -> str:
    """What a kind of file is called, with its article."""
    if kind == REVISION:
        return "an earlier revision"
    return BY_NAME[kind].called if kind in BY_NAME else "a file"
