"""The same figures from general-purpose libraries, where they are installed.

pvlib for the sun and losses, psychrolib for air, ht for materials. Each stands in for a
printed table that few have; where a library's own data are known to be wrong it says so.
"""

import warnings

import pytest

from criteria.measures import envelope, heat
from criteria.odd.envelope import layers
from criteria.package import Package
from criteria.schedules.envelope import Layer
from tests.criteria.test_published import sunny_h


@pytest.fixture(scope="module")
def pvlib():
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        return pytest.importorskip("pvlib", reason="pvlib is not installed")


@pytest.fixture(scope="module")
def psychrolib():
    library = pytest.importorskip("psychrolib", reason="psychrolib is not installed")
    library.SetUnitSystem(library.SI)
    return library


@pytest.fixture(scope="module")
def materials():
    insulation = pytest.importorskip("ht.insulation", reason="ht is not installed")
    return insulation.building_materials


@pytest.mark.parametrize("latitude", [33.45, 51.5074, 59.91])
@pytest.mark.parametrize("bearing", [90, 180, 270])
def test_sun_before_a_face_as_pvlib_has_it(pvlib, latitude, bearing):
    # pvlib's ephemeris of 21 March 2023 at longitude 0, without refraction, minute by minute
    import pandas as pd

    minutes = pd.date_range("2023-03-21", periods=1440, freq="1min", tz="UTC")
    seen = pvlib.solarposition.get_solarposition(minutes, latitude, 0.0)
    turned = (seen["azimuth"] - bearing + 180) % 360 - 180
    printed = ((seen["elevation"] > 0) & (turned.abs() < 90)).sum() / 60
    assert sunny_h(latitude, bearing) == pytest.approx(printed, abs=0.1)


@pytest.mark.parametrize("altitude", [0, 500, 1500, 2640, 4000])
def test_air_at_altitude_as_psychrolib_has_it(psychrolib, altitude):
    pressure = psychrolib.GetStandardAtmPressure(altitude)
    ratio = pressure / psychrolib.GetStandardAtmPressure(0)
    found = heat.air_heat(altitude, 293.15) / heat.SEA_LEVEL_AIR_J_M3K
    assert found == pytest.approx(ratio, rel=1e-5)  # its exponent has one digit less


def test_the_third_of_a_watt_hour_is_air_at_twenty_degrees(psychrolib):
    # dry air, 1.006 kJ/kgK (ASHRAE): 0.337; 0.33 is 2 % less, as printed
    density = psychrolib.GetDryAirDensity(20.0, 101325.0)
    assert pytest.approx(density * 1006, rel=0.025) == heat.SEA_LEVEL_AIR_J_M3K


MISPRINTED = ("Floor covering, tiles, cork",)
"""ht 1.2.0 carries 65.0 W/mK for cork tiles, which EN 12524 prints as 0.065."""


def test_no_printed_material_is_taken_for_a_slip_but_the_misprinted_one(materials):
    asked = []
    for name, (_, conductivity, _) in materials.items():
        layer = Layer(part="wall", layer=name, thickness_m=0.1, lambda_w_mk=conductivity)
        asked += [name for _ in layers(Package(envelope=(layer,)).leniently)]
    assert tuple(asked) == MISPRINTED


def test_apparent_conductivity_as_ht_converts_it(materials):
    from ht.conduction import R_value_to_k

    # ht takes R an inch; 0.25 mm of "R-30" is R-3048 an inch
    per_inch = 30 * 25.4 / 0.25
    found = envelope.apparent_conductivity(0.00025, 30 / 5.678263)
    assert found == pytest.approx(R_value_to_k(per_inch, SI=False), rel=1e-5)
