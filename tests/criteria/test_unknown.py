"""What isn't known is never good news: one cell spoiled at a time, in all the demo's packages."""

import random
import re

import pytest

from criteria.asking.questions import likely_questions
from criteria.check_sheet.sheet import asked_sheet
from criteria.findings import State
from criteria.package import read_package
from criteria.schedules import BY_SLUG
from criteria.typed.columns import Kind
from criteria.units import System
from tests.criteria.variants import PACKAGES, Variant, sample, sheet_of, typed, variants

# whole sheets again and again, of lines that other tests count
pytestmark = pytest.mark.uncounted

GARBLED = "~?"
"""What no column but one of free words reads."""


def states(sheet):
    return {finding.ref: finding.state for finding in sheet.asked}


def test_there_are_some_thousand_cells_to_spoil():
    assert len(list(variants(""))) > 1000


@pytest.mark.parametrize("variant", sample("", 60), ids=str)
def test_no_blank_breaks_sheet_questions_or_claims(variant: Variant):
    package, sheet = variant.package, variant.sheet
    for system in System:
        likely_questions(sheet, package, system)
        for finding in sheet.findings:
            finding.write_value(system), finding.write_margin(system), finding.write_notes(system)
            [step.write(system) for step in finding.steps]
        [claim.write_why(system) for claim in sheet.claims]
        [odd.write_question(system) for odd in sheet.odd]


@pytest.mark.parametrize("variant", sample(GARBLED, 60), ids=str)
def test_no_cell_that_cannot_be_read_makes_a_miss_a_pass(variant: Variant):
    before, after = states(sheet_of(variant.key)), states(variant.asked_sheet)
    mended = [ref for ref, state in after.items() if state.is_met and before[ref].is_missed]
    assert mended == []


@pytest.mark.parametrize("variant", sample(GARBLED, 60), ids=str)
def test_a_cell_that_cannot_be_read_is_named_wherever_it_changes_a_verdict(variant: Variant):
    column = BY_SLUG[variant.slug].column(variant.head)
    if column.kind is Kind.TEXT:
        pytest.skip("free words are never refused")
    before = {f.ref: f for f in sheet_of(variant.key).asked}
    for finding in variant.asked_sheet.asked:
        changed = finding.state is not before[finding.ref].state
        if changed and variant.slug not in ("site", "climate"):
            assert finding.state in (State.NO_DATA, State.SHORT, State.OVER, State.NOT_ASKED)
        if changed and finding.state is State.NO_DATA:
            assert finding.missing


def test_a_mark_that_cannot_be_read_takes_its_whole_schedule_out_of_verdicts():
    tables, targets = typed(("H07", "B"))
    loads = [dict(record) for record in tables["loads"]]
    loads[1]["mark"] = "L 2!"
    package = read_package({**tables, "loads": loads}).package
    found = {f.check: f for f in asked_sheet(package, targets).asked}
    for check in ("power_ratio", "battery_days"):
        assert found[check].state is State.NO_DATA
        assert any("row 2, Mark (load schedule): read “L 2!”" in c for c in found[check].missing)


def test_a_room_of_no_known_use_takes_no_floor_away():
    tables, targets = typed(("H07", "B"))
    rooms = [dict(record) for record in tables["rooms"]]
    rooms[0]["use"] = "slep"
    package = read_package({**tables, "rooms": rooms}).package
    whole = next(f for f in asked_sheet(package, targets).asked if f.check == "floor_area")
    assert (
        whole.value
        == next(f for f in sheet_of(("H07", "B")).asked if f.check == "floor_area").value
    )
    light = next(f for f in asked_sheet(package, targets).asked if f.check == "daylight_ratio")
    assert light.state is State.NO_DATA
    assert any("R1, Use (room schedule): read “slep”" in cell for cell in light.missing)


def test_a_layer_whose_conductivity_cannot_be_read_leaves_no_u_value():
    tables, targets = typed(("H07", "B"))
    layers = [dict(record) for record in tables["envelope"]]
    roof = next(i for i, layer in enumerate(layers) if layer["part"] == "roof" and layer["lambda"])
    layers[roof]["lambda"] = "0,04,1"
    package = read_package({**tables, "envelope": layers}).package
    found = next(f for f in asked_sheet(package, targets).asked if f.check == "roof_u")
    assert (found.state, found.value) == (State.NO_DATA, None)
    assert any("read “0,04,1”" in cell for cell in found.missing)


def _at_best() -> list[Variant]:
    found = [v for v in sample("", 60) if any(f.at_best for f in v.asked_sheet.asked)]
    assert found, "no blank cell of the sample leaves a miss that nothing could mend"
    return found


def test_no_value_mends_what_is_said_to_be_missed_at_best():
    draw = random.Random(11)
    for variant in _at_best():
        column = BY_SLUG[variant.slug].column(variant.head)
        refs = [f.ref for f in variant.asked_sheet.asked if f.at_best]
        for _ in range(5):
            if column.choices:
                text = draw.choice(column.choices)
            elif column.kind is Kind.YES_NO:
                text = draw.choice(("yes", "no"))
            elif column.least is None or column.most is None:
                break
            else:
                si = column.least + (column.most - column.least) * draw.random() ** 4
                si = int(si) if column.kind is Kind.COUNT else si
                text = f"{float(column.scale.metric.from_si(si)):.8f}".rstrip("0").rstrip(".")
            filled = Variant(variant.key, variant.slug, variant.row, variant.head, text)
            after = states(filled.asked_sheet)
            assert not [ref for ref in refs if after[ref].is_met], (str(variant), text)


_SUM = re.compile(r"[-−+×÷()\d., ]+ = [-−\d.,]+")


def _worth(text: str) -> float:
    """What a printed sum comes to; units are taken away before."""
    plain = text.replace("−", "-").replace("×", "*").replace("÷", "/").replace(",", "")
    return float(eval(plain, {"__builtins__": {}}))


@pytest.mark.parametrize("key", PACKAGES, ids="".join)
def test_every_working_comes_to_what_it_says(key):
    """Where a line of working is a sum in one unit or pure numbers, it computes as printed."""
    held = 0
    for finding in sheet_of(key).findings:
        for step in finding.steps:
            line = step.write()
            if not (found := _SUM.fullmatch(line.strip())):
                continue
            left, _, right = found[0].partition(" = ")
            assert _worth(left) == pytest.approx(_worth(right), rel=0.01, abs=0.06), line
            held += 1
    assert held


def test_an_end_that_is_absurd_beside_the_rest_bounds_nothing_and_breaks_nothing():
    variant = Variant(("H03", "B"), "windows", 3, "opens", GARBLED)
    assert not [f for f in variant.sheet.findings if f.at_best and "Opens" in str(f.missing)]
