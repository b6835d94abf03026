"""The package against itself: marks on drawings and in schedules."""

from criteria.checks.check import Check
from criteria.checks.reading import all_but
from criteria.findings import Measured, Rule
from criteria.package import Package
from criteria.schedules import BY_SLUG
from criteria.schedules.plan import READ
from criteria.sources import PRACTICE

DRAWN = ("rooms", "windows", "doors", "tanks")
"""Schedules whose rows are drawn with their marks."""


def unmatched(package: Package) -> tuple[list[str], list[str]]:
    """Return the marks of rows that are on no sheet, and those on sheets that have no row."""
    on_sheets = {mark for row in package.plan_marks for mark in row.listed}
    in_schedules = [row.mark for slug in DRAWN for row in package.rows_of(BY_SLUG[slug].row)]
    letters = {mark[:1] for mark in in_schedules}
    not_drawn = [mark for mark in in_schedules if mark not in on_sheets]
    not_scheduled = sorted(
        mark for mark in on_sheets if mark[:1] in letters and mark not in in_schedules
    )
    return not_drawn, not_scheduled


def _marks(package: Package, uses: tuple[str, ...]) -> list[Measured]:
    not_drawn, not_scheduled = unmatched(package)
    read = {mark for row in package.plan_marks if row.how == READ for mark in row.listed}
    outside = [f"{mark} (not drawn)" for mark in not_drawn]
    outside += [f"{mark} ({'read, ' if mark in read else ''}no row)" for mark in not_scheduled]
    return [all_but(outside)]


MARKS = Check(
    slug="plan_marks",
    title="Marks drawn and scheduled alike",
    topic="Package",
    measure=_marks,
    schedules=("plan_marks", *DRAWN),
    rule=Rule.ALL,
    formula="each mark on a sheet has a row, and each row a mark on a sheet",
    meaning="rooms, windows, doors and tanks",
    citations=(PRACTICE,),
    limits="As the marks are typed from the sheets, or read from the letters of a PDF. A drawing "
    "whose letters are lines, or a photo, says none by itself.",
    question="{value}. Which would the builder follow?",
)
