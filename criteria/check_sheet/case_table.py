"""Figures of a check sheet side by side, a column for each people case."""

from __future__ import annotations

from dataclasses import dataclass

from criteria.check_sheet.served import People
from criteria.check_sheet.sheet import CheckSheet
from criteria.findings import Finding, Measured


@dataclass(frozen=True)
class CaseRow:
    """One finding and what decided it in each case; None where a case has no figure."""

    finding: Finding
    by_case: tuple[Measured | None, ...]


@dataclass(frozen=True)
class CaseTable:
    """The cases, and a row for each finding that was asked for each of them."""

    cases: tuple[People, ...]
    rows: tuple[CaseRow, ...]


def case_table(sheet: CheckSheet) -> CaseTable:
    """Set what a sheet found for each case side by side; nothing where no case is named.

    Each finding has its subjects worst first, so the first of a case is what decided there.
    """
    found = [(finding, _by_case(finding)) for finding in sheet.findings]
    rows = [
        CaseRow(finding, tuple(by_case.get(each.case) for each in sheet.cases))
        for finding, by_case in found
        if by_case
    ]
    return CaseTable(sheet.cases, tuple(rows))


def _by_case(finding: Finding) -> dict[str, Measured]:
    first: dict[str, Measured] = {}
    for measured in finding.worst_first:
        for case in filter(None, measured.in_case.split(", ")):
            first.setdefault(case, measured)
    return first
