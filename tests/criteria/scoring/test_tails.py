import numpy as np
import pytest
from scipy import stats

from criteria.scoring.tails import share_beyond_f, t_beyond


# Fisher and Yates, Statistical Tables, table III: 5 % two-sided on 10 and 60, 1 % on 4; from memory
@pytest.mark.parametrize(
    ("tail", "df", "t"), [(0.025, 10, 2.228), (0.025, 60, 2.0), (0.005, 4, 4.604)]
)
def test_t_of_the_tables(tail, df, t):
    assert round(t_beyond(tail, df), 3) == t


@pytest.mark.parametrize("df", [1, 2, 4.3, 30, 2_000])
@pytest.mark.parametrize("tail", [1e-6, 0.05 / 7, 0.025, 0.4])
def test_t_is_that_of_scipy(tail, df):
    assert t_beyond(tail, df) == pytest.approx(float(stats.t.isf(tail, df)), rel=1e-12)


def test_with_infinite_freedom_t_is_normal():
    assert t_beyond(0.025, np.inf) == pytest.approx(float(stats.norm.isf(0.025)), rel=1e-12)


@pytest.mark.parametrize(("first", "second"), [(1, 5), (3.2, 17.4), (59, 400)])
@pytest.mark.parametrize("F", [0.0, 0.4, 1.0, 4.7, 90.0])
def test_f_is_that_of_scipy(F, first, second):
    assert share_beyond_f(F, first, second) == pytest.approx(
        float(stats.f.sf(F, first, second)), rel=1e-12
    )


def test_nothing_lies_beyond_an_infinite_f():
    assert share_beyond_f(np.inf, 3, 12) == 0
