"""Bring the climate and the targets of a brief in from tables, and targets from published sets."""

from __future__ import annotations

from calendar import month_name
from collections.abc import Iterator
from dataclasses import replace
from operator import itemgetter

from django.db import transaction

from criteria.schedules import CLIMATE
from criteria.schedules.site import MONTHS
from criteria.targets.reading import TARGETS, targets_in
from criteria.targets.sets import PublishedSet, typed_targets
from criteria.typed.tables import Reading, RefusedCell, write_csv
from criteria.units import System
from reviews.deeds.brief_writing import (
    MONTHLY,
    TARGET_LIST,
    full_cells,
    hold,
    keep_climate,
    keep_targets,
    with_own_unit,
)
from reviews.deeds.record_changes import last_seen
from reviews.deeds.record_typed import brought_back, taken_cells
from reviews.deeds.table_bringing import (
    THE_SAME,
    Preview,
    Record,
    clean,
    folded,
    line_by_line,
    read_table,
    synonyms,
)
from reviews.models import Brief, Person

MONTH_WORDS = {folded(month): month[:3] for month in (*month_name[1:], *MONTHS)}
"""What else months are called, folded, and the month that each means."""

_HEADS = synonyms(
    {"id": "ref reference mark t", "what": "target", "not_over": "notover upto", "unit": "units"}
)
_WORDS = synonyms({"at least": "min atleast", "at most": "max atmost"})


def _news(before: Record | None, after: Record, new: str) -> str:
    return new if before is None else THE_SAME if before == after else "differs"


def taken_out(brief: Brief, part: str, system: System) -> str:
    """Write the climate or the targets as a CSV that comes back in either system as it is kept."""
    if part == MONTHLY.slug:
        notation = brief.notation.read_in(system)
        in_force = brief.leader_tables()[CLIMATE.slug]
        months = (taken_cells(CLIMATE, month, notation) for month in in_force)
        return write_csv(CLIMATE, months, system)
    lines = (full_cells(line) for line in brief.target_records())
    return write_csv(TARGETS, (with_own_unit(line, System.METRIC) for line in lines))


def read_climate(brief: Brief, typed: str, system: System = System.METRIC) -> Preview:
    """Read a table of months and say what each line would do. Nothing is kept."""
    met: set[str] = set()

    def check(number: int, record: Record) -> list[RefusedCell]:
        month = record["month"]
        if month in met:
            expected = "a month that no line above has"
            return [RefusedCell(number, "", CLIMATE.column("month").label, month, expected)]
        met.add(month)
        return []

    notation = brief.notation.read_in(system)
    preview = read_table(CLIMATE, typed, notation, words=MONTH_WORDS, check=line_by_line(check))
    records = brought_back(CLIMATE, preview.records, brief.climate, notation, itemgetter("month"))
    preview = replace(preview, records=records)
    there = {record["month"]: record for record in brief.climate}
    filled = [{head: cell for head, cell in r.items() if cell} for r in preview.records]
    news = tuple(
        _news(there.get(record.get("month", "")), record, "new month") for record in filled
    )
    return replace(preview, news=news, seen=last_seen(brief, MONTHLY.slug))


@transaction.atomic
def bring_in_climate(
    brief: Brief,
    typed: str,
    by: Person,
    system: System = System.METRIC,
    *,
    seen: int | None = None,
) -> Preview:
    """Keep a table of months: those it names are replaced, others stay; twice is once.

    Raises Frozen, NotClean where a cell is refused, Newer where it was changed since it was seen.
    """
    held = hold(brief)
    preview = clean(read_climate(held, typed, system))
    keep_climate(held, preview.records, by, f"{len(preview.records)} months brought in", seen)
    return preview


def read_targets_table(brief: Brief, typed: str, system: System = System.METRIC) -> Preview:
    """Read a table of targets and say what each line would do. Nothing is kept."""
    notation = brief.notation.read_in(system)

    def check(reading: Reading) -> Iterator[RefusedCell]:
        known = set(reading.refused)
        return (cell for cell in targets_in(reading, notation).refused if cell not in known)

    preview = read_table(TARGETS, typed, notation, heads=_HEADS, words=_WORDS, check=check)
    there = {r.get("id", ""): full_cells(r) for r in brief.target_records()}

    def as_kept(record: Record) -> Record:
        kept = there.get(record["id"], {})
        if kept and full_cells(record) == with_own_unit(kept, System.METRIC):
            return kept
        return record if system is System.METRIC else with_own_unit(record, system)

    preview = replace(preview, records=tuple(map(as_kept, preview.records)))
    news = (_news(there.get(r["id"]), full_cells(r), "new target") for r in preview.records)
    return replace(preview, news=tuple(news), seen=last_seen(brief, TARGET_LIST.slug))


@transaction.atomic
def bring_in_targets(
    brief: Brief,
    typed: str,
    by: Person,
    system: System = System.METRIC,
    *,
    seen: int | None = None,
) -> Preview:
    """Keep a table of targets: known references are changed, others added; twice is once.

    Raises Frozen, NotClean where a cell is refused, Newer where it was changed since it was seen.
    """
    held = hold(brief)
    preview = clean(read_targets_table(held, typed, system))
    keep_targets(held, preview.records, by, f"{len(preview.records)} targets brought in", seen)
    return preview


@transaction.atomic
def add_set(brief: Brief, chosen: PublishedSet, by: Person, system: System = System.METRIC) -> int:
    """Add the targets of a published set that aren't there yet, and return how many. Frozen."""
    held = hold(brief)
    there = {record.get("id") for record in held.target_records()}
    new = [cells for cells in typed_targets(chosen, system) if cells["id"] not in there]
    keep_targets(held, new, by, f"{len(new)} targets added from {chosen.title}")
    return len(new)
