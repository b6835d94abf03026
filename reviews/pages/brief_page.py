"""A brief as it is read: targets, site sheet and hand-in list in the reader's units."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from criteria.checks.catalogue import CATALOGUE
from criteria.errors import Refused
from criteria.own_words import column_in
from criteria.schedules import BY_SLUG, CASES, CLIMATE, SITE, STATES
from criteria.targets.reading import Target
from criteria.targets.sets import SETS, PublishedSet
from criteria.typed import quantities
from criteria.typed.columns import Column
from criteria.typed.rows import Schedule
from criteria.typed.tables import RefusedCell
from criteria.units import Notation, System
from reviews import access
from reviews.access import Viewer
from reviews.deeds import brief_writing
from reviews.deeds.record_typed import figure_text
from reviews.models import Brief, HandInItem, Studio
from reviews.models.briefs import InForce
from reviews.models.crits import LEVELS
from reviews.moments import moment_words
from reviews.pages.brief_drawing import brief_drawings
from reviews.pages.brief_questions_page import latest_questions, opened_by
from reviews.pages.brief_warnings import Part, brief_warnings, idle_refs
from reviews.pages.brief_weather_page import weather_shown
from reviews.pages.schedule_drawing import StatePlan
from reviews.reading.brief_days import days_named
from reviews.reading.brief_reading import BriefReading
from reviews.reading.check_asides import standing_asides
from reviews.reading.last_year import LastYear, last_year


@dataclass(frozen=True)
class TargetEntry:
    """One target in force, as it is read.

    figure   the figure with its unit: as typed, or in US units for whoever reads those
    amiss    what of it can't be read, or that no check answers it
    before   for its leaders, what became of it in the studio that this one follows
    """

    pk: int
    ref: str
    words: str
    check: str
    rooms: str
    rule: str
    figure: str
    asked_by: str
    note: str
    amiss: str = ""
    before: str = ""


def target_entries(
    brief: Brief,
    system: System,
    read: BriefReading | None = None,
    last: LastYear | None = None,
) -> list[TargetEntry]:
    """The targets in force, in the brief's order; the latest addendum to change one holds."""
    reading = (read or BriefReading.of(brief)).read
    targets = {target.ref: target for target in reading.targets}
    refused = {cell.row: cell for cell in reversed(reading.refused)}
    return [
        _entry(
            line,
            None if number in refused else targets[line.cells.get("id", "")],
            refused.get(number),
            system,
            last,
        )
        for number, line in enumerate(brief.lines_in_force(), start=1)
    ]


def _entry(
    line: InForce,
    target: Target | None,
    refused: RefusedCell | None,
    system: System,
    last: LastYear | None,
) -> TargetEntry:
    cells = brief_writing.full_cells(line.cells)
    amiss = "No check answers it." if target and target.check is None else ""
    if refused:
        amiss = f"{refused.column}: read “{refused.read}”. Expected {refused.expected}."
    return TargetEntry(
        line.pk,
        cells["id"],
        cells["what"] or (target.words if target else ""),
        target.check.title if target and target.check else "",
        _asked_of(cells, target),
        cells["rule"],
        _figure(cells, target, system),
        line.asked_by,
        cells["note"],
        amiss,
        _before(target, last),
    )


def _before(target: Target | None, last: LastYear | None) -> str:
    """What became of it last year; that it wasn't asked where it wasn't."""
    if last is None:
        return ""
    if target is None or target.check is None:
        return "–"
    uses = " ".join(sorted(target.uses or target.check.uses))
    found = last.of((target.check.slug, uses, str(target.rule)), target.ref)
    return found.words if found else "not asked last year"


def _asked_of(cells: dict[str, str], target: Target | None) -> str:
    """Of which rooms and for which case a target is asked, where it names any."""
    uses = [use.replace("_", " ") for use in target.uses] if target else [cells["rooms"]]
    case = [f"in case {cells['case']}"] if cells["case"] else []
    return ", ".join(filter(None, [*uses, *case]))


def _figure(cells: dict[str, str], target: Target | None, system: System) -> str:
    unit = "" if cells["unit"] in ("yes", "ratio", "no.") else cells["unit"]
    unit = unit.replace("m2", "m²").replace("m3", "m³")
    typed = f"{cells['value']} {unit}".strip()
    if target is None or target.check is None or not target.values:
        return typed
    first, upper = target.check.scales[0], target.not_over
    if (system is System.US or upper is not None) and cells["rule"] != "all":
        pairs = zip(target.check.scales, target.values, strict=True)
        typed = " / ".join(scale.write(value, system) for scale, value in pairs)
    elif not unit and quantities.is_bare(cells["value"]):
        typed = f"{typed} {first.unit().symbol}".strip()
    return typed + (f", not over {first.write(upper, system)}" if upper is not None else "")


@dataclass(frozen=True)
class Unused:
    """What of a brief and of the catalogue is not used.

    targets   words of the targets that no criterion names as its evidence
    checks    by topic, the titles of the checks that no target asks for
    """

    targets: list[str]
    checks: dict[str, list[str]]

    @property
    def count(self) -> int:
        """How many checks no target asks for."""
        return sum(len(titles) for titles in self.checks.values())


def unused_of(studio: Studio, read: BriefReading | None = None) -> Unused:
    """Which targets feed no criterion of any crit, and which checks no target asks for."""
    read = read or BriefReading.of(studio.brief)
    words = {
        r.get("id", ""): f"{r.get('id', '')} {r.get('what', '')}".strip() for r in read.records
    }
    asked = {t.check.slug for t in read.targets if t.check}
    checks: dict[str, list[str]] = {}
    for check in CATALOGUE:
        if check.slug not in asked:
            checks.setdefault(check.topic, []).append(check.title)
    crits = studio.crits.prefetch_related("criteria")
    return Unused([words[ref] for ref in idle_refs(words, crits)], checks)


@dataclass(frozen=True)
class SiteEntry:
    """One filled cell of the site sheet in force."""

    label: str
    text: str
    changed_by: str
    help: str


def site_entries(brief: Brief, system: System) -> list[SiteEntry]:
    """The filled cells of the site sheet, with the addendum that last changed each."""
    changed = {head: str(a) for a in brief.addenda.all() for head in a.site_changes}
    record = brief.site_record()
    return [
        SiteEntry(
            c.label,
            figure_text(c, text, brief.notation.read_in(system)),
            changed.get(c.head, ""),
            c.help,
        )
        for c in (column_in(column, system) for column in SITE.columns)
        if (text := record.get(c.head, "").strip())
    ]


@dataclass(frozen=True)
class LeaderTable:
    """A schedule of the brief: its rows, and the columns that hold something, in a reader's units.

    heads   label, unit, and whether it is a number
    rows    what names each, and beside each text whether its column is a number
    drawn   what it is drawn as; None where that isn't shown, or nothing can be
    """

    schedule: Schedule
    heads: list[tuple[str, str, bool]]
    rows: list[tuple[str, list[tuple[str, bool]]]]
    drawn: StatePlan | None = None


def leader_table(
    schedule: Schedule,
    records: Sequence[Mapping[str, str]],
    notation: Notation,
    drawn: StatePlan | None = None,
) -> LeaderTable:
    """A schedule of the brief as it is read; its first column names a row."""
    first, *rest = schedule.columns
    filled = (column for column in rest if any(record.get(column.head) for record in records))
    columns = [column_in(column, notation.system) for column in filled]
    rows = [
        (
            record.get(first.head, ""),
            [(_under_head(c, record.get(c.head, ""), notation), c.is_number) for c in columns],
        )
        for record in records
    ]
    heads = [(c.label, c.unit(notation.system), c.is_number) for c in columns]
    return LeaderTable(schedule, heads, rows, drawn)


def _under_head(column: Column, text: str, notation: Notation) -> str:
    """A cell in the unit of its head: as typed where it is bare and in that unit."""
    is_metric = notation.system is System.METRIC
    if column.scale is None or (is_metric and quantities.is_bare(text)):
        return text
    try:
        return column.show(column.read(text, notation.kept), notation.system)
    except Refused:
        return text


def hand_in_names(brief: Brief) -> dict[str, list[str]]:
    """What is to be handed in, by kind: sheets, schedules, the statement."""
    found: dict[str, list[str]] = {"Sheets": [], "Schedules": [], "Statement": []}
    for item in brief.hand_in.all():
        if item.kind == HandInItem.Kind.SHEET:
            shows = f" ({item.shows})" if item.shows else ""
            found["Sheets"].append(f"{item.code} {item.title}{shows}".strip())
        elif item.kind == HandInItem.Kind.SCHEDULE:
            schedule = BY_SLUG.get(item.code)
            found["Schedules"].append(schedule.title if schedule else item.code)
        else:
            found["Statement"].append(f"at most {brief.statement_words} words")
    return {kind: names for kind, names in found.items() if names}


def read_brief(viewer: Viewer, studio: Studio, system: System) -> dict[str, Any]:
    """Everything that the page of a brief shows."""
    brief, leads = studio.brief, access.can_lead(viewer, studio.pk)
    read, notation = BriefReading.of(brief), brief.notation.read_in(system)
    tables, drawn = brief.leader_tables(), brief_drawings(read, system)
    addenda = list(brief.addenda.prefetch_related("target_lines"))
    opened = opened_by(studio, addenda) if leads else {}
    questions, asked = latest_questions(brief)
    last = last_year(studio) if leads else None
    return {
        "brief": brief,
        "issued_at": moment_words(brief.issued_at) if brief.issued_at else "",
        "addenda": addenda,
        "opened": [(each, opened.get(each.pk)) for each in addenda],
        "questions": questions,
        "asked": asked,
        "targets": target_entries(brief, system, read, last),
        "last_year": last,
        "days": days_named(brief.text) if last and not brief.is_issued else [],
        "site": site_entries(brief, system),
        "drawn": drawn,
        "site_drawn": drawn.get(SITE.slug),
        "climate": leader_table(CLIMATE, tables[CLIMATE.slug], notation, drawn.get(CLIMATE.slug)),
        "weather": weather_shown(read, system),
        "use": [
            leader_table(each, tables[each.slug], notation, drawn.get(each.slug))
            for each in (STATES, CASES)
        ],
        "hand_in": hand_in_names(brief),
        "crits": studio.crits.prefetch_related("criteria"),
        "level_words": LEVELS,
        "can_edit": leads and not brief.is_issued,
        "can_add": leads and brief.is_issued,
        "warnings": warnings_for(viewer, studio, read),
        "unused": unused_of(studio, read) if leads else None,
        "asides": standing_asides(studio),
    }


def warnings_for(viewer: Viewer, studio: Studio, read: BriefReading | None = None) -> list[Part]:
    """The warnings of a brief, for those who write it."""
    return brief_warnings(studio, read) if access.can_lead(viewer, studio.pk) else []


@dataclass(frozen=True)
class SetEntry:
    """A published set that can be added, and how much of it is there already."""

    chosen: PublishedSet
    lines: list[tuple[str, str, str, str]]
    there: int


def published_sets(brief: Brief, system: System) -> list[SetEntry]:
    refs = {record.get("id") for record in brief.target_records()}
    return [
        SetEntry(
            chosen,
            [
                (t.key, t.words, f"{t.rule} {t.figure(system)}", str(t.citation))
                for t in chosen.targets
            ],
            sum(target.key in refs for target in chosen.targets),
        )
        for chosen in SETS
    ]
