"""How many people a building serves, and its figures for each people case, as a page shows them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from criteria.check_sheet.case_table import case_table
from criteria.check_sheet.served import People, Served, decides, person_days
from criteria.check_sheet.sheet import CheckSheet
from criteria.findings import State
from criteria.units import System
from reviews.pages.check_page import NOTHING, value_of


@dataclass(frozen=True)
class ServedLine:
    """One target: for how many it holds, and the figures on either side."""

    ref: str
    title: str
    people: str
    figures: str


@dataclass(frozen=True)
class CaseLine:
    """One finding: its figure for each case, and whether that is the case that decided."""

    ref: str
    title: str
    state: State
    target: str
    values: tuple[tuple[str, bool], ...]


@dataclass(frozen=True)
class ServingPart:
    """What a check sheet says of numbers of people.

    sentence   the number that the building serves, and by what; or why that can't be said
    cases      name of each people case, and how many on how many days
    year       how many person-days all cases come to
    """

    sentence: str
    lines: tuple[ServedLine, ...]
    cases: tuple[tuple[str, str], ...]
    rows: tuple[CaseLine, ...]
    year: str


def serving_part(sheet: CheckSheet, system: System) -> ServingPart | None:
    """What a check sheet says of numbers of people; None where nothing depends on them."""
    table = case_table(sheet)
    if not sheet.served and not table.cases:
        return None
    rows = [
        CaseLine(
            ref=row.finding.ref or NOTHING,
            title=row.finding.title,
            state=row.finding.state,
            target=row.finding.write_target(system) or NOTHING,
            values=tuple(
                (value_of(m, row.finding, system), m is row.finding.worst_first[0])
                if m
                else (NOTHING, False)
                for m in row.by_case
            ),
        )
        for row in table.rows
        if row.finding.ref
    ]
    lines = tuple(_line(each, system) for each in sheet.served)
    return ServingPart(
        sentence=_sentence(sheet, system),
        lines=lines,
        cases=tuple((each.case, _people_words(each)) for each in table.cases),
        rows=tuple(rows),
        year=_year_words(table.cases),
    )


def _people_words(case: People) -> str:
    people = "people not given" if case.people is None else f"{case.people} people"
    days = "" if case.days is None else f", {case.days} days"
    return people + days + ("" if case.is_held else ", shown alone")


def _year_words(cases: Sequence[People]) -> str:
    days = person_days(cases)
    return f"{days:,} person-days a year." if cases and days is not None else ""


def _line(each: Served, system: System) -> ServedLine:
    if each.missing:
        return ServedLine(each.ref, each.title, NOTHING, f"still needs {'; '.join(each.missing)}")
    if each.people is None:
        fewest = f"{each.least} or more" if each.least > 1 else "any number"
        return ServedLine(each.ref, each.title, fewest, "")
    return ServedLine(each.ref, each.title, str(each.people or "nobody"), each.write(system))


def _sentence(sheet: CheckSheet, system: System) -> str:
    if not sheet.served:
        return "No target depends on how many people there are."
    least = decides(sheet.served)
    if least is None:
        lacking = ", ".join(each.ref for each in sheet.served if each.missing)
        if lacking:
            return f"How many it serves can't be said before {lacking} can be computed."
        return "No number of people breaks a target."
    if not least.people:
        return f"By {least.ref}, {least.title}, it serves nobody: {least.write(system)}."
    named = f"{least.ref}, {least.title}, gives way first: {least.write(system)}"
    return f"It serves {least.people}. {named}."
