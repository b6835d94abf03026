import math
import random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from criteria.check_sheet.sheet import asked_sheet, check_sheet, judge, unasked
from criteria.checks.catalogue import CATALOGUE, CHECKS
from criteria.findings import State
from criteria.package import Package, read_package
from criteria.schedules import SCHEDULES
from criteria.targets.reading import read_targets
from criteria.targets.sets import SETS, targets_of
from criteria.units import System


@pytest.fixture
def hut(package, room, window) -> Package:
    """A day room at 13 %, another at 25 %, and a bunk room for two."""
    return package(
        rooms=[
            room("R1", "10", clear_height_m="2.5"),
            room("R2", "10"),
            room("R3", "8", "sleep", sleepers="2"),
        ],
        windows=[
            window("W1", "R1", "1300", "1000"),
            window("W2", "R2", "2500", "1000"),
            window("W3", "R3", "400", "1000"),
        ],
        site={"people": "4", "water_l_pd": "15"},
    )


def test_every_target_gives_one_finding_in_its_order(hut):
    rows = [
        {"id": "T2", "check": "floor_area", "rule": "at most", "value": "30"},
        {"id": "T1", "check": "daylight_ratio", "rule": "at least", "value": "8", "rooms": "day"},
        {"id": "T3", "check": "daylight_ratio", "rule": "at least", "value": "8", "rooms": "sleep"},
        {"id": "T4", "what": "A view of the lake", "rule": "all", "value": "yes"},
    ]
    sheet = check_sheet(hut, read_targets(rows).targets)
    assert [f.ref for f in sheet.asked] == ["T2", "T1", "T3", "T4"]
    assert [f.state for f in sheet.asked] == [State.MEETS, State.MEETS, State.SHORT, State.NO_DATA]
    assert (sheet.missed, sheet.count(State.MEETS), sheet.is_met) == (1, 2, False)


def test_every_check_that_nothing_asks_for_follows_as_not_asked(hut):
    sheet = check_sheet(hut, ())
    listed = [check.slug for check in CATALOGUE if not check.is_yearly]
    assert [f.check for f in sheet.findings] == listed
    assert {f.state for f in sheet.findings} == {State.NOT_ASKED}
    assert (sheet.asked, sheet.is_met) == ((), True)


def test_what_is_not_asked_still_has_its_worst_value(hut):
    assert unasked(hut, CHECKS["daylight_ratio"]).write_value() == "5.0 %"
    assert unasked(hut, CHECKS["floor_area"]).write_value() == "28.0 m²"
    assert unasked(hut, CHECKS["clear_height"]).subject == "R2"
    tanks = unasked(hut, CHECKS["water_days"])
    assert (tanks.value, tanks.missing) == (None, ("rows of the tank schedule",))
    assert tanks.question == ""


def test_a_target_that_no_check_answers_has_no_data_and_says_why(hut):
    targets = read_targets([{"id": "T4", "what": "A view", "rule": "all", "value": "yes"}]).targets
    finding = judge(hut, targets[0])
    assert (finding.state, finding.title, finding.check) == (State.NO_DATA, "A view", "")
    assert finding.missing == ("a check of the catalogue that answers this target",)


@pytest.mark.parametrize(
    ("bound", "state", "subject"),
    [("24", State.OVER, "R2"), ("25", State.ON_THE_LINE, "R2"), ("26", State.MEETS, "R1")],
)
def test_an_upper_bound_holds_for_every_room_not_for_the_darkest_alone(
    hut, hold, bound, state, subject
):
    finding = hold(hut, "daylight_ratio", "12", rooms="day", not_over=bound)
    assert (finding.state, finding.subject) == (state, subject)
    assert finding.worst_first[0].subject == subject
    assert {m.subject for m in finding.worst_first} == {"R1", "R2"}


def test_over_its_bound_a_finding_says_by_how_much_and_asks_of_it(hut, hold):
    finding = hold(hut, "daylight_ratio", "12", rooms="day", not_over="22")
    assert finding.write_margin() == "over by 3.0 points"
    assert finding.question == (
        "Day room has 25.0 % of its floor in clear glass; the brief allows 22.0 %. Where do the "
        "heat and the glare go?"
    )


def test_short_of_its_target_a_finding_is_short_whatever_its_bound(hut, hold):
    finding = hold(hut, "daylight_ratio", "15", rooms="day", not_over="22")
    assert (finding.state, finding.subject) == (State.SHORT, "R1")


def test_a_bound_changes_nothing_where_there_are_no_data(package, room, hold):
    finding = hold(package(rooms=room()), "daylight_ratio", "12", not_over="22")
    assert finding.state is State.NO_DATA


def test_a_bound_of_a_check_without_its_own_words_is_asked_in_its_usual_ones(hut, hold):
    finding = hold(hut, "floor_per_person", "5", not_over="6 m²")
    assert finding.state is State.OVER
    assert "against 6.00 m²" in finding.question


def test_a_question_can_be_asked_in_either_system(hut, hold):
    finding = hold(hut, "floor_per_sleeper", "5")
    assert finding.question.startswith("4.00 m² each in Bunk room, against 5.00 m².")
    assert finding.write_question(System.US).startswith(
        "43.1 ft² each in Bunk room, against 53.8 ft²."
    )


@pytest.mark.parametrize("check", CATALOGUE, ids=lambda check: check.slug)
def test_every_question_can_be_filled_in_and_reads_as_one(check):
    for words in filter(None, (check.question, check.question_over)):
        parts = {"values": ["1", "2"], "targets": ["3", "4"]}
        asked = words.format(name="Day room", value="1.0 m", target="2.0 m", **parts)
        assert asked.rstrip().endswith(("?", "."))
        assert "{" not in asked
        assert "!" not in asked


@pytest.mark.parametrize("check", CATALOGUE, ids=lambda check: check.slug)
def test_every_check_says_formula_meaning_source_and_limits(check):
    for words in (check.title, check.topic, check.formula, check.meaning, check.limits):
        assert words.strip()
    assert check.citations
    assert check.schedules
    assert len(check.part_names) == len(check.scales)


def test_an_empty_package_has_no_data_for_any_target():
    for chosen in SETS:
        sheet = check_sheet(Package(), targets_of(chosen))
        assert {f.state for f in sheet.asked} == {State.NO_DATA}
        assert not sheet.is_met
        assert all(f.missing and f.question for f in sheet.asked)


def test_an_empty_package_can_be_measured_by_every_check():
    for finding in check_sheet(Package(), ()).findings:
        assert finding.state is State.NOT_ASKED


ALL_SETS = [target for chosen in SETS for target in targets_of(chosen)]

# A package typed in millimetres and metres, and the same in feet and inches. Each pair is one
# size by the exact inch of 25.4 mm (NIST Handbook 44).
INCHES = {"1219.2": "4'-0\"", "1371.6": "4'-6\"", "609.6": "2'", "38.1": '1 1/2"'}
METRES = {"2.1336": "7'", "2.286": "7'-6\"", "3.048": "10 ft"}
AREAS = {"9.290304": "100 sq ft", "13.37803776": "144 ft2", "6.5032128": "70 ft²"}
LITRES = {"378.5411784": "100 gal", "189.2705892": "50 US gal"}


@pytest.mark.uncounted
@given(st.data())
def test_metric_and_us_entry_of_one_package_find_the_same(data):
    def pick(pairs):
        return data.draw(st.sampled_from(sorted(pairs.items())))

    tables: tuple[dict, dict] = ({}, {})
    cells = {
        "rooms": {"floor_m2": AREAS, "clear_height_m": METRES},
        "windows": {"glass_w": INCHES, "glass_h": INCHES},
        "tanks": {"litres": LITRES},
    }
    fixed = {
        "rooms": {"mark": "R1", "room": "Bunks", "use": "sleep", "sleepers": "2"},
        "windows": {"mark": "W1", "room": "R1", "n": "1", "open_share": "0.5"},
        "tanks": {"mark": "T1", "holds": "potable", "usable_share": "0.9"},
    }
    for slug, heads in cells.items():
        pairs = {head: pick(pairs) for head, pairs in heads.items()}
        for side, table in enumerate(tables):
            table[slug] = [fixed[slug] | {head: pair[side] for head, pair in pairs.items()}]
    site = {"people": "4", "water_l_pd": "15", "supply_days": "7"}
    for table in tables:
        table["site"] = [site]
    metric, us = (check_sheet(read_package(table).package, ALL_SETS) for table in tables)
    for one, other in zip(metric.findings, us.findings, strict=True):
        assert (one.state, one.subject, one.missing) == (other.state, other.subject, other.missing)
        assert one.value == pytest.approx(other.value, rel=1e-12)
        assert one.write_value(System.US) == other.write_value(System.US)


ROOMS_BY_USE = ("day", "kitchen", "sleep", "sleep", "wc", "sleep")
IN_ORDER = {
    "rooms": [
        {"mark": f"R{n}", "room": f"Room {n}", "use": use, "floor_m2": str(5 + n)}
        | {"clear_height_m": f"{2 + n / 10}", "sleepers": str(n % 4)}
        for n, use in enumerate(ROOMS_BY_USE, start=1)
    ],
    "windows": [
        {"mark": f"W{n}", "room": f"R{1 + n % 4}", "n": "1", "glass_w": str(500 + 70 * n)}
        | {"glass_h": "900", "open_share": "0.5"}
        for n in range(1, 9)
    ],
    "tanks": [
        {"mark": f"T{n}", "holds": "potable", "litres": str(100 * n), "usable_share": "0.9"}
        for n in range(1, 5)
    ],
    "site": [{"people": "6", "water_l_pd": "15", "supply_days": "7"}],
}


@pytest.fixture(scope="module")
def in_order():
    return check_sheet(read_package(IN_ORDER).package, ALL_SETS)


@pytest.mark.uncounted
@given(st.randoms(use_true_random=False))
def test_the_order_of_rows_changes_nothing(in_order, shuffle: random.Random):
    mixed = {slug: shuffle.sample(rows, len(rows)) for slug, rows in IN_ORDER.items()}
    after = check_sheet(read_package(mixed).package, ALL_SETS)
    for one, other in zip(in_order.findings, after.findings, strict=True):
        assert (one.state, one.subject) == (other.state, other.subject)
        assert one.value == pytest.approx(other.value, rel=1e-12)


@given(st.data())
def test_any_typed_package_can_be_checked(data):
    """Whatever cells hold, a finding comes out of every check and no figure is no number."""
    table = st.fixed_dictionaries
    kinds = ("rooms", "windows", "tanks", "occupants", "precedents")
    tables = {}
    for schedule in SCHEDULES:
        if schedule.slug not in kinds:
            continue
        cells = {}
        for column in schedule.columns:
            likely = [column.example, "0", "1", "-", "", "9" * 39, "0.1", *column.choices[:3]]
            cells[column.head] = st.sampled_from(sorted({*likely, "R1", "R2", "x"}))
        tables[schedule.slug] = data.draw(st.lists(table(cells), max_size=2))
    package = read_package(tables).package
    for finding in check_sheet(package, ALL_SETS).findings:
        assert all(p.value is None or math.isfinite(p.value) for p in finding.parts)
        written = " ".join((finding.write_value(), *(step.write() for step in finding.steps)))
        assert "nan" not in written
        assert finding.state is not State.NO_DATA or finding.missing


def test_without_what_nothing_asks_for_the_rest_of_the_sheet_is_the_same(hut):
    targets = targets_of(SETS[0])
    whole, alone = check_sheet(hut, targets), asked_sheet(hut, targets)
    assert alone.findings == whole.asked
    assert (alone.odd, alone.claims) == (whole.odd, whole.claims)
    assert len(whole.findings) > len(alone.findings)
