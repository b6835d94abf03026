import math

import numpy as np
import pytest
from scipy import stats

from criteria.scoring.bands import COHEN
from criteria.scoring.cohorts import (
    Juries,
    NotAvailable,
    compare,
    summary,
)

THIS = [3, 4, 4, 5, 3, 4, 5, 4, 3, 4]
OTHER = [2, 3, 3, 4, 2, 3, 3, 2, 3, 2]


def test_a_summary_has_the_plain_numbers_a_plot_needs():
    result = summary("H", [4, 2, None, 3, 3])
    assert result.values == (2, 3, 3, 4)
    assert (result.n, result.without, result.mean, result.median) == (4, 1, 3, 3)
    assert result.counts == {2: 1, 3: 2, 4: 1}
    # by hand: positions 0.75 and 2.25 of 2, 3, 3, 4
    assert (result.lower_quartile, result.upper_quartile) == (2.75, 3.25)
    assert result.sd == pytest.approx(math.sqrt(2 / 3))


def test_a_cohort_without_values_says_so():
    assert summary("H", [None]) == NotAvailable("H has no value")
    result = compare("F1", [None], [1, 2], labels=("H", "E"))
    assert result.g == NotAvailable("H has no value")
    assert result.words == "not compared: H has no value"
    assert result.other.n == 2


def test_without_juries_the_interval_is_welch_s():
    result = compare("T01", THIS, OTHER, unit="%")
    theirs = stats.ttest_ind(THIS, OTHER, equal_var=False).confidence_interval()
    assert result.difference.interval == pytest.approx((theirs.low, theirs.high), rel=1e-9)
    assert result.words.startswith("higher than the other cohort, by a difference that is")
    assert not result.descriptive
    assert result.warnings == ()


def test_different_juries_widen_the_interval_and_are_said():
    juries = Juries(frozenset("ABC"), frozenset("DEF"), variance=0.16, df=4)
    apart = compare("F1", THIS, OTHER, juries=juries)
    plain = compare("F1", THIS, OTHER)
    # σ_b 0.4 level and three jurors each: 0.4 √(2/3), as scoring practice 4 points give 3.27
    assert juries.error == pytest.approx(0.4 * math.sqrt(2 / 3))
    assert apart.difference.low < plain.difference.low
    assert apart.descriptive
    assert apart.words.endswith("descriptive only, the juries differ")
    assert "nobody sat in both" in apart.warnings[0]
    assert apart.warnings[1] == "The juries alone give the difference a standard error of 0.33."


def test_a_jury_of_unknown_severity_is_left_out_of_the_interval_and_that_is_said():
    apart = compare("F1", THIS, OTHER, juries=Juries(frozenset("AB"), frozenset("BC")))
    assert apart.difference == compare("F1", THIS, OTHER).difference
    assert "one juror sat in both" in apart.warnings[0]
    assert "the interval leaves it out" in apart.warnings[1]


# t at .975 on 4 is 2.7764 (printed tables); each part squared, then added.
def test_the_difference_adds_the_juries_reach_to_the_schemes():
    juries = Juries(frozenset("ABC"), frozenset("DEF"), variance=0.16, df=4)
    plain, apart = compare("F1", THIS, OTHER), compare("F1", THIS, OTHER, juries=juries)
    alone = plain.difference.high - plain.difference.value
    whole = math.hypot(alone, 2.7764 * 0.4 * math.sqrt(2 / 3))
    assert apart.difference.high - apart.difference.value == pytest.approx(whole, abs=1e-4)
    flat = compare("F1", [3] * 8, [3] * 8, juries=juries)
    assert flat.difference.high == pytest.approx(2.7764 * 0.4 * math.sqrt(2 / 3), abs=1e-4)


def test_jurors_who_sat_in_both_cancel():
    assert Juries(frozenset("ABC"), frozenset("ABC"), 1.0).error == pytest.approx(0)
    # variance of (b1 + b2)/2 − (b2 + b3)/2 is (1 + 1)/4 of one juror's
    assert Juries(frozenset("AB"), frozenset("BC"), 1.0).share == pytest.approx(0.5)
    same = compare("F1", THIS, OTHER, juries=Juries(frozenset("A"), frozenset("A"), 1.0))
    assert same.difference == compare("F1", THIS, OTHER).difference
    assert not same.descriptive
    assert "each may have changed" in same.warnings[0]


# Simulated in the notes this rests on: Welch alone cries wolf in 27 % of comparisons when juries
# of three differ by half the schemes' deviation; more schemes make it worse. Here: no true
# difference, deviation 8, jury deviation 4, 30 schemes. With the term, near 5 %.
def test_the_juries_term_keeps_false_alarms_near_five_in_a_hundred():
    rng = np.random.default_rng(6)
    without = with_term = 0
    juries = Juries(frozenset("ABC"), frozenset("DEF"), variance=16.0, df=1_000)
    for _ in range(400):
        x, y = (rng.normal(60, 8, 30) + rng.normal(0, 4, 3).mean() for _ in range(2))
        without += not compare("x", list(x), list(y)).difference.holds(0)
        with_term += not compare("x", list(x), list(y), juries=juries).difference.holds(0)
    assert without / 400 > 0.2
    assert 0.02 <= with_term / 400 <= 0.09


def test_few_values_and_gaps_are_said():
    result = compare("F1", [3, 4, None], OTHER, labels=("H", "E"))
    assert result.warnings == (
        "H has 2 values: few.",
        "H: 1 without a value, left out.",
    )


def test_cohorts_without_spread_have_reasons():
    result = compare("F1", [3, 3, 3], [3, 3, 3])
    assert result.words == "not compared: neither cohort varies"
    assert result.delta.value == 0
    one = compare("F1", [3], [3, 4])
    assert one.difference.value == -0.5
    assert one.words == "not compared: a cohort has one value only"


def test_refusals():
    with pytest.raises(ValueError, match="each cohort needs a juror"):
        Juries(frozenset(), frozenset("A"))
    with pytest.raises(ValueError, match="variance of severity is -1; expected 0 or more"):
        Juries(frozenset("A"), frozenset("B"), -1)
    with pytest.raises(ValueError, match="H must be finite; read inf"):
        compare("F1", [float("inf")], [1], labels=("H", "E"))


def test_a_difference_whose_interval_holds_0_is_not_told_apart():
    said = "not told apart: the interval of the difference holds 0"
    assert compare("F1", [1, 2, 3] * 3, [1, 2, 4] * 3).words == said


# Ten schemes beside seven, as far apart as may be: no verdict, though the interval leaves 0 out.
def test_a_cohort_of_few_is_never_told_apart():
    few = compare("F1", THIS, [1, 2, 1, 2, 1, 2, 1], labels=("H", "E"))
    assert few.difference.low > 0
    assert not few.is_tested
    assert not few.is_apart
    assert few.words == "too few to compare: E has 7, of 8 values at least"
    assert compare("F1", THIS, [1, 2, 1, 2, 1, 2, 1, 2]).is_apart


def test_cohorts_far_apart_are_described_by_order():
    high, low = [1e6, 1e6 + 1, 1e6 + 2, 1e6 + 1] * 2, [0, 1, 2, 1] * 2
    words = compare("F1", high, low).words
    assert words.startswith("higher than the other cohort, by a difference that is")
    assert words.endswith("(words for δ)")
    assert compare("F1", low, high).words.startswith("lower than")


# g moves with the juries' error over the pooled deviation, t at .975 on 4 being 2.7764 (printed
# tables); each end is squared and added to that of the schemes alone.
def test_g_and_delta_carry_the_juries_as_the_difference_does():
    juries = Juries(frozenset("ABC"), frozenset("DEF"), variance=0.16, df=4)
    apart, plain = compare("F1", THIS, OTHER, juries=juries), compare("F1", THIS, OTHER)
    reach = 2.7764 * 0.4 * math.sqrt(2 / 3)
    pooled = math.sqrt((np.var(THIS, ddof=1) + np.var(OTHER, ddof=1)) / 2)
    shift = reach / pooled * 0.957646  # J of 18, as in the tables of Hedges 1981
    assert apart.g.value == plain.g.value
    assert apart.g.low == pytest.approx(
        plain.g.value - math.hypot(plain.g.value - plain.g.low, shift), abs=5e-4
    )
    assert apart.g.high == pytest.approx(
        plain.g.value + math.hypot(plain.g.high - plain.g.value, shift), abs=5e-4
    )
    moved = [np.sign(np.subtract.outer(np.add(THIS, by), OTHER)).mean() for by in (-reach, reach)]
    assert apart.delta.low == pytest.approx(
        plain.delta.value
        - math.hypot(plain.delta.value - plain.delta.low, plain.delta.value - moved[0])
    )
    assert apart.delta.high == pytest.approx(
        plain.delta.value
        + math.hypot(plain.delta.high - plain.delta.value, moved[1] - plain.delta.value)
    )
    assert apart.g.method.endswith("with the juries' term")


def test_the_size_word_comes_from_the_interval_with_the_juries_in_it():
    juries = Juries(frozenset("ABC"), frozenset("DEF"), variance=0.01, df=4)
    apart = compare("F1", THIS, OTHER, juries=juries)
    assert not apart.difference.holds(0)
    assert COHEN.size(apart.g) in apart.words
