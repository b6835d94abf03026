"""A re-crit lets a level rise to the school's cap, and never fall."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from criteria.errors import InputError
from criteria.scoring.estimates import NotAvailable
from criteria.scoring.levels import NOT_MINE, WeightedLevel
from criteria.scoring.recrit import Outcome, rule_words, sheet_again, shown_again

LEVELS = st.fractions(1, 5, max_denominator=6)


@pytest.mark.parametrize(
    ("before", "again", "cap", "level", "outcome"),
    [
        (2, 3, None, 3, Outcome.ROSE),
        (2, 3, 3, 3, Outcome.ROSE),
        (2, 4, 3, 3, Outcome.CAPPED),
        (3, 4, 3, 3, Outcome.CAPPED),
        (3, 3, 3, 3, Outcome.SAME),
        (4, 5, 3, 4, Outcome.CAPPED),  # above the cap before: it stays there
        (3, 2, 3, 3, Outcome.KEPT),
        (4, 2, 3, 4, Outcome.KEPT),
        (Fraction(7, 3), Fraction(5, 2), 3, Fraction(5, 2), Outcome.ROSE),
        (None, 4, 3, 3, Outcome.CAPPED),
        (None, 2, 3, 2, Outcome.FIRST),
        (NOT_MINE, 4, None, 4, Outcome.FIRST),
        (2, NOT_MINE, 3, 2, Outcome.NOT_JUDGED),
        (2, None, 3, 2, Outcome.NOT_JUDGED),
        (None, None, 3, None, Outcome.NOT_JUDGED),
    ],
)
def test_each_criterion_by_hand(before, again, cap, level, outcome):
    found = shown_again(before, again, cap=cap)
    assert (found.level, found.outcome) == (level, outcome)


def test_what_is_not_asked_keeps_its_level_whatever_is_sent():
    found = shown_again(2, 5, asked=False)
    assert (found.level, found.again, found.outcome) == (2, None, Outcome.NOT_ASKED)


@given(LEVELS, LEVELS, st.integers(1, 5))
def test_it_never_falls_and_rises_no_further_than_judged_or_the_cap(before, again, cap):
    level = shown_again(before, again, cap=cap).level
    assert level is not None
    assert level >= before
    assert level == before or (level <= again and level <= cap)


@pytest.mark.parametrize(
    ("before", "again", "cap", "words"),
    [
        (2, 4, 3, "judged 4 again; capped at 3 as the school sets"),
        (2, Fraction(5, 2), 3, "judged 2.50 again"),
        (3, 2, 3, "judged 2 again; a re-crit lets no level fall"),
        (None, 2, 3, "no level before; judged 2 at the re-crit"),
        (2, None, 3, "no level at the re-crit; stands as it was"),
    ],
)
def test_each_says_why(before, again, cap, words):
    assert shown_again(before, again, cap=cap).words == words


def test_a_whole_sheet_before_and_after():
    """By hand: (50 × 2 + 30 × 3 + 20 × 4) ÷ 100 = 2.7; F1 rises to 3: 3.2."""
    weights = {"F1": 50, "F2": 30, "F3": 20}
    found = sheet_again({"F1": 2, "F2": 3, "F3": 4}, {"F1": 5}, weights, cap=3)
    assert isinstance(found.before, WeightedLevel)
    assert isinstance(found.after, WeightedLevel)
    assert (found.before.value, found.after.value) == (Fraction("2.7"), Fraction("3.2"))
    assert found.criteria["F2"].words == "not shown again; stands as it was"
    assert list(found.criteria) == ["F1", "F2", "F3"]


def test_what_neither_gave_leaves_the_sheet_without_a_weighted_level():
    found = sheet_again({"F1": 2}, {"F2": None}, {"F1": 1, "F2": 1})
    assert isinstance(found.after, NotAvailable)
    assert "F2" in found.after.reason


@pytest.mark.parametrize(("before", "again", "cap"), [(0, 3, 3), (3, 6, 3), (3, 3, 0), (3, 3, 6)])
def test_what_is_no_level_is_refused(before, again, cap):
    with pytest.raises(InputError, match="must be 1 to 5"):
        shown_again(before, again, cap=cap)


def test_a_criterion_of_another_sheet_is_refused():
    with pytest.raises(InputError, match="I9"):
        sheet_again({}, {"I9": 3}, {"F1": 1})


def test_the_rule_names_its_cap():
    assert "to 3 at most as the school sets, and never falls" in rule_words(3)
    assert rule_words(None).startswith("A level may rise and never falls.")
