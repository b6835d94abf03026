import warnings

import pandas
import pingouin
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from criteria.scoring.bands import AGREEMENT
from criteria.scoring.components import crossed_components, mean_squares
from criteria.scoring.estimates import Estimate, NotAvailable
from criteria.scoring.icc import intraclass, spearman_brown
from tests.criteria.scoring.tables import table_of

NAMES = ("one_way_1", "A1", "C1", "one_way_k", "Ak", "Ck")


# O-1: Shrout and Fleiss 1979, Table 2. Grade RUN; the two-digit values from memory.
def test_o1_shrout_and_fleiss(published):
    cells = published("shrout_fleiss_1979")
    found = intraclass(cells)
    assert [round(getattr(found, name).value, 2) for name in NAMES] == [
        0.17,
        0.29,
        0.71,
        0.44,
        0.62,
        0.91,
    ]
    assert [getattr(found, name).value for name in NAMES] == pytest.approx(
        [0.165742, 0.289764, 0.714841, 0.442797, 0.620051, 0.909316], abs=5e-7
    )


@pytest.mark.parametrize(
    ("name", "low", "high"),
    [
        ("one_way_1", -0.132933, 0.722560),
        ("A1", 0.018787, 0.761084),
        ("C1", 0.342465, 0.945858),
        ("one_way_k", -0.884442, 0.912415),
        ("Ak", 0.071137, 0.927232),
        ("Ck", 0.675675, 0.985892),
    ],
)
def test_o1_intervals(published, name, low, high):
    found = getattr(intraclass(published("shrout_fleiss_1979")), name)
    assert (found.low, found.high) == pytest.approx((low, high), abs=1e-6)


def test_o1_mean_squares_and_tests(published):
    cells = published("shrout_fleiss_1979")
    found = mean_squares(cells)
    assert (found.schemes, found.within, found.jurors, found.residual) == pytest.approx(
        (11.2416667, 6.2638889, 32.4861111, 1.0194444), abs=5e-8
    )
    result = intraclass(cells)
    assert (result.schemes_test.statistic, result.schemes_test.p) == pytest.approx(
        (11.027248, 0.000135), abs=5e-7
    )
    assert result.jurors_test.statistic == pytest.approx(31.866485, abs=5e-7)
    assert result.jurors_test.p == pytest.approx(9.4543e-07, rel=1e-5)


# O-2: eight wines and four judges, the data set `icc` of pingouin. Grade RUN.
def test_o2_wines():
    judges = {
        "A": [1, 1, 3, 6, 6, 7, 8, 9],
        "B": [2, 3, 8, 4, 5, 5, 7, 9],
        "C": [0, 3, 1, 3, 5, 6, 7, 9],
        "D": [1, 2, 4, 3, 6, 2, 9, 8],
    }
    found = intraclass(table_of(list(zip(*judges.values(), strict=True)), jurors=judges))
    assert [getattr(found, name).value for name in NAMES] == pytest.approx(
        [0.727521, 0.727689, 0.729487, 0.914384, 0.914450, 0.915159], abs=5e-7
    )
    assert found.schemes_test.statistic == pytest.approx(11.786693, abs=5e-7)
    assert (round(found.A1.low, 2), round(found.A1.high, 2)) == (0.43, 0.93)


# O-3: O-1 with three cells missing; components by lme4. Grade RUN. lme4's search stops at about
# five digits (its slope is not 0 there, ours is), hence 2e-5.
def test_o3_missing_cells(with_gaps):
    found = crossed_components(with_gaps)
    assert (found.scheme, found.juror, found.residual) == pytest.approx(
        (2.310056, 5.043916, 1.215753), abs=4e-5
    )
    result = intraclass(with_gaps, draws=100)
    assert (result.A1.value, result.C1.value) == pytest.approx((0.269560, 0.655185), abs=3e-6)
    assert result.k == pytest.approx(6 / (1 / 3 + 1 / 4 + 1 / 3 + 1 / 4 + 1 / 3 + 1 / 4))
    assert result.Ak.value == pytest.approx(spearman_brown(result.A1.value, result.k))
    assert result.one_way_1 == NotAvailable("only of a complete table")
    assert result.A1.low < result.A1.value < result.A1.high
    assert result == intraclass(with_gaps, draws=100)


# O-4: Randall 1989, bitterness of wine. Grade RUN.
def test_o4_bitterness(published):
    found = intraclass(published("wine_bitterness_1989"))
    assert [getattr(found, name).value for name in NAMES] == pytest.approx(
        [0.377299, 0.388460, 0.463178, 0.845037, 0.851123, 0.885914], abs=5e-7
    )
    assert found.schemes_test.statistic == pytest.approx(8.765343, abs=5e-7)
    assert found.jurors_test.statistic == pytest.approx(3.866427, abs=2e-6)
    assert found.jurors_test.p == pytest.approx(0.0011014, abs=5e-8)


# Second opinion: pingouin, whose intervals have two decimals.
@pytest.mark.parametrize("name", ["shrout_fleiss_1979", "wine_bitterness_1989"])
def test_beside_pingouin(published, name):
    cells = published(name)
    long = pandas.DataFrame(
        [
            {"scheme": scheme, "juror": juror, "level": cells.values[i, j]}
            for i, scheme in enumerate(cells.schemes)
            for j, juror in enumerate(cells.jurors)
        ]
    )
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        theirs = pingouin.intraclass_corr(long, "scheme", "juror", "level").set_index("Type")
    found = intraclass(cells)
    rows = ("ICC(1,1)", "ICC(A,1)", "ICC(C,1)", "ICC(1,k)", "ICC(A,k)", "ICC(C,k)")
    for ours, row in zip(NAMES, rows, strict=True):
        mine, other = getattr(found, ours), theirs.loc[row]
        assert mine.value == pytest.approx(other["ICC"], abs=1e-9)
        ends = next(other[column] for column in ("CI95", "CI95%") if column in theirs)
        assert (mine.low, mine.high) == pytest.approx(tuple(ends), abs=0.00501)


# Koo and Li 2016: the words come from the interval, and a limit has the word above it.
def test_words_come_from_the_interval(published):
    words = intraclass(published("shrout_fleiss_1979")).words
    assert words.startswith("One juror alone: poor to good; this panel's mean: poor to excellent")
    assert "Koo and Li 2016" in words
    assert AGREEMENT.span(Estimate(0.6, NotAvailable("few"), "")) == "no interval, so no word"
    cuts = [AGREEMENT.word(x) for x in (0.4999, 0.5, 0.7499, 0.75, 0.9, 0.9001)]
    assert cuts == ["poor", "moderate", "moderate", "good", "good", "excellent"]


@pytest.mark.parametrize(
    ("rows", "reason"),
    [
        ([[3], [4]], "one juror: agreement needs two of each"),
        ([[3, 4]], "one scheme: agreement needs two of each"),
        ([[3, 3], [3, 3]], "not estimable, every juror gave every scheme the same level"),
        ([[3, None], [None, 4]], "too few levels: the components can't be told apart"),
    ],
)
def test_where_there_is_nothing_to_estimate_there_is_a_reason(rows, reason):
    found = intraclass(table_of(rows))
    assert found.A1 == found.Ck == NotAvailable(reason)
    assert reason in found.words


def test_negative_estimates_are_given_as_they_come():
    found = intraclass(table_of([[1, 5], [5, 1], [3, 4]]))
    assert found.C1.value < 0
    assert found.Ck == NotAvailable("schemes differ less than chance would have it") or (
        found.Ck.value < 0
    )


# By hand: mean squares 1/6, 8/3 and 19/6; (1/6 − 19/6) ÷ (1/6 + 19/6 + 2 (8/3 − 19/6) ÷ 3) = −1,
# and jurors and schemes share so little that no degree of freedom is left.
def test_schemes_alike_beyond_chance_keep_their_estimate_and_have_no_interval():
    found = intraclass(table_of([[4, 3], [3, 4], [5, 1]])).A1
    assert found.value == pytest.approx(-1)
    assert found.interval == NotAvailable(
        "schemes differ less than chance would have it: no interval"
    )


def test_jurors_who_differ_by_a_constant_agree_in_order_and_not_in_level():
    found = intraclass(table_of([[1, 2], [2, 3], [4, 5]]))
    assert (found.C1.value, found.C1.interval) == (1.0, (1.0, 1.0))
    assert 0 < found.A1.value < 1
    assert found.A1.interval == NotAvailable(
        "no residual variation, so the interval has no degrees of freedom"
    )
    gaps = intraclass(table_of([[1, 2], [2, 3], [4, 5], [6, None]]))
    assert gaps.C1.value == 1.0
    assert gaps.C1.interval == NotAvailable("no residual variation")


def test_perfect_agreement():
    found = intraclass(table_of([[1, 1], [2, 2], [4, 4]]))
    assert found.A1.value == found.C1.value == 1.0


tables = st.integers(2, 4).flatmap(
    lambda jurors: st.lists(
        st.lists(st.integers(1, 5), min_size=jurors, max_size=jurors), min_size=3, max_size=7
    )
)


@given(tables, st.integers(-9, 9), st.integers(1, 7), st.randoms(use_true_random=False))
@settings(max_examples=60)
def test_shift_scale_and_order_change_nothing(rows, shift, scale, random):
    plain = intraclass(table_of(rows))
    moved = [[scale * level + shift for level in row] for row in rows]
    random.shuffle(moved)
    other = intraclass(table_of(moved))
    for name in NAMES:
        ours, theirs = getattr(plain, name), getattr(other, name)
        if isinstance(ours, NotAvailable):
            assert theirs == ours
        else:
            assert theirs.value == pytest.approx(ours.value, abs=1e-8)
            assert (theirs.low is None) == (ours.low is None)
            if ours.low is not None:
                assert ours.low <= ours.value + 1e-9
                assert ours.value <= ours.high + 1e-9


def test_two_jurors_who_swap_two_levels_have_nothing_to_divide_by():
    found = intraclass(table_of([[1, 2], [2, 1]]))
    assert NotAvailable("schemes and jurors differ less than chance would have it") == found.A1
    assert found.C1.value == -1
    assert found.Ck == NotAvailable("schemes differ less than chance would have it")
    assert found.words.startswith("Agreement can't be estimated: schemes and jurors differ less")
