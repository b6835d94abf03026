import json

import pytest

from criteria.check_sheet.sheet import check_sheet
from criteria.checks.catalogue import CATALOGUE
from criteria.command import report
from criteria.command.schema import package_schema
from criteria.package import Package, read_package
from criteria.schedules import SCHEDULES, SITE
from criteria.targets.reading import read_targets
from criteria.typed.columns import Kind
from criteria.units import System


@pytest.fixture
def tables(room, window):
    return {
        "rooms": [
            room("R1", "10", clear_height_m="2.5"),
            room("R2", "10", "sleep", sleepers="2", low_headroom_m2="7"),
        ],
        "windows": [window("W1", "R1", "2500", "1000")],
        "tanks": [{"mark": "T1", "holds": "potable", "litres": "1.6", "usable_share": "0.9"}],
        "precedents": [{"mark": "P1", "building": "A hut", "outcome": "in use"}],
        "site": [{"people": "4", "water_l_pd": "15"}],
    }


ROWS = [
    {"id": "T01", "what": "Light", "check": "daylight_ratio", "rooms": "day", "rule": "at least",
     "value": "12", "not_over": "22"},
    {"id": "T02", "what": "Bunks", "check": "floor_per_sleeper", "rule": "at least", "value": "2"},
    {"id": "T03", "what": "Floor", "check": "floor_area", "rule": "at most", "value": "30"},
    {"id": "T04", "what": "Visits", "check": "water_per_person_day", "rule": "at least",
     "value": "5"},
    {"id": "T05", "what": "Kitchen light", "check": "daylight_ratio", "rooms": "kitchen",
     "rule": "at least", "value": "8"},
    {"id": "T06", "what": "A view", "rule": "all", "value": "yes"},
    {"id": "T07", "what": "Studies", "check": "precedents", "rule": "at least", "value": "4 / 1"},
]  # fmt: skip


@pytest.fixture
def sheet(tables):
    return check_sheet(read_package(tables).package, read_targets(ROWS).targets)


def lines_of(sheet, system=System.METRIC, figures=None):
    text = report.as_text(sheet, "H01 A", figures or {}, system)
    assert text.endswith("\n")
    return text.splitlines()


def line(lines, start):
    (found,) = [" ".join(one.split()) for one in lines if one.startswith(start)]
    return found


def test_a_line_has_value_target_state_margin_and_who_decided(sheet):
    lines = lines_of(sheet)
    assert line(lines, "T01") == (
        "T01 Light 25.0 % at least 12.0 %, not over 22.0 % Over over by 3.0 points; Day room (R1)"
    )
    assert line(lines, "T02") == (
        "T02 Bunks 1.50 m² at least 2.00 m² Short short by 0.50 m²; Bunk room (R2)"
    )
    assert line(lines, "T03") == "T03 Floor 20.0 m² at most 30.0 m² Meets"
    assert line(lines, "T04") == (
        "T04 Visits – at least 5.00 L/day No data still needs Days between supply visits "
        "(site sheet)"
    )
    assert line(lines, "T05") == (
        "T05 Kitchen light – at least 8.0 % Not asked no room of use kitchen; open plan is "
        "counted with the room it opens to"
    )
    assert "T06 A view – No data still needs a check of the catalogue" in line(lines, "T06")


def test_the_count_of_what_is_missed_is_followed_by_what_is_without_data(sheet):
    assert "3 short or over of 7, 2 without data" in lines_of(sheet)
    assert "0 short or over of 0" in lines_of(check_sheet(Package(), ()))


def test_a_sheet_says_that_it_is_no_approval(sheet):
    assert lines_of(sheet)[:2] == ["Check sheet: H01 A", report.TEACHING]
    assert "not a code approval" in report.TEACHING


def test_us_units_reach_every_figure_and_question(sheet):
    lines = lines_of(sheet, System.US)
    assert "16.1 ft² at least 21.5 ft² Short short by 5.4 ft²" in line(lines, "T02")
    assert line(lines, "  T02").startswith("T02: 16.1 ft² each in Bunk room, against 21.5 ft².")
    assert not [one for one in lines if one.startswith("  T0") and "m²" in one]


def test_what_nothing_asked_for_is_given_for_information(sheet):
    lines = lines_of(sheet)
    assert "  Floor area per person: 5.00 m²" in lines[lines.index("Not asked, for information:") :]


def test_odd_values_and_likely_questions_follow(sheet):
    lines = lines_of(sheet)
    assert "  T1 reads 1.6 L. Is that 1.6 m³, 1\u202f600 L?" in lines
    questions = lines[lines.index("Likely questions:") :]
    assert line(questions, "  T07").startswith(
        "T07: Precedents: 1, of which 0 failed; 4 and 1 are asked."
    )
    assert line(questions, "  T04") == (
        "T04: Visits can't be computed without Days between supply visits (site sheet). "
        "What will stand there?"
    )


def test_figures_read_from_words_are_named(sheet):
    assert "Figures read from the words of the targets: People in the brief 4" in lines_of(
        sheet, figures={"People in the brief": "4"}
    )


def test_without_targets_a_sheet_says_so():
    assert "No targets were given: every check is Not asked." in lines_of(
        check_sheet(Package(), ())
    )


def test_json_has_figures_in_their_unit_and_not_rounded(sheet):
    findings = {
        f["target"]: f
        for f in json.loads(json.dumps(report.as_json(sheet, "H01 A", {})))["findings"]
    }
    light = findings["T01"]
    assert (light["check"], light["subject"], light["name"]) == ("daylight_ratio", "R1", "Day room")
    assert (light["value"], light["unit"], light["rule"], light["target_value"]) == (
        pytest.approx(25.0),
        "%",
        "at least",
        pytest.approx(12.0),
    )
    assert (light["not_over"], light["margin"]) == (pytest.approx(22.0), pytest.approx(-3.0))
    assert light["state"] == "over"
    assert (
        light["working"]
        == "W1: 1 × 2\u202f500 mm × 1\u202f000 mm = 2.50 m²; 2.50 m² ÷ 10.0 m² = 25.0 %"
    )
    assert "International Residential Code" in light["source"]
    assert light["asked_by"] == "the brief"
    assert findings["T02"]["margin"] == pytest.approx(-0.5)
    assert findings["T03"]["margin"] == pytest.approx(10.0)
    assert findings["T03"]["subject"] is None


def test_json_has_null_for_what_is_not_known(sheet):
    findings = {f["target"]: f for f in report.as_json(sheet, "H01 A", {})["findings"]}
    assert (findings["T04"]["value"], findings["T04"]["margin"]) == (None, None)
    assert findings["T04"]["missing"] == ["Days between supply visits (site sheet)"]
    assert (findings["T06"]["check"], findings["T06"]["state"]) == (None, "no_data")
    assert findings["T05"]["state"] == "not_asked"
    assert findings["T05"]["question"] is None
    assert findings[None]["asked_by"] is None


def test_json_of_two_parts_has_two_whole_numbers(sheet):
    (studies,) = [f for f in report.as_json(sheet, "", {})["findings"] if f["target"] == "T07"]
    assert (studies["value"], studies["target_value"], studies["margin"]) == ([1, 0], [4, 1], None)


def test_json_has_package_odd_values_and_figures_from_words(sheet):
    written = report.as_json(sheet, "H01 A", {"People in the brief": "4"})
    assert written["package"] == "H01 A"
    assert written["figures_from_words"] == {"People in the brief": "4"}
    odd = written["odd_values"][0]
    assert (odd["schedule"], odd["mark"], odd["column"], odd["suggestion"]) == (
        "tanks",
        "T1",
        "litres",
        "1.6 m³",
    )


# The tank gives 1.6 L × 0.9 ÷ (4 × 15 L/day) = 0.02 days; no check weighs a spirit.
def test_claims_stand_beside_what_the_schedules_give(tables):
    tables["claims"] = [
        {"about": "Water", "text": "10 days", "sheet": "03"},
        {"about": "Spirit", "text": "calm"},
    ]
    sheet = check_sheet(read_package(tables).package, ())
    lines = lines_of(sheet)
    start = lines.index("Claims on sheets:")
    assert lines[start + 1].startswith(
        "  Water, “10 days”, held as Water days at full house, 10.0 days, against 0.02 days: "
    )
    assert lines[start + 2] == "  Spirit, “calm”; its words name no check: which check?"
    water, spirit = report.as_json(sheet, "", {})["claims"]
    assert (water["claimed"], water["computed"], water["unit"], water["sheet"]) == (
        pytest.approx(10),
        pytest.approx(0.024),
        "days",
        "03",
    )
    assert water["state"] == "claim_differs"
    assert (spirit["claimed"], spirit["computed"], spirit["unit"], spirit["sheet"]) == (
        None,
        None,
        "",
        None,
    )
    assert spirit["state"] == "which_check"


def test_a_target_of_all_is_written_in_words(tables):
    rows = [{"id": "T25", "check": "piece_envelope", "rule": "all", "value": "yes"}]
    tables["pieces"] = [
        {
            "mark": "M1",
            "piece": "Beam",
            "n": "1",
            "l_m": "7",
            "w_m": "1",
            "h_m": "1",
            "kg_each": "9",
        }
    ]
    tables["site"] = [{"piece_l_m": "6", "piece_w_m": "2.3", "piece_h_m": "2.2"}]
    sheet = check_sheet(read_package(tables).package, read_targets(rows).targets)
    assert "not: M1 all Short" in line(lines_of(sheet), "T25")
    (pieces,) = [f for f in report.as_json(sheet, "", {})["findings"] if f["target"] == "T25"]
    assert (pieces["value"], pieces["target_value"], pieces["rule"]) == ("not: M1", "all", "all")
    asked = check_sheet(read_package({}).package, ())
    unasked = {f["check"]: f for f in report.as_json(asked, "", {})["findings"]}["piece_envelope"]
    assert unasked["target_value"] is None


def test_every_check_stands_in_each_form_of_the_catalogue():
    text, markdown = report.catalogue_text(), report.catalogue_markdown()
    listed = report.catalogue_json()
    assert [check["check"] for check in listed] == [check.slug for check in CATALOGUE]
    for check in CATALOGUE:
        assert f"{check.slug}: {check.title} ({check.topic})" in text
        assert f"| {check.title} (`{check.slug}`) | {check.topic} | {check.formula} |" in markdown
        assert str(check.citations[0]) in text


def test_the_markdown_is_a_table_of_four_columns():
    rows = report.catalogue_markdown().splitlines()
    assert len(rows) == len(CATALOGUE) + 2
    assert {row.count("|") for row in rows} == {5}


def test_the_schema_names_every_schedule_and_column():
    schema = package_schema()
    assert set(schema["properties"]) >= {s.slug for s in (*SCHEDULES, SITE)}
    rooms = schema["properties"]["rooms"]["items"]
    assert rooms["required"] == ["mark", "room", "use"]
    assert rooms["properties"]["use"]["enum"][0] == "day"
    assert "" not in rooms["properties"]["use"]["enum"]
    assert "A bare number is in m²." in rooms["properties"]["floor_m2"]["description"]
    opens = schema["properties"]["windows"]["items"]["properties"]["opens"]
    assert opens["enum"][-1] == ""
    assert schema["properties"]["site"]["maxItems"] == 1
    assert "maxItems" not in schema["properties"]["rooms"]


def test_the_schema_says_what_each_column_takes():
    for schedule in (*SCHEDULES, SITE):
        row = package_schema()["properties"][schedule.slug]["items"]
        assert list(row["properties"]) == list(schedule.heads)
        for column in schedule.columns:
            cell = row["properties"][column.head]
            assert cell["title"] == column.label
            assert column.expected() in cell["description"]
            assert ("enum" in cell) is (column.kind is Kind.WORD)


@pytest.mark.parametrize(
    ("keep", "code"),
    [
        (("T03",), 0),
        (("T03", "T05"), 0),
        (("T02",), 1),
        (("T01",), 1),
        (("T04",), 1),
        (("T06",), 1),
        ((), 0),
    ],
)
def test_the_exit_code_is_1_where_any_is_short_over_or_without_data(tables, keep, code):
    rows = [row for row in ROWS if row["id"] in keep]
    sheet = check_sheet(read_package(tables).package, read_targets(rows).targets)
    assert report.exit_code(sheet) == code
