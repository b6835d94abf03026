"""What a file would change, cell by cell: held against what is here and what was last brought in.

Three texts meet in a cell: as it is here, as the file has it, and as such a file last had it. Where
the first is still the last, the file may change it; where the second is, what changed the first
stands, a hand or a file of another kind; where both went on, a person chooses.
"""

from __future__ import annotations

import itertools
import math
from collections import Counter
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum
from functools import cached_property
from types import MappingProxyType
from typing import NamedTuple

from criteria.errors import Refused
from criteria.schedules import BY_SLUG, marks_in
from criteria.schedules.by_state import OPENINGS
from criteria.typed.columns import Column, Kind
from criteria.typed.rows import Schedule
from criteria.units import PLAIN, Notation
from reviews.exchange.known_again import Standing, known_again, texts_of
from reviews.exchange.proposed import How, ProposedCell, ProposedRow

SAME = 1e-9
"""Two figures nearer than this are one: units are turned to ten digits. Relative, and in SI [1]."""


AS_WRITTEN = 1e-9
"""Figures are written to ten places: nearer than that two are one. Relative [1]."""
MOST_NAMED = 20
NO_MARKS: Mapping[str, Iterable[str]] = MappingProxyType({})


class News(StrEnum):
    """What a file says of a cell beside what is here.

    FILLS     nothing is here
    SAME      here as in the file
    FOLLOWS   here as it was last brought in; the file has another now
    KEPT      changed here since; the file has it as before
    DIFFERS   here is another than in the file, and neither is what was brought in
    """

    FILLS = "new"
    SAME = "same"
    FOLLOWS = "follows"
    KEPT = "kept"
    DIFFERS = "differs"


@dataclass(frozen=True, kw_only=True)
class MergedCell:
    """A cell of a proposed row beside the one that is here."""

    column: Column
    here: str
    proposed: ProposedCell
    news: News
    refusal: Refused | None = None

    @property
    def is_news(self) -> bool:
        """Whether taking it over would change something."""
        return self.news in (News.FILLS, News.FOLLOWS, News.DIFFERS)

    @property
    def is_proposed_ticked(self) -> bool:
        """Whether it is taken over unless somebody says otherwise."""
        is_guessed = self.proposed.how is How.GUESSED
        return self.news in (News.FILLS, News.FOLLOWS) and not is_guessed


@dataclass(frozen=True, kw_only=True)
class MergedRow:
    """A proposed row beside the one that is here, if one is.

    number   its place in the proposal
    name     its mark here, or what its first words are
    """

    number: int
    schedule: Schedule
    proposed: ProposedRow
    standing: Standing | None
    cells: tuple[MergedCell, ...]
    name: str

    @property
    def is_new(self) -> bool:
        """Whether nothing here is this row."""
        return self.standing is None

    @cached_property
    def news(self) -> tuple[MergedCell, ...]:
        """The cells that would change something."""
        return tuple(cell for cell in self.cells if cell.is_news)

    def count(self, news: News) -> int:
        """How many of its cells are so."""
        return sum(cell.news is news for cell in self.cells)


@dataclass(frozen=True, kw_only=True)
class Merged:
    """A whole proposal beside what is here.

    rows   in the order of the proposal, all of them
    marks   what marks of the file's own are here, those that are others, by mark
    gone    rows here that an earlier edition of such a file brought in and this one hasn't; of a
            table all that it hasn't
    beside  rows here that no row of the file is, by schedule that the file has rows of
    """

    rows: tuple[MergedRow, ...]
    gone: tuple[Standing, ...]
    beside: Mapping[str, tuple[Standing, ...]]
    marks: Mapping[str, str]

    @property
    def is_empty(self) -> bool:
        """Whether taking all of it over would change nothing."""
        return not self.gone and not any(row.is_new or row.news for row in self.rows)


def merged(
    kind: str,
    rows: Sequence[ProposedRow],
    there: Iterable[Standing],
    notation: Notation = PLAIN,
    marks: Mapping[str, Iterable[str]] = NO_MARKS,
) -> Merged:
    """Hold what a file proposes against the rows that are here.

    kind   of the file, by whose rows' sources it is known again
    marks  those that references are held to beside those of the file, by schedule

    Marks of a model are its reader's: a row that is known again keeps the mark it has here, a new
    one gets the next that is free, and what refers to it follows.
    """
    by_slug: dict[str, list[Standing]] = {}
    for standing in there:
        by_slug.setdefault(standing.schedule, []).append(standing)
    own = _Marks(kind, rows, by_slug)
    called = [(n, own.as_here(n, row)) for n, row in enumerate(rows)]
    slugs = tuple(dict.fromkeys(row.schedule for row in rows))
    met: dict[int, Standing] = {}
    for slug in slugs:
        of_slug = [(n, row) for n, row in called if row.schedule == slug]
        met |= known_again(BY_SLUG[slug], kind, of_slug, by_slug.get(slug, ()))
    reader = _Reader(kind, notation, _with_own(marks, [row for _, row in called]))
    made = tuple(_merged_row(n, row, met.get(n), reader) for n, row in called)
    used = {row.standing.pk for row in made if row.standing}
    left = [s for standing in by_slug.values() for s in standing if s.pk not in used]
    beside = {slug: tuple(s for s in left if s.schedule == slug) for slug in slugs}
    are_known = any(row.source for row in rows)
    gone = [s for s in left if s.origin.get("source") and s.origin.get("kind") == kind]
    if not are_known:  # a table is whole: what it hasn't may go
        gone = [s for standing in beside.values() for s in standing]
    return Merged(rows=made, gone=tuple(gone), beside=beside, marks=own.changed)


class _Marks:
    """Marks of a file's rows, and what each is here."""

    def __init__(
        self, kind: str, rows: Sequence[ProposedRow], there: Mapping[str, Sequence[Standing]]
    ) -> None:
        self.kind, self.rows, self.there = kind, rows, there
        self.here: dict[str, dict[str, str]] = {}
        self.own: dict[int, str] = {}
        for slug in dict.fromkeys(row.schedule for row in rows if row.source):
            self._meet(BY_SLUG[slug])

    def _meet(self, schedule: Schedule) -> None:
        """Settle what each mark of a schedule is here."""
        if not (head := schedule.mark_head):
            return
        own = [(n, row) for n, row in enumerate(self.rows) if row.schedule == schedule.slug]
        there = self.there.get(schedule.slug, ())
        met = known_again(schedule, self.kind, own, there)
        taken = {str(standing.cells.get(head, "")) for standing in there}
        here = self.here.setdefault(schedule.slug, {})
        for number, row in own:
            mark = row.cells[head].text if head in row.cells else ""
            if standing := met.get(number):
                self.own[number] = str(standing.cells.get(head, "")) or mark
            else:
                self.own[number] = _free(schedule, taken) if mark in taken else mark
                taken.add(self.own[number])
            here.setdefault(mark, self.own[number])

    @property
    def changed(self) -> dict[str, str]:
        """What each mark of the file is here, where it is another and means one row alone."""
        met = [pair for here in self.here.values() for pair in here.items()]
        counted = Counter(mark for mark, _ in met)
        return {mark: own for mark, own in met if mark != own and counted[mark] == 1}

    def as_here(self, number: int, row: ProposedRow) -> ProposedRow:
        """A proposed row with the marks that it and its references have here."""
        cells = dict(row.cells)
        for column in BY_SLUG[row.schedule].columns:
            if column.head in cells and (mark := self._here(number, row, column)):
                cells[column.head] = replace(cells[column.head], text=mark)
        return replace(row, cells=cells)

    def _here(self, number: int, row: ProposedRow, column: Column) -> str:
        if column.kind is Kind.MARK:
            return self.own.get(number, "")
        if column.kind is not Kind.REFERENCE or not row.source:
            return ""
        slugs = ("windows", "doors") if column.refers_to == OPENINGS else (column.refers_to,)
        said = row.cells[column.head].text
        return next(
            (self.here[slug][said] for slug in slugs if said in self.here.get(slug, ())), ""
        )


def _free(schedule: Schedule, taken: Collection[str]) -> str:
    """The next mark of a schedule that no row has."""
    marks = (f"{schedule.mark_prefix}{n}" for n in itertools.count(1))
    return next(mark for mark in marks if mark not in taken)


def _merged_row(
    number: int, row: ProposedRow, standing: Standing | None, reader: _Reader
) -> MergedRow:
    schedule = BY_SLUG[row.schedule]
    here = standing.cells if standing else {}
    last = standing.origin.get("last", {}).get(reader.kind, {}) if standing else {}
    cells = tuple(
        _merged_cell(column, here.get(column.head) or "", proposed, last.get(column.head), reader)
        for column in schedule.columns
        if (proposed := row.cells.get(column.head)) and proposed.text.strip()
    )
    texts = here or {head: cell.text for head, cell in row.cells.items()}
    return MergedRow(
        number=number,
        schedule=schedule,
        proposed=row,
        standing=standing,
        cells=cells,
        name=schedule.name_of(texts) or next((t for t in texts.values() if t.strip()), ""),
    )


def _merged_cell(
    column: Column,
    here: str,
    proposed: ProposedCell,
    last: str | None,
    reader: _Reader,
) -> MergedCell:
    text = proposed.text
    return MergedCell(
        column=column,
        here=here,
        proposed=proposed,
        news=_news(column, here, text, last, reader.notation),
        refusal=reader.refusal(column, text),
    )


class _Reader(NamedTuple):
    """The kind of file, how its texts are read, and the marks that references are held to."""

    kind: str
    notation: Notation
    marks: Mapping[str, Collection[str]]

    def refusal(self, column: Column, text: str) -> Refused | None:
        """Why a column takes a text as no value; None where it does."""
        try:
            value = column.read(text, self.notation)
        except Refused as refused:
            return refused
        known = self.marks.get(column.refers_to)
        if column.kind is not Kind.REFERENCE or known is None or value in known:
            return None
        among = ", ".join(list(known)[:MOST_NAMED]) or "none yet"
        return Refused(text, f"a mark of the {column.refers_to} schedule ({among})")


def _with_own(
    marks: Mapping[str, Iterable[str]], rows: Sequence[ProposedRow]
) -> Mapping[str, Collection[str]]:
    """Marks that are known, with those of the file's own rows."""
    tables: dict[str, list[dict[str, str]]] = {}
    for row in rows:
        tables.setdefault(row.schedule, []).append(texts_of(row))
    own = marks_in(tables)
    return {slug: dict.fromkeys((*known, *own.get(slug, ()))) for slug, known in marks.items()}


def _news(column: Column, here: str, there: str, last: str | None, notation: Notation) -> News:
    if mean_alike(column, here, there, notation):
        return News.SAME
    if last is None:
        return News.DIFFERS if here.strip() else News.FILLS
    if mean_alike(column, there, last, notation):
        return News.KEPT
    return News.FOLLOWS if mean_alike(column, here, last, notation) else News.DIFFERS


def mean_alike(column: Column, one: str, other: str, notation: Notation = PLAIN) -> bool:
    """Whether two texts of a column mean the same: 1240 and 1.24 m do; what can't be read doesn't.

    A figure that was taken out in other units comes back to as many digits as it was written in.

    >>> from criteria.schedules.openings import Window
    >>> glass = Window.schedule.column("glass_w")
    >>> mean_alike(glass, "1240", "1.24 m"), mean_alike(glass, "1240", "")
    (True, False)
    >>> mean_alike(glass, "1240", "48.81889764 in"), mean_alike(glass, "1240", "48.8189 in")
    (True, False)
    """
    if one.strip() == other.strip():
        return True
    if not one.strip() or not other.strip():
        return False
    try:
        first, second = column.read(one, notation), column.read(other, notation)
    except Refused:
        return False
    if isinstance(first, float) and isinstance(second, float):
        return math.isclose(first, second, rel_tol=SAME, abs_tol=SAME)
    return bool(first == second)
