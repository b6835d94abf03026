from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from criteria.scoring.levels import (
    NOT_MINE,
    NotAvailable,
    PanelLevel,
    WeightedLevel,
    panel_level,
    shown,
    spread,
    weighted_level,
)

FINAL = {"F1": 15, "F2": 10, "F3": 15, "F4": 20, "F5": 10, "F6": 10, "F7": 10, "F8": 10}


def sheet(digits: str) -> dict[str, int]:
    return dict(zip(FINAL, map(int, digits), strict=True))


# O-29: exact arithmetic of weighted rubrics; grade RUN (any hand can redo it).
@pytest.mark.parametrize(
    ("levels", "weights", "steps", "expected"),
    [
        ("543425", (25, 20, 20, 15, 10, 10), 5, Fraction(295, 4)),
        ("4332", (40, 30, 20, 10), 4, Fraction(230, 3)),
        ("3425434", (3, 2, 2, 1, 1, 1, 1), 5, Fraction(650, 11)),
        ("65443265", (20, 15, 15, 15, 10, 10, 10, 5), 6, Fraction(70)),
        ("4453", (1, 1, 1, 1), 5, Fraction(75)),
    ],
)
def test_o29_points_of_a_weighted_level(levels, weights, steps, expected):
    names = [f"K{number}" for number, _ in enumerate(levels)]
    result = weighted_level(
        dict(zip(names, map(int, levels), strict=True)), dict(zip(names, weights, strict=True))
    )
    # equal steps from 0 to 100: 100 (level − 1)/(K − 1)
    assert 100 * (result.value - 1) / (steps - 1) == expected
    terms = {
        name: Fraction(100 * (int(level) - 1), steps - 1)
        for name, level in zip(names, levels, strict=True)
    }
    assert weighted_level(terms, dict(zip(names, weights, strict=True))).value == expected


# O-30: rounding; grade RUN. Half up differs from Python's own round on each of these.
@pytest.mark.parametrize(
    ("value", "places", "expected"),
    [
        (Decimal("72.25"), 1, "72.3"),
        (Decimal("2.675"), 2, "2.68"),
        (2.675, 2, "2.68"),
        (Decimal("2.5"), 0, "3"),
        (Decimal("0.125"), 2, "0.13"),
        (Decimal("-2.5"), 0, "−3"),
        (Fraction(2, 3), 3, "0.667"),
        (0, 2, "0.00"),
        (-0.0, 1, "0.0"),
    ],
)
def test_o30_halves_are_rounded_away_from_zero(value, places, expected):
    assert shown(value, places) == expected


def test_a_sign_is_written_only_where_asked_and_never_on_zero():
    assert shown(Fraction(97, 100), 1, signed=True) == "+1.0"
    assert shown(Fraction(-92, 100), 2, signed=True) == "−0.92"
    assert shown(Fraction(1, 1000), 2, signed=True) == "0.00"


def test_what_is_not_finite_is_never_shown():
    with pytest.raises(ValueError, match="only a finite number can be shown, not nan"):
        shown(float("nan"))
    with pytest.raises(ValueError, match="a number must be finite, not Infinity"):
        shown(Decimal("Infinity"))


# practice.md 7.7, E03, Hesper Quill: impression 4, criteria 2.40.
def test_a_jury_sheet_of_the_demo():
    result = weighted_level(sheet("33313223"), FINAL)
    assert result.value == Fraction(240, 100)
    assert result.working == (
        "(15 × 3 + 10 × 3 + 15 × 3 + 20 × 1 + 10 × 3 + 10 × 2 + 10 × 2 + 10 × 3) ÷ 100 = 2.40"
    )
    assert result.note == ""


def test_not_mine_to_judge_is_left_out_of_the_sum_and_said():
    result = weighted_level(sheet("44444444") | {"F4": NOT_MINE, "F1": 1}, FINAL)
    assert result.value == Fraction(15 + 4 * 65, 80)
    assert result.left_out == ("F4",)
    assert result.weight_counted == 80
    assert result.note == "not mine to judge, left out of the sum: F4"


@pytest.mark.parametrize("gap", [{"F4": None}, {}])
def test_a_missing_weighted_criterion_makes_the_level_not_available(gap):
    levels = sheet("44444444")
    del levels["F4"]
    result = weighted_level(levels | gap, FINAL)
    assert result == NotAvailable("no level yet for F4")
    assert not result
    assert str(result) == "not available: no level yet for F4"


def test_a_criterion_of_weight_0_is_not_needed_and_not_counted():
    assert weighted_level({"F1": 3}, {"F1": 1, "F9": 0}).value == 3
    assert weighted_level({"F1": 3, "F9": 5}, {"F1": 1, "F9": 0}).value == 3


def test_nothing_judged_is_not_a_level():
    result = weighted_level({"F1": NOT_MINE, "F2": NOT_MINE}, {"F1": 1, "F2": 2})
    assert result == NotAvailable("every weighted criterion is not mine to judge")


def test_refusals_name_what_was_read():
    with pytest.raises(ValueError, match="no weight for criterion G1; expected F1"):
        weighted_level({"G1": 3}, {"F1": 1})
    with pytest.raises(ValueError, match=r"weight of F1 must be 0 or more, not -2\.5"):
        weighted_level({"F1": 3}, {"F1": Decimal("-2.5")})
    with pytest.raises(ValueError, match="must add to more than 0"):
        weighted_level({"F1": 3}, {"F1": 0})
    with pytest.raises(TypeError, match=r"level of F1 must be int, .* not 3\.5"):
        weighted_level({"F1": 3.5}, {"F1": 1})


# practice.md 7.7: E01 has mean 3.98 and spread 2.00.
def test_the_level_of_a_panel_is_the_mean_of_its_sheets():
    jurors = {"Quill": "33334233", "Lantry": "44444444", "Ostrey": "44444344", "Ferro": "55555555"}
    result = panel_level({name: weighted_level(sheet(row), FINAL) for name, row in jurors.items()})
    assert isinstance(result, PanelLevel)
    assert (shown(result.value, 2), shown(result.spread, 2)) == ("3.98", "2.00")
    assert result.jurors == tuple(jurors)


def test_a_panel_says_who_is_not_in_the_mean():
    three = weighted_level({"F1": 3}, {"F1": 1})
    result = panel_level({"Quill": three, "Ferro": NotAvailable("saw in part")})
    assert result.value == 3
    assert result.without == (("Ferro", "saw in part"),)
    assert result.spread == NotAvailable("fewer than two jurors gave a level")
    assert panel_level({}) == NotAvailable("no juror yet")
    assert panel_level({"Ferro": NotAvailable("saw in part")}) == NotAvailable(
        "no juror's levels are complete (Ferro: saw in part)"
    )


def test_spread_passes_over_gaps():
    assert spread([3, None, 5, NOT_MINE]) == 2
    assert not spread([3, None])


levels_of_sheet = st.lists(st.integers(1, 5), min_size=1, max_size=8)


@given(levels_of_sheet, st.data())
def test_a_weighted_level_lies_between_its_levels_and_scales(levels, data):
    names = [str(number) for number in range(len(levels))]
    weights = data.draw(
        st.lists(st.integers(1, 40), min_size=len(levels), max_size=len(levels)), label="weights"
    )
    by_name = dict(zip(names, levels, strict=True))
    result = weighted_level(by_name, dict(zip(names, weights, strict=True)))
    assert isinstance(result, WeightedLevel)
    assert min(levels) <= result.value <= max(levels)
    tripled = weighted_level(by_name, dict(zip(names, (3 * w for w in weights), strict=True)))
    assert tripled.value == result.value
    order = data.draw(st.permutations(names))
    shuffled = weighted_level(
        {name: by_name[name] for name in order},
        {name: weights[names.index(name)] for name in order},
    )
    assert shuffled.value == result.value


@given(st.fractions(-1000, 1000), st.integers(0, 6))
def test_showing_is_never_off_by_more_than_half_a_unit(value, places):
    text = shown(value, places).replace("−", "-")
    assert abs(Fraction(text) - value) <= Fraction(1, 2 * 10**places)


def test_a_fraction_that_is_no_decimal_is_shown_as_one():
    result = weighted_level({"F1": Fraction(10, 3), "F2": Decimal("2.50")}, {"F1": 1, "F2": 1})
    assert result.working == "(1 × 10/3 + 1 × 2.5) ÷ 2 = 2.92"
