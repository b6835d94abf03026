"""The demo's other schemes land near the headline figures that the scenario tells."""

from functools import cache

import pytest

from criteria.check_sheet.sheet import CheckSheet
from criteria.findings import State
from reviews.demo.drafting import Cohort
from reviews.demo.generate import GIVEN, GIVEN_LATER, everything, headlines, sheet_of
from reviews.demo.tables import GENERATED, given, read_csv

COHORTS = {letter: Cohort(letter) for letter in "HE"}
HEADS = {
    "T01": {"H": "day-room light %", "E": "common light %"},
    "T07": {"H": "floor m²/p", "E": "floor m²/p"},
    "T08": {"H": "bunk floor m²/p", "E": "cabin floor m²/p"},
    "T14": {"H": "water days", "E": "water days"},
    "T18": {"H": "power ratio", "E": "power ratio"},
    "T20": {"H": "ramp ratio", "E": "ramp ratio"},
    "T27": {"H": "lifts", "E": "crossings"},
    "T28": {"H": "stowage l", "E": "stowage l"},
}
OTHERS = sorted(set(headlines()) - GIVEN - GIVEN_LATER)


@cache
def _sheet(number: str) -> CheckSheet:
    return sheet_of(given(number, "B", GENERATED), COHORTS[number[0]])


def _value(sheet: CheckSheet, ref: str) -> float:
    finding = next(f for f in sheet.asked if f.ref == ref)
    assert finding.value is not None
    return float(finding.scale.metric.from_si(finding.value))


@pytest.mark.parametrize("number", OTHERS)
def test_a_scheme_misses_as_many_targets_as_its_headline_says(number):
    assert _sheet(number).missed == headlines()[number]["short/over of 30"]


@pytest.mark.parametrize("number", OTHERS)
def test_every_target_has_its_figures(number):
    assert _sheet(number).count(State.NO_DATA) == 0


@pytest.mark.parametrize("number", OTHERS)
def test_its_figures_land_near_the_headline(number):
    sheet, told = _sheet(number), headlines()[number]
    near = {
        ref: _value(sheet, ref) == pytest.approx(told[heads[number[0]]], rel=0.02, abs=0.02)
        for ref, heads in HEADS.items()
    }
    assert near == dict.fromkeys(HEADS, True)


@pytest.mark.parametrize("number", OTHERS)
def test_its_heat_loss_lands_within_an_eighth(number):
    # walls of a believable size can't lose what a few headlines say
    assert _value(_sheet(number), "T13") == pytest.approx(
        headlines()[number]["heat loss w"], rel=1 / 8
    )


def test_the_files_are_what_the_generator_writes():
    written = {(number, rev): tables for number, rev, tables in everything()}
    rooms = read_csv("rooms", GENERATED)
    assert {(row["scheme"], row["rev"]) for row in rooms} == set(written)
    for (number, rev), tables in written.items():
        stored = given(number, rev, GENERATED)
        for name in ("rooms", "tanks", "windows", "envelope"):
            drafted = [{h: str(v) for h, v in row.items()} for row in tables[name]]
            assert stored[name] == drafted, (number, rev, name)
