import pytest

from criteria.scoring.bands import AGREEMENT, CLIFF, COHEN, RELIANCE
from criteria.scoring.estimates import Estimate, NotAvailable


def test_what_is_not_available_is_false_and_says_why():
    reason = NotAvailable("one juror only")
    assert not reason
    assert not reason.available
    assert str(reason) == "not available: one juror only"


def test_an_estimate_is_true_even_at_0_and_knows_what_its_interval_holds():
    zero = Estimate(0.0, (-1.0, 2.0), "t on 4")
    assert zero
    assert zero.available
    assert (zero.low, zero.high) == (-1, 2)
    assert zero.holds(2)
    assert not zero.holds(2.01)


def test_without_an_interval_nothing_is_ruled_out():
    bare = Estimate(3.0, NotAvailable("too few"), "mean")
    assert (bare.low, bare.high) == (None, None)
    assert bare.holds(99)
    assert COHEN.size(bare) == AGREEMENT.span(bare) == "no interval, so no word"


@pytest.mark.parametrize(
    ("value", "interval"), [(float("nan"), (0.0, 1.0)), (0.5, (float("nan"), 1.0))]
)
def test_an_estimate_is_a_number(value, interval):
    with pytest.raises(ValueError, match="an estimate is a number, not"):
        Estimate(value, interval, "")


# Koo and Li 2016; Krippendorff; Cohen 1988; Romano and others 2006: at, under and over each cut.
@pytest.mark.parametrize(
    ("bands", "value", "word"),
    [
        (AGREEMENT, 0.5, "moderate"),
        (AGREEMENT, 0.90, "good"),
        (RELIANCE, 0.666, "not to be relied on"),
        (RELIANCE, 0.667, "for tentative conclusions"),
        (RELIANCE, 0.8, "firm"),
        (COHEN, 0.199, "negligible"),
        (COHEN, 0.2, "small"),
        (COHEN, 0.8, "large"),
        (CLIFF, 0.146, "negligible"),
        (CLIFF, 0.33, "medium"),
        (CLIFF, 0.474, "large"),
    ],
)
def test_bands(bands, value, word):
    assert bands.word(value) == word


def test_the_size_of_a_difference_has_no_sign_and_is_nothing_where_0_is_held():
    assert COHEN.size(Estimate(-0.6, (-0.9, -0.3), "")) == "small to large"
    assert COHEN.size(Estimate(0.1, (-0.3, 0.6), "")) == "negligible to medium"
