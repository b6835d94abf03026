"""Ramps: what the standard prints twice, in inches and in millimetres."""

import pytest

from criteria.measures.access import INCH_RAMP, METRIC_RAMP, SLOPE_RUN, ramp_need


# 2010 ADA Standards, 303.4, 405.6, 405.7.3 and 405.8: inches, and millimetres as printed.
@pytest.mark.parametrize(
    ("name", "inches", "mm"),
    [
        ("threshold_m", 0.5, 13),
        ("run_rise_m", 30, 760),
        ("landing_m", 60, 1525),
        ("rail_rise_m", 6, 150),
    ],
)
def test_each_figure_is_the_printed_one_in_both_ways(name, inches, mm):
    assert getattr(INCH_RAMP, name) / 0.0254 == pytest.approx(inches, rel=1e-12)
    assert getattr(METRIC_RAMP, name) * 1000 == pytest.approx(mm, rel=1e-12)


# By hand: 480 × 12 + 2 × 1,525 = 8,810 mm; 1,400 × 12 + 3 × 1,525 = 21,375 mm.
@pytest.mark.parametrize(("rise", "runs", "length"), [(480, 1, 8810), (1400, 2, 21_375)])
def test_a_ramp_in_millimetres_by_hand(rise, runs, length):
    need = ramp_need(rise / 1000)
    assert (SLOPE_RUN, need.runs, need.landings) == (12, runs, runs + 1)
    assert need.length_m * 1000 == pytest.approx(length)
