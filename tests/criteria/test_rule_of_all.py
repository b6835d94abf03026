"""A target that asks something of all: how it is read, held, written and asked about."""

import pytest

from criteria.asking.questions import likely_questions
from criteria.check_sheet.sheet import check_sheet
from criteria.command.report import as_json, as_text
from criteria.findings import Rule, State, compare
from criteria.package import read_package
from criteria.targets.reading import read_targets
from criteria.units import System

ROW = {"id": "T25", "what": "Every piece within 6.0 x 2.3 x 2.2 m", "rule": "all", "value": "yes"}
SITE = {"piece_l_m": "6.0", "piece_w_m": "2.3", "piece_h_m": "2.2"}
LONG = {"mark": "M2", "piece": "Panel", "n": "1", "l_m": "6.4", "w_m": "2.2", "h_m": "0.3"}


@pytest.mark.parametrize(("outside", "state"), [(0, State.MEETS), (1, State.SHORT)])
def test_none_may_be_outside(outside, state):
    assert compare(outside, 0, Rule.ALL, is_count=True) is state


@pytest.mark.parametrize(
    ("cells", "column", "expected"),
    [
        ({"value": "no"}, "Value", "yes"),
        ({"rule": "at least", "value": "1"}, "Rule", "the rule “all”"),
        ({"check": "water_days"}, "Rule", "the rule “at least”"),
    ],
)
def test_a_rule_that_is_not_the_check_s_is_named(cells, column, expected):
    (refused,) = read_targets([ROW | cells]).refused
    assert refused.column == column
    assert expected in refused.expected


def sheet_of(pieces):
    package = read_package({"site": [SITE], "pieces": pieces}).package
    targets = read_targets([ROW]).targets
    return check_sheet(package, targets), package


def test_what_is_outside_is_written_by_its_mark():
    sheet, package = sheet_of([LONG])
    (finding,) = as_json(sheet, "hut", {})["findings"][:1]
    assert (finding["value"], finding["target_value"]) == ("not: M2", "all")
    assert (finding["rule"], finding["state"]) == ("all", "short")
    text = as_text(sheet, "hut", {}, System.METRIC, likely_questions(sheet, package))
    assert "T25: M2: larger than can be brought. Shorten or split?" in text


def test_all_within_is_written_as_all():
    sheet, _ = sheet_of([LONG | {"l_m": "6.0"}])
    (finding,) = as_json(sheet, "hut", {})["findings"][:1]
    assert (finding["value"], finding["state"]) == ("all", "meets")
    assert finding["margin"] == 0
