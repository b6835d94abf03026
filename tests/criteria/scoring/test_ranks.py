import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from criteria.scoring.components import crossed_components
from criteria.scoring.ranks import (
    PairVariances,
    critical,
    rank_ranges,
    runs,
    share_in_top,
    shrunken_draws,
    told_apart,
)
from criteria.scoring.reml import Fit
from tests.criteria.scoring.tables import table_of


def independent(ses: np.ndarray) -> PairVariances:
    """Pair variances of estimates with standard errors of their own."""

    def pairs(rows: slice) -> np.ndarray:
        result = ses[rows, None] ** 2 + ses**2
        result[np.arange(len(result)), np.arange(len(ses))[rows]] = 0.0
        return result

    return pairs


@pytest.fixture(scope="module")
def pisa(published_rows):
    rows = published_rows("pisa_2018", "country", "mean", "se")
    return (
        [row["country"] for row in rows],
        np.array([float(row["mean"]) for row in rows]),
        np.array([float(row["se"]) for row in rows]),
    )


# O-24: PISA 2018 mathematics, Bonferroni with z, independent errors. Grade RUN.
def test_o24_ranges_of_pisa(pisa):
    names, means, ses = pisa
    found = rank_ranges(means, independent(ses), np.inf)
    assert names[:8] == [
        "Japan", "Korea", "Estonia", "Netherlands", "Poland", "Switzerland", "Canada", "Denmark",
    ]  # fmt: skip
    assert [r.own for r in found[:8]] == [
        (1, 6), (1, 6), (1, 6), (1, 8), (1, 11), (1, 11), (4, 13), (4, 16),
    ]  # fmt: skip
    assert [r.table for r in found[:8]] == [
        (1, 6), (1, 7), (1, 7), (1, 11), (1, 13), (1, 16), (2, 18), (4, 18),
    ]  # fmt: skip
    assert [r.expected for r in found[:8]] == pytest.approx(
        [1.534, 1.906, 2.748, 4.189, 5.489, 5.650, 7.132, 8.718], abs=5e-4
    )


# O-24: P(1st) and P(top 5) of draws that are not shrunken, ±.003. Grade RUN.
def test_o24_chances_of_pisa(pisa):
    _, means, ses = pisa
    draws = np.random.default_rng(5).normal(means, ses, (200_000, len(means)))
    assert share_in_top(draws, 1)[:4] == pytest.approx([0.571, 0.378, 0.048, 0.004], abs=0.003)
    assert share_in_top(draws, 5)[:8] == pytest.approx(
        [1.000, 0.999, 1.000, 0.930, 0.531, 0.469, 0.068, 0.002], abs=0.004
    )


# O-25: exact. P(Japan above Korea), as its share in the expected rank of two.
def test_o25_two_countries_exactly():
    found = rank_ranges(np.array([526.97, 525.93]), independent(np.array([2.47, 3.12])), np.inf)
    assert found[0].expected - 1 == pytest.approx(1 - 0.603088, abs=5e-7)
    assert stats.norm.cdf(1.04 / np.hypot(2.47, 3.12)) == pytest.approx(0.603088, abs=5e-7)


# O-25: n equal estimates: every rank is open, E[R] = (n + 1)/2, P(1st) = 1/n.
@pytest.mark.parametrize("n", [2, 5, 9])
def test_o25_equal_estimates(n):
    found = rank_ranges(np.full(n, 3.2), independent(np.full(n, 0.3)), 20)
    assert {r.table for r in found} == {r.own for r in found} == {(1, n)}
    assert [r.expected for r in found] == pytest.approx([(n + 1) / 2] * n)
    assert share_in_top(np.zeros((10, n)), 1) == pytest.approx([1 / n] * n)


# O-25: Goldstein and Healy 1995: bars of 1.385904 s.e. that just touch mean p = .05.
def test_o25_bars_that_just_touch():
    assert stats.norm.isf(0.025) * np.sqrt(2) / 2 == pytest.approx(1.385904, abs=5e-7)
    bars, alike = np.array([0.0, 2 * 1.3859, 2 * 1.3860]), independent(np.ones(3))
    assert list(told_apart(bars, alike, np.inf, 0)) == [False, False, True]


def test_bonferroni_of_one_scheme_and_of_a_table():
    assert critical(5, 12, table=False) == pytest.approx(stats.t.ppf(1 - 0.05 / 8, 12))
    assert critical(5, 12, table=True) == pytest.approx(stats.t.ppf(1 - 0.05 / 20, 12))
    assert critical(1, 12, table=True) == 0


def test_without_error_the_order_is_plain_and_ties_stay_open():
    found = rank_ranges(np.array([3.0, 5.0, 3.0]), independent(np.zeros(3)), 4)
    assert [r.table for r in found] == [(2, 3), (1, 1), (2, 3)]
    assert [r.expected for r in found] == [2.5, 1, 2.5]


def test_runs_of_schemes_that_cannot_be_told_apart():
    levels = np.array([1.0, 5.0, 4.9, 2.9, 3.0])
    assert runs(levels, independent(np.full(5, 0.05)), 40) == ((1, 2), (4, 3), (0,))
    assert runs(levels, independent(np.full(5, 9.0)), 40) == ((1, 2, 4, 3, 0),)
    assert runs(levels, independent(np.full(5, 0.001)), 40) == ((1,), (2,), (4,), (3,), (0,))


# The draws beside the whole system solved at once.
@pytest.mark.parametrize("juror", [5.0, 0.0])
def test_shrunken_draws_have_the_mean_and_spread_of_the_mixed_model(with_gaps, juror):
    parts = Fit(2.3, juror, 1.2, 0.0)
    draws = shrunken_draws(with_gaps, parts, draws=60_000, seed=4)
    i, j = np.nonzero(with_gaps.seen)
    n, m = with_gaps.values.shape
    X = np.column_stack([np.ones(i.size), np.eye(n)[i], np.eye(m)[j] * (juror > 0)])
    prior = np.array([0.0] + [1 / 2.3] * n + [1 / juror if juror else 1.0] * m)
    covariance = np.linalg.inv(X.T @ X / 1.2 + np.diag(prior))
    mean = covariance @ X.T @ with_gaps.values[i, j] / 1.2
    A = np.column_stack([np.ones(n), np.eye(n), np.zeros((n, m))])
    assert draws.mean(axis=0) == pytest.approx(A @ mean, abs=0.03)
    assert np.cov(draws.T) == pytest.approx(A @ covariance @ A.T, abs=0.06)


def test_draws_repeat_and_need_a_spread(with_gaps):
    parts = crossed_components(with_gaps)
    one, two = (shrunken_draws(with_gaps, parts, draws=50, seed=8) for _ in range(2))
    assert np.array_equal(one, two)
    flat = shrunken_draws(with_gaps, Fit(0, 1, 1, 0), draws=50, seed=8)
    assert share_in_top(flat, 2) == pytest.approx([2 / 6] * 6)
    sure = table_of([[1, 2], [2, 3], [4, 5]])
    draws = shrunken_draws(sure, crossed_components(sure), draws=50, seed=8)
    assert share_in_top(draws, 1) == pytest.approx([0, 0, 1])


def test_a_top_that_is_no_number_of_places_is_refused():
    with pytest.raises(ValueError, match="top is 4; expected 1 to 3"):
        share_in_top(np.zeros((2, 3)), 4)


@given(st.lists(st.floats(0, 9), min_size=2, max_size=9), st.floats(0.01, 3), st.data())
@settings(max_examples=60)
def test_ranges_hold_the_place_and_follow_the_schemes(levels, se, data):
    order = data.draw(st.permutations(range(len(levels))))
    s = np.array(levels)
    ses = np.full(len(s), se)
    found = rank_ranges(s, independent(ses), 12)
    turned = rank_ranges(s[order], independent(ses), 12)
    for place, i in enumerate(order):
        assert turned[place].table == found[i].table
    for i, one in enumerate(found):
        above, below = int(np.sum(s > s[i])), int(np.sum(s < s[i]))
        assert one.table[0] <= one.own[0] <= above + 1
        assert len(s) - below <= one.own[1] <= one.table[1]
    assert sum(one.expected for one in found) == pytest.approx(len(s) * (len(s) + 1) / 2)
