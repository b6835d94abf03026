"""Heat: limits of the formulas and laws that must hold."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from criteria.errors import InputError
from criteria.measures import envelope, heat


# Practice's own approximation, worked for the demo: 0.33 (1 − 2.2558e-5 z)^5.256 · 293 / (273 + t)
# at 2,640 m and −1 °C mean is 0.26.
def test_air_at_altitude_agrees_with_the_rule_in_print():
    rule = 0.33 * (1 - 2.2558e-5 * 2640) ** 5.256 * 293 / 272
    assert heat.air_heat(2640, 272.15) / 3600 == pytest.approx(rule, rel=1e-3)


def test_air_at_sea_level_and_20_degrees_is_the_printed_third():
    assert heat.air_heat(0, 293.15) == pytest.approx(heat.SEA_LEVEL_AIR_J_M3K)


def test_air_is_the_larger_of_changes_and_people():
    few, many = heat.design_air(100, 1, 0.004, 0.5), heat.design_air(100, 10, 0.004, 0.5)
    assert (few.total * 3600, few.fresh * 3600) == pytest.approx((50, 14.4))
    assert (many.total * 3600, many.leaks) == pytest.approx((144, 0))


positive = st.floats(0.01, 1e4)


@given(positive, positive, st.floats(1, 60), st.floats(0.1, 10))
def test_loss_scales_with_difference_and_with_area(fabric, air, difference, factor):
    loss = heat.heat_loss(fabric, air, 250 + difference, 250)
    assert heat.heat_loss(fabric * factor, air * factor, 250 + difference, 250) == pytest.approx(
        factor * loss
    )


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


# Two faces of emissivity 0.03 at 283 K: h_r 0.078 W/m²K (by hand), R at most 12.8 m²K/W.
def test_an_evacuated_gap_is_bound_by_radiation_whatever_its_width():
    effective = 1 / (1 / 0.03 + 1 / 0.03 - 1)
    assert 1 / envelope.evacuated_gap_bound(effective, 283) == pytest.approx(0.078, abs=5e-4)


# Thickness for R-20 by material, by hand: 91.6, 49.3, 28.2, 77.5, 126.8, 133.8, 457.9 mm.
@pytest.mark.parametrize(
    ("conductivity", "mm"),
    [(0.026, 91.6), (0.014, 49.3), (0.008, 28.2), (0.022, 77.5), (0.036, 126.8), (0.13, 457.9)],
)
def test_thickness_that_an_r_of_twenty_takes(conductivity, mm):
    assert 20 / 5.678263 * conductivity * 1000 == pytest.approx(mm, abs=0.05)
    found = envelope.layer_resistance(mm / 1000, conductivity)
    assert found == pytest.approx(20 / 5.678263, rel=2e-3)


def test_sol_air_without_sun_is_the_air():
    assert heat.sol_air(300, 0, 0.052) == 300


# A module at 35 °C outside and 24 °C in, by hand from ASHRAE's constants: roof 77.9 °C,
# walls 61.0 °C.
def test_sun_on_roof_and_wall_in_air_temperatures():
    assert heat.sol_air(308.15, 900, 0.052, 3.9) - 273.15 == pytest.approx(77.9, abs=0.05)
    assert heat.sol_air(308.15, 500, 0.052) - 273.15 == pytest.approx(61.0, abs=0.05)
