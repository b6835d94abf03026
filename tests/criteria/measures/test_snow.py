"""Snow: published examples, and by hand."""

import pytest

from criteria.errors import InputError
from criteria.measures.snow import (
    PSF_PA,
    cold_slippery_slope_factor,
    european_roof_pa,
    european_shape,
    flat_roof_pa,
    least_low_slope_pa,
    on_each_leg_kg,
)


@pytest.mark.parametrize(
    ("ground", "exposure", "thermal", "roof"),
    [
        # examples of a public calculator's page for ASCE 7-16, equation 7.3-1
        (40, 1.0, 1.0, 28.0),
        (40, 1.2, 1.3, 43.68),
        # by hand: 0.7 · 1.1 · 50
        (50, 1.0, 1.1, 38.5),
    ],
)
def test_flat_roofs(ground, exposure, thermal, roof):
    assert flat_roof_pa(ground * PSF_PA, exposure, thermal) / PSF_PA == pytest.approx(roof)


def test_importance_multiplies():
    assert flat_roof_pa(1000, importance=1.1) == pytest.approx(1.1 * flat_roof_pa(1000))


@pytest.mark.parametrize(("ground", "least"), [(0, 0), (15, 15), (20, 20), (40, 20)])
def test_the_least_on_low_slopes(ground, least):
    assert least_low_slope_pa(ground * PSF_PA) / PSF_PA == pytest.approx(least)
    assert least_low_slope_pa(ground * PSF_PA, 1.2) / PSF_PA == pytest.approx(1.2 * least)


@pytest.mark.parametrize(
    ("slope", "thermal", "factor"),
    [
        # C7.4 as worked in an engineers' thread (eng-tips.com, 165815): 26.6°
        (26.6, 1.1, 0.7233333),
        (10, 1.1, 1.0),
        (0, 1.1, 1.0),
        (70, 1.1, 0.0),
        (90, 1.2, 0.0),
        (15, 1.2, 1.0),
        (42.5, 1.2, 0.5),
    ],
)
def test_snow_slides_off_cold_slippery_slopes(slope, thermal, factor):
    assert cold_slippery_slope_factor(slope, thermal) == pytest.approx(factor)


def test_european_roofs():
    # Steel Buildings in Europe, single-storey guide, part 3, Appendix A, 3.3: 5.7°, 0.65 kN/m²
    assert european_roof_pa(650, 5.7) == pytest.approx(520)
    assert european_roof_pa(650, 5.7, 1.2, 0.9) == pytest.approx(520 * 1.2 * 0.9)
    # EN 1991-1-3, Table 5.2
    assert [european_shape(a) for a in (0, 30, 45, 60, 90)] == pytest.approx([0.8, 0.8, 0.4, 0, 0])


def test_each_of_eight_legs_by_hand():
    assert on_each_leg_kg(1600, 6 * 2.4, 8) == pytest.approx(1600 * 14.4 / 8 / 9.80665)


@pytest.mark.parametrize(
    ("ask", "told"),
    [
        (lambda: flat_roof_pa(-1), "ground snow is -1"),
        (lambda: flat_roof_pa(1, exposure=0), "exposure factor is 0"),
        (lambda: least_low_slope_pa(1, 0), "importance factor is 0"),
        (lambda: cold_slippery_slope_factor(10, 1.0), "expected 1.1 or 1.2 of a cold roof"),
        (lambda: cold_slippery_slope_factor(91, 1.1), "slope is 91°"),
        (lambda: european_shape(-1), "slope is -1°"),
        (lambda: european_roof_pa(1, 5, 0), "exposure factor is 0"),
        (lambda: on_each_leg_kg(1, 1, 0), "legs is 0"),
    ],
)
def test_what_no_formula_takes_is_refused(ask, told):
    with pytest.raises(InputError, match=told):
        ask()
