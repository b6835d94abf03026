"""Bearing, levelling and wind: by hand, and what is asked for."""

import pytest

from criteria.findings import State

MEETS, LINE, SHORT, OVER = State.MEETS, State.ON_THE_LINE, State.SHORT, State.OVER
NO_DATA = State.NO_DATA

# 4,000 kg on 8 pads of 400 × 400 mm is 30.6 kPa; clay is presumed 71.8: 0.43 (by hand).
SUPPORTS = {
    "legs": "8", "pad_l": "400", "pad_w": "400", "empty_kg": "2500", "load_kg": "1500",
    "travel": "350", "building_l_m": "6.0", "building_w_m": "2.4", "building_h_m": "2.6",
    "clear_under_m": "0.4", "base_m": "2.2", "ground_friction": "0.3",
}  # fmt: skip


GROUND = {"soil": "clay or silt", "slope": "5 %", "gust_ms": "40", "exposure": "C"}


# 0.35 ÷ 0.323; ratio 1.10 as worked; 0.3 × 24.5 kN ÷ 14.4 kN (by hand).
@pytest.mark.parametrize(
    ("check", "target", "value", "state"),
    [
        ("bearing_ratio", "1", "0.43", MEETS),
        ("leg_travel", "1", "1.08", MEETS),
        ("overturning", "1.5", "1.10", SHORT),
        ("sliding", "1", "0.51", SHORT),
    ],
)
def test_ground_by_hand(package, hold, check, target, value, state):
    found = hold(package(supports=SUPPORTS, site=GROUND), check, target)
    assert (found.write_value(), found.state) == (value, state)
    assert "licensed engineer decides" in found.caution


def test_peat_has_no_presumptive_bearing(package, hold):
    found = hold(
        package(supports=SUPPORTS, site=GROUND | {"soil": "peat or fill"}), "bearing_ratio", "1"
    )
    assert found.state is NO_DATA
    assert "ground report" in found.missing[0]


def test_wind_without_a_gust_is_no_data(package, hold):
    found = hold(package(supports=SUPPORTS, site={"exposure": "C"}), "sliding", "1")
    assert found.missing == ("Design gust (site sheet)",)
