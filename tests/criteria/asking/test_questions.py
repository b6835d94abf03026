"""Likely questions: the whole list, what raises each, and the order in which they stand."""

import re
from pathlib import Path

import pytest

from criteria.asking.questions import TEMPLATES, Trigger, likely_questions
from criteria.check_sheet.sheet import check_sheet
from criteria.checks.catalogue import CHECKS
from criteria.command.folder import read_folder
from criteria.findings import State
from criteria.package import Package, read_package
from criteria.schedules import BY_SLUG
from criteria.schedules.access import Door, WaysOut
from criteria.schedules.plant import Plant
from criteria.units import System

DATA = Path(__file__).parents[3] / "reviews" / "demo" / "data"


@pytest.fixture(scope="module")
def asked():
    found = {}
    for scheme, rev in (("H03", "B"), ("H07", "A"), ("H07", "B"), ("E11", "C")):
        reading = read_folder(DATA, scheme=scheme, rev=rev)
        sheet = check_sheet(reading.package, reading.targets)
        found[scheme + rev] = likely_questions(sheet, reading.package)
    return found


def test_there_are_ninety_two_templates_numbered_in_order():
    assert [template.number for template in TEMPLATES] == list(range(1, 93))


@pytest.mark.parametrize("template", TEMPLATES, ids=lambda t: str(t.number))
def test_each_template_has_a_datum_and_something_that_raises_it(template):
    assert template.datum
    assert template.check in ("", *CHECKS)
    raised = bool(template.when) + bool(template.cells)
    by_finding = template.trigger in (Trigger.MISSED, Trigger.CLAIM)
    as_it_is = template.trigger is Trigger.ALWAYS and bool(template.words)
    assert raised == 1 or (not raised and (by_finding or as_it_is))
    assert template.needs in ("", *BY_SLUG)
    for slug, head in template.cells:
        assert BY_SLUG[slug].column(head)


@pytest.mark.parametrize("template", TEMPLATES, ids=lambda t: str(t.number))
def test_questions_ask_and_never_blame(template):
    if template.words:
        assert template.words.rstrip().endswith(("?", "."))
    assert "!" not in template.words
    assert not re.search(r"\bfail|\bwrong\b|\bbad\b|\berror", template.words, re.IGNORECASE)


def _asked_of(**schedules):
    package = read_package(schedules).package
    return [each.text for each in likely_questions(check_sheet(package, ()), package)]


def test_what_a_step_leaves_in_the_ground_is_asked_about():
    step = {"mark": "Q1", "step": "Anchor", "leaves": "four screws"}
    asks = "Take it away again. Q1 leaves four screws. What is left in the ground?"
    assert asks in _asked_of(steps=[step])
    pieces, bare = [{"mark": "M1", "piece": "Shell"}], step | {"leaves": "none"}
    assert "Take it away again. What is left in the ground?" in _asked_of(
        steps=[bare], pieces=pieces
    )
    said = {"supports": [{"anchors": "Four screws"}], "steps": [bare], "pieces": pieces}
    assert not any(text.startswith("Take it away") for text in _asked_of(**said))


@pytest.mark.parametrize("key", ["H03B", "H07A", "H07B", "E11C"])
def test_hazards_stand_first_then_the_largest_shortfall_then_the_rest(key, asked):
    questions = asked[key]
    hazards = [q.is_hazard for q in questions]
    assert hazards == sorted(hazards, reverse=True)
    rest = [q for q in questions if not q.is_hazard]
    assert [q.trigger for q in rest] == sorted(q.trigger for q in rest)
    missed = [q.weight for q in rest if q.trigger is Trigger.MISSED]
    assert missed == sorted(missed, reverse=True)


def test_the_wall_ten_times_out_leads_what_is_not_a_hazard(asked):
    first = next(q for q in asked["H07A"] if not q.is_hazard)
    assert (first.ref, first.check) == ("T10", "wall_u")


def test_a_lift_by_the_fire_is_a_hazard(asked):
    said = [q.text for q in asked["H07A"] if q.is_hazard]
    assert "Hearth table, 24 kg, is lifted by the fire. Who lets go?" in said


def test_every_missed_target_and_every_odd_value_is_asked_about_once(asked):
    for key, (scheme, rev) in {"H07A": ("H07", "A"), "E11C": ("E11", "C")}.items():
        reading = read_folder(DATA, scheme=scheme, rev=rev)
        sheet = check_sheet(reading.package, reading.targets)
        refs = [q.ref for q in asked[key] if q.ref]
        assert sorted(refs) == sorted(
            f.ref for f in sheet.asked if f.state.is_missed or f.state is State.NO_DATA
        )
        texts = [q.text for q in asked[key]]
        assert len(set(texts)) == len(texts)
        for odd in sheet.odd:
            assert texts.count(odd.write_question()) == 1


def test_the_drift_side_is_where_windows_are_buried(asked):
    """W2 and W3 of H03 face the drift, with sills about 1.2 and 1.5 m above the terrace."""
    said = next(q.text for q in asked["H03B"] if q.template == 7)
    assert said.startswith("Snow drifts to 2\u202f200 mm. W2, W3:")


def test_differing_claims_are_asked_about_and_agreeing_ones_are_not(asked):
    claims = [q.template for q in asked["H03B"] if q.trigger is Trigger.CLAIM]
    assert claims == [2, 28, 89]
    battery = next(q.text for q in asked["H03B"] if q.template == 89)
    assert battery == (
        "Battery: the sheet says “3 days”, held as Battery days, usable energy, 3.0 days; the "
        "schedules give 2.9 days. Which would the builder follow?"
    )
    assert not [q for q in asked["H07B"] if q.trigger is Trigger.CLAIM]


def test_figures_follow_the_reader_s_units():
    reading = read_folder(DATA, scheme="H03", rev="B")
    sheet = check_sheet(reading.package, reading.targets)
    said = [q.text for q in likely_questions(sheet, reading.package, System.US)]
    assert any("Roof cassette is 1,687 lb, against 1,653 lb" in text for text in said)


def test_an_empty_package_is_asked_only_what_always_is():
    questions = likely_questions(check_sheet(Package(), ()), Package())
    assert {q.trigger for q in questions} == {Trigger.ALWAYS}
    assert [q.template for q in questions] == [85, 86, 87, 90, 92]


@pytest.mark.parametrize(
    ("package", "template"),
    [
        (Package(plant=Plant(burns=True)), 12),
        (Package(ways_out=WaysOut(drop_m=1.2)), 67),
        (Package(doors=(Door(mark="D1", place="Porch", is_outside=True),)), 65),
    ],
)
def test_hazards_that_a_blank_raises(package, template):
    questions = likely_questions(check_sheet(package, ()), package)
    assert questions[0].template == template
    assert questions[0].is_hazard


def test_a_drop_of_600_mm_is_no_hazard_and_a_guard_answers():
    for row in (WaysOut(drop_m=0.6), WaysOut(drop_m=1.2, guard_m=1.1)):
        package = Package(ways_out=row)
        found = likely_questions(check_sheet(package, ()), package)
        assert 67 not in [q.template for q in found]
