"""What changed from one letter to the next: rows of schedules, sheets, words, and findings."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from criteria.own_words import column_in
from criteria.schedules import CASES, LEADER_SCHEDULES, SCHEDULES, STATES
from criteria.typed.rows import Schedule
from criteria.units import Notation, System
from reviews import access
from reviews.access import Viewer
from reviews.deeds.record_typed import figure_text
from reviews.models import Revision
from reviews.pages.check_page import CheckLine, check_line
from reviews.pages.what_changed import SheetChange
from reviews.reading.package_checking import issued_sheet

Record = Mapping[str, str]


@dataclass(frozen=True)
class CellChange:
    """One cell of a row that both revisions have."""

    label: str
    before: str
    after: str


@dataclass(frozen=True)
class RowChange:
    """A row that was added, left out or changed."""

    what: str
    mark: str
    cells: tuple[CellChange, ...] = ()


@dataclass(frozen=True)
class ScheduleChange:
    """The rows of one schedule that changed."""

    schedule: Schedule
    rows: tuple[RowChange, ...]


@dataclass(frozen=True)
class FindingChange:
    """A check that moved: from, to."""

    before: CheckLine | None
    after: CheckLine


@dataclass(frozen=True)
class RevisionTable:
    """What changed since the letter before."""

    before: Revision
    schedules: tuple[ScheduleChange, ...]
    sheets: tuple[SheetChange, ...]
    findings: tuple[FindingChange, ...]
    is_statement_changed: bool
    targets: tuple[str, ...]

    @property
    def is_empty(self) -> bool:
        """Whether nothing changed at all."""
        changed = (self.schedules, self.sheets, self.findings, self.targets)
        return not (any(changed) or self.is_statement_changed)


def earlier_revisions(revision: Revision, viewer: Viewer) -> list[Revision]:
    """Revisions of the same scheme before one that a viewer may see, the last first."""
    seen = access.revisions(viewer).filter(scheme=revision.scheme_id, pk__lt=revision.pk)
    return list(seen.select_related("scheme__studio", "crit").order_by("-pk"))


def revision_table(
    before: Revision, after: Revision, system: System, sheets: Iterable[SheetChange]
) -> RevisionTable:
    """Set two revisions of a scheme side by side."""
    old, new = before.contents, after.contents
    by = before.notation.read_in(system), after.notation.read_in(system)
    schedules = []
    for schedule in (*SCHEDULES, STATES, CASES):
        was, now = (_records(each, schedule) for each in (old, new))
        if rows := _rows_changed(schedule, was, now, by):
            schedules.append(ScheduleChange(schedule, tuple(rows)))
    return RevisionTable(
        before=before,
        schedules=tuple(schedules),
        sheets=tuple(each for each in sheets if each.is_changed),
        findings=tuple(findings_changed(before, after, system)),
        is_statement_changed=old["statement"] != new["statement"],
        targets=tuple(_targets_changed(old["targets"], new["targets"])),
    )


def _records(contents: Mapping[str, Any], schedule: Schedule) -> Sequence[Record]:
    """Rows of a schedule as they were issued; states and people cases are the brief's."""
    held = contents if schedule in LEADER_SCHEDULES else contents["schedules"]
    records: Sequence[Record] = held.get(schedule.slug, [])
    return records


def _keyed(schedule: Schedule, records: Sequence[Record]) -> dict[str, Record]:
    """Rows by their mark, or by their place where they have none or share one."""
    keyed: dict[str, Record] = {}
    for place, record in enumerate(records, start=1):
        mark = schedule.name_of(record)
        keyed[mark if mark and mark not in keyed else f"row {place}"] = record
    return keyed


def _rows_changed(
    schedule: Schedule,
    old: Sequence[Record],
    new: Sequence[Record],
    by: tuple[Notation, Notation],
) -> list[RowChange]:
    was, now = _keyed(schedule, old), _keyed(schedule, new)
    changed = []
    for mark, record in now.items():
        if mark not in was:
            changed.append(RowChange("added", mark))
        elif cells := tuple(_cells_changed(schedule, was[mark], record, by)):
            changed.append(RowChange("changed", mark, cells))
    changed += [RowChange("left out", mark) for mark in was if mark not in now]
    return changed


def _cells_changed(
    schedule: Schedule, old: Record, new: Record, by: tuple[Notation, Notation]
) -> Iterable[CellChange]:
    for column in schedule.columns:
        before, after = old.get(column.head, ""), new.get(column.head, "")
        if before != after:
            kept = before, after
            shown = [figure_text(column, *each) for each in zip(kept, by, strict=True)]
            if shown[0] == shown[1]:  # what differs shows that it does
                shown = list(kept)
            yield CellChange(column_in(column, by[1].system).label, *shown)


def findings_changed(before: Revision, after: Revision, system: System) -> Iterable[FindingChange]:
    """The targets whose figure, state or limit moved from one revision to a later one."""
    was = {f.ref: f for f in issued_sheet(before).asked}
    for finding in issued_sheet(after).asked:
        line, old = check_line(finding, system), was.get(finding.ref)
        old_line = check_line(old, system) if old else None
        if old_line is None or _said(old_line) != _said(line):
            yield FindingChange(old_line, line)


def _said(line: CheckLine) -> tuple[object, ...]:
    decided = line.finding.situation
    return line.state, line.value_text, line.target_text, decided


def _targets_changed(old: Sequence[Record], new: Sequence[Record]) -> Iterable[str]:
    was = {target.get("id", ""): target for target in old}
    for target in new:
        ref = target.get("id", "")
        if was.get(ref) != target:
            words = " ".join(filter(None, (target.get(h) for h in ("rule", "value", "unit"))))
            yield f"{ref} {target.get('what', '')}: {words}, by {target.get('asked_by', '')}"
