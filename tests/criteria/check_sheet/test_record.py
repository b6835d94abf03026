"""A check sheet kept as a record is read again as it was, whatever the library does later."""

import json
from dataclasses import dataclass, fields, replace

import pytest

from criteria import units
from criteria.check_sheet import record
from criteria.check_sheet.record import as_record, read_record
from criteria.check_sheet.sheet import CheckSheet, check_sheet
from criteria.errors import Refused
from criteria.findings import Amount, State, Step
from criteria.targets.reading import read_targets
from criteria.units import AREA, M2, System

TARGETS = [
    {"id": "T01", "what": "Daylight", "check": "daylight_ratio", "rule": "at least", "value": "12",
     "unit": "%", "not_over": "22"},
    {"id": "T02", "what": "Floor", "check": "floor_per_sleeper", "rule": "at least", "value": "5"},
    {"id": "T03", "what": "A {lovely} room", "rule": "all", "value": "yes"},
    {"id": "T04", "check": "water_days", "rule": "at least", "value": "14"},
]  # fmt: skip

KEPT = {
    "shared": [
        {
            "is": "Scale",
            "metric": {"is": "Unit", "symbol": "m²", "dimension": "area",
                       "factor": {"is": "Fraction", "value": "1"}},
            "us": {"is": "Unit", "symbol": "ft²", "dimension": "area",
                   "factor": {"is": "Fraction", "value": "145161/1562500"}},
            "places": 1,
        }
    ],
    "sheet": {
        "is": "CheckSheet", "odd": [],
        "findings": [
            {
                "is": "Finding", "ref": "T02", "check": "floor_a_sleeper", "title": "Floor",
                "rule": {"is": "Rule", "value": "at least"},
                "state": {"is": "State", "value": "short"}, "formula": "A ÷ n",
                "parts": [
                    {"is": "Part", "name": "", "scale": {"shared": 0}, "value": 4.0, "target": 5.0,
                     "state": {"is": "State", "value": "short"}}
                ],
                "steps": [
                    {"is": "Step", "words": "{} ÷ {}", "amounts": [
                        {"is": "Amount", "si": 8.0, "scale": {"shared": 0}}, 2]}
                ],
                "asks": "{value} each, against {target}. Who gets up first?",
                "of_a_later_or_former_library": "passed over",
            }
        ],
    },
}  # fmt: skip
"""As it stands in a database, of a check that the library has no more."""


@pytest.fixture
def sheet(package, room, window) -> CheckSheet:
    """Findings met, short, over and without data, an odd value and a claim."""
    hut = package(
        rooms=[room("R1", "10"), room("R2", "8", "sleep", sleepers="2")],
        windows=[window("W1", "R1", "1300", "1000"), window("W2", "R2", "400", "1000")],
        tanks=[{"mark": "T1", "holds": "potable", "litres": "1.6"}],
        claims=[{"about": "Day room glass", "text": "20 %", "sheet": "02"}],
        site={"people": "4", "water_l_pd": "15"},
    )
    return check_sheet(hut, read_targets(TARGETS).targets)


def kept(sheet: CheckSheet) -> CheckSheet:
    return read_record(json.loads(json.dumps(as_record(sheet), allow_nan=False)))


def test_all_of_it_is_read_again(sheet):
    assert sheet.odd
    assert sheet.claims[0].differs
    assert kept(sheet) == sheet


@pytest.mark.parametrize("system", System)
def test_what_was_kept_is_written_in_either_system(system):
    (finding,) = read_record(KEPT).findings
    expected = {
        System.METRIC: ("4.0 m²", "8.0 m² ÷ 2", "4.0 m² each, against 5.0 m². Who gets up first?"),
        System.US: ("43 ft²", "86 ft² ÷ 2", "43 ft² each, against 54 ft². Who gets up first?"),
    }
    written = (
        finding.write_value(system),
        finding.steps[0].write(system),
        finding.write_question(system),
    )
    assert written == expected[system]


def test_a_library_that_rounds_otherwise_changes_nothing(sheet, monkeypatch):
    written = as_record(sheet)
    monkeypatch.setattr(units, "FLOOR", replace(units.FLOOR, places=4))
    assert "8.0 m²" in str([f.write_value() for f in read_record(written).findings])


def test_what_a_figure_cannot_be_in_json_is_kept_too(sheet):
    endless = replace(sheet.findings[0], steps=(Step("{}", (Amount(float("inf"), AREA),)),))
    again = kept(replace(sheet, findings=(endless,)))
    assert again.findings[0].steps[0].amounts[0].si == float("inf")


def test_a_field_that_is_new_is_carried_without_a_line(sheet, monkeypatch):
    @dataclass(frozen=True)
    class Reach:
        best: Amount
        state: State | None = None

    @dataclass(frozen=True)
    class LaterSheet(CheckSheet):
        reaches: tuple[Reach, ...] = ()

    monkeypatch.setattr(record, "CheckSheet", LaterSheet)
    record._kinds.cache_clear()
    later = LaterSheet(sheet.findings, sheet.odd, sheet.claims, (Reach(Amount(2.0, AREA)),))
    try:
        assert kept(later) == later
    finally:
        record._kinds.cache_clear()


@pytest.mark.parametrize(
    "wrong",
    [
        {},
        {"shared": [], "sheet": {"is": "Oracle"}},
        {"shared": [], "sheet": {"shared": 3}},
        {"shared": [], "sheet": {"is": "CheckSheet", "odd": []}},
        {"shared": [], "sheet": "sheet"},
    ],
)
def test_a_record_that_cannot_be_read_is_refused(wrong):
    with pytest.raises(Refused, match="expected"):
        read_record(wrong)


def test_what_no_field_declares_is_not_kept_silently(sheet):
    @dataclass(frozen=True)
    class Stray:
        words: str

    with pytest.raises(TypeError, match="Stray"):
        as_record(replace(sheet, odd=(Stray("lost"),)))


def test_a_scale_stands_once_however_often_it_is_used(sheet):
    symbols = [each["metric"]["symbol"] for each in as_record(sheet)["shared"] if "metric" in each]
    scales = [json.dumps(e, sort_keys=True) for e in as_record(sheet)["shared"] if "metric" in e]
    assert M2.symbol in symbols
    assert len(scales) == len(set(scales))


def test_every_field_of_a_finding_is_in_its_record(sheet):
    """Those that hold their default are left out, and come back by it."""
    for finding, written in zip(sheet.findings, as_record(sheet)["sheet"]["findings"], strict=True):
        told = {f.name for f in fields(finding) if getattr(finding, f.name) != f.default}
        assert told <= set(written)
