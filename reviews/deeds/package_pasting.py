"""A block from a spreadsheet, looked at before anything of it is kept."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from criteria.errors import Refused
from criteria.typed.columns import Column, Kind
from criteria.typed.rows import Schedule
from criteria.typed.tables import (
    Reading,
    RefusedCell,
    match_heads,
    parse_block,
    read_block,
    read_records,
)
from criteria.units import System
from reviews.deeds.package_keeping import last_change
from reviews.deeds.record_typed import kept_cells
from reviews.models import Package

_NAMED_UNIT = re.compile(r".*[\[(,].*")

BEYOND = "beyond the last"
"""The column under which cells past the last head are told."""


class SeenCell(NamedTuple):
    """A cell of the block: its text as it would be kept, and why it can't be read."""

    text: str
    is_number: bool
    refused: str


@dataclass(frozen=True)
class Preview:
    """What a block would bring.

    records    as they would be kept, cells that can't be read among them
    rows       the same, cell by cell, beside what is refused
    refused    every cell that can't be read
    problems   why the block can't be brought in at all
    ignored    heads that mean no column of the schedule
    there      how many rows the schedule has
    seen       the last change of the schedule, 0 where there is none
    """

    heads: tuple[Column, ...]
    records: tuple[dict[str, str], ...]
    rows: tuple[tuple[SeenCell, ...], ...]
    refused: tuple[RefusedCell, ...]
    problems: tuple[RefusedCell, ...]
    ignored: tuple[str, ...]
    there: int
    seen: int


def preview(package: Package, schedule: Schedule, block: str, bare_in: System) -> Preview:
    """Look at a block; bare numbers whose head names no unit are in the system given."""
    reading = read_block(schedule, block)
    problems = tuple(cell for cell in reading.refused if cell.row == 0)
    beyond = tuple(cell for cell in reading.refused if cell.column == BEYOND)
    named = _heads_with_units(schedule, block)
    records = tuple(_kept(schedule, record, named, bare_in) for record in reading.records)
    tables = package.records()
    there = tables.get(schedule.slug, [])
    held = _held(schedule, records, tables)
    by_cell = {(cell.row, cell.column): cell for cell in held.refused}
    rows = tuple(
        tuple(_seen(column, record, by_cell.get((n, column.label))) for column in schedule.columns)
        for n, record in enumerate(records, start=1)
    )
    last = last_change(package, schedule.slug)
    return Preview(
        heads=schedule.columns,
        records=records,
        rows=rows,
        refused=(*beyond, *held.refused),
        problems=problems,
        ignored=reading.ignored,
        there=len(there),
        seen=last.pk if last else 0,
    )


def _seen(column: Column, record: Mapping[str, str], refused: RefusedCell | None) -> SeenCell:
    why = f"Read “{refused.read}”. Expected {refused.expected}." if refused else ""
    return SeenCell(record.get(column.head, ""), column.is_number, why)


def _heads_with_units(schedule: Schedule, block: str) -> set[str]:
    """The heads of the block that name the unit of what stands under them."""
    try:
        first = next(iter(parse_block(block)), [])
    except Refused:
        return set()
    matched = match_heads(schedule, first)
    pairs = zip(first, matched, strict=True)
    return {match[0].head for cell, match in pairs if match and _NAMED_UNIT.fullmatch(cell)}


def _kept(
    schedule: Schedule, record: Mapping[str, str], named: set[str], bare_in: System
) -> dict[str, str]:
    plain = {head: text for head, text in record.items() if head in named}
    rest = {head: text for head, text in record.items() if head not in named}
    return {**plain, **kept_cells(schedule, rest, {}, bare_in)}


def _held(
    schedule: Schedule,
    records: Sequence[Mapping[str, str]],
    tables: Mapping[str, Sequence[Mapping[str, str]]],
) -> Reading:
    """Read the block beside the marks of the other schedules."""
    marks = {
        column.refers_to: [r.get("mark", "").strip() for r in tables.get(column.refers_to, [])]
        for column in schedule.columns
        if column.kind is Kind.REFERENCE and column.refers_to != schedule.slug
    }
    return read_records(schedule, records, marks=marks)
