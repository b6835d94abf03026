"""Air, heat and power: values by hand, then at, under and over, then what is blank."""

import pytest

from criteria.checks.catalogue import CHECKS
from criteria.findings import State

MEETS, LINE, SHORT, OVER = State.MEETS, State.ON_THE_LINE, State.SHORT, State.OVER
BUNKS = {"mark": "R1", "room": "Bunks", "use": "sleep", "floor_m2": "20", "clear_height_m": "2.5",
         "sleepers": "4", "depth_m": "5"}  # fmt: skip
SITE = {
    "people": "4", "fresh_air_l_s": "4", "design_outside_c": "-10", "design_inside_c": "20",
    "altitude_m": "0", "air_wh_m3k": "0.33",
}  # fmt: skip
# A box of one room by hand: wall 100 m² gross less 4 m² of window and 2 m² of door.
BOX = {
    "rooms": BUNKS,
    "windows": {"mark": "W1", "room": "R1", "n": "2", "frame_w": "1000", "frame_h": "2000",
                "glass_w": "900", "glass_h": "1800", "u": "1.0", "solar_factor": "0.5",
                "faces": "S"},
    "doors": {"mark": "D1", "place": "Porch", "leaf_w": "1000", "height": "2000", "u": "1.5",
              "outside": "yes"},
    "envelope": [
        {"part": "wall", "layer": "Batt", "mm": "166", "lambda": "0.04", "gross_area_m2": "100"},
        {"part": "roof", "layer": "Batt", "mm": "194.4", "lambda": "0.04", "gross_area_m2": "20"},
        {"part": "floor", "layer": "Batt", "mm": "151.6", "lambda": "0.04", "gross_area_m2": "20"},
    ],
    "site": SITE,
}  # fmt: skip


@pytest.mark.parametrize(("target", "state"), [("3.9", MEETS), ("4.0", LINE), ("4.1", SHORT)])
def test_night_air_is_of_vents_over_sleepers(package, hold, target, state):
    vents = [{"mark": "V1", "room": "R1", "n": "2", "l_s_each": "8"}]
    found = hold(package(rooms=BUNKS, vents=vents), "night_air", target)
    assert (found.state, found.write_value()) == (state, "4.0 L/s")
    assert [step.write() for step in found.steps] == [
        "V1: 2 × 8.0 L/s = 16.0 L/s",
        "16.0 L/s ÷ 4 sleepers = 4.0 L/s",
    ]


def test_a_room_without_a_vent_is_zero_and_no_schedule_is_no_data(package, hold):
    other = BUNKS | {"mark": "R2", "room": "Alcove", "sleepers": "1"}
    vents = [{"mark": "V1", "room": "R1", "n": "2", "l_s_each": "8"}]
    found = hold(package(rooms=[BUNKS, other], vents=vents), "night_air", "4")
    assert (found.name, found.value, found.state) == ("Alcove", 0, SHORT)
    assert found.write_notes() == ("no row for R2 in the vent schedule",)
    bare = hold(package(rooms=BUNKS), "night_air", "4")
    assert (bare.state, bare.missing) == (State.NO_DATA, ("rows of the vent schedule",))


# ASHRAE 62.2 metric form by hand: 0.15 × 20 + 3.5 × 2 = 10 L/s; 12 given is 1.2.
def test_dwelling_air_against_the_standard(package, hold):
    vents = [{"mark": "V1", "room": "R1", "n": "1", "l_s_each": "12"}]
    found = hold(package(rooms=BUNKS, vents=vents), "dwelling_air", "1")
    assert (found.write_value(), found.state) == ("1.20", MEETS)


# 420 + 0.0039 / 4 = 1,395 ppm by hand.
def test_carbon_dioxide_by_morning(package, hold):
    vents = [{"mark": "V1", "room": "R1", "n": "2", "l_s_each": "8"}]
    found = hold(package(rooms=BUNKS, vents=vents), "night_co2", "1000")
    assert (found.write_value(), found.state) == ("1,395 ppm", OVER)


def test_without_any_air_carbon_dioxide_never_settles(package, hold):
    vents = [{"mark": "V1", "room": "R1", "n": "1", "l_s_each": "0"}]
    found = hold(package(rooms=BUNKS, vents=vents), "night_co2", "1000")
    assert found.state is State.NO_DATA
    assert "Bunks" in found.missing[0]


def test_wet_rooms_want_a_vent_each(package, hold):
    wc = {"mark": "R2", "room": "Toilet", "use": "wc"}
    kitchen = {"mark": "R3", "room": "Kitchen", "use": "kitchen"}
    vents = [{"mark": "V1", "room": "R2", "n": "1", "l_s_each": "10"}]
    found = hold(package(rooms=[wc, kitchen], vents=vents), "wet_extract", "yes")
    assert (found.write_value(), found.state) == ("not: Kitchen", OVER)
    both = [*vents, {"mark": "V2", "room": "R3"}]
    assert hold(package(rooms=[wc, kitchen], vents=both), "wet_extract", "yes").state is MEETS


@pytest.mark.parametrize(
    ("plant", "state"),
    [
        ({}, State.NO_DATA),
        ({"burns": "no"}, MEETS),
        ({"burns": "yes"}, OVER),
        ({"burns": "yes", "combustion_air": "duct, 100 mm"}, MEETS),
    ],
)
def test_what_burns_has_air_of_its_own(package, hold, plant, state):
    assert hold(package(plant=plant), "combustion_air", "yes").state is state


def test_depth_in_room_heights(package, hold):
    found = hold(package(rooms=BUNKS), "single_sided_depth", "2.5")
    assert (found.write_value(), found.state) == ("2.00", MEETS)


# 166 mm at 0.04 is 4.15, with 0.17 of surfaces 4.32; 1 ÷ 4.32 = 0.2315 by hand.
def test_a_u_value_of_one_layer(package, hold):
    found = hold(package(**BOX), "wall_u", "0.25")
    assert (found.write_value(), found.state) == ("0.231 W/m²K", MEETS)
    assert found.steps[0].write() == "Batt: 166 mm ÷ 0.040 W/mK = 4.150 m²K/W"
    assert found.write_notes() == ("no framing is said: studs and joists would make it worse",)


def test_framing_makes_it_worse_and_is_said(package, hold):
    wall = BOX["envelope"][0] | {"bridge_lambda": "0.13", "bridge_share": "15 %"}
    bare = hold(package(**BOX), "wall_u", "0.25")
    framed = hold(package(**(BOX | {"envelope": [wall]})), "wall_u", "0.25")
    # by hand: paths 4.32 and 1.447: 0.85/4.32 + 0.15/1.447 → 3.328; planes 0.17 + 1/(0.2048 +
    # 0.1175) → 3.273; mean 3.300; U 0.303
    assert (framed.write_value(), framed.state) == ("0.303 W/m²K", OVER)
    assert framed.value > bare.value
    assert "framing 0.15 of it" in framed.steps[0].write()


def test_steel_through_insulation_takes_the_lower_limit_and_says_so(package, hold):
    wall = BOX["envelope"][0] | {"bridge_lambda": "50", "bridge_share": "0.01"}
    found = hold(package(**(BOX | {"envelope": [wall]})), "wall_u", "0.25")
    assert found.state is OVER
    assert "numerical method" in found.write_notes()[0]


def test_a_framing_share_left_out_is_no_data_with_its_name(package, hold):
    wall = BOX["envelope"][0] | {"bridge_lambda": "0.13"}
    found = hold(package(**(BOX | {"envelope": [wall]})), "wall_u", "0.25")
    assert found.missing == ("wall, Batt, Framing share (envelope layers)",)


def test_only_layers_without_conductivity_are_no_data(package, hold):
    wall = {"part": "wall", "layer": "Boards", "mm": "24", "gross_area_m2": "100"}
    found = hold(package(envelope=wall), "wall_u", "0.25")
    assert (found.state, found.value) == (State.NO_DATA, None)


@pytest.mark.parametrize(
    ("layer", "says"),
    [
        ({"mm": "100", "claimed_r": "2.642"}, "within the range of ordinary insulation"),
        ({"mm": "10", "claimed_r": "0.7"}, "only aerogel, phenolic or gas-filled foam"),
        ({"mm": "10", "claimed_r": "2.0"}, "only an evacuated panel"),
        ({"mm": "0.25", "claimed_r": "5.283"}, "no layer conducts so little"),
        (
            {"mm": "0.6", "claimed_r": "0.11", "claim_covers": "air space included"},
            "an air space is counted in",
        ),
        (
            {"mm": "0.2", "claimed_r": "2", "claim_covers": "evacuated glazing"},
            "bound by radiation",
        ),
        ({"mm": "0.2", "claimed_r": "2", "claim_covers": "reflectance as R"}, "isn't resistance"),
    ],
)
def test_what_a_claimed_resistance_would_have_to_be(package, hold, layer, says):
    row = {"part": "wall", "layer": "Layer"} | layer
    found = hold(package(envelope=row), "apparent_conductivity", "0.02 W/mK")
    assert says in found.write_notes()[0]


# By hand: U 1/4.32, 1/5, 1/4; walls 94 m², roof 20, floor 20, windows 4 at 1.0, door 2 at 1.5:
# 21.76 + 4.00 + 5.00 + 4.00 + 3.00 = 37.76 W/K; air max(25, 57.6) m³/h × 0.33 = 19.01 W/K;
# (1.1 × 37.76 + 19.01) × 30 = 1,816 W.
def test_heat_loss_of_a_box(package, hold):
    found = hold(package(**BOX), "heat_loss", "2000")
    assert (found.write_value(), found.state) == ("1,816 W", MEETS)
    assert found.steps[0].write() == "wall: 94.00 m² × 0.231 W/m²K = 21.76 W/K"
    assert found.write_notes() == ("no heat recovery is said: none is taken",)


def test_recovery_takes_off_the_air_part_alone(package, hold):
    found = hold(package(**BOX, plant={"hrv_as_typed": "0.75"}), "heat_loss", "2000")
    # 1,816 − 0.75 × 19.01 × 30 = 1,389 W (by hand)
    assert found.write_value() == "1,389 W"


def test_gross_areas_that_differ_are_asked_for_and_never_added(package, hold):
    layers = [*BOX["envelope"], BOX["envelope"][0] | {"layer": "Board", "gross_area_m2": "104"}]
    found = hold(package(**(BOX | {"envelope": layers})), "heat_loss", "2000")
    assert found.missing == ("wall, one gross area in place of 2 that differ (envelope layers)",)


@pytest.mark.parametrize(
    ("slug", "head", "label"),
    [("windows", "u", "W1, U"), ("doors", "leaf_w", "D1, Leaf w"), ("site", "people", "People")],
)
def test_a_blank_of_the_heat_loss_is_named(package, hold, slug, head, label):
    tables = BOX | {slug: {k: v for k, v in BOX[slug].items() if k != head}}
    found = hold(package(**tables), "heat_loss", "2000")
    assert found.state is State.NO_DATA
    assert any(cell.startswith(label) for cell in found.missing)


def test_without_a_figure_for_air_the_altitude_gives_it(package, hold):
    site = {k: v for k, v in SITE.items() if k != "air_wh_m3k"} | {"altitude_m": "2640"}
    found = hold(package(**(BOX | {"site": site})), "heat_loss", "2000")
    assert found.write_notes()[0] == "sea-level air would give 1,816 W"


# 20 − 4 × 75 ÷ (1.1 × 37.76 + 19.01) = 15.0 °C by hand.
def test_down_to_where_people_alone_hold_the_inside(package, hold):
    found = hold(package(**BOX), "balance_temperature", "16 °C")
    assert (found.write_value(), found.state) == ("15.0 °C", MEETS)


# By hand: wall 35 + 0.052 × 500 − 24 = 37 K, roof 35 + 46.8 − 3.9 − 24 = 53.9 K, rest 11 K:
# 21.76 × 37 + 4 × 53.9 + 12 × 11 = 1,152.7 W; glass 3.24 × 0.5 × 500 = 810; people 300;
# air 19.01 × 11 = 209; together 2,472 W.
HOT = {"summer_outside_c": "35", "summer_inside_c": "24", "sun_w_m2": "500"}


def test_heat_to_take_out_of_a_box(package, hold):
    found = hold(package(**(BOX | {"site": SITE | HOT})), "cooling_load", "3000")
    assert (found.write_value(), found.state) == ("2,472 W", MEETS)


@pytest.mark.parametrize(
    ("check", "value"),
    [("cooling_plant", "0.81"), ("panels_for_cooling", "1.70"), ("heat_plant", "1.10")],
)
def test_plant_against_what_it_must_do(package, hold, check, value):
    # 2,000 ÷ 2,472; 2,000 × 0.7 ÷ (2,472 ÷ 3); 2,000 ÷ 1,816 (by hand)
    tables = BOX | {
        "site": SITE | HOT | {"system_factor": "0.7"},
        "plant": {"heat_w": "2000", "cooling_w": "2000", "cooling_cop": "3"},
        "power": {"pv_kwp": "2"},
    }
    assert hold(package(**tables), check, "1").write_value() == value


LOADS = [
    {"mark": "L1", "item": "Light", "n": "10", "w_each": "6", "h_day": "5", "essential": "yes"},
    {"mark": "L2", "item": "Fridge", "n": "1", "w_each": "70", "h_day": "10", "essential": "no"},
]
POWER = {"pv_kwp": "0.5", "battery_kwh": "2", "usable_share": "0.8", "tilt": "60"}
SUN = {"sun_hours": "3", "system_factor": "0.7"}


# 300 + 700 = 1,000 Wh used, 500 × 3 × 0.7 = 1,050 made; 1,600 usable: 1.6 days, of 300: 5.33.
@pytest.mark.parametrize(
    ("check", "target", "value", "state"),
    [
        ("power_ratio", "1.05", "1.05", LINE),
        ("power_ratio", "1.1", "1.05", SHORT),
        ("battery_days", "1.5", "1.6 days", MEETS),
        ("largest_load", "60", "70.0 %", OVER),
        ("essential_days", "5", "5.3 days", MEETS),
        ("panel_tilt", "60", "60 °", LINE),
    ],
)
def test_power_by_hand(package, hold, check, target, value, state):
    found = hold(package(loads=LOADS, power=POWER, site=SUN), check, target)
    assert (found.write_value(), found.state) == (value, state)


def test_a_load_without_hours_keeps_the_rest_from_meeting(package, hold):
    loads = [*LOADS, {"mark": "L3", "item": "Fan", "n": "1", "w_each": "40"}]
    tables = {"loads": loads, "power": POWER, "site": SUN}
    meets = hold(package(**tables), "power_ratio", "1.0")
    assert (meets.state, meets.write_value()) == (State.NO_DATA, "1.05")
    assert meets.missing == ("L3, h a day (load schedule)",)
    assert hold(package(**tables), "power_ratio", "1.1").state is SHORT


def test_a_blank_usable_share_uses_the_label_and_says_so(package, hold):
    row = {k: v for k, v in POWER.items() if k != "usable_share"}
    found = hold(package(loads=LOADS, power=row), "battery_days", "3")
    assert (found.write_value(), found.state) == ("2.0 days", SHORT)
    assert found.write_notes() == ("usable share blank, label value used",)
    assert hold(package(loads=LOADS, power=row), "battery_days", "1").state is State.NO_DATA


def test_checks_about_what_can_hurt_carry_a_caution():
    hurt = {"Power", "Ground", "Ways out", "Access"}
    for check in CHECKS.values():
        assert check.caution or check.topic not in hurt, check.slug
