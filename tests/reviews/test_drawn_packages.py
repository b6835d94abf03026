"""Every drawing of the demo's full packages: letters apart and on their paper, gaps named."""

import os

import pytest

from criteria.check_sheet.sheet import check_sheet, unasked
from criteria.checks.catalogue import CHECKS
from criteria.drawing.catalogue import BY_CHECK
from criteria.drawing.drawing import MIDDLE_MM, NARROW_MM, Field
from criteria.drawing.picture import Seen
from criteria.package import read_package
from criteria.units import System
from reviews.pages.check_drawing import asked_of, offered, situation_named
from tests.criteria.drawing.test_plan_walked import keeps_the_rules
from tests.criteria.variants import typed

FULL = (("H03", "B"), ("H07", "B"), ("H14", "B"), ("E11", "C"))
FIELDS = [
    Field(width_mm=wide, system=system) for wide in (MIDDLE_MM, NARROW_MM) for system in System
]
TALLEST_MM = 180.0


def seen_of(package, sheet, check):
    """What a check's page draws first."""
    findings = {each.check: each for each in sheet.findings}
    finding = findings.get(check) or unasked(package, CHECKS[check])
    measured, state = offered(finding)[0]
    there = situation_named(package, state).of(package)
    asked = asked_of(finding, measured, state)
    return Seen(package=there, check=check, asked=asked, findings=findings)


@pytest.mark.parametrize("key", FULL, ids="".join)
def test_letters_of_real_rows_keep_their_distance_at_each_width_in_both_systems(key):
    """A fourth of the checks by each package; all of them by hand."""
    tables, targets = typed(key)
    package = read_package(tables).package
    sheet = check_sheet(package, targets)
    checks = [*BY_CHECK] if os.environ.get("MUNTIN_LONG") else [*BY_CHECK][FULL.index(key) :: 4]
    drawn = 0
    for check in checks:
        ready = BY_CHECK[check].ready(seen_of(package, sheet, check))
        for drawing in [ready.of(field) for field in FIELDS] if ready else ():
            keeps_the_rules(drawing)
            assert drawing.height_mm <= TALLEST_MM
            drawn += 1
    assert drawn > len(checks) * 2
