"""What holds down and what lifts: by hand, and a public rigging page."""

import math

import pytest

from criteria.errors import InputError
from criteria.measures.ground import wind_pressure
from criteria.measures.holding import (
    anchors_n,
    drawn_together_kg,
    held_down_ratio,
    sling_kg,
    uplift_n,
)


@pytest.mark.parametrize(
    ("gust", "ratio", "anchors"),
    [(40, 2.4025912083318435, 0), (65, 0.9098570256404616, 1457.37282)],
)
def test_a_building_of_2500_kg_on_14_4_m2_by_hand(gust, ratio, anchors):
    lift = uplift_n(wind_pressure(gust, "C"), 1.0, 14.4)
    assert held_down_ratio(2500, lift) == pytest.approx(ratio)
    assert anchors_n(2500, lift) == pytest.approx(anchors)


def test_nothing_lifts_in_still_air():
    assert held_down_ratio(2500, uplift_n(0, 1, 14)) == math.inf
    assert held_down_ratio(0, 100) == 0


@pytest.mark.parametrize(
    ("mass", "legs", "angle", "each"),
    [
        # a public rigging page: 1,000 lb on two legs
        (1000, 2, 45, 707.1067811865476),
        (1000, 2, 60, 577.3502691896258),
        # four legs, of which two are counted
        (610, 4, 50, 398.149223246345),
        (610, 1, 90, 610),
    ],
)
def test_legs_of_a_sling(mass, legs, angle, each):
    assert sling_kg(mass, legs, angle) == pytest.approx(each)


def test_eyes_are_drawn_together():
    assert drawn_together_kg(1000, 2, 45) == pytest.approx(500)
    assert drawn_together_kg(1000, 2, 90) == pytest.approx(0, abs=1e-9)


@pytest.mark.parametrize(
    ("ask", "told"),
    [
        (lambda: uplift_n(-1, 1, 1), "pressure is -1"),
        (lambda: uplift_n(1, -1, 1), "net coefficient is -1"),
        (lambda: uplift_n(1, 1, 0), "roof on plan is 0"),
        (lambda: held_down_ratio(-1, 1), "mass is -1"),
        (lambda: held_down_ratio(1, -1), "uplift is -1"),
        (lambda: anchors_n(1, -1), "uplift is -1"),
        (lambda: sling_kg(1000, 2, 29), "sling stands at 29°"),
        (lambda: sling_kg(1000, 2, 91), "sling stands at 91°"),
        (lambda: sling_kg(1000, 0, 45), "legs of the sling is 0"),
        (lambda: sling_kg(0, 2, 45), "mass is 0"),
    ],
)
def test_what_no_formula_takes_is_refused(ask, told):
    with pytest.raises(InputError, match=told):
        ask()
