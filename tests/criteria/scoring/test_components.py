import warnings

import numpy as np
import pandas
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from statsmodels.regression.mixed_linear_model import MixedLM

from criteria.scoring.components import (
    crossed_components,
    mean_squares,
    severity_components,
    severity_components_from,
)
from criteria.scoring.estimates import NotAvailable
from criteria.scoring.reml import Sums, _newton, fit
from criteria.scoring.severity import solve
from tests.criteria.scoring.tables import table_of


# O-1: REML of a complete table is what the mean squares give. Grade RUN.
def test_o1_components(published):
    found = crossed_components(published("shrout_fleiss_1979"))
    assert (found.scheme, found.juror, found.residual) == pytest.approx(
        (2.555556, 5.244444, 1.019444), abs=5e-7
    )


# O-18, Penicillin: lme4's published .7169051, 3.731132, .3024150, criterion 330.86059. Grade RUN.
# lme4 and statsmodels (.716842, 3.731355, .302419) stop within 1e-4 of the minimum; the table is
# complete, so the mean squares give it exactly, and ours is that.
def test_o18_penicillin(published):
    cells = published("penicillin_1972")
    found = crossed_components(cells)
    assert (found.scheme, found.juror, found.residual) == pytest.approx(
        (0.7169051, 3.731132, 0.3024150), rel=1e-4
    )
    assert found.deviance == pytest.approx(330.86059, abs=5e-6)
    squares = mean_squares(cells)
    n, k = cells.values.shape
    assert (found.scheme, found.juror, found.residual) == pytest.approx(
        (
            (squares.schemes - squares.residual) / k,
            (squares.jurors - squares.residual) / n,
            squares.residual,
        ),
        rel=1e-8,
    )
    assert cells.values.mean() == pytest.approx(22.972222, abs=5e-7)


# O-18, Penicillin: sample effects as lme4 predicts them; centred here, since the equations know
# no mean. Grade RUN.
def test_o18_penicillin_effects(published):
    cells = published("penicillin_1972")
    found = severity_components(cells)
    b = solve(cells.counts, cells.values, found.shrinkage).jurors
    theirs = np.array([2.187058, -1.010476, 1.937900, -0.096895, -0.013842, -3.003745])
    assert b - b.mean() == pytest.approx(theirs - theirs.mean(), abs=2e-4)


# O-18, Dyestuff: σ²batch 1764.05, σ²e 2451.25 and the batches' effects. Grade RUN. One scheme
# would have no batch effects to tell; here the batches are the schemes' single factor, and the
# mean squares give both: (MSB − MSW)/5 and MSW.
def test_o18_dyestuff(published_rows):
    rows = published_rows("dyestuff_1947", "batch", "yield")
    batches = {}
    for row in rows:
        batches.setdefault(row["batch"], []).append(float(row["yield"]))
    table = np.array(list(batches.values()))
    # every batch as a juror of one scheme, five numbers in each cell
    counts, sums = np.full((1, 6), 5.0), table.sum(axis=1)[None, :]
    found = severity_components_from(counts, sums, float(np.sum(table**2)))
    assert (found.juror, found.residual) == pytest.approx((1764.05, 2451.25), rel=1e-9)
    solution = solve(counts, sums, found.shrinkage)
    assert solution.schemes[0] == pytest.approx(1527.5)
    assert solution.jurors == pytest.approx(
        [-17.6069, 0.3913, 28.5622, -23.0845, 56.7332, -44.9953], abs=5e-5
    )


# O-19: O-1 with gaps, scheme fixed. REML by lme4; F and MSE by least squares. Grade RUN.
def test_o19_scheme_fixed(with_gaps):
    found = severity_components(with_gaps)
    assert (found.juror, found.residual, found.shrinkage) == pytest.approx(
        (5.096235, 1.213933, 0.238202), abs=5e-7
    )
    assert found.by_squares == pytest.approx(4.837, abs=5e-4)
    assert found.residual_square == pytest.approx(1.213235, abs=5e-7)
    assert (found.juror_test.statistic, found.df, found.rank) == (
        pytest.approx(20.93333, abs=5e-6),
        12,
        3,
    )
    assert found.juror_test.p == pytest.approx(4.643e-5, abs=5e-9)


# O-17: Montgomery's balanced incomplete blocks: REML and mean squares agree. Grade RUN.
def test_o17_components(published):
    found = severity_components(published("montgomery_bibd"))
    assert found.juror == pytest.approx(8.016667, abs=5e-7)
    assert found.by_squares == pytest.approx(8.016667, abs=5e-7)
    assert found.residual == pytest.approx(0.65, abs=1e-9)
    assert (found.juror_test.statistic, found.juror_test.p) == pytest.approx(
        (33.889, 0.00095), abs=5e-4
    )


# Second opinion: statsmodels' mixed model, crossed effects as one group. Its search is coarse.
def test_beside_statsmodels(with_gaps):
    frame = pandas.DataFrame(
        [
            {"y": with_gaps.values[i, j], "s": str(i), "j": str(j), "one": 1}
            for i, j in zip(*np.nonzero(with_gaps.seen), strict=True)
        ]
    )
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        model = MixedLM.from_formula(
            "y ~ 1", frame, groups="one", vc_formula={"s": "0 + C(s)", "j": "0 + C(j)"}
        ).fit(reml=True)
    ours = crossed_components(with_gaps)
    by_name = dict(zip(model.model.exog_vc.names, model.vcomp, strict=True))
    assert (by_name["s"], by_name["j"], model.scale) == pytest.approx(
        (ours.scheme, ours.juror, ours.residual), rel=2e-3
    )


@pytest.mark.parametrize(
    ("rows", "reason"),
    [
        ([[3], [4]], "one juror: severity is how jurors differ on the same work"),
        ([[3, None], [None, 4]], "no scheme was seen by two jurors"),
        ([[3, 4]], "too few levels: severity and scatter can't be told apart"),
    ],
)
def test_severity_that_cannot_be_estimated_has_a_reason(rows, reason):
    assert severity_components(table_of(rows)) == NotAvailable(reason)


def test_a_negative_component_is_shown_and_used_as_0():
    found = severity_components(table_of([[1, 5], [5, 1], [3, 3], [2, 4], [4, 2]]))
    assert found.by_squares < 0
    assert (found.juror, found.shrinkage) == (0.0, np.inf)


def test_jurors_who_never_differ_have_no_severity():
    found = severity_components(table_of([[1, 1], [2, 2], [5, 5]]))
    assert (found.juror, found.residual, found.shrinkage) == (0.0, 0.0, np.inf)
    assert found.juror_test == NotAvailable("jurors never differ")


def test_a_perfectly_additive_table_has_no_residual_variation():
    found = severity_components(table_of([[1, 2], [2, 3], [4, 5]]))
    assert (found.residual, found.shrinkage) == (0.0, 0.0)
    assert found.juror == pytest.approx(0.5)  # variance of −½ and +½
    assert found.juror_test.statistic == np.inf
    crossed = crossed_components(table_of([[1, 2], [2, 3], [4, 5]]))
    assert (crossed.residual, crossed.juror) == (0.0, pytest.approx(0.5))


def test_crossed_components_need_something_that_varies():
    assert crossed_components(table_of([[3, 3], [3, 3]])) == NotAvailable("every level is the same")
    assert crossed_components(table_of([[3], [4]])) == NotAvailable(
        "needs 2 schemes and 2 jurors or more"
    )


def test_mean_squares_are_of_a_complete_table_only(with_gaps):
    assert mean_squares(with_gaps) == NotAvailable("cells are missing, so mean squares don't apply")


# A search that starts well and steps onto the edge must not stay there.
def test_the_search_does_not_stick_at_0():
    rng = np.random.default_rng(12)
    for _ in range(40):
        seen = rng.random((14, 6)) < 0.6
        seen[:, 0] = seen[0] = True
        y = rng.normal(0, 1, (14, 1)) + rng.normal(0, 0.6, 6) + rng.normal(0, 0.5, (14, 6))
        rows = [[float(y[i, j]) if seen[i, j] else None for j in range(6)] for i in range(14)]
        found = crossed_components(table_of(rows))
        assert found.scheme > 0.05


# Far out the deviance rises ever more slowly, and a step by its curve would lead further out.
def test_where_the_deviance_curves_down_no_newton_step_is_taken(with_gaps):
    sums = Sums.of(with_gaps.counts, np.where(with_gaps.seen, with_gaps.values, 0.0))
    far = np.array([50.0, 50.0])
    assert _newton(far, sums).tolist() == far.tolist()
    found = fit(sums, polish=0)
    near = np.sqrt([found.scheme / found.residual, found.juror / found.residual])
    assert _newton(1.01 * near, sums) == pytest.approx(near, rel=1e-3)


complete = st.integers(2, 4).flatmap(
    lambda m: st.lists(st.lists(st.integers(0, 9), min_size=m, max_size=m), min_size=3, max_size=7)
)


@given(complete)
@settings(max_examples=80)
def test_reml_of_a_complete_table_is_its_mean_squares_where_those_are_positive(rows):
    cells = table_of(rows)
    squares, found = mean_squares(cells), severity_components(cells)
    if isinstance(found, NotAvailable) or isinstance(squares, NotAvailable):
        return
    expected = (squares.jurors - squares.residual) / squares.n
    assert found.by_squares == pytest.approx(expected, rel=1e-7, abs=1e-9)
    if expected > 1e-6:
        assert found.juror == pytest.approx(expected, rel=1e-5)
        assert found.residual == pytest.approx(squares.residual, rel=1e-6, abs=1e-9)
    elif expected < -1e-9:
        assert found.juror == 0


def test_mean_squares_need_two_of_each():
    assert mean_squares(table_of([[3, 4]])) == NotAvailable(
        "mean squares need 2 schemes and 2 jurors or more"
    )
