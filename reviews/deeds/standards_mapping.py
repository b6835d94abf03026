"""Keep a studio's map from criteria to published standards: begun, edited, brought in, undone."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from typing import Any

from django.db import transaction

from criteria.typed.columns import text
from criteria.typed.csv_cells import csv_of
from criteria.typed.rows import Row, Schedule, schedule
from criteria.typed.tables import RefusedCell
from reviews.deeds.record_changes import Part, keep, last_seen, logged
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
from reviews.models import MappedStandard, Person, Studio
from reviews.reading.standards_map import codes_of
from reviews.reading.standards_start import CHECK, START

PARTS = ("body", "edition", "code", "title", "criteria", "note")
Line = dict[str, Any]


@schedule("standards", "Standards", purpose="Which published standards the criteria meet.")
class StandardRow(Row):
    """One line of a published standard."""

    body: str | None = text("body", "Whose", required=True, longest=60, eg="NAAB")
    edition: str | None = text("edition", required=True, longest=40, eg="2020").says(
        "The edition that was read: standards change from one to the next."
    )
    code: str | None = text("code", longest=24, eg="SC.6")
    named: str | None = text("title", required=True, longest=160, eg="Building integration").says(
        "So that it can be found there: not its words."
    )
    criteria: str | None = text("criteria", longest=120, eg="F2 F4 K1").says(
        "Codes of the criteria that meet it, with a space between; blank meets nothing yet."
    )
    note: str | None = text("note", longest=240, eg="checked 3 Mar 2027")


STANDARDS_TABLE: Schedule = StandardRow.schedule
_HEADS = synonyms(
    {"body": "board whose organisation", "criteria": "criterion ours meets", "code": "no number"}
)


def lines_of(studio: Studio) -> list[Line]:
    """A studio's map as it is compared and kept."""
    return [{name: getattr(each, name) for name in PARTS} for each in studio.standards.all()]


def _write(held: Studio, lines: list[Line]) -> None:
    held.standards.all().delete()
    MappedStandard.objects.bulk_create(
        MappedStandard(studio=held, position=n, **line) for n, line in enumerate(lines)
    )


STANDARDS = Part(
    "standards",
    "map of standards",
    lambda studio: Studio.objects.select_for_update().get(pk=studio.pk),
    lines_of,
    _write,
)


def keep_standards(studio: Studio, lines: list[Line], seen: int, by: Person) -> None:
    """Keep the whole map, in the order given. Raises Newer where it isn't as it was seen."""
    keep(studio, STANDARDS, lines, seen, by)


@transaction.atomic
def start_standards(studio: Studio, by: Person) -> int:
    """Lay the list to start from on a studio that has no map; return how many lines.

    Only codes that stand on a criteria sheet of the studio are taken over.
    """
    held = STANDARDS.hold(studio)
    if held.standards.exists():
        return 0
    known = set(held.crits.values_list("criteria__code", flat=True))
    lines = []
    for line in START:
        met = " ".join(code for code in codes_of(line.criteria) if code in known)
        lines.append({**line._asdict(), "criteria": met, "note": CHECK})
    with logged(held, STANDARDS, by, f"Begun with {len(lines)} standards"):
        _write(held, lines)
    return len(lines)


def _kept(record: Record) -> Line:
    line = {name: record[name].strip() for name in PARTS}
    return line | {"criteria": " ".join(codes_of(line["criteria"]))}


def _key(line: Line) -> tuple[str, ...]:
    """By what a standard is told from others: whose, which edition, code or else title."""
    return folded(line["body"]), folded(line["edition"]), folded(line["code"] or line["title"])


def read_standards(studio: Studio, typed: str) -> Preview:
    """Read a table and say what each line would do. Nothing is kept."""
    above: set[tuple[str, ...]] = set()

    def check(number: int, record: Record) -> list[RefusedCell]:
        line = _kept(record)
        twice = _key(line) in above
        above.add(_key(line))
        expected = "a standard that no line above has"
        return [RefusedCell(number, "", "Title", line["title"], expected)] if twice else []

    preview = read_table(STANDARDS_TABLE, typed, heads=_HEADS, check=line_by_line(check))
    here = {_key(line): line for line in lines_of(studio)}
    news = tuple(_news(_kept(record), here) for record in preview.records)
    return replace(preview, news=news, seen=last_seen(studio, STANDARDS.slug))


def _news(line: Line, here: dict[tuple[str, ...], Line]) -> str:
    stands = here.get(_key(line))
    if stands is None:
        return "new standard"
    changed = [name for name in PARTS if stands[name] != line[name]]
    return f"changes {' and '.join(changed)}" if changed else THE_SAME


@transaction.atomic
def bring_in_standards(studio: Studio, typed: str, by: Person, *, seen: int | None) -> Preview:
    """Keep a table: new standards below, known ones changed; the same twice is once.

    Raises NotClean where a cell is refused, Newer where the map was changed since it was seen.
    """
    held = STANDARDS.hold(studio)
    preview = clean(read_standards(held, typed))
    lines = {_key(line): line for line in lines_of(held)}
    lines |= {_key(line): line for line in map(_kept, preview.records)}
    with logged(held, STANDARDS, by, preview.change, seen=seen):
        _write(held, list(lines.values()))
    return preview


def standards_csv(lines: Iterable[Line]) -> str:
    """A map as CSV, which comes in again."""
    return csv_of([list(PARTS), *([line[name] for name in PARTS] for line in lines)])
