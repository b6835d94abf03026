"""Bring a brief's tables in from one workbook: which cells would change, and only then keep them.

A blank cell of the workbook says nothing: it takes nothing away. States, people cases and targets
are known by their names, months by theirs; whatever isn't here yet comes below.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import IO, Any

from django.db import transaction

from criteria.errors import Refused
from criteria.schedules import CASES, CLIMATE, SITE, STATES
from criteria.schedules.states import DAYS_A_YEAR
from criteria.targets.reading import TARGETS, targets_in
from criteria.typed.columns import Column
from criteria.typed.rows import Schedule
from criteria.typed.tables import RefusedCell, read_records
from criteria.units import Notation, System
from reviews.deeds.brief_tables import MONTH_WORDS
from reviews.deeds.brief_writing import (
    MONTHLY,
    SITE_SHEET,
    TARGET_LIST,
    USE,
    USE_ROWS,
    cells_of_use,
    full_cells,
    hold,
    keep_targets,
    with_own_unit,
)
from reviews.deeds.file_reading import kind_that_is_read, read_apart
from reviews.deeds.record_changes import Part, last_seen, logged
from reviews.deeds.record_typed import brought_back
from reviews.deeds.table_bringing import folded
from reviews.exchange.criteria_table import CRITERIA
from reviews.exchange.kinds import BY_NAME
from reviews.exchange.proposed import Proposal, ProposedCell
from reviews.exchange.table_lines import UNITS_ASKED
from reviews.models import Brief, Person

WORKBOOK = BY_NAME["workbook"]

OURS: tuple[Schedule, ...] = (SITE, CLIMATE, STATES, CASES, TARGETS)
"""What a brief's workbook is read for."""

Cells = dict[str, str]
Came = Mapping[str, ProposedCell]


@dataclass(frozen=True, kw_only=True)
class ChangedCell:
    """A cell as it is kept and as it would be.

    row       its row's name; nothing on the site sheet
    expected  what its column takes, where it can't be read
    beside    what else is known of it: “worked out in the sheet: 6”
    """

    row: str
    column: Column
    before: str
    after: str
    expected: str = ""
    beside: str = ""


@dataclass(frozen=True, kw_only=True)
class PartRead:
    """A part of a brief as the workbook would have it.

    changed  cells that would change
    refused  what can't be read of a line as a whole
    wanted   all of it as it would be kept
    seen     its last change (0: none)
    """

    part: Part[Brief]
    changed: Sequence[ChangedCell]
    refused: Sequence[RefusedCell]
    wanted: Any
    seen: int


@dataclass(frozen=True)
class BriefRead:
    """All parts that a workbook would change, and what has to be known beside."""

    parts: Sequence[PartRead]
    said: Sequence[str]

    @property
    def is_clean(self) -> bool:
        """Whether it changes something, and every cell that it changes can be read."""
        is_amiss = any(p.refused or any(c.expected for c in p.changed) for p in self.parts)
        return bool(self.parts) and not is_amiss

    @property
    def seen(self) -> dict[str, int]:
        """The last change of each part."""
        return {read.part.slug: read.seen for read in self.parts}


class NotClean(Exception):
    """A workbook of which a cell can't be read, or that changes nothing: nothing is kept."""


def read_file(name: str, file: IO[bytes], system: System) -> Proposal:
    """What a workbook proposes; bare figures of columns without a unit are in a system's.

    Raises Refused with what was read and what was expected.
    """
    if kind_that_is_read(name, file) != WORKBOOK:
        raise Refused(name, f"{WORKBOOK.called}, with a sheet for each table of the brief")
    return read_apart(WORKBOOK.name, name, file, {UNITS_ASKED: system.value})


def read_brief(brief: Brief, proposal: Proposal) -> BriefRead:
    """Hold what a workbook proposes against a brief in preparation. Nothing is kept."""
    rows: dict[str, list[Came]] = {schedule.slug: [] for schedule in OURS}
    others = []
    for row in proposal.rows:
        if row.schedule in rows:
            rows[row.schedule].append(row.cells)
        else:
            others.append(row.schedule)
    found = (_site(brief, rows), _climate(brief, rows), _use(brief, rows), _targets(brief, rows))
    parts = [part for part in found if part.changed or part.refused]
    return BriefRead(parts, (*proposal.said, *_left_out(others)))


def _left_out(others: Iterable[str]) -> Iterator[str]:
    named = dict.fromkeys(others)
    if named.pop(CRITERIA.slug, 0) is None:
        yield "Criteria sheets are left out: each is changed on the page of its crit."
    if named:
        yield f"Left out, for these are a package’s: {', '.join(named)}."


@transaction.atomic
def bring_in(
    brief: Brief, proposal: Proposal, by: Person, seen: Mapping[str, int]
) -> Sequence[PartRead]:
    """Keep what a workbook changes, a change for each part; twice is once.

    Raises Frozen, NotClean where a cell can't be read, Newer where a part was changed since.
    """
    held = hold(brief)
    read = read_brief(held, proposal)
    if not read.parts:
        return ()
    if not read.is_clean:
        raise NotClean
    for each in read.parts:
        what = f"{len(each.changed)} cells brought in from a workbook"
        at = seen.get(each.part.slug, 0)
        if each.part is TARGET_LIST:
            keep_targets(held, each.wanted, by, what, at)
        else:
            with logged(held, each.part, by, what, seen=at):
                each.part.write(held, each.wanted)
    return read.parts


class _Laid:
    """Cells of a part under their names, with those of a workbook laid over them."""

    def __init__(self, now: Mapping[str, str], notation: Notation) -> None:
        self.wanted, self.notation = dict(now), notation
        self.changed: list[ChangedCell] = []
        self.refused: list[RefusedCell] = []
        self.met: set[str] = set()

    def is_again(self, line: int, column: Column, name: str) -> bool:
        """Refuse a line whose name a line above has, or that has none."""
        if name and name not in self.met:
            self.met.add(name)
            return False
        again = Refused(name, f"a {column.label.lower()} that no line above has")
        self.refused.append(_refusal(line, column, again))
        return True

    def lay(self, name: str, column: Column, row: str, cell: ProposedCell, text: str) -> None:
        """Lay a cell over the one of its name, if it differs."""
        before = self.wanted.get(name, "")
        if text == before:
            return
        try:
            column.read(text, self.notation.kept)
            expected = ""
        except Refused as refused:
            expected = refused.expected
        self.wanted[name] = text
        self.changed.append(
            ChangedCell(
                row=row,
                column=column,
                before=before,
                after=text,
                expected=expected,
                beside=cell.beside,
            )
        )

    def read(self, brief: Brief, part: Part[Brief], wanted: Any = None) -> PartRead:
        """What becomes of the part."""
        return PartRead(
            part=part,
            changed=self.changed,
            refused=self.refused,
            wanted=self.wanted if wanted is None else wanted,
            seen=last_seen(brief, part.slug),
        )


def _kept(
    schedule: Schedule, came: Sequence[Came], there: Sequence[Mapping[str, str]], brief: Brief
) -> Iterator[tuple[str, Came, Cells]]:
    """Each row's name, its cells, and their texts: one that went out in other units as it is."""
    texts = [{head: cell.text for head, cell in row.items()} for row in came]
    name = schedule.columns[0].head
    by = (lambda record: str(record.get(name, ""))) if not schedule.is_single else None
    back = brought_back(schedule, texts, there, brief.notation, by)
    for row, record in zip(came, back, strict=True):
        yield record.get(name, ""), row, dict(record)


def _site(brief: Brief, rows: Mapping[str, Sequence[Came]]) -> PartRead:
    laid = _Laid(SITE_SHEET.read(brief), brief.notation)
    for _, row, texts in _kept(SITE, rows[SITE.slug], [brief.site], brief):
        for head, text in texts.items():
            laid.lay(head, SITE.column(head), "", row[head], text)
    return laid.read(brief, SITE_SHEET)


def _climate(brief: Brief, rows: Mapping[str, Sequence[Came]]) -> PartRead:
    laid, month_column = _Laid(MONTHLY.read(brief), brief.notation), CLIMATE.columns[0]
    came = [_with_short_month(row, month_column.head) for row in rows[CLIMATE.slug]]
    for number, (said, row, texts) in enumerate(
        _kept(CLIMATE, came, brief.climate, brief), start=1
    ):
        try:
            month = month_column.read(said)
        except Refused as refused:
            laid.refused.append(_refusal(number, month_column, refused))
            continue
        if laid.is_again(number, month_column, str(month)):
            continue
        for head, text in texts.items():
            if head != month_column.head:
                laid.lay(f"{month}-{head}", CLIMATE.column(head), str(month), row[head], text)
    return laid.read(brief, MONTHLY)


def _with_short_month(row: Came, head: str) -> Came:
    """The same with its month as a brief calls it, where it is written out."""
    if head not in row or not (short := MONTH_WORDS.get(folded(row[head].text))):
        return row
    return {**row, head: replace(row[head], text=short)}


def _refusal(number: int, column: Column, refused: Refused) -> RefusedCell:
    return RefusedCell(number, "", column.label, refused.read or "nothing", refused.expected)


def _use(brief: Brief, rows: Mapping[str, Sequence[Came]]) -> PartRead:
    tables = {STATES: list(brief.states), CASES: list(brief.cases)}
    now = cells_of_use({schedule.slug: table for schedule, table in tables.items()})
    laid = _Laid(now, brief.notation)
    for schedule, there in tables.items():
        name = schedule.columns[0].head
        numbers = {record.get(name, ""): n for n, record in enumerate(there, start=1)}
        laid.met.clear()
        for line, (said, row, texts) in enumerate(
            _kept(schedule, rows[schedule.slug], there, brief), start=1
        ):
            if laid.is_again(line, schedule.columns[0], said):
                continue
            number = numbers.setdefault(said, len(numbers) + 1)
            if number > USE_ROWS[schedule]:
                most = Refused(said, f"at most {USE_ROWS[schedule]} {schedule.title.lower()}")
                laid.refused.append(_refusal(number, schedule.columns[0], most))
                continue
            for head, text in texts.items():
                column = schedule.column(head)
                laid.lay(f"{schedule.slug}-{number}-{head}", column, said, row[head], text)
        laid.refused += _amiss_in_use(schedule, numbers, laid)
    return laid.read(brief, USE)


def _amiss_in_use(
    schedule: Schedule, numbers: Mapping[str, int], laid: _Laid
) -> Iterator[RefusedCell]:
    """What is missing in rows that would change, and cases that fit into no year."""
    touched = {cell.row for cell in laid.changed if cell.column in schedule.columns}
    records = [
        {head: laid.wanted.get(f"{schedule.slug}-{number}-{head}", "") for head in schedule.heads}
        for number in numbers.values()
    ]
    reading = read_records(schedule, records, laid.notation.kept)
    names = list(numbers)
    yield from (
        cell
        for cell in reading.refused
        if names[cell.row - 1] in touched and cell.read == "nothing"
    )
    days = sum(row.typed("days") or 0 for row in reading.read if schedule is CASES)
    if touched and days > DAYS_A_YEAR:
        expected = f"at most {DAYS_A_YEAR} days of all cases together"
        yield RefusedCell(0, "", CASES.column("days").label, f"{days} days", expected)


def _targets(brief: Brief, rows: Mapping[str, Sequence[Came]]) -> PartRead:
    there = {cells["id"]: cells for line in brief.target_records() if (cells := full_cells(line))}
    now = {f"{ref}/{head}": text for ref, cells in there.items() for head, text in cells.items()}
    laid, touched = _Laid(now, brief.notation), []
    for ref, row, texts in _kept(TARGETS, rows[TARGETS.slug], [*there.values()], brief):
        before = there.get(ref, full_cells({}))
        after = before | texts
        if after == with_own_unit(before, System.METRIC):
            continue  # it went out with the unit that its bare value means
        for head, text in texts.items():
            laid.lay(f"{ref}/{head}", TARGETS.column(head), ref, row[head], text)
        if after != before:
            touched.append(after)
    reading = read_records(TARGETS, touched, brief.notation.kept)
    of_cells = {(cell.row, cell.column.label) for cell in laid.changed if cell.expected}
    laid.refused += (
        cell
        for cell in targets_in(reading, brief.notation.kept).refused
        if (cell.mark, cell.column) not in of_cells
    )
    return laid.read(brief, TARGET_LIST, touched)
