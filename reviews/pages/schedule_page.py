"""A schedule as it stands on a page: its rows, what is odd in them, the checks that read it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Any
from uuid import UUID, uuid4

from django.core.paginator import Page

from criteria.check_sheet.sheet import CheckSheet
from criteria.checks.catalogue import CHECKS
from criteria.findings import Finding
from criteria.schedules import SCHEDULES, beside, marks_known
from criteria.schedules.by_state import StateRow
from criteria.typed.columns import Column, Kind
from criteria.typed.rows import Schedule
from criteria.typed.tables import read_records
from criteria.units import System
from reviews.deeds.record_changes import last_change
from reviews.deeds.record_typed import example_text, shown_cells
from reviews.models import Change, Package, Person, Row
from reviews.models.packages import TypedRow
from reviews.pages.check_drawing import KeptDrawing, drawing_above
from reviews.pages.check_page import CheckLine, OddLine, check_line, odd_line
from reviews.pages.row_pages import FIRST, Place, Shown, shown_at
from reviews.pages.schedule_cells import (
    Cell,
    Head,
    Reader,
    Record,
    RefusedCells,
    heads_of,
    next_mark,
)
from reviews.pages.schedule_columns import Tiers, beyond, tiers_of
from reviews.pages.schedule_drawing import KeptStates, states_over
from reviews.pages.state_lines import InStates, StateLines
from reviews.reading.cohort_precedents import PRECEDENTS, Studied, own_precedents
from reviews.reading.package_checking import Checked, draft, tables_of
from reviews.reading.sheet_marks import OnSheet, places_of
from reviews.worked_out import fingerprint


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
    changed_at: Any = None
    odd: tuple[OddLine, ...] = ()
    trouble: Trouble | None = None
    in_states: InStates | None = None
    drawn_on: Sequence[OnSheet] = ()
    key: UUID | None = None
    """Made for a row that is about to be added, so that adding it twice adds it once."""

    @property
    def id(self) -> str:
        """The id of the row on the page."""
        return f"row-{self.pk}" if self.pk else "row-new"

    @property
    def called(self) -> str:
        """What the row is called when it is spoken of."""
        marks = (c.text.strip() for c in self.cells if c.column.is_key)
        name = " ".join(filter(None, marks))
        return name or (self.schedule.title if self.schedule.is_single else "this row")


@dataclass(frozen=True)
class SchedulePage:
    """A schedule of a package in preparation, or as many of its rows as stand on one page.

    Its lines are made ready only where a process hasn't kept them.

    own       its rows, all of them
    shown     those on this page
    met       its lines where a save was refused: what was sent stands in them
    is_whole  whether all of its columns are shown, or those that the brief asks for
    begun     what the row about to be added is told apart by
    cohort    of precedents, how many of the cohort study each
    """

    package: Package
    schedule: Schedule
    system: System
    checked: Checked
    own: Sequence[TypedRow]
    shown: Shown
    last: Change | None
    is_whole: bool = False
    begun: tuple[str, ...] = ()
    cohort: Sequence[Studied] = ()
    met: tuple[Line, ...] = ()

    @cached_property
    def fingerprint(self) -> str:
        """Of what its lines and checks show; blank where a save was refused."""
        if self.met:
            return ""
        at = self.schedule.slug, self.shown.rows.number, self.at, self.package.scheme_id
        over = {schedule.slug for schedule in self.beside}
        shown = (*self.rows, *(row for row in self.package.typed().holds if row.schedule in over))
        rows = [(row.pk, row.version, row.changed_at) for row in shown]
        heads = [column.head for column in self.columns]
        drawn_on = [self.places.get(row.pk, ()) for row in self.rows]
        return fingerprint(self.checked.told, self.system, at, rows, heads, drawn_on)

    @cached_property
    def places(self) -> Mapping[int, Sequence[OnSheet]]:
        """Where the marks of its rows stand on sheets, as far as their letters say."""
        return places_of(self.checked.marks)

    @cached_property
    def states(self) -> KeptStates | None:
        """The plan in each state, above the rows that it is drawn of."""
        return states_over(self.checked, self.schedule.slug, self.system, self.package.scheme_id)

    @cached_property
    def drawing(self) -> KeptDrawing | None:
        """What stands drawn above its rows."""
        return drawing_above(self.checked, self.schedule.slug, self.system, self.package.scheme_id)

    @property
    def rows(self) -> Page[TypedRow]:
        """The rows on this page."""
        return self.shown.rows

    @property
    def at(self) -> int:
        """The key of the row that whoever came here came for."""
        return self.shown.at

    @cached_property
    def tiers(self) -> Tiers:
        """Its columns, parted by whether the brief asks for them."""
        return tiers_of(self.schedule, [row.cells for row in self.own], self._asked)

    @property
    def _asked(self) -> list[str]:
        """The checks that the brief asks for."""
        return [finding.check for finding in self.checked.sheet.asked]

    @property
    def columns(self) -> tuple[Column, ...]:
        """The columns that are shown."""
        return self.schedule.columns if self.is_whole else self.tiers.asked

    @cached_property
    def heads(self) -> tuple[Head, ...]:
        """The head of each column that is shown."""
        shown = {column.head for column in self.columns}
        return tuple(head for head in self.all_heads if head.column.head in shown)

    @cached_property
    def all_heads(self) -> tuple[Head, ...]:
        """The head of each column."""
        return heads_of(self.schedule, self.system)

    @cached_property
    def _reader(self) -> Reader:
        notation = self.package.notation.read_in(self.system)
        return Reader(self.checked.tables, self.checked.refused, notation)

    @cached_property
    def lines(self) -> tuple[Line, ...]:
        """Its rows on this page, each a line."""
        if self.met:
            return self.met
        reader, sheet, rows = self._reader, self.checked.sheet, self.package.typed().holds
        of_states = StateLines(self.schedule, rows, self.checked.tables, reader.notation)
        lines = _lines(reader, self.schedule, self.columns, self.shown, sheet, of_states)
        return tuple(replace(line, drawn_on=self.places.get(line.pk or 0, ())) for line in lines)

    @cached_property
    def new(self) -> Line:
        """The row that is about to be added."""
        there = [row.cells for row in self.own]
        return new_line(self._reader, self.schedule, self.columns, there, self.begun)

    @property
    def newest(self) -> TypedRow | None:
        """The row that changed last, of all."""
        return max(self.own, key=lambda row: row.changed_at, default=None)

    @property
    def newest_by(self) -> Person | None:
        """Who changed it."""
        return self.package.changed_by(self.newest) if self.newest else None

    @property
    def refused(self) -> int:
        """How many filled cells can't be read, of all."""
        return unreadable(self.schedule, [row.cells for row in self.own], self.checked.refused)

    @property
    def is_checked(self) -> bool:
        """Whether a target of the brief reads it."""
        return next(self._findings, None) is not None

    @property
    def checks(self) -> list[CheckLine]:
        """The checks that read it."""
        return [check_line(finding, self.system) for finding in self._findings]

    @property
    def _findings(self) -> Iterator[Finding]:
        read = {self.schedule.slug}
        if issubclass(self.schedule.row, StateRow):
            read.update(self.schedule.row.of)
        return (f for f in self.checked.sheet.asked if read & {*schedules_read_by(f.check)})

    @property
    def every(self) -> tuple[Schedule, ...]:
        """All schedules of a package, this one among them."""
        return SCHEDULES

    @property
    def before(self) -> Schedule | None:
        """The schedule before it, of those that the brief's checks read."""
        return beyond(self.schedule, self._asked, -1)

    @property
    def after(self) -> Schedule | None:
        """The schedule behind it, of the same."""
        return beyond(self.schedule, self._asked, 1)

    @property
    def beside(self) -> tuple[Schedule, ...]:
        """What says what differs of it in a state, or of what it says so."""
        return beside(self.schedule)

    @property
    def odd(self) -> list[OddLine]:
        """Odd values of the schedule that stand in no one row."""
        marks = {self.schedule.name_of(row.cells) for row in self.own} - {""}
        return [
            odd_line(o, self.system)
            for o in self.checked.sheet.odd
            if o.schedule == self.schedule.slug
            and o.mark not in marks
            and not self.schedule.is_single
        ]

    def line(self, pk: int) -> Line:
        """Return one row's line."""
        return next(line for line in self.lines if line.pk == pk)

    @property
    def single(self) -> Line:
        """The only row of a sheet of one row, or the one about to be added."""
        return self.lines[0] if self.lines else self.new


def schedule_page(
    package: Package,
    schedule: Schedule,
    system: System,
    place: Place = FIRST,
    *,
    is_whole: bool = False,
) -> SchedulePage:
    """Everything of one schedule in preparation, its rows at a place."""
    package.hold_typed()
    own = [row for row in package.typed().holds if row.schedule == schedule.slug]
    return SchedulePage(
        package=package,
        schedule=schedule,
        system=system,
        checked=draft(package, asked_alone=True),
        own=own,
        shown=shown_at(place, own, schedule),
        last=last_change(package, schedule.slug),
        is_whole=is_whole,
        begun=place.begun,
        cohort=own_precedents(package) if schedule.slug == PRECEDENTS else (),
    )


def unreadable(schedule: Schedule, records: Sequence[Record], refused: RefusedCells) -> int:
    """Count the filled cells of a schedule that can't be read."""
    heads = {column.label: column.head for column in schedule.columns}
    cells = (cell for cell in refused.get(schedule.slug, ()) if cell.column in heads)
    return sum(bool(records[c.row - 1].get(heads[c.column], "").strip()) for c in cells)


def schedules_read_by(slug: str) -> tuple[str, ...]:
    return CHECKS[slug].schedules if slug in CHECKS else ()


def _lines(
    reader: Reader,
    schedule: Schedule,
    columns: Sequence[Column],
    page: Shown,
    checks: CheckSheet,
    of_states: StateLines,
) -> tuple[Line, ...]:
    shown = [shown_cells(schedule, row.cells, reader.system) for row in page.rows]
    refusals = reader.refusals(schedule, shown, page.before)
    odd = [each for each in checks.odd if each.schedule == schedule.slug]
    lines = []
    for place, (row, record) in enumerate(zip(page.rows, shown, strict=True)):
        mark, base = schedule.name_of(record), reader.base_of(schedule, record)
        lines.append(
            Line(
                schedule=schedule,
                cells=tuple(
                    replace(
                        reader.cell(
                            c, record[c.head], refusals.get((place, c.label), ""), f"r{row.pk}"
                        ),
                        placeholder=base.get(c.head, ""),
                    )
                    for c in columns
                ),
                pk=row.pk,
                version=row.version,
                changed_at=row.changed_at,
                odd=tuple(
                    odd_line(o, reader.system)
                    for o in odd
                    if schedule.is_single or (mark and o.mark == mark)
                ),
                in_states=of_states.of(mark),
            )
        )
    return tuple(lines)


def new_line(
    reader: Reader,
    schedule: Schedule,
    columns: Sequence[Column],
    there: Sequence[Record],
    begun: Sequence[str] = (),
) -> Line:
    """A row about to be added: its mark suggested, an example in grey in each cell.

    begun   what it is told apart by, where that is known
    """
    keys = dict(zip((column.head for column in schedule.keys), begun, strict=False))
    suggested = next_mark(schedule, there)
    cells = []
    for column in columns:
        text = suggested if column.kind is Kind.MARK else keys.get(column.head, "")
        cell = reader.cell(column, text, "", "new")
        cells.append(replace(cell, placeholder=example_text(column, reader.notation)))
    return Line(schedule=schedule, cells=tuple(cells), key=uuid4())


def with_trouble(
    page: SchedulePage, sent: Record, trouble: Trouble, system: System
) -> SchedulePage:
    """Return the page with what was sent in its row, and what stands beside it."""
    schedule, row = page.schedule, trouble.row
    tables, notation = tables_of(page.package).holds, page.package.notation
    known = marks_known(schedule, tables)
    refused = read_records(schedule, [sent], notation, marks=known).refused
    reader = Reader(tables, {schedule.slug: refused}, notation.read_in(system))
    kept = shown_cells(schedule, row.cells, system) if row else {}
    shown = shown_cells(schedule, sent, system)
    refusals = reader.refusals(schedule, [shown])
    place = f"r{row.pk}" if row else "gone"
    cells = []
    for column in page.columns:
        cell = reader.cell(column, shown[column.head], refusals.get((0, column.label), ""), place)
        differs = row is not None and kept[column.head] != cell.text
        cells.append(replace(cell, kept=kept[column.head] if differs else None))
    line = Line(
        schedule=schedule,
        cells=tuple(cells),
        pk=row.pk if row else None,
        version=row.version if row else 0,
        changed_at=row.changed_at if row else None,
        trouble=trouble,
        key=None if row else uuid4(),
    )
    if row:
        return replace(page, met=tuple(line if x.pk == row.pk else x for x in page.lines))
    return replace(page, met=(*page.lines, line))
