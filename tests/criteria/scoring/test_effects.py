import numpy as np
import pingouin
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

import criteria.scoring.effects as effects
from criteria.scoring.effects import (
    Group,
    NotAvailable,
    cliffs_delta,
    hedges_correction,
    hedges_g,
    summarise,
)

# Student 1908, extra hours of sleep under two drugs.
SLEEP_1 = [0.7, -1.6, -0.2, -1.2, -0.1, 3.4, 3.7, 0.8, 0.0, 2.0]
SLEEP_2 = [1.9, 0.8, 1.1, 0.1, -0.1, 4.4, 5.5, 1.6, 4.6, 3.4]


# Hedges 1981; J exact to six digits. Grade RUN.
@pytest.mark.parametrize(
    ("df", "exact"),
    [(4, 0.797885), (8, 0.902703), (10, 0.922746), (18, 0.957646), (38, 0.980110), (98, 0.992324)],
)
def test_the_correction_is_exact(df, exact):
    assert hedges_correction(df) == pytest.approx(exact, abs=5e-7)
    assert hedges_correction(df) < 1 - 3 / (4 * df - 1)


# O-26: Borenstein and others 2009, Introduction to Meta-Analysis, chapter 4. Grade RUN; the
# four-digit values (d .5970, g .5924) from memory.
def test_o26_hedges_g_of_a_published_summary():
    g = hedges_g(Group(50, 103, 5.5), Group(50, 100, 4.5))
    assert g.value == pytest.approx(0.592440, abs=5e-7)
    assert (g.low, g.high) == pytest.approx((0.193287, 0.988698), abs=5e-6)
    d = g.value / hedges_correction(98)
    assert d == pytest.approx(0.5970, abs=5e-5)
    assert (g.low / hedges_correction(98), g.high / hedges_correction(98)) == pytest.approx(
        (0.194782, 0.996346), abs=5e-6
    )


# O-27: Student's sleep data; grade RUN (three independent programs).
def test_o27_student_sleep():
    g = hedges_g(SLEEP_1, SLEEP_2)
    assert g.value == pytest.approx(-0.796935, abs=5e-7)
    assert (g.low, g.high) == pytest.approx((-1.665172, 0.091408), abs=5e-6)
    assert g.value / hedges_correction(18) == pytest.approx(-0.832181, abs=5e-7)


# Second opinion: pingouin's g uses the approximate J, hence 2e-4.
def test_hedges_g_beside_pingouin():
    theirs = pingouin.compute_effsize(SLEEP_1, SLEEP_2, eftype="hedges")
    assert hedges_g(SLEEP_1, SLEEP_2).value == pytest.approx(theirs, abs=2e-4)


# Cliff's δ by hand: 2 and 4 against 1, 3, 5 win 3 and lose 3.
def test_cliffs_delta_counts_pairs():
    assert cliffs_delta([2, 4], [1, 3, 5]).value == 0
    # pairs of (3, 3, 5) with (3, 4): = < = < > > → (2 − 2) / 6
    assert cliffs_delta([3, 3, 5], [3, 4]).value == 0


def test_cliffs_variance_is_the_published_formula_written_out():
    x, y = np.array([1.0, 2, 2, 4, 5]), np.array([2.0, 3, 5, 5])
    signs = np.sign(x[:, None] - y)
    d = signs.mean()
    n, m = signs.shape
    s2 = (
        m**2 * ((signs.mean(1) - d) ** 2).sum()
        + n**2 * ((signs.mean(0) - d) ** 2).sum()
        - ((signs - d) ** 2).sum()
    ) / (n * m * (n - 1) * (m - 1))
    t = stats.t.ppf(0.975, n + m - 2)
    root = t * np.sqrt(s2) * np.sqrt((1 - d**2) ** 2 + t**2 * s2)
    ends = [(d - d**3 + sign * root) / (1 - d**2 + t**2 * s2) for sign in (-1, 1)]
    ours = cliffs_delta(x, y)
    assert (ours.value, ours.low, ours.high) == pytest.approx((d, *ends), rel=1e-12)


def test_groups_that_do_not_overlap_still_have_an_interval():
    ours = cliffs_delta([4, 5, 5, 5], [1, 2, 3])
    assert (ours.value, ours.high) == (1, 1)
    assert ours.low < 1
    mirrored = cliffs_delta([1, 2, 3], [4, 5, 5, 5])
    assert (mirrored.low, mirrored.high) == (-1, pytest.approx(-ours.low))


@pytest.mark.parametrize("measure", [hedges_g, cliffs_delta])
def test_one_value_is_no_cohort(measure):
    result = measure([3.0], [1.0, 2.0])
    assert isinstance(result, NotAvailable)
    assert "each cohort needs 2 values or more" in result.reason


def test_cohorts_that_do_not_vary_have_a_reason_and_no_number():
    assert hedges_g([3, 3], [4, 4]) == NotAvailable(
        "neither cohort varies, so there is no unit to measure in"
    )
    assert cliffs_delta([3, 3], [3, 3]).value == 0


def test_an_effect_beyond_the_noncentral_t_keeps_its_point():
    g = hedges_g([1e6, 1e6 + 1], [0, 1])
    assert g.value > 1e5
    assert g.interval == NotAvailable("the cohorts lie too far apart for the noncentral t")


def test_what_is_not_finite_is_refused():
    with pytest.raises(ValueError, match="a value must be finite; read nan"):
        cliffs_delta([1, float("nan")], [1, 2])


some = st.lists(st.integers(-50, 50).map(float), min_size=3, max_size=12)


@given(some, some, st.integers(-20, 20), st.integers(1, 9))
def test_effects_don_t_mind_shift_or_scale_and_turn_with_the_order(x, y, shift, scale):
    moved = [[scale * v + shift for v in group] for group in (x, y)]
    delta, again, back = cliffs_delta(x, y), cliffs_delta(*moved), cliffs_delta(y, x)
    assert again.value == pytest.approx(delta.value)
    assert back.value == pytest.approx(-delta.value)
    assert (back.low, back.high) == pytest.approx((-delta.high, -delta.low))
    assert -1 <= delta.low <= delta.value <= delta.high <= 1
    g, moved_g = hedges_g(x, y), hedges_g(*moved)
    if g.available:
        assert moved_g.value == pytest.approx(g.value, rel=1e-9, abs=1e-12)
        assert hedges_g(y, x).value == pytest.approx(-g.value, rel=1e-9, abs=1e-12)


def test_refusals_of_too_few():
    with pytest.raises(ValueError, match="needs 2 degrees of freedom or more, not 1"):
        hedges_correction(1)
    with pytest.raises(ValueError, match="a standard deviation needs 2 values or more, not 1"):
        summarise([3.0])


def test_a_p_is_said_in_three_figures_and_never_as_0():
    assert effects.Tested(2.0, 3, 0.04449, "F").p_words == "p 0.044"
    assert effects.Tested(2.0, 3, 0.001, "F").p_words == "p 0.001"
    assert effects.Tested(2.0, 3, 0.00099, "F").p_words == "p below 0.001"
