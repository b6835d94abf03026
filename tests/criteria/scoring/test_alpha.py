import krippendorff
import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from criteria.scoring.alpha import CONSTANT, Metric, alpha, alpha_interval
from criteria.scoring.estimates import NotAvailable
from tests.criteria.scoring.tables import table_of


# O-5: Krippendorff 2011. Grade RUN and TEXT (.743 .815 .849 .797).
# O-6: the worked example of 3 by 15. Grade RUN.
# O-4: bitterness of wine. Grade RUN.
@pytest.mark.parametrize(
    ("name", "metric", "expected"),
    [
        ("krippendorff_2011", Metric.NOMINAL, 0.743421),
        ("krippendorff_2011", Metric.ORDINAL, 0.815388),
        ("krippendorff_2011", Metric.INTERVAL, 0.849107),
        ("krippendorff_2011", Metric.RATIO, 0.797403),
        ("krippendorff_3x15", Metric.NOMINAL, 0.691358),
        ("krippendorff_3x15", Metric.ORDINAL, 0.806721),
        ("krippendorff_3x15", Metric.INTERVAL, 0.810845),
        ("krippendorff_3x15", Metric.RATIO, 0.808944),
        ("wine_bitterness_1989", Metric.NOMINAL, 0.05327),
        ("wine_bitterness_1989", Metric.ORDINAL, 0.34414),
        ("wine_bitterness_1989", Metric.INTERVAL, 0.34965),
    ],
)
def test_o4_o5_o6(published, name, metric, expected):
    digits = 5e-7 if len(str(expected)) > 7 else 5e-6
    assert alpha(published(name), metric) == pytest.approx(expected, abs=digits)


# O-7: Krippendorff 2018, p. 306; grade RUN and TEXT (.2343).
def test_o7_binary():
    coders = ("0 1 0 1 1 0 0 0 1 1 1 1", "0 1 0 1 0 0 0 0 1 1 0 1", "0 1 1 0 0 1 0 0 1 0 0 0")
    rows = list(zip(*(map(int, coder.split()) for coder in coders), strict=True))
    assert alpha(table_of(rows), Metric.NOMINAL) == pytest.approx(0.234375, abs=1e-12)


# O-8: Krippendorff 2018, p. 310; grade RUN (.759162); the book prints .760.
def test_o8_nominal_letters():
    coders = ("aacccccbbbbd", "acccccbbbbbd")
    rows = [[ord(a), ord(b)] for a, b in zip(*coders, strict=True)]
    assert alpha(table_of(rows), Metric.NOMINAL) == pytest.approx(0.759162, abs=5e-7)


# Second opinion: the library of that name, on tables with gaps, every distance.
@pytest.mark.parametrize("metric", list(Metric))
@pytest.mark.parametrize("seed", range(5))
def test_beside_the_library(metric, seed):
    rng = np.random.default_rng(seed)
    levels = rng.integers(1, 6, (12, 4)).astype(float)
    levels[rng.random(levels.shape) < 0.2] = np.nan
    levels = levels[(~np.isnan(levels)).any(axis=1)]
    rows = [[None if np.isnan(x) else x for x in row] for row in levels]
    theirs = krippendorff.alpha(
        levels.T, level_of_measurement=metric.value, value_domain=[1, 2, 3, 4, 5]
    )
    assert alpha(table_of(rows), metric) == pytest.approx(theirs, abs=1e-12)


def test_every_level_the_same_is_not_agreement():
    cells = table_of([[3, 3], [3, 3]])
    for metric in Metric:
        assert alpha(cells, metric) == NotAvailable(CONSTANT)
    assert alpha_interval(cells) == NotAvailable(CONSTANT)


def test_one_juror_a_scheme_is_nothing_to_pair():
    assert alpha(table_of([[3, None], [None, 4]])) == NotAvailable(
        "no scheme was seen by two jurors"
    )


def test_ratio_needs_levels_of_0_or_more_and_takes_0():
    assert alpha(table_of([[-1, 2], [3, 4]]), Metric.RATIO) == NotAvailable(
        "ratios need levels of 0 or more"
    )
    # two zeros are no distance apart; 0 and 2 are as far as can be, 1
    expected = 1 - (2 / 1) / (2 * (3 * 1) / 3)
    assert alpha(table_of([[0, 0], [0, 2]]), Metric.RATIO) == pytest.approx(expected)


def test_a_scheme_with_one_level_drops_out(published):
    rows = [[1, 2, None], [3, 3, 4], [5, 4, 5]]
    assert alpha(table_of(rows)) == alpha(table_of([*rows, [None, 1, None]]))


def test_the_interval_repeats_and_holds_its_point(published):
    cells = published("krippendorff_2011")
    found = alpha_interval(cells)
    assert found == alpha_interval(cells)
    assert found.low < found.value < found.high <= 1
    assert found.method == "1000 draws of schemes, seed 1"
    assert alpha_interval(cells, Metric.NOMINAL) == NotAvailable(
        "intervals are made for ordinal and interval distances"
    )


# The fast way of the draws beside drawing tables one by one.
@pytest.mark.parametrize("metric", [Metric.ORDINAL, Metric.INTERVAL])
def test_the_draws_are_what_redrawing_schemes_gives(published, metric):
    cells = published("wine_bitterness_1989")
    rng = np.random.default_rng(3)
    slow = []
    for _ in range(2_000):
        rows = rng.integers(0, len(cells.schemes), len(cells.schemes))
        values = cells.values[rows].tolist()
        found = alpha(table_of(values), metric)
        if not isinstance(found, NotAvailable):
            slow.append(found)
    fast = alpha_interval(cells, metric, draws=4_000, seed=9)
    assert (fast.low, fast.high) == pytest.approx(np.quantile(slow, (0.025, 0.975)), abs=0.03)


@given(
    st.lists(st.lists(st.integers(1, 5), min_size=3, max_size=3), min_size=3, max_size=8),
    st.permutations(range(3)),
)
@settings(max_examples=60)
def test_neither_order_nor_rescaling_changes_ordinal_alpha(rows, order):
    found = alpha(table_of(rows))
    assume(not isinstance(found, NotAvailable))
    turned = [[row[j] for j in order] for row in reversed(rows)]
    stretched = [[level**3 for level in row] for row in rows]
    assert alpha(table_of(turned)) == pytest.approx(found, abs=1e-12)
    assert alpha(table_of(stretched)) == pytest.approx(found, abs=1e-12)
    assert found <= 1 + 1e-12


def test_a_ratio_of_very_many_unlike_values_is_not_worked_out():
    rows = [[n + 0.5, n + 1.0] for n in range(1_600)]
    assert alpha(table_of(rows), Metric.RATIO) == NotAvailable("more than 3000 unlike values")
    assert alpha(table_of(rows), Metric.ORDINAL) > 0.9


def test_draws_in_which_nothing_varies_are_left_out_and_too_many_make_no_interval():
    # of twelve schemes one varies: a draw misses it with (11/12)^12, more than one in three
    cells = table_of([[3, 4], *[[3, 3]] * 11])
    assert alpha_interval(cells, draws=400).low is not None
    found = alpha_interval(cells, draws=1, seed=2)
    assert found.value == alpha(cells)
    assert found.interval == NotAvailable("too few schemes differ for the draws")
