"""Words of layers: ISO 10456:2007, Table 3, from memory."""

import pytest

from criteria.hourly.materials import LIGHT, SOLID, material_of


@pytest.mark.parametrize(
    ("words", "density", "heat"),
    [
        ("Solid timber panel", 500, 1600),
        ("Wood-fibre board", 160, 2000),
        ("Flexible wood fibre between studs", 50, 2000),
        ("Stone wool between joists", 30, 1030),
        ("Glass wool", 30, 1030),
        ("Foamed glass", 120, 1000),
        ("Glass", 2500, 750),
        ("Sheep wool", 25, 1700),
        ("Wood wool slab", 400, 1470),
        ("EPS 035", 20, 1450),
        ("Rigid foam", 35, 1400),
        ("Plasterboard", 800, 1000),
        ("Lime plaster", 1300, 1000),
        ("Birch ply", 500, 1600),
        ("OSB/3", 650, 1700),
        ("In-situ concrete", 2300, 1000),
        ("Aerated concrete block", 600, 1000),
        ("Brick outer leaf", 1700, 1000),
        ("Slate", 2500, 1000),
        ("Rammed earth", 1800, 1000),
        ("Straw bales", 100, 2000),
        ("Expanded cork", 120, 1560),
        ("Steel sheet", 7800, 450),
        ("ALUMINUM", 2800, 880),
        ("Larch floor", 500, 1600),
    ],
)
def test_words_are_known(words, density, heat):
    found = material_of(words, 0.13)
    assert (found.density_kg_m3, found.heat_j_kgk, found.is_known) == (density, heat, True)
    assert found.source


@pytest.mark.parametrize("words", ["Air space", "Cavity 25 mm", "gap"])
def test_air_between_layers_holds_nothing(words):
    assert material_of(words, 0.18).is_air


@pytest.mark.parametrize("words", ["", "Quux", "Hair", "R2"])
def test_an_unknown_word_is_taken_by_what_it_conducts(words):
    assert material_of(words, 0.1) is LIGHT
    assert material_of(words, 0.11) is SOLID
    assert not LIGHT.is_known
    assert not SOLID.is_known
