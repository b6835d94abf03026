"""Lifting by hand and by road: each figure against its source, just under and just over."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from criteria.checks.axles import GROSS_KG, most_on_axles
from criteria.checks.transport import CONTAINERS_M, fits_container
from criteria.measures.moving import HAND_KG, TEAM_SHARE, people_to_carry, team_mass

POUND, FOOT, INCH = 0.45359237, 0.3048, 0.0254


# ISO 11228-1: 25 kg; L23 (HSE): two thirds of the sum for two, half for three (from memory).
# By hand: 2 × 25 × 2/3 = 33.3 kg, 3 × 25 ÷ 2 = 37.5 kg.
@pytest.mark.parametrize(
    ("people", "share", "most"), [(1, 1, 25), (2, 2 / 3, 33.33), (3, 0.5, 37.5), (4, 0.5, 50)]
)
def test_a_team_lifts_less_than_its_sum(people, share, most):
    assert TEAM_SHARE.get(people, TEAM_SHARE[3]) == share
    assert HAND_KG == 25
    assert team_mass(people) == pytest.approx(most, abs=0.01)


@pytest.mark.parametrize(
    ("kg", "people"), [(25, 1), (25.01, 2), (33.33, 2), (33.34, 3), (37.5, 3), (37.51, 4), (80, 7)]
)
def test_people_for_a_mass(kg, people):
    assert people_to_carry(kg) == people


@given(st.floats(0.1, 1e5), st.floats(0.1, 1e5))
def test_more_mass_never_takes_fewer_people(a, b):
    light, heavy = sorted((a, b))
    assert people_to_carry(light) <= people_to_carry(heavy)
    assert team_mass(people_to_carry(heavy)) >= heavy * (1 - 1e-9)


# 23 CFR 658.17, quoted: 20,000 lb on one axle, which 40 in makes of several (658.5); 34,000 lb on
# a tandem of up to 96 in; 80,000 lb gross.
@pytest.mark.parametrize(
    ("axles", "inches", "pounds"),
    [
        (2, 40, 20_000),
        (2, 40.1, 33_500),  # the formula: 500 × (3.342 × 2 + 60) = 33,342
        (2, 96, 34_000),
        (2, 96.1, 38_000),
        (3, 40, 20_000),
        (3, 96, 34_000),
        (3, 97, 42_000),
        (6, 720, 80_000),
    ],
)
def test_axles_that_stand_close_carry_less(axles, inches, pounds):
    assert most_on_axles(axles, inches * INCH) / POUND == pytest.approx(pounds, rel=1e-9)
    assert pytest.approx(80_000) == GROSS_KG / POUND


# ISO 1496-1, quoted: least inside sizes and door openings in feet and inches, printed to the
# nearest of them: 19 ft 3 in, 39 ft 4 3/8 in, 7 ft 7 3/4 in, 7 ft 8 1/2 in, 8 ft 8 1/2 in; doors
# 7 ft 6 in by 7 ft 5 in, 8 ft 5 in high. In millimetres as the standard has them.
@pytest.mark.parametrize(
    ("kind", "inside_mm", "inside_in", "door_mm", "door_in"),
    [
        ("20 ft", (5867, 2330, 2350), (231, 91.75, 92.5), (2286, 2261), (90, 89)),
        ("40 ft", (11998, 2330, 2350), (472.375, 91.75, 92.5), (2286, 2261), (90, 89)),
        ("40 ft high", (11998, 2330, 2655), (472.375, 91.75, 104.5), (2286, 2566), (90, 101)),
    ],
)
def test_containers_row_by_row(kind, inside_mm, inside_in, door_mm, door_in):
    inside, door = CONTAINERS_M[kind]
    assert [round(x * 1000, 3) for x in (*inside, *door)] == [*inside_mm, *door_mm]
    assert [x / INCH for x in (*inside, *door)] == pytest.approx([*inside_in, *door_in], abs=0.06)


def test_a_piece_passes_the_door_and_stands_inside():
    assert fits_container((2.286, 2.261, 5.867), "20 ft")
    assert not fits_container((2.287, 2.261, 5.867), "20 ft")
    assert not fits_container((2.286, 2.261, 5.868), "20 ft")
    assert fits_container((2.2, 2.5, 11.9), "40 ft high")
    assert not fits_container((2.2, 2.5, 11.9), "40 ft")
