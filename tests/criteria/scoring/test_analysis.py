"""The edge policy, row by row: never a number that is none, never a crash, always a reason."""

import json
import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from criteria.scoring.adjusting import Decision
from criteria.scoring.analysis import analyse_panel
from criteria.scoring.as_json import as_json
from criteria.scoring.estimates import NotAvailable
from criteria.scoring.levels import NOT_MINE
from criteria.scoring.report import page

DRAWS = 60
"""Nothing here hangs on how fine an interval is; with cells missing each draw is a fit."""


def levels(*rows: str, criterion: str = "plan") -> list[tuple[str, str, str, int]]:
    """S1 … by jurors A …, a digit for a level and a dot for none."""
    return [
        (f"S{i}", "ABCDEFGH"[j], criterion, int(digit))
        for i, row in enumerate(rows, 1)
        for j, digit in enumerate(row)
        if digit != "."
    ]


@pytest.fixture
def analysed(make_panel):
    def run(rows, **panel):
        found = analyse_panel(make_panel(rows, **panel), draws=DRAWS)
        text, tree = page(found), as_json(found)
        assert "nan" not in text.lower().split()
        json.dumps(tree, allow_nan=False)
        return found, text, tree

    return run


def test_one_juror_has_no_agreement_and_no_severity(analysed):
    found, text, tree = analysed(levels("3", "4", "5"))
    assert found.intraclass.A1.reason == "one juror: agreement needs two of each"
    assert found.adjustment.reasons[0].words == (
        "Severity can't be estimated: one juror: severity is how jurors differ on the same work."
    )
    assert found.standings[0].ranks.reason.startswith("no standard error: one juror")
    assert [s.published for s in found.standings] == [3, 4, 5]
    assert "Agreement can't be estimated: one juror" in text
    assert tree["icc"]["A1"] is None
    assert tree["not_available"]["icc.A1"] == "one juror: agreement needs two of each"


def test_one_scheme(analysed):
    found, text, _ = analysed(levels("345"))
    assert found.intraclass.A1.reason == "one scheme: agreement needs two of each"
    assert found.standings[0].ranks.reason.startswith("no standard error: too few levels")
    assert "do not adjust" in text.lower()


def test_a_level_that_never_varies_is_not_agreement(analysed):
    found, _, tree = analysed(levels("333", "333", "333"))
    assert found.intraclass.A1.reason.startswith("not estimable, every juror gave every scheme")
    assert found.alpha["plan"].ordinal.reason == "not estimable, every juror gave the same level"
    assert found.kendall.reason.startswith("not estimable")
    assert {s.ranks.table for s in found.standings} == {(1, 3)}
    assert tree["alpha"]["totals"]["ordinal"] is None


def test_jurors_who_never_differ_on_schemes_that_do(analysed):
    found, _, _ = analysed(levels("222", "333", "555"))
    assert found.intraclass.A1.value == 1
    assert [s.ranks.table for s in found.standings] == [(3, 3), (2, 2), (1, 1)]
    assert found.adjustment.decision is Decision.RAW


def test_perfectly_additive_levels_have_no_residual_variation(analysed):
    found, text, tree = analysed(levels("234", "345", "123", "23."))
    assert found.severity.components.residual == 0
    assert {s.se for s in found.standings} == {0}
    assert found.severity.components.juror_test.statistic == math.inf
    assert "No residual variation" in text
    assert tree["severity_model"]["juror_test"]["statistic"] is None
    assert tree["not_available"]["severity_model.juror_test.statistic"] == "without limit"


def test_rooms_with_nothing_in_common_are_ranked_apart(analysed):
    rows = levels("32..", "54..", "24..", "43..", "..12", "..55", "..43", "..31")
    found, text, tree = analysed(rows)
    assert not tree["connected"]
    assert tree["groups"] == [["S1", "S2", "S3", "S4"], ["S5", "S6", "S7", "S8"]]
    assert [s.group for s in found.standings] == [1] * 4 + [2] * 4
    assert max(s.ranks.table[1] for s in found.standings) == 4
    assert "Group 2: compare only within it." in text
    assert "so there is no joint ranking" in text


def test_a_juror_with_one_scheme_is_too_few(analysed):
    found, text, tree = analysed(levels("345.", "234.", "453.", "1232"))
    assert found.jurors[3].effect.effect.reason == (
        "too few: D shares one scheme with other jurors"
    )
    assert tree["jurors"]["D"]["severity"] is None
    assert "too few: D shares one scheme" in text


def test_a_scheme_without_a_complete_sheet_has_no_level(analysed):
    rows = [*levels("34", "45", "23"), ("S9", "A", "plan", NOT_MINE)]
    found, text, tree = analysed(rows)
    assert found.alone[0][0] == "S9"
    assert "S9 has no level" in text
    assert tree["schemes"]["S9"] is None


def test_a_missing_criterion_keeps_the_sheet_out_and_says_so(analysed):
    rows = levels("34", "45", "23") + levels("34", "45", ".3", criterion="light")
    found, text, _ = analysed(rows)
    assert found.panel.unfinished == (("S3", "A", "no level yet for light"),)
    assert "S3, A: not counted, no level yet for light." in text


def test_not_mine_to_judge_is_said(analysed):
    rows = [*levels("34", "45", "23"), *levels("34", "45", criterion="light")]
    rows += [("S3", "A", "light", NOT_MINE), ("S3", "B", "light", 4)]
    _, text, tree = analysed(rows)
    assert "S3, A: not mine to judge, light." in text
    (sheet,) = [s for s in tree["sheets"] if (s["scheme"], s["juror"]) == ("S3", "A")]
    assert sheet["left_out"] == ["light"]


def test_a_criterion_of_weight_0_is_analysed_and_not_summed(analysed):
    rows = levels("34", "45", "23") + levels("11", "12", "21", criterion="note")
    found, _, _ = analysed(rows, weights={"note": 0})
    assert [c.criterion for c in found.criteria] == ["plan", "note"]
    assert float(found.standings[0].raw) == 3.5


def test_no_complete_sheet_at_all(analysed):
    rows = [("S1", "A", "plan", 3), ("S2", "B", "light", 3)]
    found, text, tree = analysed(rows)
    assert found.severity == NotAvailable("no jury sheet is complete")
    assert "Do not adjust: no jury sheet is complete." in text
    assert tree["adjust"]["decision"] == "do not adjust"


def test_severity_no_more_than_chance_leaves_levels_raw(analysed):
    found, _, tree = analysed(levels("153", "512", "334", "243", "42."))
    assert tree["severity_model"]["lambda"] is None
    assert all(s.adjusted == pytest.approx(float(s.raw)) for s in found.standings)
    assert "no severity" in tree["adjust"]["rules"]


def test_orders_that_too_few_levels_test_are_said_with_the_reason(analysed):
    positions = {("S1", "A"): 1, ("S2", "A"): 2, ("S1", "B"): 2, ("S2", "B"): 1}
    found, text, _ = analysed(levels("34", "45"), positions=positions)
    assert found.order.trend == found.order.test
    assert "Not tested: too few levels to tell places apart." in text
    assert "over 10 places" not in text


def test_schemes_that_do_not_differ_have_no_order_to_rely_on(analysed):
    rows = levels("34", "34", "34") + levels("25", "25", "25", criterion="light")
    _, text, _ = analysed(rows)
    assert "Can't be said: schemes don't differ." in text


def test_a_negative_component_is_shown(analysed):
    _, _, tree = analysed(levels("153", "512", "334", "243", "425"))
    assert tree["severity_model"]["juror_variance_by_squares"] < 0
    assert tree["severity_model"]["juror_variance"] == 0
    assert tree["icc"]["C1"]["value"] < 0
    assert tree["components"]["juror"] == 0


def test_a_top_beyond_the_number_of_schemes_has_a_reason(analysed):
    found, _, _ = analysed(levels("34", "45"))
    assert found.standings[0].p_top.reason == "fewer than 3 schemes can be compared"


cells = st.sampled_from("12345....")


@given(
    st.integers(1, 4).flatmap(
        lambda m: st.lists(
            st.text(cells, min_size=m, max_size=m).filter(lambda row: row.strip(".")),
            min_size=1,
            max_size=5,
        )
    ),
    st.booleans(),
)
@settings(max_examples=40, deadline=None)
def test_whatever_was_filled_in_there_is_a_page_and_json(make_panel, rows, twice):
    given_levels = levels(*rows)
    if twice:
        given_levels += levels(*reversed(rows), criterion="light")
    found = analyse_panel(make_panel(given_levels), draws=20)
    text = page(found)
    tree = as_json(found)
    json.dumps(tree, allow_nan=False)
    assert text.startswith("The jury's numbers: the crit\n")
    for standing in found.standings:
        assert np.isfinite(standing.published)


def test_a_scheme_that_stands_alone_is_not_ranked(analysed):
    found, _, _ = analysed(levels("34.", "45.", "23.", "52.", "..4"))
    alone = found.standings[-1]
    assert alone.group == 2
    assert alone.ranks.reason == alone.se.reason == "nothing to be compared with"
    assert alone.p_top.reason == "fewer than 3 schemes can be compared"


def test_a_long_table_names_some_and_counts_the_rest(analysed):
    rng = np.random.default_rng(1)
    true = np.clip(np.rint(rng.normal(5, 2.5, 60)), 1, 9)
    rows = ["".join(str(int(np.clip(t + rng.integers(-1, 2), 1, 9))) for _ in "ABC") for t in true]
    _, text, _ = analysed(levels(*rows))
    assert " more.\n" in text


def test_many_runs_are_counted(make_panel):
    rows = [
        (f"S{n:02}", juror, "plan", 10 * n + (n * 7 + "ABC".index(juror) * 5) % 9)
        for n in range(40)
        for juror in "ABC"
    ]
    text = page(analyse_panel(make_panel(rows), draws=50))
    assert "more such stretches down the table." in text


def test_weights_that_do_not_add_to_100_are_said(analysed):
    rows = levels("34", "45", "23") + levels("34", "44", "33", criterion="light")
    _, text, _ = analysed(rows, weights={"plan": 60, "light": 30})
    assert "The weights add to 90, not 100: each counts by its share." in text


def test_changes_of_place_are_listed(analysed):
    rng = np.random.default_rng(3)
    rows, lean = [], (-1, 1, 0, 0, 1, -1)
    for n in range(24):
        panel = {n % 6, (n + 1) % 6, (n + 3) % 6}
        true = 3 + (n % 7) / 2
        rows.append(
            "".join(
                str(int(np.clip(round(true + lean[j] + rng.normal(0, 0.2)), 1, 9)))
                if j in panel
                else "."
                for j in range(6)
            )
        )
    found, text, tree = analysed(levels(*rows))
    assert found.adjustment.decision is Decision.ADJUST
    assert any(change.moves for change in found.adjustment.changes)
    moved = next(change for change in tree["adjust"]["changes"])
    assert f"place {moved['rank_raw']} → {moved['rank_adjusted']}" in text
    assert "Level to publish: adjusted." in text
