"""Layers in slices: heat and resistance stay whole, whatever the cut."""

import pytest

from criteria.hourly.building import Layer
from criteria.hourly.slices import LEAST_J_M2K, MOST, slices_of

TIMBER = Layer(thickness_m=0.06, lambda_w_mk=0.13, density_kg_m3=500, heat_j_kgk=1600)
CONCRETE = Layer(thickness_m=0.2, lambda_w_mk=1.8, density_kg_m3=2400, heat_j_kgk=1000)
STILL_AIR = Layer(without_mass_m2k_w=0.18)


def test_heat_and_resistance_stay_whole():
    cut = slices_of((TIMBER, STILL_AIR, CONCRETE))
    heat = 0.06 * 500 * 1600 + 0.2 * 2400 * 1000
    assert cut.keeps_j_m2k.sum() == pytest.approx(heat)
    resists = 0.06 / 0.13 + 0.18 + 0.2 / 1.8
    assert (1 / cut.passes_w_m2k).sum() == pytest.approx(resists)
    assert len(cut.keeps_j_m2k) == len(cut.passes_w_m2k) + 1


def test_a_slice_is_as_thick_as_an_hour_reaches():
    """√(0.5 · 0.13/(500 · 1600) · 3600) = 17.1 mm: four slices of 60 mm."""
    assert len(slices_of((TIMBER,)).passes_w_m2k) == 4
    assert len(slices_of((STILL_AIR,)).passes_w_m2k) == 1


def test_a_thick_layer_has_no_more_slices_than_help():
    thick = Layer(thickness_m=2.0, lambda_w_mk=0.13, density_kg_m3=500, heat_j_kgk=1600)
    assert len(slices_of((thick,)).passes_w_m2k) == MOST


def test_every_node_keeps_some_heat():
    film = Layer(thickness_m=0.001, lambda_w_mk=0.2, density_kg_m3=0, heat_j_kgk=0)
    assert slices_of((film,)).keeps_j_m2k.tolist() == [LEAST_J_M2K, LEAST_J_M2K]
    assert slices_of((STILL_AIR,)).keeps_j_m2k.min() == LEAST_J_M2K
