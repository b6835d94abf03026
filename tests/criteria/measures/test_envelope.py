"""Resistances: the standard's table, limits of the methods, and laws that must hold."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from criteria.errors import InputError
from criteria.measures import envelope


# ISO 6946:2017, Table 7, quoted: heat flow horizontal, upwards, downwards; 0.04 outside.
@pytest.mark.parametrize(
    ("part", "inside", "outside"),
    [("wall", 0.13, 0.04), ("roof", 0.10, 0.04), ("floor", 0.17, 0.04)],
)
def test_surface_resistances_row_by_row(part, inside, outside):
    assert envelope.SURFACES_M2K_W[part] == (inside, outside)


# ISO 10456:2007 for still air; ordinary insulation from 0.020, nothing open under an aerogel
# blanket's 0.013, nothing at all under a new vacuum panel's 0.004 (Baetens and others, quoted).
def test_bounds_of_what_a_layer_can_be():
    assert envelope.STILL_AIR_W_MK == 0.025
    assert envelope.ORDINARY_W_MK == 0.020
    assert envelope.BEST_OPEN_W_MK < 0.013 < envelope.ORDINARY_W_MK
    assert envelope.BEST_EVACUATED_W_MK < 0.004 < envelope.BEST_OPEN_W_MK
    assert envelope.best_resistance(0.012) == pytest.approx(1.0)


# ASHRAE parallel path by hand: 2×4 wall, R-13 beside a stud of 4.38, other layers 2.54: 15 % of
# framing gives R 13.09, 25 % gives 11.85.
@pytest.mark.parametrize(("share", "r_us"), [(0.15, 13.09), (0.25, 11.85)])
def test_a_us_two_by_four_wall_by_paths(share, r_us):
    us = 1 / 5.678263
    rest = (0.17 + 0.62 + 0.62 + 0.45 + 0.68) * us - sum(envelope.SURFACES_M2K_W["wall"])
    slabs = [envelope.Slab(rest), envelope.Slab(13 * us, 4.38 * us, share)]
    found = envelope.parallel_resistance(slabs, "wall") / us
    assert found == pytest.approx(r_us, rel=5e-3)


@given(st.floats(0.005, 0.4), st.floats(0.02, 0.2), st.floats(0.01, 0.45), st.floats(0.1, 2))
def test_framing_never_helps_and_the_mean_lies_between(thickness, insulation, share, framing):
    worse = insulation + framing
    slab = envelope.Slab(thickness / insulation, thickness / worse, share)
    upper = envelope.parallel_resistance([slab], "wall")
    lower = envelope.isothermal_resistance([slab], "wall")
    plain = envelope.series_resistance([envelope.Slab(thickness / insulation)], "wall")
    assert lower <= upper * (1 + 1e-12)
    assert upper <= plain * (1 + 1e-12)


def test_two_layers_with_different_framing_are_three_paths():
    slabs = [envelope.Slab(4.0, 1.0, 0.25), envelope.Slab(2.0, 0.5, 0.10)]
    paths = envelope.path_resistances(slabs, "wall")
    assert [round(share, 10) for share, _ in paths] == [0.10, 0.15, 0.75]
    assert [round(total, 10) for _, total in paths] == [1.67, 3.17, 6.17]


def test_without_framing_all_methods_are_one():
    slabs = [envelope.Slab(2.0), envelope.Slab(1.0)]
    found = {
        round(method(slabs, "roof"), 12)
        for method in (
            envelope.series_resistance,
            envelope.parallel_resistance,
            envelope.isothermal_resistance,
            envelope.combined_resistance,
        )
    }
    assert found == {3.14}


def test_metal_through_insulation_is_beyond_the_combined_method():
    slab = envelope.Slab(0.14 / 0.038, 0.14 / 50, 0.01)
    with pytest.raises(InputError, match="needs a numerical method"):
        envelope.combined_resistance([slab], "wall")


# Thickness for R-20 by material, by hand: 91.6, 49.3, 28.2, 77.5, 126.8, 133.8, 457.9 mm.
@pytest.mark.parametrize(
    ("conductivity", "mm"),
    [(0.026, 91.6), (0.014, 49.3), (0.008, 28.2), (0.022, 77.5), (0.036, 126.8), (0.13, 457.9)],
)
def test_thickness_that_an_r_of_twenty_takes(conductivity, mm):
    assert 20 / 5.678263 * conductivity * 1000 == pytest.approx(mm, abs=0.05)
    found = envelope.layer_resistance(mm / 1000, conductivity)
    assert found == pytest.approx(20 / 5.678263, rel=2e-3)
