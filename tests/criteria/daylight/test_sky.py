"""The overcast sky and clear glass."""

import math

import numpy as np
import pytest
from scipy.integrate import quad

from criteria.daylight.sky import (
    clearest_transmittance,
    diffuse_transmittance_ratio,
    transmittance_ratio,
)
from tests.criteria.daylight.overcast import sky_luminance, vertical_sky_component


def test_the_sky_lights_an_open_plane_with_exactly_one():
    light, _ = quad(
        lambda t: 2 * math.pi * sky_luminance(t) * math.sin(t) * math.cos(t), 0, math.pi / 2
    )
    assert light == pytest.approx(1.0, rel=1e-12)


def test_the_zenith_is_three_times_as_bright_as_the_horizon():
    # Moon and Spencer's overcast sky
    assert sky_luminance(math.pi / 2) == pytest.approx(3 * sky_luminance(0.0))


@pytest.mark.parametrize(("skyline_deg", "printed_pct"), [(0, 39.6), (25, 27)])
def test_vertical_sky_component_is_as_printed(skyline_deg, printed_pct):
    # BRE BR 209: at most "39.6 %"; "27 %" behind an endless obstruction of 25°, printed to that
    # many figures, as quoted by surveyors' guides to it
    found = 100 * vertical_sky_component(skyline_deg)
    places = 1 if printed_pct != int(printed_pct) else 0
    assert round(found, places) == printed_pct


@pytest.mark.parametrize("skyline_deg", [0, 10, 25, 45, 70])
def test_vertical_sky_component_is_its_integral(skyline_deg):
    gamma = math.radians(skyline_deg)

    def strip(bearing):
        lowest = math.atan(math.tan(gamma) * math.cos(bearing))
        return quad(
            lambda t: sky_luminance(t) * math.cos(t) ** 2 * math.cos(bearing), lowest, math.pi / 2
        )[0]

    exact = quad(strip, -math.pi / 2, math.pi / 2)[0]
    assert vertical_sky_component(skyline_deg) == pytest.approx(exact, rel=1e-8)


@pytest.mark.parametrize(
    ("angle_deg", "ratio"),
    [(0, 1), (30, 0.981), (45, 0.948), (60, 0.861), (70, 0.720), (80, 0.422)],
)
def test_glass_falls_with_the_angle_as_one_absorbing_pane(angle_deg, ratio):
    # an independent ray-tracing library's pane, n = 1.52, transmittance 0.70, to three figures
    found = transmittance_ratio(0.70, np.cos(np.radians(angle_deg)))
    assert float(found) == pytest.approx(ratio, abs=6e-4)


@pytest.mark.parametrize(("normal", "ratio"), [(0.60, 0.867), (0.70, 0.885), (0.80, 0.902)])
def test_light_from_all_sides_passes_less_well(normal, ratio):
    # the same library, to three figures
    assert diffuse_transmittance_ratio(normal) == pytest.approx(ratio, abs=6e-4)


def test_clear_glass_lets_0_918_through():
    # n = 1.52: r = (0.52/2.52)² = 0.04258, T = (1 − r)/(1 + r) = 0.9183, by hand
    assert clearest_transmittance() == pytest.approx(0.9183, abs=5e-5)
    assert transmittance_ratio(clearest_transmittance(), np.array(1.0)) == pytest.approx(1.0)
