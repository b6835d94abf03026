"""Odd values of the envelope: conductivities, claimed resistances, areas."""

import pytest

from criteria.odd.values import odd_values
from criteria.package import Package
from criteria.schedules.envelope import Layer
from criteria.schedules.openings import Window


@pytest.mark.parametrize(
    ("name", "typed", "mended"),
    [
        ("Sheep wool", 0.4, "0.04 W/mK"),
        ("Rigid foam", 0.0034, "0.034 W/mK"),
        ("Solid timber panel", 1.3, "0.13 W/mK"),
        ("Larch floor", 0.013, "0.13 W/mK"),
        ("Sheep wool", 9.0, ""),
    ],
)
def test_a_conductivity_ten_times_out(name, typed, mended):
    layer = Layer(part="wall", layer=name, thickness_m=0.1, lambda_w_mk=typed)
    (odd,) = odd_values(Package(envelope=(layer,)))
    assert (odd.head, odd.suggestion, odd.row) == ("lambda", mended, 1)


@pytest.mark.parametrize(
    ("name", "typed"),
    [
        ("Sheep wool", 0.015),
        ("Wood-fibre board", 0.08),
        ("Birch ply", 0.25),
        ("Aerogel blanket", 0.013),
        ("Steel sheet", 50.0),
    ],
)
def test_conductivities_at_their_bounds_and_other_materials_are_left_alone(name, typed):
    layer = Layer(part="wall", layer=name, thickness_m=0.1, lambda_w_mk=typed)
    assert odd_values(Package(envelope=(layer,))) == ()


def test_a_coating_with_a_large_r_is_asked_for_its_test():
    """0.25 mm said to be R-30 (5.28 m²K/W), as in the US regulator's cases of July 2020."""
    layer = Layer(part="wall", layer="Coating", thickness_m=0.00025, claimed_m2k_w=5.283)
    (odd,) = odd_values(Package(envelope=(layer,)))
    assert "Which test says so" in odd.write_question()
    assert odd.suggestion == ""


def test_r_in_us_units_typed_as_metric_is_offered_in_metric():
    """100 mm of mineral wool is R-15 in US units, 2.64 m²K/W."""
    layer = Layer(part="wall", layer="Mineral wool", thickness_m=0.1, claimed_m2k_w=15.0)
    (odd,) = odd_values(Package(envelope=(layer,)))
    assert odd.suggestion == "2.64 m²K/W"


def test_a_claim_that_takes_in_an_air_space_is_not_held_to_thickness():
    """Hollow-backed siding, 0.6 mm and 0.11 m²K/W, is in the ASHRAE tables and is real."""
    layer = Layer(
        part="wall",
        layer="Siding, hollow-backed",
        thickness_m=0.0006,
        claimed_m2k_w=0.11,
        claim_covers="air space included",
    )
    assert odd_values(Package(envelope=(layer,))) == ()


def test_openings_larger_than_most_of_the_wall():
    wall = Layer(part="wall", layer="Board", thickness_m=0.1, lambda_w_mk=0.3, gross_area_m2=10)
    window = Window(mark="W1", room="R1", n=1, frame_w_m=3.1, frame_h_m=2.0, u_w_m2k=1.0)
    found = odd_values(Package(envelope=(wall,), windows=(window,)))
    assert [(odd.schedule, odd.mark, odd.head) for odd in found] == [
        ("envelope", "", "gross_area_m2")
    ]


def test_a_claimed_resistance_that_a_layer_can_have_is_not_asked_about():
    """0.1 m over 2.5 m²K/W is 0.04 W/mK, as of wool."""
    wool = Layer(
        part="wall", layer="Sheep wool", thickness_m=0.1, lambda_w_mk=0.04, claimed_m2k_w=2.5
    )
    assert not odd_values(Package(envelope=(wool,)))
