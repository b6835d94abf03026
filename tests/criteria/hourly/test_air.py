"""Air through openings by hand, and what wind reaches the site."""

from math import sqrt

import pytest

from criteria.hourly.air import flow_law, local_wind
from criteria.hourly.building import Opening
from tests.criteria.hourly.denver import oracle

TOLD = oracle("analytic")["opening"]


def test_one_side_lets_in_what_the_formula_says():
    """1.5 m², 1 m high, 24 °C within and 18 °C outside, 2 m/s."""
    law = flow_law([Opening(area_m2=1.5, height_m=1.0)], "C")
    assert law.passes(6, 2**2) == pytest.approx(TOLD["largest_flow_at_24_m3_s"], abs=1e-9)
    ten = law.times(10)
    assert ten.passes(6, 4) == pytest.approx(10 * law.passes(6, 4))
    assert ten.passes(60, 0) == pytest.approx(10 * law.passes(60, 0))


def test_two_heights_draw_by_warmth():
    """A* = 1/√2 m²: 0.6 · 0.7071 · √(2 · 9.81 · 3 · 10 ÷ 293)."""
    law = flow_law(
        [
            Opening(area_m2=1, height_m=0.1, middle_m=1),
            Opening(area_m2=1, height_m=0.1, middle_m=4),
        ],
        "C",
    )
    by_hand = 0.6 * sqrt(0.5) * sqrt(2 * 9.81 * 3 * 10 / 293)
    assert law.passes(10, 0**2) == pytest.approx(by_hand)


@pytest.mark.parametrize(("terrain", "pressure"), [("B", 0.3), ("C", 0.55), ("D", 0.8)])
def test_two_sides_draw_by_wind(terrain, pressure):
    law = flow_law(
        [Opening(area_m2=2, height_m=0.1), Opening(area_m2=1, height_m=0.1, bearing_deg=180)],
        terrain,
    )
    together = (1 / 4 + 1 / 1) ** -0.5
    assert law.passes(0, 3**2) == pytest.approx(0.6 * together * 3 * sqrt(pressure))


def test_warmth_and_wind_go_together_as_squares():
    openings = [
        Opening(area_m2=1, height_m=0.1, middle_m=1),
        Opening(area_m2=1, height_m=0.1, middle_m=4, bearing_deg=180),
    ]
    law = flow_law(openings, "C")
    both = sqrt(law.passes(10, 0**2) ** 2 + law.passes(0, 4**2) ** 2)
    assert law.passes(10, 4**2) == pytest.approx(both)


def test_nothing_that_opens_lets_in_nothing():
    assert flow_law([], "C").passes(10, 25) == 0
    assert flow_law([Opening(area_m2=0, height_m=1)], "C").passes(10, 25) == 0


def test_wind_is_weaker_near_the_ground_and_among_houses():
    """At 3 m: (270/10)^0.14 (3/δ)^α."""
    assert local_wind("C") == pytest.approx(1.586 * (3 / 270) ** 0.14, rel=1e-3)
    assert local_wind("B") < local_wind("C") < local_wind("D")
    assert local_wind("C", 10) == pytest.approx(1.0, abs=1e-9)
