"""Water supply, daylight and lamps: by hand and at the limit."""

import pytest

from criteria.checks.catalogue import CATALOGUE
from criteria.findings import State

MEETS, LINE, SHORT, OVER = State.MEETS, State.ON_THE_LINE, State.SHORT, State.OVER
NO_DATA = State.NO_DATA


FIXTURES = [
    {"mark": "F1", "use": "Wash", "uses_a_day": "5", "flow": "5.7", "minutes": "0.5",
     "goes_to": "grey"},
    {"mark": "F2", "use": "Drink", "uses_a_day": "1", "l_each": "3", "goes_to": "nowhere"},
]  # fmt: skip


# 5 × 5.7 × 0.5 = 14.25 L and 3 L (by hand).
@pytest.mark.parametrize(
    ("check", "target", "value"),
    [("fixture_use", "17.25", "17.25 L/day"), ("grey_made", "14", "14.25 L/day")],
)
def test_water_use_by_fixture(package, hold, check, target, value):
    assert hold(package(fixtures=FIXTURES), check, target).write_value() == value


def test_a_fixture_without_a_flow_is_no_data_with_its_name(package, hold):
    rows = [{"mark": "F1", "use": "Shower", "uses_a_day": "1", "minutes": "5"}]
    found = hold(package(fixtures=rows), "fixture_use", "40")
    assert found.missing == ("F1, Flow (water uses)",)


# 34 mm on 80 m² keeping 0.8 is 2,176 L; 13 × 12 × 30 = 4,680 L: 0.46 (by hand).
def test_rain_in_the_driest_open_month(package, hold):
    hut = package(
        envelope={"part": "roof", "layer": "Sheet", "gross_area_m2": "80"},
        site={"people": "13", "water_l_pd": "12"},
        climate=[
            {"month": "Oct", "rain_mm": "34", "open": "yes"},
            {"month": "Jul", "rain_mm": "139", "open": "yes"},
            {"month": "Jan", "rain_mm": "0", "open": "no"},
        ],
    )
    found = hold(hut, "rain_catch", "1")
    assert (found.write_value(), found.write_notes()) == ("0.46", ("driest open month: Oct",))


TANKS = [
    {"mark": "T1", "holds": "potable", "litres": "600", "usable_share": "0.9",
     "place": "under deck"},
    {"mark": "T2", "holds": "solids", "litres": "30", "usable_share": "0.9", "place": "toilet"},
]  # fmt: skip


@pytest.mark.parametrize(
    ("check", "target", "value", "state"),
    [
        ("tank_mass", "500", "600 kg", OVER),
        ("tank_frost", "yes", "not: T1", OVER),
        ("carry_mass", "25", "27 kg", OVER),
        ("water_turnover", "5", "9.0 days", OVER),
    ],
)
def test_tanks_by_hand(package, hold, check, target, value, state):
    found = hold(package(tanks=TANKS, site={"people": "4", "water_l_pd": "15"}), check, target)
    assert (found.write_value(), found.state) == (value, state)


DAY = {"mark": "R1", "room": "Day", "use": "day", "floor_m2": "12", "depth_m": "4.0",
       "width_m": "3.0", "clear_height_m": "2.4"}  # fmt: skip
GLASS = {"mark": "W1", "room": "R1", "n": "1", "glass_w": "1200", "glass_h": "1200",
         "sill": "900", "transmittance": "0.70", "sky_angle": "65", "faces": "S"}  # fmt: skip


# 4.0 × 3.0 × 2.4 m, 1.44 m² of glass, 0.70, 65°, dirt 0.9, reflectance 0.5: 1.365 % (by hand).
# Depth: 2 ÷ 0.5 ÷ (1/3.0 + 1/2.1) = 4.941 m; 4.0 ÷ 4.941 = 0.81 (by hand).
@pytest.mark.parametrize(
    ("check", "target", "value", "state"),
    [
        ("average_daylight_factor", "1 %", "1.4 %", MEETS),
        ("average_daylight_factor", "1.5 %", "1.4 %", SHORT),
        ("limiting_depth", "1", "0.81", MEETS),
        ("lowest_sill", "900", "900 mm", LINE),
        ("possible_sun", "1.5", "12.0 h", MEETS),
    ],
)
def test_daylight_by_the_closed_formulas(package, hold, check, target, value, state):
    found = hold(package(rooms=DAY, windows=GLASS, site={"latitude": "46.7"}), check, target)
    assert (found.write_value(), found.state) == (value, state)


def test_a_window_without_transmittance_takes_clear_double_glass_and_says_so(package, hold):
    plain = {k: v for k, v in GLASS.items() if k not in ("transmittance", "sky_angle")}
    found = hold(package(rooms=DAY, windows=plain), "average_daylight_factor", "1")
    assert found.write_notes() == (
        "clear double glass and open sky taken where a window says none",
    )


# 8 lamps of 800 lm, 0.5 and 0.8, on 12 m²: 213 lx of 200 (published lumen-method form).
def test_lamps_against_the_level_wanted(package, hold):
    lamp = {"mark": "E1", "room": "R1", "n": "8", "lumens": "800", "used_share": "0.5",
            "kept_share": "0.8", "wanted_lx": "200"}  # fmt: skip
    found = hold(package(rooms=DAY, lights=lamp), "lamp_light", "1")
    assert (found.write_value(), found.state) == ("1.07", MEETS)
    bare = hold(package(rooms=DAY, lights=lamp | {"lumens": ""}), "lamp_light", "1")
    assert bare.missing == ("E1, Light each (lighting schedule)",)


def test_slugs_and_titles_are_used_once():
    for texts in ([c.slug for c in CATALOGUE], [c.title for c in CATALOGUE]):
        assert len(set(texts)) == len(texts)
