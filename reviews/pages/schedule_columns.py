"""Which columns a schedule shows first: those that the brief asks for, and what is filled."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import NamedTuple

from criteria.check_sheet.columns_read import columns_read
from criteria.checks.catalogue import CHECKS
from criteria.schedules import SCHEDULES
from criteria.schedules.by_state import StateRow
from criteria.typed.columns import Column
from criteria.typed.rows import Schedule


def _schedules_of(check: str) -> tuple[str, ...]:
    return CHECKS[check].schedules if check in CHECKS else ()


def asked_slugs(checks: Iterable[str]) -> set[str]:
    """The schedules that some checks read."""
    return {slug for check in checks for slug in _schedules_of(check)}


def beyond(schedule: Schedule, checks: Iterable[str], step: int) -> Schedule | None:
    """The schedule so many steps on, of those that a brief's checks read; of all where none do."""
    asked = asked_slugs(checks)
    way = [each for each in SCHEDULES if not asked or each.slug in asked or each == schedule]
    at = way.index(schedule) + step
    return way[at] if 0 <= at < len(way) else None


FEW = 8
"""A schedule of at most so many columns shows them all."""


class Tiers(NamedTuple):
    """The columns of a schedule: those that are shown, and those that are not.

    asked   what the brief's checks read, with what is filled; all where that is asked for
    more    the others
    """

    asked: tuple[Column, ...]
    more: tuple[Column, ...]


def tiers_of(
    schedule: Schedule, records: Sequence[Mapping[str, str]], checks: Iterable[str]
) -> Tiers:
    """Part the columns of a schedule by whether a brief's checks read them.

    A filled column is never hidden, nor one that may not be blank. A short schedule, one of rows
    by state, and one without rows that no check reads show all of theirs.
    """
    readers = [check for check in checks if schedule.slug in _schedules_of(check)]
    read = {head for each in readers for slug, head in columns_read(each) if slug == schedule.slug}
    columns = schedule.columns
    is_whole = issubclass(schedule.row, StateRow) or schedule.is_single or len(columns) <= FEW
    if is_whole or not (read or records):
        return Tiers(columns, ())

    def is_asked(column: Column) -> bool:
        is_filled = any(record.get(column.head, "").strip() for record in records)
        return column.is_key or column.required or column.head in read or is_filled

    asked = tuple(column for column in columns if is_asked(column))
    return Tiers(asked, tuple(column for column in columns if column not in asked))
