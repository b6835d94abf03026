"""What of a brief would come to grief on crit day. Warnings; nothing is locked by them."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from criteria.checks.needs import bare_package
from criteria.package import Package
from criteria.schedules import BY_SLUG, CLIMATE, SITE
from criteria.schedules.states import MONTH_DAYS
from criteria.targets.reading import Target
from reviews.deeds.brief_writing import WEATHER
from reviews.models import Crit, HandInItem, Studio
from reviews.pages.brief_weather_page import weather_warnings
from reviews.reading.brief_reading import BriefReading

MOST_CRITERIA = 8
"""Past eight, jurors give one level right across. Common practice [no.]."""

_SITE_CELL = f" ({SITE.title.lower()})"
_CLIMATE_CELL = f" ({CLIMATE.title.lower()})"
_CLIMATE_ROWS = f"rows of the {CLIMATE.title.lower()}"
"""How checks name what they miss of the leader's schedules."""


@dataclass(frozen=True)
class Part:
    """The warnings of one part of the brief: text, targets, site, climate, hand-in, or a crit."""

    name: str
    words: list[str]


def brief_warnings(studio: Studio, read: BriefReading | None = None) -> list[Part]:
    """Every warning, part by part; parts that have none are left out."""
    brief, read = studio.brief, read or BriefReading.of(studio.brief)
    targets, refs = read.targets, read.refs
    crits = list(studio.crits.prefetch_related("criteria"))
    parts = [
        Part("Text", [] if brief.text.strip() else ["The brief has no text yet."]),
        Part("Targets", [*target_warnings(read), *_feeding(refs, crits)]),
        Part("Site sheet", site_warnings(read)),
        Part(CLIMATE.title, climate_warnings(read)),
        Part(WEATHER.name.capitalize(), weather_warnings(read)),
        Part("States and people", use_warnings(read)),
        Part("Hand-in list", hand_in_warnings(brief.hand_in.all(), targets, brief.state_names())),
        Part("Crits", [] if crits else ["No crit is set, so there is no pens down."]),
    ]
    for crit in crits:
        lines = [_line(criterion) for criterion in crit.criteria.all()]
        parts.append(Part(f"Criteria sheet, {crit}", criteria_warnings(lines, refs)))
    return [part for part in parts if part.words]


def _line(criterion: Any) -> dict[str, Any]:
    names = ("code", "name", "weight", "evidence", *(f"level_{n}" for n in range(1, 6)))
    return {name: getattr(criterion, name) for name in names}


def target_warnings(read: BriefReading) -> list[str]:
    """Targets that can't be read, and those that no check answers."""
    if not read.records:
        return ["The brief has no targets yet."]
    said = [
        f"{cell.mark or f'Line {cell.row}'}, {cell.column}: read “{cell.read}”. "
        f"Expected {cell.expected}."
        for cell in read.read.refused
    ]
    said += [
        f"{target.ref} {target.words}: no check answers it. Choose one, or jurors judge it alone."
        for target in read.targets
        if target.check is None and not target.unread
    ]
    return said


def _feeding(refs: list[str], crits: list[Crit]) -> list[str]:
    return [f"{ref} feeds no criterion." for ref in idle_refs(refs, crits)]


def idle_refs(refs: Iterable[str], crits: Iterable[Crit]) -> list[str]:
    """The targets that no criterion names as its evidence; none while there is no criterion."""
    criteria = [criterion for crit in crits for criterion in crit.criteria.all()]
    fed = {ref for criterion in criteria for ref in criterion.evidence_refs}
    return [ref for ref in refs if ref not in fed] if criteria else []


def site_warnings(read: BriefReading) -> list[str]:
    """Figures of the site sheet that a target's check needs and that are blank."""
    bare = bare_package(read.site, read.months, read.cases)
    needed = _needed(read.targets, bare, _SITE_CELL)
    return [f"{label} is blank; {_who(refs, 'need')} it." for label, refs in needed.items()]


def climate_warnings(read: BriefReading) -> list[str]:
    """Months and figures of the climate that a target's check needs and that are blank."""
    bare = bare_package(read.site, read.months)
    if not read.months:
        refs = _needed(read.targets, bare, _CLIMATE_ROWS).get("", [])
        return [f"No month is filled in; {_who(refs, 'need')} it."] if refs else []
    needed = _needed(read.targets, bare, _CLIMATE_CELL)
    return [f"{label} is blank; {_who(refs, 'need')} it." for label, refs in needed.items()]


def use_warnings(read: BriefReading) -> list[str]:
    """Targets for a case that no row names, people beyond the brief's own, months that can't be."""
    cases = {case.case: case for case in read.cases}
    said = [
        f"{target.ref} is asked for case “{target.in_case}”, which no row names."
        for target in read.targets
        if target.in_case and target.in_case not in cases
    ]
    people = read.site.if_given("people")
    most = max((case.typed("people") or 0 for case in read.cases), default=0)
    if people and cases and most != people:
        said.append(f"The site sheet has {people} people, the fullest case {most}.")
    return [*said, *_of_months(read)]


def _of_months(read: BriefReading) -> Iterator[str]:
    """Cases of more days than their months have, in closed months, and a design month of none."""
    shut = [row.if_given("month") for row in read.months if row.if_given("is_open") is False]
    inhabited: set[str] = set()
    for case in read.cases:
        if {"first_month", "last_month"} & {*case.refused}:
            return
        inhabited |= {*case.months}
        between = f"{case.months[0]} to {case.months[-1]}"
        most = sum(MONTH_DAYS[month] for month in case.months)
        if (case.if_given("days") or 0) > most:
            yield f"Case “{case.case}” has {case.days} days; {between} has {most}."
        if closed := [month for month in case.months if month in shut]:
            yield f"Case “{case.case}” is from {between}; it is closed in {', '.join(closed)}."
    design = read.site.if_given("design_month")
    if inhabited and design and design not in inhabited:
        yield f"The design month is {design}, and no case has people in it."


def _needed(targets: Iterable[Target], bare: Package, ending: str) -> dict[str, list[str]]:
    """The leader's cells that checks miss beside schedules that say little, by target."""
    needed: dict[str, list[str]] = {}
    for target in targets:
        measured = target.check.of(bare, target.uses) if target.check else ()
        cells = [cell for each in measured for cell in each.missing if cell.endswith(ending)]
        for cell in dict.fromkeys(cells):
            needed.setdefault(cell.removesuffix(ending), []).append(target.ref)
    return needed


def hand_in_warnings(
    items: Iterable[HandInItem], targets: Iterable[Target], states: Collection[str] = ()
) -> list[str]:
    """What no check or no sheet can answer: schedules that nothing asks for, unknown states."""
    asked = {item.code for item in items if item.kind == HandInItem.Kind.SCHEDULE}
    unknown = [item for item in items if item.state and item.state not in states]
    said = [f"Sheet {i.code} is to show “{i.state}”, no state of the brief." for i in unknown]
    if not asked:
        return [*said, "It asks for no schedule, so no check has data to read."]
    needed: dict[str, list[str]] = {}
    for target in targets:
        for slug in target.check.schedules if target.check else ():
            if slug not in asked and slug != SITE.slug:
                needed.setdefault(slug, []).append(target.ref)
    return said + [
        f"{BY_SLUG[slug].title} is not asked for; {_who(refs, 'read')} it."
        for slug, refs in needed.items()
    ]


def _who(refs: list[str], verb: str) -> str:
    return f"{', '.join(refs)} {verb}{'s' if len(refs) == 1 else ''}"


def criteria_warnings(lines: Sequence[Mapping[str, Any]], refs: Iterable[str]) -> list[str]:
    """What of a criteria sheet is amiss: weights, evidence, empty descriptors, too many lines."""
    if not lines:
        return ["It has no criteria yet."]
    known, said = set(refs), []
    total = sum(line["weight"] for line in lines)
    if total != 100:
        said.append(f"Weights add to {total.normalize():f}; a criteria sheet adds to 100.")
    if len(lines) > MOST_CRITERIA:
        said.append(f"{len(lines)} criteria; past {MOST_CRITERIA} jurors give one level across.")
    for line in lines:
        name = f"{line['code']} {line['name']}"
        evidence = line["evidence"].replace(",", " ").split()
        if not evidence:
            said.append(f"{name} has no evidence: no target informs it.")
        if unknown := [ref for ref in evidence if ref not in known]:
            said.append(f"{name} names {', '.join(unknown)}, no target of the brief.")
        if empty := [str(n) for n in range(1, 6) if not line[f"level_{n}"].strip()]:
            said.append(f"{name} has no words for level {', '.join(empty)}.")
    return said
