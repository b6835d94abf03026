import numpy as np
import pytest
from scipy import stats
from statsmodels.stats import inter_rater

from criteria.scoring.cells import Cells
from criteria.scoring.concordance import (
    agreed,
    cohen_kappa,
    fleiss_kappa,
    kendall_w,
)
from criteria.scoring.estimates import NotAvailable

COHEN = [[88, 10, 2], [14, 40, 6], [18, 10, 12]]
SAS = [[0, 4, 1], [0, 8, 0], [0, 1, 5]]
FLEISS = [
    [0, 0, 0, 0, 14],
    [0, 2, 6, 4, 2],
    [0, 0, 3, 5, 6],
    [0, 3, 9, 2, 0],
    [2, 2, 8, 1, 1],
    [7, 7, 0, 0, 0],
    [3, 2, 6, 3, 0],
    [2, 5, 3, 2, 2],
    [6, 5, 2, 1, 0],
    [0, 2, 2, 3, 7],
]


# O-9: Kendall 1948, Siegel 1956, three rankings with ties. Grade RUN; .828 from memory.
def test_o9_ties(published):
    found = kendall_w(published("siegel_ties_1956"))
    assert found.S == 591
    assert pytest.approx(0.827731, abs=5e-7) == found.W
    assert (found.chi_square.statistic, found.chi_square.p) == pytest.approx(
        (22.348739, 0.0078370), abs=5e-7
    )
    assert found.f_test.statistic == pytest.approx(9.609756, abs=5e-7)
    assert found.f_test.df == pytest.approx(8.3333, abs=5e-5)


# O-10: Siegel 1956, three executives and six applicants. Grade RUN; .16 from memory.
def test_o10_executives():
    ranks = ([1, 6, 3, 2, 5, 4], [1, 5, 6, 4, 2, 3], [6, 3, 2, 5, 4, 1])
    found = kendall_w(Cells.table(list(zip(*ranks, strict=True))))
    assert pytest.approx((25.5, 0.161905), abs=5e-7) == (found.S, found.W)
    assert found.mean_spearman == pytest.approx(-0.257143, abs=5e-7)
    assert found.chi_square.statistic == pytest.approx(2.428571, abs=5e-7)


# O-11: Cohen 1960; O-12: Cohen 1968 with weights of disagreement. Grade RUN.
@pytest.mark.parametrize(
    ("disagreement", "kappa"),
    [
        (None, 0.491525),
        ([[0, 1, 2], [1, 0, 1], [2, 1, 0]], 0.473684),
        ([[0, 1, 4], [1, 0, 1], [4, 1, 0]], 0.454545),
        ([[0, 1, 3], [1, 0, 6], [3, 6, 0]], 0.347826),
    ],
)
def test_o11_o12_cohen(disagreement, kappa):
    assert cohen_kappa(COHEN, disagreement).value == pytest.approx(kappa, abs=5e-7)


def test_o11_interval():
    found = cohen_kappa(COHEN)
    assert (found.low, found.high) == pytest.approx((0.3916, 0.5915), abs=5e-5)
    assert found.method == "normal, standard error 0.0510"


# O-13: a table with its kappas in the tests of statsmodels, from SAS. Grade RUN and TEXT.
def test_o13_sas():
    plain = cohen_kappa(SAS)
    assert (plain.value, plain.low, plain.high) == pytest.approx((0.4842, 0.2137, 0.7547), abs=5e-5)
    assert plain.method == "normal, standard error 0.1380"
    linear = cohen_kappa(SAS, [[0, 1, 2], [1, 0, 1], [2, 1, 0]])
    assert (linear.value, linear.low, linear.high) == pytest.approx(
        (0.4701, 0.1845, 0.7558), abs=5e-5
    )
    assert linear.method == "normal, standard error 0.1457"


# O-14: Fleiss 1971's layout, the worked table of 10 by 14. Grade RUN and TEXT (.210).
def test_o14_fleiss():
    assert fleiss_kappa(FLEISS) == pytest.approx(0.209931, abs=5e-7)


def test_beside_statsmodels():
    theirs = inter_rater.cohens_kappa(np.array(COHEN))
    ours = cohen_kappa(COHEN)
    assert ours.value == pytest.approx(theirs.kappa, abs=1e-12)
    assert (ours.low, ours.high) == pytest.approx((theirs.kappa_low, theirs.kappa_upp), abs=1e-9)
    assert fleiss_kappa(FLEISS) == pytest.approx(
        inter_rater.fleiss_kappa(np.array(FLEISS)), abs=1e-12
    )


def test_w_without_gaps_is_friedman_s_statistic(published):
    cells = published("wine_bitterness_1989")
    theirs = stats.friedmanchisquare(*cells.values)
    assert kendall_w(cells).chi_square.statistic == pytest.approx(theirs.statistic, rel=1e-9)


def test_w_takes_the_largest_complete_block():
    rows = [[1, 2, None], [2, 1, 2], [3, 3, 3], [4, 4, 4], [5, 5, None]]
    found = kendall_w(Cells.table(rows))
    assert (found.schemes, found.jurors) == (5, 2)
    assert kendall_w(Cells.table([[1, None], [2, None], [None, 3]])) == NotAvailable(
        "no 3 schemes are found that the same 2 jurors saw"
    )


def test_w_of_many_jurors_tries_the_panels_that_sat():
    rows = [[(7 * i + j) % 5 if j < 3 else None for j in range(14)] for i in range(4)]
    rows += [[None if j < 3 else (i + j) % 5 for j in range(14)] for i in range(3)]
    found = kendall_w(Cells.table(rows))
    assert (found.schemes, found.jurors) == (3, 11)


def test_w_of_levels_that_never_differ_is_not_estimable():
    assert kendall_w(Cells.table([[3, 3], [3, 3], [3, 3]])) == NotAvailable(
        "not estimable, every juror gave every scheme the same level"
    )
    same = kendall_w(Cells.table([[1, 2], [2, 3], [3, 4]]))
    assert pytest.approx(1) == same.W
    assert same.f_test == NotAvailable("every juror has the same order")


def test_agreement_by_counting_pairs():
    # pairs: 3–3, 3–4, 3–4 and 2–5: one exact, three within one, of four
    found = agreed(Cells.table([[3, 3, 4], [2, 5, None]]))
    assert (found.exact, found.within_one, found.pairs) == (0.25, 0.75, 4)
    assert agreed(Cells.table([[3, None], [None, 4]])) == NotAvailable(
        "no scheme was seen by two jurors"
    )


def test_kappas_without_variation_and_refusals():
    assert cohen_kappa([[5, 0], [0, 0]]) == NotAvailable("both jurors gave one level only")
    assert fleiss_kappa([[3, 0], [3, 0]]) == NotAvailable("every juror gave the same level")
    with pytest.raises(ValueError, match="expected a square table of counts"):
        cohen_kappa([[1, 2, 3], [4, 5, 6]])
    with pytest.raises(ValueError, match="0 on the diagonal"):
        cohen_kappa([[1, 2], [3, 4]], [[1, 1], [1, 0]])
    with pytest.raises(ValueError, match="the same number of jurors"):
        fleiss_kappa([[3, 0], [2, 0]])
