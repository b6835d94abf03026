"""Write a brief, issue it, and change it afterwards by numbered addenda."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from typing import Any

from django.db import transaction

from criteria.schedules import CLIMATE, SITE
from criteria.schedules.site import MONTHS
from criteria.targets.reading import TARGETS, RefusedTarget, Target, check_of, read_target
from criteria.targets.sets import PublishedSet, typed_targets
from criteria.typed import quantities
from criteria.typed.tables import RefusedCell
from criteria.units import Notation, System
from reviews.deeds.record_versions import is_change
from reviews.deeds.studio_roster import NotClean
from reviews.deeds.table_bringing import Preview, folded, read_table
from reviews.models import Addendum, Brief, HandInItem, Person, TargetLine
from reviews.versions import Newer

Cells = dict[str, str]
Item = tuple[str, str, str]
"""Kind, code and title of a thing to hand in."""


def _held(brief: Brief) -> Brief:
    """The brief, held until the transaction ends; raises Frozen where it is issued."""
    held = Brief.objects.select_for_update().get(pk=brief.pk)
    held.require_open()
    return held


# text and site sheet


_TEXT_PARTS = ("text", "statement_words", "decimal")


def text_parts(brief: Brief) -> dict[str, Any]:
    """The text of a brief, the length it asks of statements, and its decimal sign."""
    return {name: getattr(brief, name) for name in _TEXT_PARTS}


@transaction.atomic
def write_text(brief: Brief, parts: dict[str, Any], seen: int) -> None:
    """Keep the text and the length of statements. Raises Newer, Frozen."""
    held = _held(brief)
    if is_change(text_parts(held), parts, seen):
        for name in _TEXT_PARTS:
            setattr(held, name, parts[name])
        held.save(update_fields=_TEXT_PARTS)


def site_cells(brief: Brief) -> Cells:
    """The site sheet as first issued or in preparation, a cell for each column."""
    return {head: brief.site.get(head, "") for head in SITE.heads}


@transaction.atomic
def write_site(brief: Brief, cells: Cells, seen: int) -> None:
    """Keep the site sheet, cells as typed. Raises Newer, Frozen."""
    held = _held(brief)
    if is_change(site_cells(held), cells, seen):
        held.site = {head: cell for head, cell in cells.items() if cell}
        held.save(update_fields=["site"])


# climate

CLIMATE_FIGURES = CLIMATE.columns[1:]
"""What a month has: every column but its name."""


def climate_cells(brief: Brief) -> Cells:
    """The climate, a cell for each month and figure, named Jan-rain_mm."""
    months = {record["month"]: record for record in brief.climate}
    return {
        f"{month}-{column.head}": months.get(month, {}).get(column.head, "")
        for month in MONTHS
        for column in CLIMATE_FIGURES
    }


def _climate_records(cells: Mapping[str, str]) -> list[Cells]:
    """The months that have a figure, in the order of the year."""
    records: dict[str, Cells] = {}
    for name, cell in cells.items():
        month, _, head = name.partition("-")
        if cell:
            records.setdefault(month, {"month": month})[head] = cell
    return [records[month] for month in MONTHS if month in records]


@transaction.atomic
def write_climate(brief: Brief, cells: Cells, seen: int) -> None:
    """Keep the climate, cells as typed. Raises Newer, Frozen."""
    held = _held(brief)
    if is_change(climate_cells(held), cells, seen):
        held.climate = _climate_records(cells)
        held.save(update_fields=["climate"])


_LONG = ("January", "February", "March", "April", "May", "June", "July", "August", "September",
         "October", "November", "December")  # fmt: skip
_MONTH_WORDS = {
    folded(name): short for short, long in zip(MONTHS, _LONG, strict=True) for name in (short, long)
}


def read_climate_table(brief: Brief, typed: str) -> Preview:
    """Read a table of months and say what each line would do. Nothing is kept."""
    met: set[str] = set()

    def check(number: int, record: Cells) -> list[RefusedCell]:
        month = record["month"]
        if month in met:
            expected = "a month that no line above has"
            return [RefusedCell(number, "", CLIMATE.column("month").label, month, expected)]
        met.add(month)
        return []

    preview = read_table(CLIMATE, typed, heads={}, words=_MONTH_WORDS, check=check)
    there = {record["month"]: record for record in brief.climate}
    news = []
    for record in preview.records:
        before = there.get(record["month"])
        same = before == {head: cell for head, cell in record.items() if cell}
        news.append("here already" if same else "changed" if before else "new month")
    return replace(preview, news=tuple(news))


@transaction.atomic
def bring_in_climate(brief: Brief, typed: str) -> Preview:
    """Keep a table of months: those it names are replaced, others stay; twice is once.

    Raises Frozen, and NotClean where a cell is refused.
    """
    held = _held(brief)
    preview = read_climate_table(held, typed)
    if not preview.is_clean:
        raise NotClean("A cell is refused, or there is no line.")
    months = {record["month"]: record for record in held.climate}
    for record in preview.records:
        months[record["month"]] = {head: cell for head, cell in record.items() if cell}
    held.climate = [months[month] for month in MONTHS if month in months]
    held.save(update_fields=["climate"])
    return preview


# hand-in list


def hand_in_items(brief: Brief) -> list[Item]:
    """What must be handed in."""
    return [(item.kind, item.code, item.title) for item in brief.hand_in.all()]


@transaction.atomic
def ask_for(brief: Brief, items: Iterable[Item], seen: int) -> None:
    """Keep the hand-in list. Raises Newer, Frozen."""
    held = _held(brief)
    wanted = sorted(items)
    if is_change(sorted(hand_in_items(held)), wanted, seen):
        held.hand_in.all().delete()
        HandInItem.objects.bulk_create(
            HandInItem(brief=held, kind=kind, code=code, title=title)
            for kind, code, title in wanted
        )


# targets


class KnownRef(Exception):
    """A reference that another target of the brief has."""


def full_cells(cells: Mapping[str, str]) -> Cells:
    """A cell for each column of a target."""
    return {head: cells.get(head, "") for head in TARGETS.heads}


def with_own_unit(cells: Cells, system: System) -> Cells:
    """Name the unit of a bare value, where it isn't the same in either system."""
    if cells.get("unit") or not quantities.is_bare(cells.get("value", "")):
        return cells
    check = check_of(cells.get("check", ""), cells.get("what", ""))
    if check is None or check.scales[0].us == check.scales[0].metric:
        return cells
    return cells | {"unit": check.scales[0].unit(system).symbol}


def meaning(cells: Cells, notation: Notation) -> Target | None:
    """What a target's cells mean, or None where they can't be read. Raises RefusedTarget."""
    row = TARGETS.parse(cells, notation)
    return None if row.refused else read_target(row, notation)


def _require_new(brief: Brief, ref: str, besides: int | None = None) -> None:
    others = brief.target_lines.filter(addendum=None).exclude(pk=besides)
    if any(line.cells.get("id") == ref for line in others):
        raise KnownRef(ref)


@transaction.atomic
def add_target(brief: Brief, cells: Cells) -> TargetLine:
    """Add a target below the others. Raises Frozen, KnownRef; sent twice, it is there once."""
    held = _held(brief)
    last = held.target_lines.last()
    if last and full_cells(last.cells) == full_cells(cells):
        return last
    _require_new(held, cells["id"])
    return TargetLine.objects.create(
        brief=held, cells=_filled(cells), position=last.position + 1 if last else 0
    )


@transaction.atomic
def change_target(line: TargetLine, cells: Cells, seen: int) -> None:
    """Change a target. Raises Newer, Frozen, KnownRef."""
    held = _held(line.brief)
    now = TargetLine.objects.select_for_update().get(pk=line.pk)
    if is_change(full_cells(now.cells), full_cells(cells), seen):
        _require_new(held, cells["id"], besides=now.pk)
        now.cells = _filled(cells)
        now.save(update_fields=["cells"])


@transaction.atomic
def remove_target(line: TargetLine) -> None:
    """Take a target out of a brief in preparation. Raises Frozen."""
    _held(line.brief)
    line.delete()


def _filled(cells: Mapping[str, str]) -> Cells:
    return {head: cells[head] for head in TARGETS.heads if cells.get(head)}


_HEADS = {"ref": "id", "reference": "id", "mark": "id", "t": "id", "target": "what",
          "notover": "not_over", "upto": "not_over", "units": "unit"}  # fmt: skip
_WORDS = {"min": "at least", "atleast": "at least", "max": "at most", "atmost": "at most"}


def read_targets_table(brief: Brief, typed: str) -> Preview:
    """Read a table of targets and say what each line would do. Nothing is kept."""

    def check(number: int, record: Cells) -> list[RefusedCell]:
        try:
            meaning(record, brief.notation)
        except RefusedTarget as refusal:
            ref = record.get("id", "")
            return [RefusedCell(number, ref, refusal.column, refusal.read, refusal.expected)]
        return []

    preview = read_table(TARGETS, typed, heads=_HEADS, words=_WORDS, check=check)
    there = {r.get("id", ""): full_cells(r) for r in brief.target_records()}
    news = []
    for record in preview.records:
        before = there.get(record["id"])
        same = before == full_cells(record)
        news.append("here already" if same else "changed" if before else "new target")
    return replace(preview, news=tuple(news))


@transaction.atomic
def bring_in_targets(brief: Brief, typed: str) -> Preview:
    """Keep a table of targets: known references are changed, others added; twice is once.

    Raises Frozen, and NotClean where a cell is refused.
    """
    held = _held(brief)
    preview = read_targets_table(held, typed)
    if not preview.is_clean:
        raise NotClean("A cell is refused, or there is no line.")
    keep_targets(held, preview.records)
    return preview


@transaction.atomic
def add_set(brief: Brief, chosen: PublishedSet, system: System = System.METRIC) -> int:
    """Add the targets of a published set that aren't there yet, and return how many. Frozen."""
    held = _held(brief)
    there = {record.get("id") for record in held.target_records()}
    new = [cells for cells in typed_targets(chosen, system) if cells["id"] not in there]
    keep_targets(held, new)
    return len(new)


def keep_targets(brief: Brief, records: Iterable[Cells]) -> None:
    """Change the lines whose references are known, and add the others below."""
    lines = {line.cells.get("id"): line for line in brief.target_lines.filter(addendum=None)}
    below = max((line.position for line in lines.values()), default=-1) + 1
    for n, record in enumerate(records):
        line = lines.get(record["id"]) or TargetLine(brief=brief, position=below + n)
        line.cells = _filled(record)
        line.save()


# issue and addenda


@transaction.atomic
def issue(brief: Brief, by: Person) -> Brief:
    """Freeze a brief; issuing twice is issuing once."""
    held = Brief.objects.select_for_update().get(pk=brief.pk)
    if not held.is_issued:
        held.issue(by)
    return held


def next_number(brief: Brief) -> int:
    """The number that the next addendum will have."""
    return brief.addenda.count() + 1


@transaction.atomic
def add_addendum(
    brief: Brief,
    by: Person,
    words: str,
    *,
    number: int,
    targets: Iterable[Cells] = (),
    site: Mapping[str, str] | None = None,
) -> Addendum:
    """Issue an addendum: words, changed or added targets, changed cells of the site sheet.

    number   the number that whoever writes it saw; where that is issued by now, the same words
             are the same addendum, and others raise Newer
    """
    held = Brief.objects.select_for_update().get(pk=brief.pk)
    if issued := held.addenda.filter(number=number).first():
        if issued.text == words:
            return issued
        raise Newer({"text": issued.text}, {"text": words})
    addendum = Addendum.objects.create(
        brief=held, number=next_number(held), text=words, site_changes=dict(site or {}),
        issued_by=by,
    )  # fmt: skip
    TargetLine.objects.bulk_create(
        TargetLine(brief=held, addendum=addendum, position=n, cells=_filled(cells))
        for n, cells in enumerate(targets)
    )
    return addendum
