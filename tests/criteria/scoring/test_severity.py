import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy import stats

from criteria.scoring.cells import Cells
from criteria.scoring.connections import groups
from criteria.scoring.estimates import NotAvailable
from criteria.scoring.severity import additivity, analyse, residuals, solve
from tests.criteria.scoring.tables import table_of


def by_name(cells: Cells) -> Cells:
    """The jurors in order of their names, as the tables are printed."""
    columns = sorted(range(len(cells.jurors)), key=lambda j: cells.jurors[j])
    return cells.part(range(len(cells.schemes)), columns)


# O-16: Robinson 1991, Statist. Sci. 6:15: herds (fixed) and sires (random), λ = 10. Grade RUN;
# the two-digit values from memory.
def test_o16_robinson():
    herds = [{"A": [110], "D": [100]}, {"B": [110], "D": [100, 100]}]
    herds.append({"C": [110, 110], "D": [100, 100]})
    counts = np.array([[len(herd.get(sire, [])) for sire in "ABCD"] for herd in herds], float)
    sums = np.array([[sum(herd.get(sire, [])) for sire in "ABCD"] for herd in herds], float)
    found = solve(counts, sums, 10)
    assert found.schemes == pytest.approx([105.6387, 104.2757, 105.4584], abs=5e-5)
    assert found.jurors == pytest.approx([0.3965, 0.5204, 0.7569, -1.6738], abs=5e-5)
    assert [round(b, 2) for b in found.jurors] == [0.40, 0.52, 0.76, -1.67]
    assert found.variances == pytest.approx([0.54665, 0.38310, 0.29750], abs=5e-6)
    squares = solve(counts, sums, 0)
    assert squares.schemes == pytest.approx([107.5] * 3)
    assert squares.jurors == pytest.approx([2.5, 2.5, 2.5, -7.5])


# O-17: Montgomery, Example 4.5. Grade RUN and TEXT (71.375 … 75.000; −1.09 −.88 −.50 2.47).
def test_o17_montgomery(published):
    cells = by_name(published("montgomery_bibd"))
    assert cells.raw == pytest.approx([72.667, 71.333, 72, 74], abs=5e-4)
    squares = solve(cells.counts, cells.values, 0)
    assert squares.schemes == pytest.approx([71.375, 71.625, 72.000, 75.000], abs=1e-9)
    assert squares.jurors == pytest.approx([0.875, 3, -3.875, 0], abs=1e-9)
    found = analyse(cells)
    square = found.components.residual_square
    assert square == pytest.approx(0.65)
    assert np.sqrt(square * squares.variances) == pytest.approx([0.48681] * 4, abs=5e-6)
    assert np.sqrt(square * squares.pair_variances()[0, 1]) == pytest.approx(0.69821, abs=5e-6)
    effects = found.adjusted.schemes - found.adjusted.schemes.mean()
    assert effects == pytest.approx([-1.086885, -0.883607, -0.5, 2.470492], abs=5e-7)
    assert found.adjusted.schemes == pytest.approx([71.413115, 71.616393, 72, 74.970492], abs=5e-7)
    assert found.adjusted.jurors == pytest.approx([0.849180, 2.911475, -3.760656, 0], abs=5e-6)
    # the raw order 4 1 3 2 becomes 4 3 2 1
    assert list(np.argsort(-cells.raw)) == [3, 0, 2, 1]
    assert list(np.argsort(-found.adjusted.schemes)) == [3, 2, 1, 0]


def test_o17_tests_of_pairs(published):
    cells = by_name(published("montgomery_bibd"))
    squares = solve(cells.counts, cells.values, 0)
    sed = np.sqrt(0.65 * squares.pair_variances())
    gaps = np.abs(squares.schemes[:, None] - squares.schemes)
    for (a, b), p in {(0, 3): 0.0130, (1, 3): 0.0175, (2, 3): 0.0281, (0, 1): 0.9825}.items():
        tukey = stats.studentized_range.sf(np.sqrt(2) * gaps[a, b] / sed[a, b], 4, 5)
        assert tukey == pytest.approx(p, abs=5e-5)


# O-19: severity with holes; least squares as lm, REML as lmer. Grade RUN.
def test_o19_severity_with_holes(with_gaps):
    assert with_gaps.raw == pytest.approx([5.33333, 3, 7.33333, 4, 6.66667, 4.75], abs=5e-6)
    found = analyse(with_gaps)
    assert found.least_squares.schemes == pytest.approx(
        [5.758403, 3, 6.401261, 4, 7.472689, 4.75], abs=5e-7
    )
    assert found.least_squares.jurors == pytest.approx(
        [2.418067, -2.796218, -0.897059, 1.275210], abs=5e-7
    )
    assert found.adjusted.schemes == pytest.approx(
        [5.738580, 3, 6.447346, 4, 7.434365, 4.75], abs=5e-7
    )
    assert found.adjusted.jurors == pytest.approx(
        [2.303095, -2.657963, -0.860872, 1.215740], abs=5e-7
    )
    sed = np.sqrt(found.components.residual * found.adjusted.pair_variances())
    assert (sed[0, 1], sed[2, 4]) == pytest.approx((0.853443, 0.929671), abs=5e-7)
    gap = found.adjusted.schemes[4] - found.adjusted.schemes[2]
    assert (gap, gap / sed[2, 4]) == pytest.approx((0.987019, 1.0617), abs=5e-5)
    assert solve(with_gaps.counts, with_gaps.values, 5).schemes == pytest.approx(
        [5.54337, 3, 6.88820, 4, 7.06061, 4.75], abs=5e-6
    )


# O-15: Tukey's one degree of freedom. Grade RUN.
@pytest.mark.parametrize(
    ("name", "F", "p"),
    [("shrout_fleiss_1979", 0.247938, 0.626261), ("wine_bitterness_1989", 0.246801, 0.621317)],
)
def test_o15_additivity(published, name, F, p):
    found = additivity(published(name))
    assert (found.statistic, found.p) == pytest.approx((F, p), abs=5e-7)


def test_a_juror_who_stretches_the_scale_is_not_additive():
    rng = np.random.default_rng(2)
    rows = np.outer(np.linspace(1, 5, 12), [1, 1.2, 1.5]) + rng.normal(0, 0.1, (12, 3))
    assert additivity(table_of(rows.tolist())).p < 0.01


def test_stretching_that_explains_everything_has_p_0():
    found = additivity(table_of(np.outer([1, 2, 3, 5], [1, 2, 4]).tolist()))
    assert (found.statistic, found.p) == (np.inf, 0.0)


@pytest.mark.parametrize(
    ("rows", "reason"),
    [
        ([[1, 2], [2, 3]], "needs 3 schemes and 2 jurors or more"),
        ([[1, 2], [2, 3], [4, 5]], "no residual variation"),
        ([[1, 3], [3, 1], [2, 2]], "jurors or schemes don't differ, so stretching can't be seen"),
        ([[1, 2], [2, None], [4, None]], "too few levels for a test of additivity"),
    ],
)
def test_additivity_that_cannot_be_seen_has_a_reason(rows, reason):
    assert additivity(table_of(rows)) == NotAvailable(reason)


def test_the_comparison_error_is_the_matrix_formula_written_out(with_gaps):
    found = analyse(with_gaps).adjusted
    n = len(found.r)
    C = np.diag(1 / found.r) + found.H @ found.K @ found.H.T
    P = np.eye(n) - 1 / n
    assert found.variances == pytest.approx(np.diag(C))
    assert found.comparison_variances == pytest.approx(np.diag(P @ C @ P))
    pairs = np.diag(C)[:, None] + np.diag(C) - 2 * C
    assert found.pair_variances() == pytest.approx(pairs, abs=1e-12)
    assert found.pair_variances(slice(2, 4)) == pytest.approx(pairs[2:4], abs=1e-12)


def test_the_equations_hold_as_a_student_would_check_them(with_gaps):
    found = analyse(with_gaps)
    s, b, lam = found.adjusted.schemes, found.adjusted.jurors, found.components.shrinkage
    y, seen = with_gaps.values, with_gaps.seen
    for i in range(6):
        jurors = np.flatnonzero(seen[i])
        assert s[i] == pytest.approx(np.mean([y[i, j] - b[j] for j in jurors]))
    for j in range(4):
        schemes = np.flatnonzero(seen[:, j])
        assert b[j] == pytest.approx(sum(y[i, j] - s[i] for i in schemes) / (len(schemes) + lam))


def test_a_juror_with_one_scheme_in_common_is_too_few():
    rows = [[3, 4, None], [2, 3, None], [4, 4, 5], [None, None, 2]]
    juror = analyse(table_of(rows, jurors=("A", "B", "Late"))).jurors[2]
    assert juror.effect == NotAvailable("too few: Late shares one scheme with other jurors")
    assert (juror.schemes, juror.shared) == (2, 1)


def test_one_juror_has_no_severity():
    found = analyse(table_of([[3], [4]]))
    assert found.jurors[0].effect == NotAvailable(
        "one juror: severity is how jurors differ on the same work"
    )
    assert found.df == 0


def test_severity_that_is_no_more_than_chance_is_0_with_a_reason():
    found = analyse(table_of([[1, 5, 3], [5, 1, 2], [3, 3, 4], [2, 4, 3], [4, 2, 3]]))
    assert found.adjusted.schemes == pytest.approx(found.cells.raw)
    assert found.jurors[0].effect.value == 0
    assert found.jurors[0].effect.low < 0 < found.jurors[0].effect.high


# Of seven like jurors one lies outside their own 95 % interval in every fourth crit.
def test_a_lean_is_apart_only_beyond_what_one_of_all_jurors_shows_by_chance():
    rng = np.random.default_rng(3)
    noise = rng.normal(0, 0.5, (14, 7))
    found = [analyse(table_of((noise + np.eye(7)[0] * lean).tolist())) for lean in (0, 0.15, 0.3)]
    first = [each.jurors[0] for each in found]
    for each, severity in zip(first, found, strict=True):
        t = float(stats.t.isf(0.05 / 7 / 2, severity.df))
        assert each.is_apart == (abs(each.least_squares) > t * each.se)
    assert [each.effect.holds(0) for each in first] == [True, False, False]
    assert [each.is_apart for each in first] == [False, False, True]


def test_a_perfectly_additive_table_has_errors_of_0():
    found = analyse(table_of([[1, 2], [2, 3], [4, 5]], jurors="AB"))
    assert found.jurors[1].effect.value == pytest.approx(0.5)
    assert found.jurors[1].se == 0
    assert found.components.residual == 0


def test_shrinkage_below_0_is_refused():
    with pytest.raises(ValueError, match="λ is -1; expected 0 or more"):
        solve(np.ones((2, 2)), np.ones((2, 2)), -1)


@st.composite
def tables(draw, complete: bool = False) -> Cells:
    n, m = draw(st.integers(3, 7)), draw(st.integers(2, 4))
    levels = st.integers(1, 9) if complete else st.one_of(st.integers(1, 9), st.none())
    rows = draw(st.lists(st.lists(levels, min_size=m, max_size=m), min_size=n, max_size=n))
    seen = np.array([[level is not None for level in row] for row in rows])
    assume(seen.any(axis=0).all())
    assume(seen.any(axis=1).all())
    return table_of(rows)


LAMBDAS = st.sampled_from([0.0, 0.3, 2.0, 50.0])


@given(tables(), LAMBDAS, st.integers(-20, 20), st.integers(1, 5), st.data())
def test_permutation_shift_and_scale(cells, lam, shift, scale, data):
    plain = solve(cells.counts, cells.values, lam)
    moved = np.where(cells.seen, scale * cells.values + shift, 0.0)
    other = solve(cells.counts, moved, lam)
    connected = len(groups(cells.seen)) == 1
    assert other.schemes == pytest.approx(scale * plain.schemes + shift, abs=1e-7)
    if connected or lam:
        assert other.jurors == pytest.approx(scale * plain.jurors, abs=1e-7)
    rows = data.draw(st.permutations(range(len(cells.schemes))))
    columns = data.draw(st.permutations(range(len(cells.jurors))))
    turned = cells.part(rows, columns)
    again = solve(turned.counts, turned.values, lam)
    assert again.schemes == pytest.approx(plain.schemes[rows], abs=1e-7)
    assert again.jurors == pytest.approx(plain.jurors[columns], abs=1e-7)


@given(tables(complete=True), LAMBDAS)
def test_a_complete_table_gives_raw_means_for_every_lambda(cells, lam):
    assert solve(cells.counts, cells.values, lam).schemes == pytest.approx(cells.raw, abs=1e-9)


@given(tables())
def test_lambda_without_limit_gives_raw_means(cells):
    assert solve(cells.counts, cells.values, np.inf).schemes == pytest.approx(cells.raw)
    assert solve(cells.counts, cells.values, 1e9).schemes == pytest.approx(cells.raw, abs=1e-6)


@given(tables())
def test_least_squares_effects_add_to_0_and_leave_nothing_in_any_margin(cells):
    found = solve(cells.counts, cells.values, 0)
    for group in groups(cells.seen):
        assert found.jurors[list(group.jurors)].sum() == pytest.approx(0, abs=1e-7)
    left = residuals(cells, found)
    assert left.sum(axis=0) == pytest.approx(0, abs=1e-7)
    assert left.sum(axis=1) == pytest.approx(0, abs=1e-7)


@given(tables(), tables(), LAMBDAS)
def test_groups_apart_are_solved_as_if_alone(first, second, lam):
    n, m = (a + b for a, b in zip(first.values.shape, second.values.shape, strict=True))
    values, seen = np.zeros((n, m)), np.zeros((n, m), dtype=bool)
    rows, columns = first.values.shape
    values[:rows, :columns], seen[:rows, :columns] = first.values, first.seen
    values[rows:, columns:], seen[rows:, columns:] = second.values, second.seen
    both = solve(seen.astype(float), values, lam)
    alone = [solve(cells.counts, cells.values, lam) for cells in (first, second)]
    assert both.schemes == pytest.approx(np.concatenate([one.schemes for one in alone]), abs=1e-7)


@given(tables(), st.integers(1, 30), LAMBDAS)
def test_weighting_criteria_before_or_after_is_the_same(cells, weight, lam):
    second = np.where(cells.seen, (cells.values * 7) % 5, 0.0)
    share = weight / (weight + 10)
    apart = share * solve(cells.counts, cells.values, lam).schemes
    apart = apart + (1 - share) * solve(cells.counts, second, lam).schemes
    total = solve(cells.counts, share * cells.values + (1 - share) * second, lam).schemes
    assert total == pytest.approx(apart, abs=1e-8)


@given(tables())
@settings(max_examples=60)
def test_every_table_is_analysed_without_a_number_that_is_none(cells):
    found = analyse(cells)
    for juror in found.jurors:
        for value in (juror.effect, juror.se, juror.least_squares):
            assert isinstance(value, NotAvailable) or np.isfinite(getattr(value, "value", value))
    assert np.isfinite(found.adjusted.schemes).all()


# O-17: Montgomery, Example 4.5, blocks as jurors: effects .875 3 −3.875 0 with MSE .65 on 5
# degrees of freedom; t at .975 on 5 is 2.5706 (printed tables). The error of an effect against
# the mean of four in this balanced design is √(MSE k (a − 1)/(λ a · a)), as Montgomery's for a
# treatment: √(.65 × 3 × 3/(2 × 4 × 4)) = .42757.
def test_o17_the_interval_of_severity_is_that_of_least_squares(published):
    found = analyse(by_name(published("montgomery_bibd")))
    assert [j.se for j in found.jurors] == pytest.approx([np.sqrt(0.65 * 9 / 32)] * 4, abs=5e-6)
    for juror, plain in zip(found.jurors, [0.875, 3, -3.875, 0], strict=True):
        half = 2.5706 * np.sqrt(0.65 * 9 / 32)
        assert juror.least_squares == pytest.approx(plain, abs=1e-9)
        assert juror.effect.interval == pytest.approx((plain - half, plain + half), abs=5e-5)
        assert juror.effect.holds(juror.effect.value)


# No severity by REML, yet one juror's interval by least squares excludes 0: it is widened to 0.
def test_an_interval_always_holds_its_own_estimate():
    found = analyse(table_of(np.random.default_rng(0).normal(3, 1, (8, 8)).tolist()))
    assert np.isinf(found.components.shrinkage)
    assert all(juror.effect.holds(juror.effect.value) for juror in found.jurors)
    assert [0.0 in juror.effect.interval for juror in found.jurors].count(True) == 1
