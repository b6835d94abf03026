"""Snow to legs and wind under the roof: published factors, worked apart from this code."""

import pytest

from criteria.findings import State

SUPPORTS = {
    "legs": "8",
    "building_l_m": "6.0",
    "building_w_m": "2.4",
    "building_h_m": "2.6",
    "empty_kg": "2500",
    "roof_slope": "5.7",
}


@pytest.mark.parametrize(
    ("units", "ground", "slope", "kg"),
    [
        # EN 1991-1-3, 5.2: 0.8 × 2.0 = 1.6 kPa on 14.4 m² over 8 legs = 293.678 kg
        ("metric", "2.0", "5.7", 293.67827),
        # a public guide's 0.65 kN/m² at 5.7° is 0.52
        ("metric", "0.65", "5.7", 0.52e3 * 14.4 / 8 / 9.80665),
        ("metric", "2.0", "45", 293.67827 / 2),
        ("metric", "2.0", "60", 0.0),
        # ASCE 7-16, 7.3: 0.7 × 1.2 × 40 = 33.6 psf, over the least of 20; 10 psf has 10 at least
        ("US", "40 psf", "5", 33.6 * 47.88025898 * 14.4 / 8 / 9.80665),
        ("US", "10 psf", "5", 10 * 47.88025898 * 14.4 / 8 / 9.80665),
        ("US", "10 psf", "15", 8.4 * 47.88025898 * 14.4 / 8 / 9.80665),
    ],
)
def test_snow_to_each_leg(package, hold, units, ground, slope, kg):
    site = {"ground_snow": ground, "units": units}
    found = hold(package(supports=SUPPORTS | {"roof_slope": slope}, site=site), "snow_on_legs", "1")
    assert found.value == pytest.approx(kg, rel=1e-6)


def test_a_slope_or_snow_that_nobody_says_is_no_data(package, hold):
    supports = {head: text for head, text in SUPPORTS.items() if head != "roof_slope"}
    found = hold(package(supports=supports), "snow_on_legs", "1")
    assert found.state is State.NO_DATA
    assert set(found.missing) == {"Snow on the ground (site sheet)", "Roof slope (supports)"}


@pytest.mark.parametrize(
    ("gust", "ratio", "anchors", "state"),
    # 708.628 Pa × 14.4 m² = 10,204 N under 24,517; 1,871 Pa lifts 26,946 N: 0.6 × 2,429 to hold
    [("40", 2.4025912, "0.0 kN", State.MEETS), ("65", 0.9098570, "1.5 kN", State.SHORT)],
)
def test_weight_over_what_lifts_it(package, hold, gust, ratio, anchors, state):
    site = {"gust_ms": gust, "exposure": "C"}
    found = hold(package(supports=SUPPORTS, site=site), "held_down", "1")
    assert found.value == pytest.approx(ratio, rel=1e-6)
    assert found.state is state
    assert found.write_notes()[1] == f"anchors together hold {anchors}, as working load"


def test_no_gust_gives_no_endless_ratio(package, hold):
    found = hold(
        package(supports=SUPPORTS, site={"gust_ms": "0", "exposure": "C"}), "held_down", "1"
    )
    assert found.state is State.NO_DATA
    assert found.missing == ("a figure that can be: uplift is 0 N; expected more than 0 N",)
