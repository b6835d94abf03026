"""Hot water and fuel, by hand."""

import pytest

from criteria.findings import State
from criteria.package import read_package

SITE = {"people": "4", "hot_l_pd": "15", "hot_c": "40", "cold_c": "8"}


def test_heat_in_hot_water_by_hand(package, hold):
    # 4 × 15 L × 1.16278 Wh/L·K × 32 K = 2,232.5 Wh; over 0.9: 2,480.6 Wh
    found = hold(package(site=SITE, plant={"hot_share": "1"}), "hot_water", "2000 Wh")
    assert found.value / 3600 == pytest.approx(2232.53333, rel=1e-8)
    assert (found.state, found.write_value()) == (State.OVER, "2\u202f233 Wh")
    assert [step.write() for step in found.steps][:2] == [
        "4 people × 15.00 L/day: 60 L a day",
        "60 L × 1.163 Wh/L·K × 32.0 K = 2\u202f233 Wh",
    ]
    lossy = hold(package(site=SITE, plant={"hot_share": "0.9"}), "hot_water", "2000 Wh")
    assert lossy.value / 3600 == pytest.approx(2480.59259, rel=1e-8)


def test_the_case_with_most_people_takes_most(package, hold):
    cases = [{"case": "few", "people": "3"}, {"case": "many", "people": "5"}]
    made = package(site=SITE, plant={"hot_share": "1"}, cases=cases)
    found = hold(made, "hot_water", "2000 Wh")
    assert (found.in_case, found.write_value()) == ("many", "2\u202f791 Wh")


@pytest.mark.parametrize("head", ["hot_l_pd", "hot_c", "cold_c", "people"])
@pytest.mark.parametrize("text", ["", "tepid"])
def test_what_is_blank_or_cannot_be_read_is_named(hold, head, text):
    tables = {"site": [SITE | {head: text}], "plant": [{"hot_share": "1"}]}
    found = hold(read_package(tables).package, "hot_water", "2000 Wh")
    assert found.state is State.NO_DATA
    assert any("(site sheet)" in cell for cell in found.missing)


def test_a_plant_that_says_nothing_is_no_data(package, hold):
    found = hold(package(site=SITE), "hot_water", "2000 Wh")
    assert found.missing == ("Hot water kept (heat and air plant)",)


def test_warm_water_colder_than_cold_is_no_data(package, hold):
    found = hold(package(site=SITE | {"cold_c": "40"}, plant={"hot_share": "1"}), "hot_water", "1")
    assert found.missing == ("a figure that can be: warm water is no warmer than cold water",)


def box(**plant):
    """A building of 4 × 5 × 2.5 m with one layer: what it loses is the heat check's own figure."""
    parts = {"wall": "45", "roof": "20", "floor": "20"}
    return {
        "site": {
            "people": "2",
            "design_inside_c": "18",
            "design_outside_c": "-10",
            "fresh_air_l_s": "4",
            "air_wh_m3k": "0.33",
        },
        "rooms": {
            "mark": "R1",
            "room": "Day",
            "use": "day",
            "floor_m2": "20",
            "clear_height_m": "2.5",
        },
        "windows": {
            "mark": "W1",
            "room": "R1",
            "n": "1",
            "frame_w": "1000",
            "frame_h": "1000",
            "u": "1",
        },
        "doors": {
            "mark": "D1",
            "place": "Porch",
            "outside": "yes",
            "leaf_w": "900",
            "height": "2000",
            "u": "1.2",
        },
        "envelope": [
            {"part": part, "layer": "Batt", "mm": "150", "lambda": "0.04", "gross_area_m2": area}
            for part, area in parts.items()
        ],
        "plant": {"heater": "wood stove", "fuel_kg": "120", **plant},
    }


@pytest.mark.parametrize(
    ("plant", "joules"),
    [
        ({}, 120 * 15e6 * 0.75),  # nothing said of the stove: 0.75
        ({"fuel_share": "0.6"}, 120 * 15e6 * 0.6),
        ({"heater": "pellet stove", "fuel_share": "0.9"}, 120 * 17e6 * 0.9),
        ({"heater": "gas heater", "fuel_share": "0.9"}, 120 * 46e6 * 0.9),
        ({"heater": "oil heater", "fuel_share": "0.9"}, 120 * 43e6 * 0.9),
    ],
)
def test_fuel_lasts_as_long_as_it_makes_up_the_loss(package, hold, plant, joules):
    made = package(**box(**plant))
    loss = hold(made, "heat_loss", "3600").value
    found = hold(made, "fuel_days", "3")
    assert found.value == pytest.approx(joules / loss, rel=1e-9)


def test_fuel_of_no_known_mass_or_heater_is_no_data(package, hold):
    assert hold(package(**box(fuel_kg="")), "fuel_days", "3").missing == (
        "Fuel kept (heat and air plant)",
    )
    found = hold(package(**box(heater="")), "fuel_days", "3")
    assert found.missing == ("Heated by (heat and air plant)",)


@pytest.mark.parametrize("heater", ["heat pump", "electric heater", "none"])
def test_where_nothing_burns_no_fuel_is_asked(package, hold, heater):
    assert hold(package(**box(heater=heater)), "fuel_days", "3").state is State.NOT_ASKED
