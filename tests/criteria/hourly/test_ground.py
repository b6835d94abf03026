"""A slab on the ground by ISO 13370:2017, worked by hand; the soil's swing and lag."""

from math import log, pi

import numpy as np
import pytest

from criteria.errors import InputError
from criteria.hourly.building import Layer
from criteria.hourly.ground import layers_on_ground, u_on_ground, under_soil_k
from criteria.hourly.weather import HOURS


def test_a_bare_slab_by_hand():
    """8 m × 6 m: B′ = 96/28 = 3.43; d_t = 0.3 + 2 · 0.21 = 0.72."""
    wide, thick = 96 / 28, 0.72
    by_hand = 4 / (pi * wide + thick) * log(pi * wide / thick + 1)
    assert u_on_ground(48, 28, 0.3, 0.0) == pytest.approx(by_hand)
    assert by_hand == pytest.approx(0.964, abs=0.001)


def test_a_well_insulated_slab_by_hand():
    """R 5: d_t = 0.3 + 2 · 5.21 = 10.72, over B′."""
    assert u_on_ground(48, 28, 0.3, 5.0) == pytest.approx(2 / (0.457 * 96 / 28 + 10.72))


@pytest.mark.parametrize(("area", "edge"), [(0, 28), (48, 0), (-1, 5)])
def test_no_slab_is_of_no_size(area, edge):
    with pytest.raises(InputError):
        u_on_ground(area, edge, 0.3, 1.0)


@pytest.mark.parametrize("resists", [0.5, 3.0])
def test_layers_with_soil_have_the_slab_s_u(resists):
    floor = (Layer(name="foam", without_mass_m2k_w=resists),)
    layers = layers_on_ground(floor, 48, 28)
    assert layers[-1] is floor[0]
    whole = 0.17 + sum(layer.resistance_m2k_w for layer in layers)
    assert 1 / whole == pytest.approx(u_on_ground(48, 28, 0.3, resists))


def test_under_the_soil_the_year_swings_half_a_month_late():
    day = np.repeat(np.arange(365), 24)
    air = (
        283.15
        + 10 * np.cos(2 * pi * (day - 200) / 365)
        + 5 * np.sin(2 * pi * np.arange(HOURS) / 24)
    )
    held = under_soil_k(air)
    assert held.mean() == pytest.approx(283.15, abs=0.05)
    assert held.max() - held.min() == pytest.approx(10, abs=0.1)
    assert held.argmax() // 24 == pytest.approx(230, abs=1.5)
