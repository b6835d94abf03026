"""Air through openings by hand, and what wind reaches the site."""

from math import sqrt

import numpy as np
import pytest

from criteria.hourly.air import FlowLaw, Wind, flow_law, local_wind, opener
from criteria.hourly.building import Opening
from tests.criteria.hourly.denver import oracle

TOLD = oracle("analytic")["opening"]
COOL_K = 290.0


def passes(law: FlowLaw, apart_k: float, wind_m_s: float) -> float:
    """What the law lets through at a difference [m³/s], of windows that are opened a little."""
    held = opener(wind(law, wind_m_s))
    want = COOL_K + max(apart_k, 1e-6)
    air, added, share = held(0, want + 1e-6, want, COOL_K, 1e-9)
    assert air == want
    return added / share


def wind(law: FlowLaw, wind_m_s: float) -> Wind:
    return Wind(fixed_w_k=np.zeros(1), law=law, air_j_m3k=1.0, speed_m_s=np.array([wind_m_s]))


def test_one_side_lets_in_what_the_formula_says():
    """1.5 m², 1 m high, 24 °C within and 18 °C outside, 2 m/s."""
    law = flow_law([Opening(area_m2=1.5, height_m=1.0)], "C")
    assert passes(law, 6, 2) == pytest.approx(TOLD["largest_flow_at_24_m3_s"], abs=1e-9)
    ten = law.times(10)
    assert passes(ten, 6, 2) == pytest.approx(10 * passes(law, 6, 2))
    assert passes(ten, 60, 0) == pytest.approx(10 * passes(law, 60, 0))


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
    assert passes(law, 10, 0) == pytest.approx(by_hand)


@pytest.mark.parametrize(("terrain", "pressure"), [("B", 0.3), ("C", 0.55), ("D", 0.8)])
def test_two_sides_draw_by_wind(terrain, pressure):
    law = flow_law(
        [Opening(area_m2=2, height_m=0.1), Opening(area_m2=1, height_m=0.1, bearing_deg=180)],
        terrain,
    )
    together = (1 / 4 + 1 / 1) ** -0.5
    assert passes(law, 0, 3) == pytest.approx(0.6 * together * 3 * sqrt(pressure))


def test_warmth_and_wind_go_together_as_squares():
    openings = [
        Opening(area_m2=1, height_m=0.1, middle_m=1),
        Opening(area_m2=1, height_m=0.1, middle_m=4, bearing_deg=180),
    ]
    law = flow_law(openings, "C")
    both = sqrt(passes(law, 10, 0) ** 2 + passes(law, 0, 4) ** 2)
    assert passes(law, 10, 4) == pytest.approx(both)


def test_nothing_that_opens_lets_in_nothing():
    for openings in ([], [Opening(area_m2=0, height_m=1)]):
        held = opener(wind(flow_law(openings, "C"), 5))
        assert held(0, COOL_K + 20, COOL_K + 10, COOL_K, 50.0)[:2] == (COOL_K + 20, 0)


def test_wide_open_it_is_as_warm_as_lets_out_what_comes_in():
    """More comes in by 50 W/K and 30 K than leaves at what is wanted, by some 10 m³/s and K."""
    law = flow_law([Opening(area_m2=1.5, height_m=1.0)], "C").times(10)
    air, added, share = opener(wind(law, 2))(0, COOL_K + 30, COOL_K + 1, COOL_K, 50.0)
    assert share == 1
    assert added == pytest.approx(passes(law, air - COOL_K, 2), rel=1e-4)
    assert 50 * (COOL_K + 30 - air) == pytest.approx(added * (air - COOL_K), rel=1e-9)


def test_wind_is_weaker_near_the_ground_and_among_houses():
    """At 3 m: (270/10)^0.14 (3/δ)^α."""
    assert local_wind("C") == pytest.approx(1.586 * (3 / 270) ** 0.14, rel=1e-3)
    assert local_wind("B") < local_wind("C") < local_wind("D")
    assert local_wind("C", 10) == pytest.approx(1.0, abs=1e-9)
