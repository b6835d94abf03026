import pytest
from scipy import stats

from criteria.scoring.concordance import (
    agreed,
    kendall_w,
)
from criteria.scoring.estimates import NotAvailable
from tests.criteria.scoring.tables import table_of


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
    found = kendall_w(table_of(list(zip(*ranks, strict=True))))
    assert pytest.approx((25.5, 0.161905), abs=5e-7) == (found.S, found.W)
    assert found.mean_spearman == pytest.approx(-0.257143, abs=5e-7)
    assert found.chi_square.statistic == pytest.approx(2.428571, abs=5e-7)


def test_w_without_gaps_is_friedman_s_statistic(published):
    cells = published("wine_bitterness_1989")
    theirs = stats.friedmanchisquare(*cells.values)
    assert kendall_w(cells).chi_square.statistic == pytest.approx(theirs.statistic, rel=1e-9)


def test_w_takes_the_largest_complete_block():
    rows = [[1, 2, None], [2, 1, 2], [3, 3, 3], [4, 4, 4], [5, 5, None]]
    found = kendall_w(table_of(rows))
    assert (found.schemes, found.jurors) == (5, 2)
    assert kendall_w(table_of([[1, None], [2, None], [None, 3]])) == NotAvailable(
        "no 3 schemes are found that the same 2 jurors saw"
    )


def test_w_of_many_jurors_tries_the_panels_that_sat():
    rows = [[(7 * i + j) % 5 if j < 3 else None for j in range(14)] for i in range(4)]
    rows += [[None if j < 3 else (i + j) % 5 for j in range(14)] for i in range(3)]
    found = kendall_w(table_of(rows))
    assert (found.schemes, found.jurors) == (3, 11)


def test_w_of_levels_that_never_differ_is_not_estimable():
    assert kendall_w(table_of([[3, 3], [3, 3], [3, 3]])) == NotAvailable(
        "not estimable, every juror gave every scheme the same level"
    )
    same = kendall_w(table_of([[1, 2], [2, 3], [3, 4]]))
    assert pytest.approx(1) == same.W
    assert same.f_test == NotAvailable("every juror has the same order")


def test_agreement_by_counting_pairs():
    # pairs: 3–3, 3–4, 3–4 and 2–5: one exact, three within one, of four
    found = agreed(table_of([[3, 3, 4], [2, 5, None]]))
    assert (found.exact, found.within_one, found.pairs) == (0.25, 0.75, 4)
    assert agreed(table_of([[3, None], [None, 4]])) == NotAvailable(
        "no scheme was seen by two jurors"
    )
