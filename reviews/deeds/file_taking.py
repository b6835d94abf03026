"""Take over what a file proposes: what somebody ticked, a change a schedule, all or nothing."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from datetime import datetime
from functools import partial
from typing import Any, NamedTuple
from uuid import uuid5

from django.db import transaction

from criteria.schedules import BY_SLUG, marks_in
from criteria.typed.rows import Schedule
from reviews import clock
from reviews.deeds.package_keeping import as_cells, as_was, hold, require_room, undo
from reviews.deeds.record_changes import change_words
from reviews.deeds.record_versions import version_of
from reviews.exchange.known_again import Standing
from reviews.exchange.merging import Merged, MergedRow, News, merged
from reviews.exchange.proposed import ProposedCell
from reviews.models import BroughtFile, Change, Package, Person, Row
from reviews.reading.package_checking import tables_of
from reviews.versions import Newer

CellAt = tuple[int, str]


class Choices(NamedTuple):
    """What somebody ticked.

    rows    numbers of proposed rows that aren't here yet and shall be
    cells   number and head of each cell that is asked for by itself and taken over
    gone    keys of rows that the file no longer has and that shall go
    """

    rows: frozenset[int]
    cells: frozenset[CellAt]
    gone: frozenset[int]


class Otherwise(NamedTuple):
    """That a file was read with other answers since it was seen."""

    what: str = "the file was read with another answer"
    by: str = "somebody of the scheme"


def read_of(brought: BroughtFile) -> int:
    """The version of a proposal: another, where the file was read with other answers."""
    return version_of(brought.told)


def merged_with(package: Package, brought: BroughtFile) -> Merged:
    """What a file would change of a package as it stands."""
    there = (
        Standing(pk=row.pk, schedule=row.schedule, cells=row.cells, origin=row.origin)
        for row in package.rows.all()
    )
    rows, marks = brought.proposal.rows, marks_in(tables_of(package).holds)
    return merged(brought.kind, rows, there, package.notation, marks)


def last_change_of(package: Package) -> int:
    """The number of a package's last change that stands, 0 where there is none."""
    last = package.changes.filter(undone_at=None).values_list("pk", flat=True).first()
    return last or 0


@transaction.atomic
def take_over(
    brought: BroughtFile, choices: Choices, by: Person, *, seen: int, read: int
) -> list[Change]:
    """Keep what was ticked; a file that was taken over or set aside before changes nothing.

    seen   the package's last change that whoever ticks had seen
    read   the version of the proposal that they had seen: ticks name its rows by number

    Raises Newer where the package was changed or the file read otherwise since, Refused where a
    schedule would be too long.
    """
    package = hold(brought.package)
    held = BroughtFile.objects.select_for_update().get(pk=brought.pk)
    if held.ended_at:
        return []
    if seen != last_change_of(package):
        raise Newer(package.changes.filter(undone_at=None).first(), None)
    if read != read_of(held):
        raise Newer(Otherwise(), None)
    now = clock.now()
    together = merged_with(package, held)
    changes = [
        change
        for slug in dict.fromkeys(
            [row.schedule.slug for row in together.rows] + [row.schedule for row in together.gone]
        )
        if (change := _Taking(package, held, together, choices, by, now).of(BY_SLUG[slug]))
    ]
    _end(held, now, [change.pk for change in changes])
    return changes


@transaction.atomic
def set_aside(brought: BroughtFile) -> None:
    """Say that nothing of a file is taken over; its proposal and its bytes go."""
    held = BroughtFile.objects.select_for_update().get(pk=brought.pk)
    if not held.ended_at:
        _end(held, clock.now(), [])


@transaction.atomic
def undo_taking(brought: BroughtFile, by: Person) -> None:
    """Take back all that a file brought in. Raises Newer where a schedule of it was changed since,
    of which nothing is then taken back, and Change.DoesNotExist where there is nothing."""
    package = hold(brought.package)
    held = BroughtFile.objects.select_for_update().get(pk=brought.pk)
    if not held.changes:
        raise Change.DoesNotExist
    for change in Change.objects.filter(pk__in=held.changes, package=package, undone_at=None):
        undo(package, change.schedule, change.pk, by)


def _end(held: BroughtFile, at: datetime, changes: list[int]) -> None:
    held.ended_at, held.changes = at, changes
    if held.file:
        transaction.on_commit(partial(held.file.storage.delete, str(held.file)))
        held.file = ""
    held.save()


class _Taking:
    """One file taken over into one package, schedule by schedule."""

    def __init__(
        self,
        package: Package,
        brought: BroughtFile,
        together: Merged,
        choices: Choices,
        by: Person,
        at: datetime,
    ) -> None:
        self.package, self.brought, self.together = package, brought, together
        self.choices, self.by, self.at = choices, by, at

    def of(self, schedule: Schedule) -> Change | None:
        """Take over what was ticked of a schedule; None where that changes nothing."""
        rows = [row for row in self.together.rows if row.schedule == schedule]
        there = {row.pk: row for row in self.package.rows.filter(schedule=schedule.slug)}
        gone = [there.pop(s.pk) for s in self.together.gone if self._goes(s, schedule)]
        new = [row for row in rows if row.is_new and row.number in self.choices.rows]
        require_room(schedule, len(there) + len(new))
        before, after = [as_was(row) for row in gone], []
        for row in rows:
            if row.standing and (kept := there.get(row.standing.pk)):
                was = as_was(kept)
                if self._is_changed(kept, row):
                    before.append(was)
                    after.append(kept)
        Row.objects.filter(pk__in=[row.pk for row in gone]).delete()
        Row.objects.bulk_update(after, ["cells", "origin", "version", "changed_by", "changed_at"])
        last = max((row.position for row in there.values()), default=-1)
        rows_made = [self._row(row, place) for place, row in enumerate(new, start=last + 1)]
        made = Row.objects.bulk_create(row for row in rows_made if row.cells)
        if not (before or made):
            return None
        return Change.objects.create(
            package=self.package,
            schedule=schedule.slug,
            what=change_words(self._words(len(made), len(after), len(gone))),
            before=before,
            after=[as_was(row) for row in (*after, *made)],
            by=self.by,
            at=self.at,
            key=uuid5(self.brought.key, schedule.slug),
        )

    def _goes(self, standing: Standing, schedule: Schedule) -> bool:
        return standing.schedule == schedule.slug and standing.pk in self.choices.gone

    def _words(self, made: int, changed: int, gone: int) -> str:
        counts = ((made, "new"), (changed, "looked at again"), (gone, "removed"))
        said = ", ".join(f"{n} {word}" for n, word in counts if n)
        return f"{said}, from {self.brought.name}"

    def _is_changed(self, kept: Row, row: MergedRow) -> bool:
        """Write what was ticked into a row that is here, and what the file had of it."""
        taken = {
            cell.column.head: cell.proposed.text
            for cell in row.cells
            if cell.news is not News.SAME and (row.number, cell.column.head) in self.choices.cells
        }
        cells = as_cells(row.schedule, {**kept.cells, **taken})
        origin = self._origin(row, kept.origin, taken)
        if cells == kept.cells and origin == kept.origin:
            return False
        kept.cells, kept.origin, kept.version = cells, origin, kept.version + 1
        kept.changed_by, kept.changed_at = self.by, self.at
        return True

    def _row(self, row: MergedRow, position: int) -> Row:
        taken = {
            cell.column.head: cell.proposed.text
            for cell in row.cells
            if cell.is_proposed_ticked or (row.number, cell.column.head) in self.choices.cells
        }
        return Row(
            package=self.package,
            schedule=row.schedule.slug,
            position=position,
            cells=as_cells(row.schedule, taken),
            origin=self._origin(row, {}, taken),
            changed_by=self.by,
            changed_at=self.at,
        )

    def _origin(
        self, row: MergedRow, before: Mapping[str, Any], taken: Collection[str]
    ) -> dict[str, Any]:
        """What brought a row in, what the file has of each cell, and where those taken are from."""
        kind, proposed = self.brought.kind, row.proposed
        cells = {c.column.head: self._from(c.proposed) for c in row.cells if c.column.head in taken}
        texts = {cell.column.head: cell.proposed.text for cell in row.cells}
        last: Mapping[str, Any] = before.get("last", {})
        origin = {
            **before,
            "cells": {**before.get("cells", {}), **cells},
            "last": {**last, kind: {**last.get(kind, {}), **texts}},
        }
        if proposed.source:
            shape = [list(corner) for corner in proposed.shape]
            known = {"source": proposed.source, "floor": proposed.floor, "shape": shape}
            origin |= {"kind": kind, **known}
        return origin

    def _from(self, proposed: ProposedCell) -> dict[str, str]:
        """Where a cell comes from."""
        told = {"text": proposed.text, "how": proposed.how.value, "place": proposed.place}
        told |= {"beside": proposed.beside} if proposed.beside else {}
        return told | {
            "at": self.at.isoformat(),
            "key": str(self.brought.key),
            "of": self.brought.kind,
        }
