"""Keep what students type: each save by the version it saw, each change so that it can be undone.

Every deed here holds the package until it is done, so that two people at one package take turns.
A key, made by the device, marks a save: sent again, it changes nothing.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from datetime import datetime
from typing import Any
from uuid import UUID

from django.db import transaction

from criteria.errors import Refused
from criteria.schedules import BY_SLUG, marks_known
from criteria.typed.rows import Schedule
from criteria.typed.tables import MOST_ROWS
from criteria.units import System
from reviews import clock
from reviews.deeds import record_changes
from reviews.deeds.record_changes import change_words
from reviews.deeds.record_typed import brought_back
from reviews.deeds.table_bringing import Preview, read_table
from reviews.models import Change, Package, Person, Row
from reviews.reading.package_checking import tables_of
from reviews.versions import Newer, is_new

Cells = dict[str, str]

_MOST_LOOKED_AT = 200
"""Changes looked through for who removed a row."""


def hold(package: Package) -> Package:
    """Return the package, held until the transaction ends."""
    return Package.objects.select_for_update().get(pk=package.pk)


def removal_of(package: Package, slug: str, row_id: int) -> Change | None:
    """Return the change that took a row away, where one did."""
    changes = Change.objects.filter(package=package, schedule=slug).select_related("by")
    for change in changes[:_MOST_LOOKED_AT]:
        ids = {record["id"] for record in (change.after if change.undone_at else change.before)}
        if row_id in ids:
            return change
    return None


def as_cells(schedule: Schedule, typed: Mapping[str, str | None]) -> Cells:
    """Return typed text as it is kept: the schedule's own heads, blanks left out."""
    cells = {}
    for head in schedule.heads:
        text = str(typed.get(head) or "").replace("\x00", "")
        if text.strip():
            cells[head] = text
    return cells


@transaction.atomic
def add_row(
    package: Package,
    slug: str,
    typed: Mapping[str, str],
    by: Person,
    *,
    key: UUID | None = None,
    at: datetime | None = None,
) -> Row | None:
    """Add a row at the end; sent again with its key it is the row that was added, if it stands.

    Raises Newer where a sheet of one row has its row by now, Refused where there are too many.
    """
    held = hold(package)
    schedule = BY_SLUG[slug]
    cells = as_cells(schedule, typed)
    if change := _done(held, key):
        if change.after[0]["cells"] == cells:
            return Row.objects.filter(package=held, pk=change.after[0]["id"]).first()
        key = None  # another row, typed into a page that was gone back to
    rows = list(Row.objects.filter(package=held, schedule=slug))
    if schedule.is_single and rows:
        raise Newer(rows[0], cells)
    require_room(schedule, len(rows) + 1)
    row = Row(package=held, schedule=slug, position=_end(rows), cells=cells)
    row.changed_by, row.changed_at = by, at or clock.now()
    row.save()
    _log(row, f"{named(row)} added", [], [as_was(row)], key)
    return row


@transaction.atomic
def save_row(
    package: Package,
    row_id: int,
    typed: Mapping[str, str],
    seen: int,
    by: Person,
    *,
    key: UUID | None = None,
    at: datetime | None = None,
) -> Row | None:
    """Keep what was typed into some cells of a row; the others stay as they are.

    Raises Newer where the row was changed, or removed (kept is then None), since it was seen.
    A save that was done before and is sent again returns the row as it stands, if it does.
    """
    held = hold(package)
    row = held.rows.filter(pk=row_id).first()
    if _done(held, key):
        return row
    if row is None:
        raise Newer(None, dict(typed))
    schedule = BY_SLUG[row.schedule]
    cells = as_cells(schedule, {**row.cells, **typed})
    if not is_new(row, as_cells(schedule, row.cells), cells, stands_at=row.version, seen=seen):
        return row
    before, what = as_was(row), what_changed(schedule, row, cells)
    row.cells, row.version = cells, row.version + 1
    row.changed_by, row.changed_at = by, at or clock.now()
    row.save()
    _log(row, what, [before], [as_was(row)], key)
    return row


@transaction.atomic
def remove_row(
    package: Package,
    row_id: int,
    seen: int,
    by: Person,
    *,
    at: datetime | None = None,
) -> Row | None:
    """Take a row off its schedule; one that is gone already needs nothing.

    Raises Newer where the row was changed since it was seen.
    """
    held = hold(package)
    row = Row.objects.select_related("changed_by").filter(package=held, pk=row_id).first()
    if row is None:
        return row
    if row.version != seen:
        raise Newer(row, None)
    before = as_was(row)
    row.changed_by, row.changed_at = by, at or clock.now()
    _log(row, f"{named(row)} removed", [before], [])
    row.delete()
    return None


def read_rows(package: Package, schedule: Schedule, typed: str, system: System) -> Preview:
    """Read a table of rows beside the marks of the other schedules. Nothing is kept."""
    tables = tables_of(package).holds
    marks = {s: m for s, m in marks_known(schedule, tables).items() if s != schedule.slug}
    notation, there = package.notation.read_in(system), tables.get(schedule.slug, [])
    preview = read_table(schedule, typed, notation, marks=marks)
    return replace(preview, records=brought_back(schedule, preview.records, there, notation))


@transaction.atomic
def bring_in(
    package: Package,
    slug: str,
    records: Iterable[Mapping[str, str]],
    by: Person,
    *,
    is_replacing: bool = False,
    seen: int | None = None,
    key: UUID | None = None,
    at: datetime | None = None,
    what: str = "",
) -> Change | None:
    """Bring a whole block in as one change: behind the rows there are, or in their place.

    seen   the last change that whoever brings it in had seen (0: none); None asks no question
    what   what the change is called, where counting its rows says too little

    Raises Newer where the schedule was changed since, Refused where there are too many rows.
    """
    held = hold(package)
    if change := _done(held, key):
        return change
    record_changes.require_seen(held, slug, seen)
    schedule = BY_SLUG[slug]
    there = list(Row.objects.filter(package=held, schedule=slug))
    filled = [cells for record in records if (cells := as_cells(schedule, record))]
    is_replacing = is_replacing or schedule.is_single
    require_room(schedule, len(filled) + (0 if is_replacing else len(there)))
    if not filled and not (is_replacing and there):
        return None
    moment, first = at or clock.now(), 0 if is_replacing else _end(there)
    origins = {}
    if is_replacing:
        Row.objects.filter(package=held, schedule=slug).delete()
        origins = {_told_by(schedule, r.cells, n): r.origin for n, r in enumerate(there)}
    rows = Row.objects.bulk_create(
        Row(
            package=held,
            schedule=slug,
            position=place,
            cells=cells,
            origin=origins.get(_told_by(schedule, cells, place), {}),
            changed_by=by,
            changed_at=moment,
        )
        for place, cells in enumerate(filled, start=first)
    )
    before = [as_was(row) for row in there] if is_replacing else []
    counted = _counted(len(rows)) + (
        f" in place of {_counted(len(before))}" if before else " added"
    )
    return Change.objects.create(
        package=held,
        schedule=slug,
        what=change_words(what or counted),
        before=before,
        after=[as_was(row) for row in rows],
        by=by,
        at=moment,
        key=key,
    )


@transaction.atomic
def undo(
    package: Package, slug: str, change_id: int, by: Person, *, at: datetime | None = None
) -> Change:
    """Put back what stood before a schedule's last change.

    Raises Newer where a later change stands, Change.DoesNotExist where there is no such change.
    """
    held = hold(package)

    def put_back(change: Change, moment: datetime) -> None:
        _put_back(held, change, by, moment)

    return record_changes.undo(held, slug, change_id, put_back, at)


def _put_back(package: Package, change: Change, by: Person, at: datetime) -> None:
    was = {record["id"]: record for record in change.before}
    gone = [record["id"] for record in change.after if record["id"] not in was]
    Row.objects.filter(package=package, pk__in=gone).delete()
    standing = Row.objects.filter(package=package).in_bulk(list(was))
    back = []
    for pk, record in was.items():
        row = standing.get(pk) or Row(pk=pk, package=package, schedule=change.schedule)
        row.cells, row.position = record["cells"], record["position"]
        row.origin = record.get("origin", {})
        # higher than any version somebody may have on screen
        row.version = max(row.version, record["version"]) + 1
        row.changed_by, row.changed_at = by, at
        back.append(row)
    Row.objects.bulk_create([row for row in back if row.pk not in standing])
    fields = ["cells", "origin", "position", "version", "changed_by", "changed_at"]
    Row.objects.bulk_update([row for row in back if row.pk in standing], fields)


@transaction.atomic
def keep_statement(package: Package, text: str, seen: int) -> Package:
    """Keep the statement. Raises Newer where it was changed since it was seen."""
    held = hold(package)
    text = text.replace("\r\n", "\n").replace("\x00", "")
    if is_new(held, held.statement, text, stands_at=held.statement_version, seen=seen):
        held.statement = text
        held.statement_version += 1
        held.save(update_fields=["statement", "statement_version"])
    return held


def named(row: Row) -> str:
    """Say which row: its mark, or its place where it has none."""
    schedule = BY_SLUG[row.schedule]
    if schedule.is_single:
        return schedule.title
    return schedule.name_of(row.cells) or f"row {row.position + 1}"


def what_changed(schedule: Schedule, row: Row, cells: Cells) -> str:
    """Say what a save changes: the one cell and both its texts, or how many cells."""
    labels = {column.head: column.label for column in schedule.columns}
    return f"{named(row)}: {record_changes.cell_words(labels, row.cells, cells)}"


def as_was(row: Row) -> dict[str, Any]:
    """A row as a change remembers it."""
    told = {"id": row.pk, "position": row.position, "version": row.version, "cells": row.cells}
    return told | ({"origin": row.origin} if row.origin else {})


def _done(package: Package, key: UUID | None) -> Change | None:
    return Change.objects.filter(package=package, key=key).first() if key else None


def _log(
    row: Row, what: str, before: list[Any], after: list[Any], key: UUID | None = None
) -> Change:
    return Change.objects.create(
        package_id=row.package_id,
        schedule=row.schedule,
        what=change_words(what),
        before=before,
        after=after,
        by=row.changed_by,
        at=row.changed_at,
        key=key,
    )


def _told_by(schedule: Schedule, cells: Mapping[str, str], place: int) -> str | int:
    """What a row is known by in what takes its place: its marks, or where it stands."""
    return schedule.name_of(cells) if schedule.keys else place


def _end(rows: list[Row]) -> int:
    return max((row.position for row in rows), default=-1) + 1


def _counted(rows: int) -> str:
    return f"{rows:,} row" if rows == 1 else f"{rows:,} rows"


def require_room(schedule: Schedule, rows: int) -> None:
    """Raise Refused where a schedule would have more rows than it may."""
    most = 1 if schedule.is_single else MOST_ROWS
    if rows > most:
        raise Refused(_counted(rows), f"at most {_counted(most)} in the {schedule.title.lower()}")
