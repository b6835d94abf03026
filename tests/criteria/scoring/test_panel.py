from fractions import Fraction

import pytest

from criteria.scoring.estimates import NotAvailable
from criteria.scoring.levels import NOT_MINE
from criteria.scoring.panel import Panel

ROWS = [
    ("S2", "B", "plan", 4),
    ("S2", "B", "light", 2),
    ("S1", "A", "plan", 3),
    ("S1", "A", "light", NOT_MINE),
    ("S1", "B", "plan", 5),
]


def test_totals_hold_complete_sheets_only(make_panel):
    panel = make_panel(ROWS, weights={"plan": 3, "light": 1})
    assert panel.schemes == ("S1", "S2")
    assert panel.jurors == ("B", "A")
    assert panel.unfinished == (("S1", "B", "no level yet for light"),)
    assert panel.left_to_others == (("S1", "A", ("light",)),)
    assert panel.totals.schemes == ("S1", "S2")
    assert panel.totals.raw.tolist() == [3, 3.5]
    assert panel.raw["S2"].value == Fraction(7, 2)


def test_a_criterion_s_table_counts_sheets_in_hand_too(make_panel):
    panel = make_panel(ROWS)
    plan = panel.criterion("plan")
    assert (plan.schemes, plan.jurors, plan.size) == (("S1", "S2"), ("B", "A"), 3)
    assert panel.criterion("water") == NotAvailable("no level for water")


def test_a_criterion_of_weight_0_is_out_of_the_total_and_kept_as_a_table(make_panel):
    panel = make_panel([("S1", "A", "plan", 3), ("S1", "A", "note", 5)], weights={"note": 0})
    assert panel.totals.raw.tolist() == [3]
    assert panel.criterion("note").raw.tolist() == [5]


def test_no_complete_sheet_is_said(make_panel):
    panel = make_panel([("S1", "A", "plan", 3), ("S2", "A", "light", 3)])
    assert panel.totals == NotAvailable("no jury sheet is complete")
    assert panel.raw["S1"].reason == "no juror's levels are complete (A: no level yet for light)"


def test_the_unit_is_a_fourth_of_the_scale(make_panel):
    assert make_panel(ROWS, scale=(0, 100)).scale_unit == 25
    assert make_panel(ROWS).scale_unit == 1
    assert make_panel([("S1", "A", "plan", 10), ("S1", "B", "plan", 30)]).scale_unit == 5
    assert make_panel([("S1", "A", "plan", 10)]).scale_unit == 1


def test_refusals():
    with pytest.raises(ValueError, match="a panel needs a level"):
        Panel("x", {}, {"plan": Fraction(1)})
    with pytest.raises(ValueError, match="S1, A: no weight for criterion plan"):
        Panel("x", {("S1", "A", "plan"): Fraction(3)}, {"light": Fraction(1)})


def test_a_panel_of_nothing_but_not_mine_has_a_unit_and_no_level(make_panel):
    panel = make_panel([("S1", "A", "plan", NOT_MINE)])
    assert panel.scale_unit == 1
    assert panel.raw["S1"].reason.endswith("every weighted criterion is not mine to judge)")
