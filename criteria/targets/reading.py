"""Targets: the measurable lines of a brief, read from a table or taken from a published set."""

import re
from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, replace
from typing import cast

from criteria.checks.catalogue import CHECKS
from criteria.checks.check import Check
from criteria.errors import Refused
from criteria.findings import Rule
from criteria.schedules.rooms import LIVED_IN, USES
from criteria.targets.words import meaning_of
from criteria.typed import quantities
from criteria.typed.columns import mark, text, word
from criteria.typed.rows import Row, Schedule, schedule
from criteria.typed.tables import Reading, RefusedCell, read_records
from criteria.units import PLAIN, Notation, Scale

WHOLE = "whole"
ALL_LIVED_IN = "lived-in"


@schedule(
    "targets",
    "Targets",
    mark_prefix="T",
    purpose="Each measurable line of the brief: which check, for which rooms, at least or at "
    "most what.",
)
class TargetRow(Row):
    """One target as it is typed; `read_target` gives it meaning."""

    id: str = mark("id").says("Reference by which jurors and students call it.")
    what: str | None = text("what", eg="Day room daylight").says("The target in words.")
    check: str | None = word("check", CHECKS, eg="daylight_ratio").says(
        "Which check answers it; left blank, the words are read.", blank=None
    )
    rooms: str | None = text("rooms", longest=80, eg="day").says(
        "Uses of the rooms it is for, parted by spaces; lived-in, or blank for the check's own."
    )
    rule: str = word("rule", Rule, required=True, eg="at least").says("Which side is asked for.")
    value: str | None = text("value", required=True, longest=40, eg="12").says(
        "With a unit if it isn't the usual one; two figures are written 4 / 1."
    )
    unit: str | None = text("unit", longest=20, eg="%").says("Unit of a bare value.")
    not_over: str | None = text("not_over", longest=40, eg="22").says(
        "An upper bound that goes with an at-least target."
    )
    note: str | None = text("note", longest=400).says("What to know when reading it.")
    in_case: str | None = text("case", "In case", longest=12, eg="weekend").says(
        "The people case that it is asked for; blank is every case that targets are held to."
    )


TARGETS: Schedule = TargetRow.schedule


@dataclass(frozen=True, kw_only=True)
class Target:
    """One measurable line.

    ref         its reference, "T01"
    check       the check that answers it; None where no check does
    rule        at least, at most, or all
    values      the figure or figures asked for [SI]
    not_over    upper bound beside an at-least figure [SI]
    uses        uses of rooms it is for; () is the check's own
    in_case     the people case that it is asked for; "" is every one that is held
    unread      the cell for which it can't be read, where it can't: it is then No data
    asked_by    the brief, an addendum, or a published set with its clause
    """

    ref: str
    words: str
    check: Check | None
    rule: Rule
    values: tuple[float, ...] = ()
    not_over: float | None = None
    uses: tuple[str, ...] = ()
    asked_by: str = "the brief"
    note: str = ""
    in_case: str = ""
    unread: str = ""

    def asked(self, by: str) -> "Target":
        """Return the same target with where it comes from."""
        return replace(self, asked_by=by)


class RefusedTarget(Refused):
    """A cell of a target that can't be read, with the label of its column."""

    def __init__(self, column: str, read: str, expected: str) -> None:
        super().__init__(read, expected)
        self.column = column


@contextmanager
def _in(column: str) -> Iterator[None]:
    try:
        yield
    except Refused as refusal:
        raise RefusedTarget(column, refusal.read, refusal.expected) from None


def read_uses(typed: str) -> tuple[str, ...]:
    """Read uses of rooms parted by spaces or commas. Raises Refused for an unknown one."""
    uses: list[str] = []
    for name in re.split(r"[\s,;+]+", typed.strip().casefold()):
        if name in ("", WHOLE, "all"):
            continue
        if name == ALL_LIVED_IN:
            uses += LIVED_IN
        elif name in USES:
            uses.append(name)
        else:
            raise Refused(name, f"uses of rooms among: {', '.join((ALL_LIVED_IN, *USES))}")
    return tuple(dict.fromkeys(uses))


def _figure(typed: str, unit: str, scale: Scale, notation: Notation) -> float:
    bare = quantities.is_bare(typed)
    known = unit and unit not in ("no.", "ratio", "yes", scale.unit(notation.system).symbol)
    text = f"{typed} {unit}" if bare and known else typed
    return float(quantities.read(text, scale, notation).si)


_BY_TITLE = {check.title.casefold(): check for check in CHECKS.values()}
"""A target that is worded as a check's own title means that check."""


def check_of(named: str, words: str) -> Check | None:
    """Return the check that a target names, or else the one that its words mean."""
    slug = named or meaning_of(words).check
    return CHECKS.get(slug) or _BY_TITLE.get(words.strip().casefold())


def read_target(row: TargetRow, notation: Notation = PLAIN) -> Target:
    """Give a target row its meaning.

    Raises RefusedTarget where a cell can't be read as what its check asks for.
    """
    words = row.what or ""
    read = meaning_of(words, row.note or "")
    check = check_of(row.check or "", words)
    with _in("Rooms"):
        uses = read_uses(row.rooms) if row.rooms else read.uses
    rule = Rule(row.rule or Rule.AT_LEAST)
    words = words or (check.title if check else "")
    uses = uses if check and check.takes_rooms else ()
    base = Target(ref=row.id, words=words, check=check, rule=rule, uses=uses, note=row.note or "")
    if check is None:
        return base
    if row.in_case and not check.by_people:
        raise RefusedTarget("In case", row.in_case, f"a blank: {check.title.lower()} is for all")
    base = replace(base, in_case=row.in_case or "")
    if rule is Rule.ALL or check.rule is Rule.ALL:
        return replace(base, rule=Rule.ALL, values=_none_outside(check, rule, row.value or ""))
    unit = (row.unit or "").replace("m2", "m²").replace("m3", "m³")
    with _in("Value"):
        values = _figures(check, row.value or "", unit, notation)
    upper = row.not_over or (read.not_over if rule is Rule.AT_LEAST else "")
    if not upper:
        return replace(base, values=values)
    with _in("Not over" if row.not_over else "Note"):
        if rule is not Rule.AT_LEAST:
            raise Refused(upper, f"a blank beside “{rule}”")
        not_over = _figure(upper, unit, check.scales[0], notation)
        if not_over < values[0]:
            raise Refused(upper, f"an upper bound over the target, {row.value}")
    return replace(base, values=values, not_over=not_over)


def _figures(check: Check, typed: str, unit: str, notation: Notation) -> tuple[float, ...]:
    parts = [part.strip() for part in typed.split(" / ")]
    if len(parts) != len(check.scales):
        names = " / ".join(check.part_names)
        several = f"{len(check.scales)} figures, {names}, written 4 / 1"
        raise Refused(typed, several if len(check.scales) > 1 else "one figure")
    pairs = zip(parts, check.scales, strict=True)
    return tuple(_figure(part, unit, scale, notation) for part, scale in pairs)


def _none_outside(check: Check, rule: Rule, typed: str) -> tuple[float, ...]:
    """Read "all … yes": none may be outside, which is a figure of 0."""
    if check.rule is not rule:
        raise RefusedTarget("Rule", str(rule), f"the rule “{check.rule}” for {check.title.lower()}")
    if typed.strip().casefold() not in ("yes", "all"):
        raise RefusedTarget("Value", typed, "yes")
    return (0.0,)


@dataclass(frozen=True)
class TargetsReading:
    """Targets read of a table, and what was refused."""

    targets: tuple[Target, ...]
    refused: tuple[RefusedCell, ...]


def read_targets(
    records: Iterable[Mapping[str, str]], notation: Notation = PLAIN
) -> TargetsReading:
    """Read a table of targets, each cell that can't be read named by row and column."""
    return targets_in(read_records(TARGETS, records, notation), notation)


def targets_in(reading: Reading, notation: Notation = PLAIN) -> TargetsReading:
    """Give the rows that were read of a table of targets their meaning."""
    first = {cell.row: cell for cell in reversed(reading.refused)}
    targets, refused = [], list(reading.refused)
    for number, (record, row) in enumerate(
        zip(reading.records, reading.rows, strict=True), start=1
    ):
        cell = first.get(number)
        if cell is None:
            try:
                targets.append(read_target(cast(TargetRow, row), notation))
                continue
            except RefusedTarget as refusal:
                mark = record.get("id", "").strip()
                cell = RefusedCell(number, mark, refusal.column, refusal.read, refusal.expected)
                refused.append(cell)
        targets.append(_unread(record, cell))
    return TargetsReading(tuple(targets), tuple(refused))


def _unread(record: Mapping[str, str], cell: RefusedCell) -> Target:
    """Keep the place of a target that can't be read: what it asks isn't known, nor met."""
    ref = record.get("id", "").strip() or f"row {cell.row}"
    words = record.get("what", "").strip() or f"Target in row {cell.row}"
    said = f"{cell.column} (targets): read “{cell.read}”; expected {cell.expected}"
    return Target(ref=ref, words=words, check=None, rule=Rule.AT_LEAST, unread=said)
