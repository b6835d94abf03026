"""Write a brief part by part, each read whole, written whole and undone whole.

Targets are changed line by line, and undone as one part too. An issued brief is
frozen; brief_issuing changes it by addenda.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from functools import partial
from typing import Any, cast

from django.db import transaction

from criteria.schedules import CASES, CLIMATE, SITE, STATES
from criteria.schedules.site import MONTHS
from criteria.targets.reading import TARGETS, Target, TargetRow, check_of, read_target
from criteria.typed import quantities
from criteria.units import Notation, System
from reviews.deeds.record_changes import Part, cell_words, logged
from reviews.deeds.record_versions import is_change
from reviews.models import Brief, HandInItem, Person, TargetLine

Cells = dict[str, str]


def hold(brief: Brief) -> Brief:
    """Return the brief, held until the transaction ends. Raises Frozen where it is issued."""
    held = Brief.objects.select_for_update().get(pk=brief.pk)
    held.require_open()
    return held


# the parts

_TEXT_NAMES = ("text", "statement_words", "decimal")


def text_parts(brief: Brief) -> dict[str, Any]:
    """The text of a brief, the length it asks of statements, and its decimal sign."""
    return {name: getattr(brief, name) for name in _TEXT_NAMES}


def _write_text(held: Brief, parts: Mapping[str, Any]) -> None:
    for name in _TEXT_NAMES:
        setattr(held, name, parts[name])
    held.save(update_fields=_TEXT_NAMES)


def site_cells(brief: Brief) -> Cells:
    """The site sheet as first issued or in preparation, a cell for each column."""
    return {head: brief.site.get(head, "") for head in SITE.heads}


def _write_site(held: Brief, cells: Cells) -> None:
    held.site = {head: cell for head, cell in cells.items() if cell}
    held.save(update_fields=["site"])


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


def _write_climate(held: Brief, cells: Cells) -> None:
    months: dict[str, Cells] = {}
    for name, cell in cells.items():
        month, _, head = name.partition("-")
        if cell:
            months.setdefault(month, {"month": month})[head] = cell
    held.climate = [months[month] for month in MONTHS if month in months]
    held.save(update_fields=["climate"])


USE_ROWS = {STATES: 8, CASES: 6}
"""How many states and people cases a brief may name; more, and no jury follows them."""
USE_COLUMNS = {
    f"{schedule.slug}-{number}-{column.head}": column
    for schedule, most in USE_ROWS.items()
    for number in range(1, most + 1)
    for column in schedule.columns
}
"""The column of each cell of the states and people cases, named cases-1-people."""


def use_cells(brief: Brief) -> Cells:
    """States and people cases in preparation or as first issued, a cell for each column."""
    return cells_of_use({"states": brief.states, "cases": brief.cases})


def cells_of_use(tables: Mapping[str, Sequence[Mapping[str, str]]]) -> Cells:
    """Name each cell of states and people cases by its table, row and column."""
    cells = dict.fromkeys(USE_COLUMNS, "")
    for schedule in USE_ROWS:
        for number, record in enumerate(tables[schedule.slug], start=1):
            cells |= {f"{schedule.slug}-{number}-{head}": cell for head, cell in record.items()}
    return cells


def rows_of_use(cells: Mapping[str, str]) -> dict[str, dict[int, Cells]]:
    """Return the rows that hold something by table and number, as typed."""
    rows: dict[str, dict[int, Cells]] = {schedule.slug: {} for schedule in USE_ROWS}
    for name, cell in cells.items():
        if cell:
            slug, number, head = name.split("-")
            rows[slug].setdefault(int(number), {})[head] = cell
    return rows


def tables_of_use(cells: Mapping[str, str]) -> dict[str, list[Cells]]:
    """Return states and people cases as records; rows between which none stands close up."""
    return {slug: list(rows.values()) for slug, rows in rows_of_use(cells).items()}


def _write_use(held: Brief, cells: Cells) -> None:
    tables = tables_of_use(cells)
    held.states, held.cases = tables["states"], tables["cases"]
    held.save(update_fields=["states", "cases"])


def weather_named(brief: Brief) -> list[Cells]:
    """The year of weather that a brief names, as one record; none where there is none."""
    return list(brief.weather)


def _write_weather(held: Brief, named: list[Cells]) -> None:
    held.weather = named
    held.save(update_fields=["weather"])


def _named(named: list[Cells]) -> str:
    return named[0]["name"] if named else "the twelve months"


def hand_in_items(brief: Brief) -> list[list[str]]:
    """What must be handed in: kind, code and title of each, the drawing and state it must show."""
    items = brief.hand_in.all()
    return sorted([each.kind, each.code, each.title, each.drawing, each.state] for each in items)


_ITEM = ("kind", "code", "title", "drawing", "state")
"""What an item is kept as; one that an earlier version kept ends with its title."""


def _write_hand_in(held: Brief, items: Iterable[Iterable[str]]) -> None:
    held.hand_in.all().delete()
    HandInItem.objects.bulk_create(
        HandInItem(brief=held, **dict(zip(_ITEM, item, strict=False))) for item in items
    )


def target_lines(brief: Brief) -> list[dict[str, Any]]:
    """The targets of the brief itself: the number of each line, and a cell for each column."""
    lines = brief.target_lines.filter(addendum=None)
    return [{"id": line.pk, "cells": full_cells(line.cells)} for line in lines]


def _write_targets(held: Brief, lines: Iterable[Mapping[str, Any]]) -> None:
    own = held.target_lines.filter(addendum=None)
    own.exclude(pk__in=[line["id"] for line in lines]).delete()
    for position, line in enumerate(lines):
        own.update_or_create(
            pk=line["id"],
            defaults={"brief": held, "position": position, "cells": filled(line["cells"])},
        )


TEXT = Part("text", "text", hold, text_parts, _write_text)
SITE_SHEET = Part(
    "site",
    "site sheet",
    hold,
    site_cells,
    _write_site,
    partial(cell_words, {column.head: column.label for column in SITE.columns}),
)
MONTHLY = Part(
    "climate",
    "climate",
    hold,
    climate_cells,
    _write_climate,
    partial(
        cell_words,
        {f"{month}-{c.head}": f"{month}, {c.label}" for month in MONTHS for c in CLIMATE_FIGURES},
    ),
)
USE = Part(
    "states",
    "list of states and people",
    hold,
    use_cells,
    _write_use,
    partial(
        cell_words, {name: f"{name.split('-')[1]}, {c.label}" for name, c in USE_COLUMNS.items()}
    ),
)
WEATHER = Part(
    "weather",
    "weather",
    hold,
    weather_named,
    _write_weather,
    lambda before, after: f"{_named(before)} → {_named(after)}",
)
HAND_IN = Part("hand-in", "hand-in list", hold, hand_in_items, _write_hand_in)
TARGET_LIST = Part("targets", "list of targets", hold, target_lines, _write_targets)
PARTS = {
    part.slug: part for part in (TEXT, SITE_SHEET, MONTHLY, WEATHER, USE, HAND_IN, TARGET_LIST)
}


# targets, line by line


class KnownRef(Exception):
    """A reference that another target of the brief has."""


def full_cells(cells: Mapping[str, str]) -> Cells:
    """A cell for each column of a target."""
    return {head: cells.get(head, "") for head in TARGETS.heads}


def filled(cells: Mapping[str, str]) -> Cells:
    """The cells of a target that hold something."""
    return {head: cells[head] for head in TARGETS.heads if cells.get(head)}


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
    row = cast(TargetRow, TARGETS.parse(cells, notation))
    return None if row.refused else read_target(row, notation)


def _require_new(brief: Brief, ref: str, besides: int = 0) -> None:
    others = brief.target_lines.filter(addendum=None).exclude(pk=besides)
    if any(line.cells.get("id") == ref for line in others):
        raise KnownRef(ref)


@transaction.atomic
def add_target(brief: Brief, cells: Cells, by: Person) -> TargetLine:
    """Add a target below the others. Raises Frozen, KnownRef; sent twice, it is there once."""
    held = hold(brief)
    last = held.target_lines.last()
    if last and full_cells(last.cells) == full_cells(cells):
        return last
    _require_new(held, cells["id"])
    place = last.position + 1 if last else 0
    with logged(held, TARGET_LIST, by, f"{cells['id']} added"):
        return TargetLine.objects.create(brief=held, cells=filled(cells), position=place)


@transaction.atomic
def change_target(line: TargetLine, cells: Cells, seen: int, by: Person) -> None:
    """Change a target. Raises Newer, Frozen, KnownRef."""
    held = hold(line.brief)
    now = TargetLine.objects.select_for_update().get(pk=line.pk)
    if is_change(full_cells(now.cells), full_cells(cells), seen):
        _require_new(held, cells["id"], besides=now.pk)
        with logged(held, TARGET_LIST, by, f"{cells['id']} changed"):
            now.cells = filled(cells)
            now.save(update_fields=["cells"])


@transaction.atomic
def remove_target(line: TargetLine, by: Person) -> None:
    """Take a target out of a brief in preparation. Raises Frozen."""
    held = hold(line.brief)
    with logged(held, TARGET_LIST, by, f"{line.cells.get('id')} taken out"):
        line.delete()


def keep_targets(
    held: Brief, records: Iterable[Cells], by: Person, what: str, seen: int | None = None
) -> None:
    """Change the lines whose references are known, and add the others below, as one change."""
    lines = {line.cells.get("id"): line for line in held.target_lines.filter(addendum=None)}
    below = max((line.position for line in lines.values()), default=-1) + 1
    with logged(held, TARGET_LIST, by, what, seen=seen):
        for n, record in enumerate(records):
            line = lines.get(record["id"]) or TargetLine(brief=held, position=below + n)
            line.cells = filled(record)
            line.save()


def keep_climate(
    held: Brief, records: Iterable[Cells], by: Person, what: str, seen: int | None = None
) -> None:
    """Put months in place of those there are of their names, as one change."""
    cells = climate_cells(held)
    for record in records:
        month = record["month"]
        cells |= {f"{month}-{c.head}": record.get(c.head, "") for c in CLIMATE_FIGURES}
    with logged(held, MONTHLY, by, what, seen=seen):
        _write_climate(held, cells)
