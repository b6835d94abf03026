import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from criteria.checks.catalogue import CHECKS
from criteria.errors import Refused
from criteria.findings import Rule
from criteria.targets.reading import TARGETS, read_target, read_targets, read_uses
from criteria.units import Notation, System


def row(**cells):
    return {"id": "T01", "rule": "at least", "value": "12", "check": "daylight_ratio", **cells}


def only(reading):
    assert not reading.refused, reading.refused
    (target,) = reading.targets
    return target


def test_a_target_names_its_check_rooms_rule_and_figure_in_si():
    target = only(read_targets([row(what="Light", rooms="day kitchen", unit="%", note="see 03")]))
    assert (target.ref, target.words, target.note) == ("T01", "Light", "see 03")
    assert target.check is CHECKS["daylight_ratio"]
    assert (target.rule, target.values) == (Rule.AT_LEAST, (0.12,))
    assert target.uses == ("day", "kitchen")
    assert target.asked_by == "the brief"


def test_a_target_without_words_has_its_checks_title():
    assert only(read_targets([row()])).words == "Daylight ratio"


def test_a_target_without_a_check_is_read_from_its_words():
    words = {"what": "Kitchen daylight ratio", "note": "not over 22 %"}
    target = only(read_targets([row(check="", **words)]))
    assert target.check is CHECKS["daylight_ratio"]
    assert (target.uses, target.not_over) == (("kitchen",), 0.22)


def test_a_target_that_no_check_answers_keeps_its_words():
    target = only(read_targets([row(check="", what="A view of the lake", value="yes")]))
    assert (target.check, target.values, target.words) == (None, (), "A view of the lake")


def test_where_a_target_comes_from_can_be_said():
    assert only(read_targets([row()])).asked("Addendum 1").asked_by == "Addendum 1"


@pytest.mark.parametrize(
    ("check", "value", "unit", "si"),
    [
        ("floor_area", "75", "", 75),
        ("floor_area", "75", "m2", 75),
        ("floor_area", "800", "ft2", 74.322432),
        ("floor_area", "800 sq ft", "", 74.322432),
        ("floor_area", "800 sq ft", "m2", 74.322432),
        ("air_volume_per_sleeper", "5", "m3", 5),
        ("clear_height", "2100", "mm", 2.1),
        ("clear_height", "7'", "mm", 2.1336),
        ("water_days", "10", "days", 864_000),
        ("water_per_person_day", "15", "L/day", 0.015),
        ("daylight_ratio", "8 1/2", "%", 0.085),
    ],
)
def test_a_bare_figure_takes_the_unit_beside_it_or_the_checks_own(check, value, unit, si):
    target = only(read_targets([row(check=check, value=value, unit=unit)]))
    assert target.values[0] == pytest.approx(si, rel=1e-12)


def test_a_bare_figure_takes_the_unit_of_the_system():
    target = only(read_targets([row(check="floor_area", value="800")], Notation(System.US)))
    assert target.values[0] == pytest.approx(74.322432)


def test_two_figures_are_parted_by_a_stroke_between_spaces():
    target = only(read_targets([row(check="precedents", value="4 / 1", unit="no.")]))
    assert target.values == (4.0, 1.0)


@pytest.mark.parametrize(
    ("cells", "said"),
    [
        ({"value": "lots"}, r"row 1 \(T01\), Value: read “lots”; expected a number, such as 75"),
        ({"value": "12 m"}, r"Value: read “12 m”; .*\(m is a length\)"),
        ({"value": "12", "unit": "kg"}, r"Value: read “12 kg”; .*\(kg is a mass\)"),
        ({"value": "12", "unit": "pints"}, r"Value: read “12 pints”; expected a number"),
        ({"value": "4 / 1"}, r"Value: read “4 / 1”; expected one figure$"),
        (
            {"check": "precedents", "value": "4"},
            r"Value: read “4”; expected 2 figures, precedents / of which failed, written 4 / 1$",
        ),
        ({"value": ""}, r"Value: read “nothing”; expected text"),
        ({"rule": ""}, r"Rule: read “nothing”; expected one of: at least, at most, all"),
        ({"rule": "about"}, r"Rule: read “about”; expected one of: at least, at most, all"),
        ({"rule": "all", "value": "yes"}, r"Rule: read “all”; expected the rule “at least”"),
        ({"check": "glare"}, r"Check: read “glare”; expected one of: daylight_ratio"),
        ({"rooms": "attic"}, r"Rooms: read “attic”; expected uses of rooms among: lived-in, day"),
        ({"not_over": "11"}, r"Not over: read “11”; expected an upper bound over the target, 12$"),
        ({"not_over": "bright"}, r"Not over: read “bright”; expected a number"),
        (
            {"not_over": "20", "rule": "at most"},
            r"Not over: read “20”; expected a blank beside “at most”",
        ),
        ({"note": "not over 11 %"}, r"Note: read “11 %”; expected an upper bound over the target"),
        ({"note": "not over 3 m"}, r"Note: read “3 m”; expected a number, .*\(m is a length\)"),
        ({"id": ""}, r"^row 1, Mark: read “nothing”; expected a mark"),
    ],
)
def test_each_cell_that_cannot_be_read_is_named_by_its_column(cells, said):
    reading = read_targets([row(**cells)])
    (cell,) = reading.refused
    assert re.search(said, str(cell)), str(cell)
    (target,) = reading.targets
    assert target.check is None
    assert f"{cell.column} (targets): read “{cell.read}”; expected" in target.unread


def test_one_row_that_cannot_be_read_hides_no_other_and_keeps_its_place():
    reading = read_targets([row(value="x"), row(id="T02"), row(id="T03", rooms="attic")])
    said = [(target.ref, bool(target.unread)) for target in reading.targets]
    assert said == [("T01", True), ("T02", False), ("T03", True)]
    assert [(cell.row, cell.mark) for cell in reading.refused] == [(1, "T01"), (3, "T03")]


def test_a_reference_comes_once():
    reading = read_targets([row(), row()])
    assert [bool(target.unread) for target in reading.targets] == [False, True]
    assert [(cell.row, cell.expected) for cell in reading.refused] == [
        (2, "a mark that no row above has")
    ]


def test_an_upper_bound_may_equal_its_target():
    assert only(read_targets([row(not_over="12")])).not_over == 0.12


def test_a_bound_in_a_note_is_none_of_an_at_most_target():
    assert only(read_targets([row(rule="at most", note="not over 9 %")])).not_over is None


def test_a_target_of_all_is_none_outside():
    cells = {"check": "piece_envelope", "rule": "all", "value": "yes"}
    assert only(read_targets([row(**cells)])).values == (0.0,)
    (cell,) = read_targets([row(**cells | {"value": "most"})]).refused
    assert (cell.column, cell.read, cell.expected) == ("Value", "most", "yes")


@pytest.mark.parametrize(
    ("typed", "uses"),
    [
        ("", ()),
        ("whole", ()),
        ("all", ()),
        ("day", ("day",)),
        ("Day, Kitchen", ("day", "kitchen")),
        ("day;sleep+day", ("day", "sleep")),
        ("lived-in", ("day", "kitchen", "sleep", "lab", "work")),
        ("lived-in wc", ("day", "kitchen", "sleep", "lab", "work", "wc")),
    ],
)
def test_uses_of_rooms_are_parted_by_spaces_or_signs(typed, uses):
    assert read_uses(typed) == uses


def test_an_unknown_use_is_refused():
    with pytest.raises(Refused, match=r"read “attic”; expected uses of rooms among: lived-in, day"):
        read_uses("day attic")


def test_rooms_are_taken_by_every_check_that_looks_at_rooms_by_use():
    floor = only(read_targets([row(check="floor_area", value="20", rooms="sleep")]))
    assert floor.uses == ("sleep",)
    water = only(read_targets([row(check="water_days", value="20", what="Kitchen water days")]))
    assert water.uses == ()


@given(st.dictionaries(st.sampled_from(TARGETS.heads), st.text(max_size=50)))
def test_any_row_of_a_target_is_read_or_refused(cells):
    reading = read_targets([row(**cells)])
    (target,) = reading.targets
    assert bool(target.unread) is bool(reading.refused)


def test_a_row_that_parsed_can_be_given_its_meaning_alone():
    parsed = TARGETS.parse(row())
    assert read_target(parsed).values == (0.12,)
