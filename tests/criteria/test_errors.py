import math

import pytest

from criteria.errors import (
    LONGEST_QUOTED,
    InputError,
    Refused,
    require_fraction,
    require_not_negative,
    require_positive,
)


def test_a_refusal_names_what_was_read_and_what_was_expected():
    refusal = Refused("12 kg", "a length")
    assert str(refusal) == "read “12 kg”; expected a length"
    assert (refusal.read, refusal.expected) == ("12 kg", "a length")


def test_a_refusal_repeats_a_text_of_the_longest_length_whole():
    assert Refused("x" * LONGEST_QUOTED, "less").read == "x" * LONGEST_QUOTED


def test_a_refusal_repeats_only_the_start_of_a_long_text_and_its_length():
    refusal = Refused("y" * 1_000_000, "less")
    assert refusal.read.startswith("y" * LONGEST_QUOTED + "…")
    assert "1,000,000 characters" in refusal.read
    assert len(str(refusal)) < 200


def test_more_than_zero_is_positive_and_zero_is_not():
    assert require_positive("floor", 5e-324, "m²") == 5e-324
    with pytest.raises(InputError, match=r"floor is 0 m²; expected more than 0 m²"):
        require_positive("floor", 0, "m²")


def test_zero_is_not_negative_and_just_less_is():
    assert require_not_negative("glass", 0.0, "m²") == 0.0
    with pytest.raises(InputError, match=r"glass is -1e-12 m²; expected 0 m² or more"):
        require_not_negative("glass", -1e-12, "m²")


@pytest.mark.parametrize("inside", [0, 0.5, 1])
def test_a_fraction_includes_both_ends(inside):
    assert require_fraction("share", inside) == inside


@pytest.mark.parametrize("outside", [-0.001, 1.001])
def test_a_fraction_ends_at_zero_and_one(outside):
    with pytest.raises(InputError, match=r"share is .*; expected a fraction from 0 to 1"):
        require_fraction("share", outside)


def test_not_a_number_is_never_let_through():
    with pytest.raises(InputError, match=r"floor is nan m²"):
        require_positive("floor", math.nan, "m²")
    with pytest.raises(InputError, match=r"glass is nan m²"):
        require_not_negative("glass", math.nan, "m²")
    with pytest.raises(InputError, match=r"share is nan"):
        require_fraction("share", math.nan)
