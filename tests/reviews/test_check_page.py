"""A line of a check sheet, as its page shows it."""

import pytest

from criteria.check_sheet.sheet import judge
from criteria.package import read_package
from criteria.targets.reading import read_targets
from criteria.units import System
from reviews.pages.check_page import check_line

ROOMS = [{"mark": "R1", "room": "Day room", "use": "day", "floor_m2": "10"}]
TARGET = {
    "id": "T01",
    "check": "daylight_ratio",
    "rule": "at least",
    "value": "12",
    "not_over": "22",
}


@pytest.mark.parametrize(
    ("glass", "margin"),
    [
        ("1840", "3.6 points in hand"),
        ("1300", "1.0 points in hand"),
        ("2500", "over by 3.0 points"),
        ("1000", "short by 2.0 points"),
    ],
)
def test_both_limits_are_drawn_and_the_margin_is_to_the_nearer(glass, margin):
    windows = [{"mark": "W1", "room": "R1", "n": "1", "glass_w": glass, "glass_h": "1000"}]
    package = read_package({"rooms": ROOMS, "windows": windows}).package
    line = check_line(judge(package, read_targets([TARGET]).targets[0]), System.METRIC)
    assert (line.limit_text, line.rule, line.margin_text) == ("22.0 %", "at most", margin)
    assert (line.lower, line.target) == (12, 22)
    assert line.target_text == "at least 12.0 %, not over 22.0 %"


def test_what_was_assumed_is_said_with_the_states_that_it_was_assumed_in():
    tables = {
        "site": [{"design_inside_c": "20", "design_outside_c": "-5"}],
        "states": [{"state": "storm", "kind": "night"}, {"state": "calm", "kind": "night"}],
        "envelope": [{"part": "wall", "layer": "Ply", "mm": "20", "lambda": "0.13"}],
    }
    target = {"id": "T02", "check": "surface_mould", "rule": "at least", "value": "1"}
    package = read_package(tables).package
    line = check_line(judge(package, read_targets([target]).targets[0]), System.METRIC)
    wall = next(subject for subject in line.subjects if subject.mark == "wall")
    assert wall.situation == "states storm, calm"
    assert "assumed 50.0 %: no air is given" in wall.notes
