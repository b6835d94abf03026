"""Damp: figures of published tables, by hand, and beside a library of moist air."""

import psychrolib
import pytest
from hypothesis import given
from hypothesis import strategies as st

from criteria.errors import InputError
from criteria.measures.condensation import (
    GLASS_INSIDE_M2K_W,
    VapourLayer,
    dew_point_c,
    least_factor,
    saturation_pa,
    surface_c,
    temperature_factor,
    wetting,
)

DAYS_30_S = 30 * 86_400
INSIDE, OUTSIDE = (20, 0.5), (-10, 0.8)
BOARD, WOOL, OSB = (
    VapourLayer(0.05, 0.125),
    VapourLayer(0.15 / 0.035, 0.15),
    VapourLayer(0.012 / 0.13, 0.6),
)


@pytest.mark.parametrize("celsius", [-30, -10, -0.1, 0, 5, 20, 35])
def test_saturation_beside_a_library_of_moist_air(celsius):
    psychrolib.SetUnitSystem(psychrolib.SI)
    assert saturation_pa(celsius) == pytest.approx(psychrolib.GetSatVapPres(celsius), rel=0.012)


@pytest.mark.parametrize("celsius", [-61, 81, float("nan")])
def test_temperatures_beyond_the_formula_are_refused(celsius):
    with pytest.raises(InputError, match="expected −60 to 80 °C"):
        saturation_pa(celsius)


@given(st.floats(-59, 79))
def test_the_dew_point_of_saturated_air_is_its_temperature(celsius):
    assert dew_point_c(saturation_pa(celsius)) == pytest.approx(celsius, abs=1e-6)


def test_mould_at_the_figures_of_din_4108_2():
    # 20 °C, 50 %, −5 °C: 12.6 °C and 0.70 (from memory)
    factor = least_factor(20, -5, 0.5)
    assert factor == pytest.approx(0.70, abs=0.006)
    assert surface_c(factor, 20, -5) == pytest.approx(12.6, abs=0.03)
    # and 9.3 °C is the dew point at which water runs
    assert surface_c(least_factor(20, -5, 0.5, at_surface=1), 20, -5) == pytest.approx(
        9.27, abs=0.01
    )


def test_bare_steel_with_plywood_by_hand():
    # R 0.13 + 0.0127 ÷ 0.13 + 0.002 ÷ 50 + 0.04; f = 1 − 0.25 ÷ (R − 0.13 + 0.25)
    resistance = 0.13 + 0.0127 / 0.13 + 0.002 / 50 + 0.04
    assert 1 / resistance == pytest.approx(3.7350740694)
    factor = temperature_factor(resistance, 0.13)
    assert factor == pytest.approx(0.3552252545)
    assert surface_c(factor, 16, -18) == pytest.approx(-5.9223413457)
    # 100 mm at 0.04 W/mK in place of the steel
    assert temperature_factor(0.13 + 0.0127 / 0.13 + 2.5 + 0.04, 0.13) == pytest.approx(
        0.9134256792
    )
    # glass keeps the inside resistance of its U-value
    assert temperature_factor(1 / 2.8, 0.13, GLASS_INSIDE_M2K_W) == pytest.approx(1 - 0.13 * 2.8)


def test_wool_behind_a_board_and_osb_outside_takes_water():
    # at the OSB 866 Pa would stand where 279 Pa is the most: in (1168.48 − 279.42) ÷ 0.275, out
    # (279.42 − 207.47) ÷ 0.6, times 2e-10
    found = wetting([BOARD, WOOL, OSB], INSIDE, OUTSIDE)
    assert found.between == 2
    assert found.c == pytest.approx(-9.158708715703174)
    assert found.kg_m2s == pytest.approx(6.226014871377355e-07)
    assert found.kg_m2s * DAYS_30_S == pytest.approx(1.6137830546610103, rel=1e-6)


def test_a_barrier_of_20_m_keeps_it_dry():
    barrier = VapourLayer(0.001, 20)
    found = wetting([BOARD, barrier, WOOL, OSB], INSIDE, OUTSIDE)
    assert (found.between, found.kg_m2s) == (None, 0)


def test_steel_outside_lets_nothing_out():
    found = wetting([WOOL, VapourLayer(0.00004, float("inf"))], INSIDE, OUTSIDE)
    assert found.between == 1
    assert found.kg_m2s == pytest.approx(
        2e-10 * (1168.4756 - saturation_pa(found.c)) / 0.15, rel=1e-3
    )


@given(
    st.lists(st.tuples(st.floats(0.01, 5), st.floats(0.01, 50)), min_size=1, max_size=6),
    st.floats(0.1, 0.9),
    st.floats(-25, 10),
)
def test_more_vapour_inside_never_makes_a_wall_drier(layers, humidity, cold):
    wall = [VapourLayer(*layer) for layer in layers]
    less = wetting(wall, (20, humidity), (cold, 0.8))
    more = wetting(wall, (20, min(1, humidity + 0.1)), (cold, 0.8))
    assert 0 <= less.kg_m2s <= more.kg_m2s * (1 + 1e-9) + 1e-18


@pytest.mark.parametrize(
    ("ask", "told"),
    [
        (lambda: least_factor(10, 10, 0.5), "expected warmer"),
        (lambda: least_factor(20, -5, 1.5), "humidity inside is 1.5"),
        (lambda: least_factor(20, -5, 0), "humidity inside is 0"),
        (lambda: least_factor(20, -5, 0.5, 0), "humidity at the surface is 0"),
        (lambda: temperature_factor(0.1, 0.13), "resistance behind the surface"),
        (lambda: temperature_factor(1, 0.13, 0), "resistance at the surface"),
        (lambda: dew_point_c(0), "vapour pressure is 0"),
        (lambda: wetting([], INSIDE, OUTSIDE), "no layers"),
        (lambda: wetting([VapourLayer(0, 1)], INSIDE, OUTSIDE), "resistance of a layer"),
        (lambda: wetting([VapourLayer(1, 0)], INSIDE, OUTSIDE), "s_d of a layer"),
        (lambda: wetting([WOOL], (20, 2), OUTSIDE), "humidity is 2"),
    ],
)
def test_what_no_formula_takes_is_refused(ask, told):
    with pytest.raises(InputError, match=told):
        ask()
