"""A schedule as it stands on a page: each cell with what it takes, what it means, what is odd."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Any
from uuid import UUID, uuid4

from django.core.paginator import Page
from django.db.models import prefetch_related_objects

from criteria.check_sheet.sheet import CheckSheet
from criteria.checks.catalogue import CHECKS
from criteria.errors import Refused
from criteria.schedules import BY_SLUG
from criteria.typed.columns import Column, Kind
from criteria.typed.rows import Schedule
from criteria.typed.tables import RefusedCell, read_records
from criteria.units import Notation, System
from reviews.deeds.record_changes import last_change
from reviews.deeds.record_typed import in_head_unit, shown_cells, shown_text
from reviews.models import Change, Package, Person, Row
from reviews.pages.check_page import CheckLine, OddLine, check_line, odd_line
from reviews.pages.row_pages import FIRST, Place, Shown, shown_at
from reviews.reading.cohort_precedents import PRECEDENTS, Studied, own_precedents
from reviews.reading.package_checking import draft

Record = Mapping[str, str]
Tables = Mapping[str, Sequence[Record]]
RefusedCells = Mapping[str, Sequence[RefusedCell]]


@dataclass(frozen=True)
class Head:
    """The head of a column: label, unit, and what it takes."""

    column: Column
    unit: str
    expected: str

    @property
    def is_mark(self) -> bool:
        """Whether rows are told apart by it."""
        return self.column.kind is Kind.MARK

    @property
    def help_id(self) -> str:
        """The id of its help, to which each of its cells points."""
        return f"help-{self.column.head}"


@dataclass(frozen=True)
class Cell:
    """One cell.

    text      as it stands under its head
    unit      the unit of its head
    beneath   the same in the head's unit, or what a reference leads to
    refused   why it can't be read, with what would be
    kept      what stands where a save was refused and differs from what was sent
    options   the texts it takes, where they are few, each with how it is shown
    """

    column: Column
    name: str
    id: str
    help_id: str
    text: str
    unit: str = ""
    beneath: str = ""
    refused: str = ""
    kept: str | None = None
    options: tuple[tuple[str, str], ...] = ()
    placeholder: str = ""

    @property
    def is_blank(self) -> bool:
        """Whether nothing is typed."""
        return not self.text.strip()

    @property
    def described_by(self) -> str:
        return f"{self.help_id} {self.id}-note" if self.refused or self.beneath else self.help_id


@dataclass(frozen=True)
class Trouble:
    """A save that met a newer version, or a row that is no longer there.

    row    what stands; None where it was removed
    by     who changed or removed it
    """

    row: Row | None
    by: Person | None = None
    at: Any = None


@dataclass(frozen=True)
class Line:
    """A row as it stands on the page."""

    schedule: Schedule
    cells: tuple[Cell, ...]
    pk: int | None = None
    version: int = 0
    changed_by: Person | None = None
    changed_at: Any = None
    odd: tuple[OddLine, ...] = ()
    trouble: Trouble | None = None
    key: UUID | None = None
    """Made for a row that is about to be added, so that adding it twice adds it once."""

    @property
    def id(self) -> str:
        """The id of the row on the page."""
        return f"row-{self.pk}" if self.pk else "row-new"

    @property
    def called(self) -> str:
        """What the row is called when it is spoken of."""
        mark = next((c.text for c in self.cells if c.column.kind is Kind.MARK), "")
        return mark.strip() or (self.schedule.title if self.schedule.is_single else "this row")


@dataclass(frozen=True)
class SchedulePage:
    """A schedule of a package in preparation, or as many of its rows as stand on one page.

    at        the key of the row that whoever came here came for
    newest    the row that changed last, of all
    refused   how many filled cells can't be read, of all
    """

    package: Package
    schedule: Schedule
    heads: tuple[Head, ...]
    rows: Page[Row]
    at: int
    lines: tuple[Line, ...]
    new: Line
    newest: Row | None
    last: Change | None
    refused: int
    checks: tuple[CheckLine, ...]
    odd: tuple[OddLine, ...] = ()
    """Odd values of the schedule that stand in no one row."""
    cohort: tuple[Studied, ...] = ()
    """Of precedents, how many of the cohort study each."""

    def line(self, pk: int) -> Line:
        """Return one row's line."""
        return next(line for line in self.lines if line.pk == pk)

    @property
    def single(self) -> Line:
        """The only row of a sheet of one row, or the one about to be added."""
        return self.lines[0] if self.lines else self.new


class Reader:
    """Shows the rows of a package to one reader.

    refused   by schedule, the cells that couldn't be read when the package was
    notation  how the reader sees figures
    """

    def __init__(self, tables: Tables, refused: RefusedCells, notation: Notation) -> None:
        self.tables, self.refused, self.notation = tables, refused, notation
        self.system = notation.system

    @cached_property
    def names(self) -> dict[str, dict[str, str]]:
        """The marks of each schedule with what stands beside them: R2 is the day room."""
        found: dict[str, dict[str, str]] = {}
        for slug, records in self.tables.items():
            schedule = BY_SLUG[slug]
            said = next((c.head for c in schedule.columns if c.kind is Kind.TEXT), "")
            found[slug] = {
                mark: record.get(said, "")
                for record in records
                if (mark := record.get(schedule.mark_head, "").strip())
            }
        return found

    def refusals(
        self, schedule: Schedule, shown: Sequence[Record], before: int = 0
    ) -> dict[tuple[int, str], str]:
        """Say why cells can't be read, by row from 0 and label, in the reader's units.

        before   how many rows stand before those that are shown
        """
        labels = {column.label: column for column in schedule.columns}
        return {
            (at, cell.column): self._why(cell, labels[cell.column], shown[at])
            for cell in self.refused.get(schedule.slug, ())
            if cell.column in labels and 0 <= (at := cell.row - 1 - before) < len(shown)
        }

    def _why(self, cell: RefusedCell, column: Column, record: Record) -> str:
        said: Refused | RefusedCell = cell
        try:
            column.read(record[column.head], self.notation)
        except Refused as refusal:
            said = refusal
        return f"Read “{said.read}”. Expected {said.expected}."

    def cell(self, column: Column, text: str, refused: str, place: str) -> Cell:
        is_named = column.kind is Kind.REFERENCE
        named = self.names.get(column.refers_to, {}).get(text.strip(), "") if is_named else ""
        if refused and not text.strip():
            refused = f"Blank. Expected {column.expected(self.system)}."
        return Cell(
            column=column,
            name=f"cell-{column.head}",
            id=f"{place}-{column.head}",
            help_id=f"help-{column.head}",
            text=text,
            unit=column.unit(self.system),
            beneath=named or ("" if refused else in_head_unit(column, text, self.notation)),
            refused=refused,
            options=self._options(column, text),
        )

    def _options(self, column: Column, text: str) -> tuple[tuple[str, str], ...]:
        if column.kind is Kind.WORD:
            known = column.choices
        elif column.kind is Kind.YES_NO:
            known = ("yes", "no")
        elif column.kind is Kind.REFERENCE:
            known = tuple(self.names.get(column.refers_to, {}))
        else:
            return ()
        options = known if text in known or not text else (*known, text)
        return tuple((option, option.replace("_", " ")) for option in options)


def schedule_page(
    package: Package, schedule: Schedule, system: System, place: Place = FIRST
) -> SchedulePage:
    """Everything of one schedule in preparation, its rows at a place."""
    prefetch_related_objects([package], "rows__changed_by")
    checked = draft(package, asked_alone=True)
    checks, notation = checked.sheet, package.notation.read_in(system)
    own = [row for row in package.rows.all() if row.schedule == schedule.slug]
    reader = Reader(package.records(), checked.refused, notation)
    shown = shown_at(place, own, schedule)
    marks = {row.cells.get(schedule.mark_head, "").strip() for row in own} - {""}
    return SchedulePage(
        package=package,
        schedule=schedule,
        heads=heads_of(schedule, system),
        rows=shown.rows,
        at=shown.at,
        lines=_lines(reader, schedule, shown, checks),
        new=new_line(reader, schedule, [row.cells for row in own]),
        newest=max(own, key=lambda row: row.changed_at, default=None),
        last=last_change(package, schedule.slug),
        refused=unreadable(schedule, [row.cells for row in own], checked.refused),
        checks=tuple(
            check_line(finding, system)
            for finding in checks.asked
            if schedule.slug in schedules_read_by(finding.check)
        ),
        odd=tuple(
            odd_line(o, system)
            for o in checks.odd
            if o.schedule == schedule.slug and o.mark not in marks and not schedule.is_single
        ),
        cohort=tuple(own_precedents(package)) if schedule.slug == PRECEDENTS else (),
    )


def unreadable(schedule: Schedule, records: Sequence[Record], refused: RefusedCells) -> int:
    """Count the filled cells of a schedule that can't be read."""
    heads = {column.label: column.head for column in schedule.columns}
    cells = (cell for cell in refused.get(schedule.slug, ()) if cell.column in heads)
    return sum(bool(records[c.row - 1].get(heads[c.column], "").strip()) for c in cells)


def schedules_read_by(slug: str) -> tuple[str, ...]:
    return CHECKS[slug].schedules if slug in CHECKS else ()


def heads_of(schedule: Schedule, system: System) -> tuple[Head, ...]:
    """The heads of a schedule, in a reader's units."""
    return tuple(Head(c, c.unit(system), c.expected(system)) for c in schedule.columns)


def _lines(reader: Reader, schedule: Schedule, page: Shown, checks: CheckSheet) -> tuple[Line, ...]:
    shown = [shown_cells(schedule, row.cells, reader.system) for row in page.rows]
    refusals = reader.refusals(schedule, shown, page.before)
    odd = [each for each in checks.odd if each.schedule == schedule.slug]
    lines = []
    for place, (row, record) in enumerate(zip(page.rows, shown, strict=True)):
        mark = record.get(schedule.mark_head, "").strip()
        lines.append(
            Line(
                schedule=schedule,
                cells=tuple(
                    reader.cell(c, record[c.head], refusals.get((place, c.label), ""), f"r{row.pk}")
                    for c in schedule.columns
                ),
                pk=row.pk,
                version=row.version,
                changed_by=row.changed_by,
                changed_at=row.changed_at,
                odd=tuple(
                    odd_line(o, reader.system)
                    for o in odd
                    if schedule.is_single or (mark and o.mark == mark)
                ),
            )
        )
    return tuple(lines)


def new_line(reader: Reader, schedule: Schedule, there: Sequence[Record]) -> Line:
    """A row about to be added: its mark suggested, an example in grey in each cell."""
    suggested = next_mark(schedule, there)
    cells = []
    for column in schedule.columns:
        text = suggested if column.kind is Kind.MARK else ""
        cell = reader.cell(column, text, "", "new")
        example = shown_text(column, column.example, reader.system)
        cells.append(replace(cell, placeholder=example))
    return Line(schedule=schedule, cells=tuple(cells), key=uuid4())


def next_mark(schedule: Schedule, records: Iterable[Record]) -> str:
    """Suggest the mark of the next row: the schedule's letter and the number after the highest.

    >>> from criteria.schedules.openings import Window
    >>> next_mark(Window.schedule, [{"mark": "W2"}, {"mark": "W10"}, {"mark": "north"}])
    'W11'
    """
    if not schedule.mark_prefix or not schedule.mark_head:
        return ""
    taken = [
        int(match[1])
        for record in records
        if (mark := record.get(schedule.mark_head, "").strip())
        and (match := re.fullmatch(rf"{schedule.mark_prefix}(\d{{1,6}})\w?", mark))
    ]
    return f"{schedule.mark_prefix}{max(taken, default=0) + 1}"


def with_trouble(
    page: SchedulePage, sent: Record, trouble: Trouble, system: System
) -> SchedulePage:
    """Return the page with what was sent in its row, and what stands beside it."""
    schedule, row = page.schedule, trouble.row
    tables, notation = page.package.records(), page.package.notation
    marks = {slug: [r.get("mark", "").strip() for r in table] for slug, table in tables.items()}
    known = {column.refers_to: marks.get(column.refers_to, []) for column in schedule.columns}
    refused = read_records(schedule, [sent], notation, marks=known).refused
    reader = Reader(tables, {schedule.slug: refused}, notation.read_in(system))
    kept = shown_cells(schedule, row.cells, system) if row else {}
    shown = shown_cells(schedule, sent, system)
    refusals = reader.refusals(schedule, [shown])
    place = f"r{row.pk}" if row else "gone"
    cells = []
    for column in schedule.columns:
        cell = reader.cell(column, shown[column.head], refusals.get((0, column.label), ""), place)
        differs = row is not None and kept[column.head] != cell.text
        cells.append(replace(cell, kept=kept[column.head] if differs else None))
    line = Line(
        schedule=schedule,
        cells=tuple(cells),
        pk=row.pk if row else None,
        version=row.version if row else 0,
        changed_by=row.changed_by if row else None,
        changed_at=row.changed_at if row else None,
        trouble=trouble,
        key=None if row else uuid4(),
    )
    if row:
        lines = tuple(line if each.pk == row.pk else each for each in page.lines)
        return replace(page, lines=lines)
    return replace(page, lines=(*page.lines, line))
