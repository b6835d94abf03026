"""Whatever is said of a package is said in the reader's units: notes, odd values, questions."""

import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from criteria.asking.questions import likely_questions
from criteria.check_sheet.sheet import CheckSheet, check_sheet
from criteria.command.folder import FolderReading, read_folder
from criteria.findings import Amount, Step, listed
from criteria.package import Package
from criteria.units import AREA, LENGTH, System

# whole sheets again and again, of lines that other tests count
pytestmark = pytest.mark.uncounted

DATA = Path(__file__).parents[2] / "reviews" / "demo" / "data"
PACKAGES = (("H03", "B"), ("H07", "A"), ("H07", "B"), ("E11", "C"))
METRIC = re.compile(
    r"\d (?:mm|cm|m|km|m²|m³|kg|t|L|L/s|L/day|m³/h|°C|K|W/K|W/m²K|W/mK|m²K/W|Wh/m³K|kPa|kN)"
    r"(?![\w/²³])"
)
"""A number with a unit that a US reader isn't shown. Electric watts are shown to both."""
US = re.compile(r"\.\d\d in\b|\d (?:ft|ft²|ft³|lb|gal|gal/day|cfm|°F|Btu\S*)(?![\w/²³])")


def _read(scheme: str, rev: str) -> FolderReading:
    return read_folder(DATA, scheme=scheme, rev=rev)


def _said(package: Package, sheet: CheckSheet, system: System) -> Iterator[str]:
    for finding in sheet.findings:
        yield from finding.write_notes(system)
        yield from (step.write(system) for step in finding.steps)
        yield from (n.write(system) for m in finding.worst_first for n in m.notes)
    for odd in sheet.odd:
        yield odd.write_read(system)
        yield odd.write_question(system)
    for claim in sheet.claims:
        yield from (claim.write_computed(system), *claim.write_why(system))
    for question in likely_questions(sheet, package, system):
        yield question.text


@pytest.mark.parametrize(("scheme", "rev"), PACKAGES)
@pytest.mark.parametrize(
    ("system", "foreign"), [(System.US, METRIC), (System.METRIC, US)], ids=["us", "metric"]
)
def test_nothing_is_said_in_units_of_the_other_system(scheme, rev, system, foreign):
    reading = _read(scheme, rev)
    # what people typed stays as they typed it
    package = reading.package.but(claims=())
    sheet = check_sheet(package, reading.targets)
    typed = {f"T1 reads 1.6 L. Is that 1.6 m³, {n}?" for n in ("422.7 gal", "1\u202f600 L")} | {
        "1.6 L"
    }
    found = [text for text in _said(package, sheet, system) if foreign.search(text)]
    assert [text for text in found if text not in typed] == []


def test_the_same_is_said_in_both_systems():
    reading = _read("H07", "A")
    sheet = check_sheet(reading.package, reading.targets)
    metric, us = (list(_said(reading.package, sheet, system)) for system in System)
    assert len(metric) == len(us)
    notes = {f.ref: (f.write_notes(), f.write_notes(System.US)) for f in sheet.asked}
    # 1.6 L × 0.92 = 1.472 L, which is 0.389 gal; 2 m of drift less 300 mm by hand
    assert notes["T14"] == (("1 L usable",), ("0.4 gal usable",))
    assert notes["T24"] == (("300 mm below the drift",), ('11 13/16" below the drift',))


def test_a_step_may_stand_in_a_step():
    sides = listed([Amount(0.9, LENGTH), Amount(1.2, LENGTH)], " × ")
    step = Step("{}: {} = {}", ("W1", sides, Amount(1.08, AREA)))
    assert step.write() == "W1: 900 mm × 1\u202f200 mm = 1.08 m²"
    assert step.write(System.US) == "W1: 2'-11 7/16\" × 3'-11 1/4\" = 11.6 ft²"


def test_what_was_typed_may_hold_braces():
    assert Step("lifted over {}", ("the {stove}",)).write() == "lifted over the {stove}"
