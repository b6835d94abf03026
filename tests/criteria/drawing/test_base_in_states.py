"""Tanks, pieces and legs in each state in which rows say that something differs."""

import pytest

from criteria.check_sheet.sheet import judge
from criteria.drawing.base_in_states import bases_in_states
from criteria.drawing.drawing import Field
from criteria.drawing.marks import flat
from criteria.package import read_package
from criteria.targets.reading import read_targets
from tests.criteria.checks.test_standing import FEET, box, legs
from tests.criteria.drawing.seen import touched, touches, words
from tests.criteria.drawing.test_plan_walked import keeps_the_rules

STATES = [
    {"state": "out", "kind": "other"},
    {"state": "road", "kind": "road"},
    {"state": "day", "kind": "day"},
]
ROWS = {
    "pieces": [box(), box("M2", x="1", width="1", length="2", kg="100")],
    "legs": legs([*FEET, (6.0, 1.0)]),
    "site": [{"people": "4"}],
    "states": STATES,
    "tanks": [
        {"mark": "T1", "holds": "potable", "litres": "100", "h_m": "1", "x_m": "1", "y_m": "1"}
    ],
    "pieces_by_state": [{"mark": "M2", "state": "out", "x_m": "4"}],
    "legs_by_state": [{"mark": "G5", "state": "road", "down": "no"}],
    "tanks_by_state": [{"mark": "T1", "state": "day", "full": "0.5"}],
}


def drawn(schedule, targets=(), **changed):
    package = read_package({**ROWS, **changed}).package
    read = read_targets(
        [dict(zip(("id", "check", "rule", "value"), t, strict=True)) for t in targets]
    )
    findings = {t.check.slug: judge(package, t) for t in read.targets}
    found = [laid(Field()) for laid in bases_in_states(package, schedule, findings)]
    for drawing in found:
        keeps_the_rules(drawing)
        assert tuple(flat(drawing.marks))
    return found


def test_a_piece_is_drawn_where_it_stands_in_its_state_with_the_figure_of_that_state():
    (drawing,) = drawn("pieces_by_state", [("T1", "centre_in_feet", "at least", "2 m")])
    assert drawing.title == "What it stands on, in plan, out"
    (one,), (other,) = (touched(drawing, mark) for mark in ("M1", "M2"))
    assert other.points[0][0] - one.points[0][0] == pytest.approx(4 * 20)
    assert "Short" in words(drawing)


def test_a_leg_that_is_up_isnt_drawn_and_a_state_without_a_figure_says_its_name():
    (drawing,) = drawn("legs_by_state")
    assert "G5" not in touches(drawing)
    assert "road" in words(drawing)


def test_a_tank_is_drawn_as_full_as_it_is_then():
    (drawing,) = drawn("tanks_by_state")
    assert "1.00 m, 0.50 full" in words(drawing)


def test_states_that_cant_be_told_or_give_nothing_to_draw_are_left_out():
    assert drawn("legs_by_state", pieces=[], legs=[], pieces_by_state=[], legs_by_state=[]) == []
    assert drawn("tanks_by_state", states=[{"state": "", "kind": "day"}]) == []
    unread = [{"mark": "", "state": "day", "full": "0.5"}, *ROWS["tanks_by_state"]]
    assert drawn("tanks_by_state", tanks_by_state=unread) == []
    none = [{**ROWS["tanks"][0], "h_m": ""}]
    assert drawn("tanks_by_state", tanks=none) == []
