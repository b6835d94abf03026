"""Air, heat and power: values by hand, then at, under and over, then what is blank."""

import pytest

from criteria.checks.catalogue import CHECKS
from criteria.findings import State

MEETS, LINE, SHORT, OVER = State.MEETS, State.ON_THE_LINE, State.SHORT, State.OVER
BUNKS = {"mark": "R1", "room": "Bunks", "use": "sleep", "floor_m2": "20", "clear_height_m": "2.5",
         "sleepers": "4", "depth_m": "5"}  # fmt: skip


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
    assert (bare.state, bare.missing) == (State.NO_DATA, ("rows of the vent and fan schedule",))


# ASHRAE 62.2 metric form by hand: 0.15 × 20 + 3.5 × 2 = 10 L/s for two people in one bedroom;
# two sleepers more add 7 L/s. 12 given is 1.20 and 0.71.
@pytest.mark.parametrize(("sleepers", "value"), [("2", "1.20"), ("1", "1.20"), ("4", "0.71")])
def test_dwelling_air_counts_people_beyond_a_bedroom_and_one(package, hold, sleepers, value):
    vents = [{"mark": "V1", "room": "R1", "n": "1", "l_s_each": "12"}]
    rooms = BUNKS | {"sleepers": sleepers}
    found = hold(package(rooms=rooms, vents=vents), "dwelling_air", "1")
    assert found.write_value() == value


# The inch-pound form by hand: 0.03 × 215.28 + 7.5 × 2 = 21.458 cfm = 10.127 L/s; 12 is 1.185.
def test_dwelling_air_takes_the_form_of_the_studio(package, hold):
    vents = [{"mark": "V1", "room": "R1", "n": "1", "l_s_each": "12"}]
    hut = package(rooms=BUNKS | {"sleepers": "2"}, vents=vents, site={"units": "US"})
    found = hold(hut, "dwelling_air", "1")
    assert found.value == pytest.approx(12 / 10.127, rel=1e-4)


# 420 + 0.0039 / 4 = 1,395 ppm by hand.
def test_carbon_dioxide_by_morning(package, hold):
    vents = [{"mark": "V1", "room": "R1", "n": "2", "l_s_each": "8"}]
    found = hold(package(rooms=BUNKS, vents=vents), "night_co2", "1000")
    assert (found.write_value(), found.state) == ("1\u202f395 ppm", OVER)


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
    assert (found.write_value(), found.state) == ("not: Kitchen", SHORT)
    both = [*vents, {"mark": "V2", "room": "R3"}]
    assert hold(package(rooms=[wc, kitchen], vents=both), "wet_extract", "yes").state is MEETS


@pytest.mark.parametrize(
    ("plant", "state"),
    [
        ({}, State.NO_DATA),
        ({"burns": "no"}, MEETS),
        ({"burns": "yes"}, State.NO_DATA),
        ({"burns": "yes", "combustion_air": "duct, 100 mm"}, State.NO_DATA),
        ({"burns": "yes", "combustion_air": "none", "fire_air": "from the room"}, SHORT),
        ({"burns": "yes", "fire_air": "nothing said yet"}, SHORT),
        ({"burns": "yes", "fire_air": "duct from outside"}, MEETS),
        ({"burns": "yes", "fire_air": "sealed appliance"}, MEETS),
        ({"heater": "wood stove", "fire_air": "from the room"}, SHORT),
        ({"heater": "wood stove", "burns": "no", "fire_air": "from the room"}, SHORT),
        ({"heater": "heat pump"}, MEETS),
    ],
)
def test_what_burns_has_air_of_its_own(package, hold, plant, state):
    assert hold(package(plant=plant), "combustion_air", "yes").state is state


def test_depth_in_room_heights(package, hold):
    found = hold(package(rooms=BUNKS), "single_sided_depth", "2.5")
    assert (found.write_value(), found.state) == ("2.00", MEETS)


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
        ("panel_tilt", "60", "60°", LINE),
    ],
)
def test_power_by_hand(package, hold, check, target, value, state):
    found = hold(package(loads=LOADS, power=POWER, site=SUN), check, target)
    assert (found.write_value(), found.state) == (value, state)


def test_a_load_without_hours_keeps_the_rest_from_meeting(package, hold):
    loads = [*LOADS, {"mark": "L3", "item": "Fan", "n": "1", "w_each": "40"}]
    tables = {"loads": loads, "power": POWER, "site": SUN}
    meets = hold(package(**tables), "power_ratio", "1.0")
    assert (meets.state, meets.write_value()) == (State.NO_DATA, "")
    assert meets.missing == ("L3, h a day (load schedule)",)
    short = hold(package(**tables), "power_ratio", "1.1")
    assert (short.state, short.write_value()) == (SHORT, "at best 1.05")


def test_a_blank_usable_share_is_short_where_even_the_label_would_be(package, hold):
    row = {k: v for k, v in POWER.items() if k != "usable_share"}
    found = hold(package(loads=LOADS, power=row), "battery_days", "3")
    assert (found.write_value(), found.state) == ("at best 2.0 days", SHORT)
    assert found.write_notes() == ("at best: Usable share (power plant)",)
    assert hold(package(loads=LOADS, power=row), "battery_days", "1").state is State.NO_DATA


def test_checks_about_what_can_hurt_carry_a_caution():
    hurt = {"Power", "Ground", "Ways out", "Access"}
    for check in CHECKS.values():
        assert check.caution or check.topic not in hurt, check.slug
