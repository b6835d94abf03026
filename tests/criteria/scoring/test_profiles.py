from fractions import Fraction

import numpy as np
import pytest
from scipy import stats

from criteria.scoring.estimates import Estimate, NotAvailable
from criteria.scoring.levels import NOT_MINE
from criteria.scoring.order import regression
from criteria.scoring.panel import Panel
from criteria.scoring.profiles import _drift_flags, profiles
from criteria.scoring.severity import analyse


def profile_of(panel, juror):
    return next(p for p in profiles(panel, analyse(panel.totals)) if p.juror == juror)


def test_a_juror_who_gives_every_criterion_the_same_is_flat(make_panel):
    rows = []
    for scheme in range(6):
        for criterion, step in (("plan", 0), ("light", 1), ("water", 2)):
            rows.append((f"S{scheme}", "A", criterion, 1 + scheme % 3))
            rows.append((f"S{scheme}", "B", criterion, 1 + (scheme + step) % 4))
    panel = make_panel(rows, scale=(1, 5))
    flat = profile_of(panel, "A")
    assert flat.flatness == 0
    assert "much the same level for every criterion (spread 0.00)" in flat.flags
    assert profile_of(panel, "B").flatness > 0.5


def test_one_criterion_has_no_flatness_and_one_scheme_no_spread(make_panel):
    panel = make_panel([("S1", "A", "plan", 3), ("S1", "B", "plan", 4)])
    found = profile_of(panel, "A")
    assert found.flatness == NotAvailable("one criterion only")
    assert found.sd == NotAvailable("one scheme only")
    assert found.gap == -1
    assert found.scatter == NotAvailable("severity can't be estimated")
    assert found.agreement == NotAvailable("fewer than 5 schemes with others")
    assert found.halo == NotAvailable("needs 2 criteria and 4 schemes seen with others")


def test_a_juror_who_saw_everything_alone_has_no_gap(make_panel):
    panel = make_panel([("S1", "A", "plan", 3), ("S2", "A", "plan", 4)])
    assert profile_of(panel, "A").gap == NotAvailable("no scheme with others")


def test_thresholds_go_with_the_length_of_the_scale(make_panel):
    rows = [
        (f"S{n}", j, "plan", 40 + n + lean) for n in range(8) for j, lean in (("A", 0), ("B", 5))
    ]
    assert profile_of(make_panel(rows, scale=(0, 100)), "B").flags == ()
    assert profile_of(make_panel(rows, scale=(35, 55)), "B").flags == (
        "5.00 above the others on the same schemes",
    )


def test_drift_is_the_slope_of_the_gap_on_the_place(make_panel):
    rows, positions = [], {}
    for n in range(8):
        for juror in "ABC":
            rows.append((f"S{n}", juror, "plan", 3 + n % 3 + (n if juror == "A" else 0)))
            positions[f"S{n}", juror] = n + 1.0
    panel = make_panel(rows, scale=(1, 5), positions=positions)
    found = profile_of(panel, "A")
    assert found.drift.value == pytest.approx(1)
    assert any(flag.startswith("drifts +1.00 for each place, +8.0") for flag in found.flags)


# Anscombe 1973, Am. Stat. 27:17, first set: slope 0.500, standard error 0.118 (printed).
def test_regression_of_anscombe():
    x = np.array([10, 8, 13, 9, 11, 14, 6, 4, 12, 7, 5], float)
    y = np.array([8.04, 6.95, 7.58, 8.81, 8.33, 9.96, 7.24, 4.26, 10.84, 4.82, 5.68])
    found = regression(x, y, "places")
    assert found.value == pytest.approx(0.500, abs=5e-4)
    # t at .975 on 9 is 2.2622 (printed tables)
    assert (found.high - found.low) / 2 / 2.2622 == pytest.approx(0.118, abs=5e-4)


@pytest.mark.parametrize(
    ("x", "reason"),
    [([1, 2, 3], "fewer than 4 places"), ([2, 2, 2, 2], "the places don't differ")],
)
def test_a_slope_that_cannot_be_seen_has_a_reason(x, reason):
    assert regression(np.array(x, float), np.array(x, float), "places") == NotAvailable(reason)


def test_halo_is_how_a_juror_s_criteria_go_together(make_panel):
    rows = []
    for n in range(8):
        for criterion, turn in (("plan", 0), ("light", 3)):
            rows.append((f"S{n}", "A", criterion, 3 + (n % 2)))
            rows.append((f"S{n}", "B", criterion, 3))
            rows.append((f"S{n}", "C", criterion, 3 + ((n + turn) % 3 == 0)))
    panel = make_panel(rows, scale=(1, 5))
    assert profile_of(panel, "A").halo > 0.5
    alike = make_panel(
        [row for row in rows if row[1] == "B"] + [(s, "D", c, 4) for s, j, c, _ in rows if j == "B"]
    )
    assert profile_of(alike, "D").halo == NotAvailable("the criteria don't vary")


def test_a_criterion_left_by_a_juror_is_no_part_of_their_halo(make_panel):
    rows = [(f"S{n}", j, "plan", 3 + n % 2) for n in range(5) for j in "AB"]
    rows += [(f"S{n}", "A", "light", 3) for n in range(5)]
    rows += [(f"S{n}", "B", "light", NOT_MINE) for n in range(5)]
    assert profile_of(make_panel(rows), "B").halo == NotAvailable(
        "needs 2 criteria and 4 schemes seen with others"
    )


# Four jurors see twelve schemes; what is left over of one against the rest is an F. In a complete
# table a juror's share of ν is (n − 1)(m − 1)/m: 11 × 3/4 = 8.25.
def test_scatter_is_an_f_against_the_others(make_panel):
    rng = np.random.default_rng(8)
    rows = [
        (f"S{n:02}", juror, "plan", int(100 * (3 + n / 4 + rng.normal(0, 0.2 + (juror == "D")))))
        for n in range(12)
        for juror in "ABCD"
    ]
    panel = make_panel(rows, scale=(0, 800))
    test = profile_of(panel, "D").more_scatter
    left = panel.totals.values
    left = left - left.mean(axis=0) - left.mean(axis=1)[:, None] + left.mean()
    squares = (left**2).sum(axis=0)
    F = squares[3] / 8.25 / (squares[:3].sum() / 24.75)
    assert (test.df, test.statistic) == pytest.approx((8.25, F))
    assert test.p == pytest.approx(stats.f.sf(F, 8.25, 24.75))
    assert any("leftover scatter" in flag for flag in profile_of(panel, "D").flags)
    assert profile_of(panel, "A").flags == ()


def test_scatter_beside_others_who_leave_nothing_over_has_a_reason(make_panel):
    rows = [(f"S{n}", j, "plan", 2 + n % 3 + (j == "B")) for n in range(6) for j in "AB"]
    assert profile_of(make_panel(rows), "A").more_scatter == NotAvailable(
        "the others leave nothing over to compare with"
    )


# Six places at 0.05 a place are 0.3 of a level: sure, and nothing to talk about.
def test_a_drift_that_is_sure_but_small_is_not_named():
    given = {("S1", "A", "K"): Fraction(3), ("S2", "A", "K"): Fraction(4)}
    places = {("S1", "A"): 1.0, ("S2", "A"): 6.0}
    panel = Panel("by hand", given, {"K": Fraction(1)}, places, (Fraction(1), Fraction(5)))
    small, sure = (Estimate(x, (x - 0.01, x + 0.01), "by hand") for x in (0.05, 0.2))
    assert _drift_flags(small, small, panel, "A") == []
    assert _drift_flags(sure, Estimate(0.2, (-0.1, 0.5), "by hand"), panel, "A") == []
    assert _drift_flags(Estimate(0.2, (-0.1, 0.5), "by hand"), sure, panel, "A") == []
    assert _drift_flags(sure, sure, panel, "A") == [
        "drifts +0.20 for each place, +1.2 over the day"
    ]
