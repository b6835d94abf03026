"""What heats, cools and feeds a package, from rows."""

import numpy as np
import pytest

from criteria.hourly.assumed import Taking
from criteria.hourly.of_power import burns_fuel, plant_limits, supply
from criteria.hourly.of_use import in_use
from criteria.hourly.panels import arriving_share
from criteria.hourly.sky import sky_over
from criteria.hourly.sun import positions
from criteria.hourly.weather import HOURS
from criteria.typed.cells import Lacking
from tests.criteria.hourly.hut import hut
from tests.criteria.hourly.weather_still import still

COLD = 268.15
ROOM_K = np.full(HOURS, 291.15)


def limits(weather=None, taking=None, **changes):
    package, taking = hut(**changes), taking or Taking()
    return plant_limits(package, in_use(package, Taking()), weather or still(), taking)


def hours(flags):
    return np.flatnonzero(flags[24:48]).tolist()


def test_a_stove_burns_while_somebody_is_awake_and_two_hours_after():
    found = limits()
    assert (found.heat_w, found.heat_cop) == (4000, None)
    assert hours(found.heat_runs) == [0, *range(7, 24)]


def test_a_stove_within_hours_of_its_own():
    found = limits(plant={"heats_from": "18", "heats_to": "1"})
    assert hours(found.heat_runs) == [0, *range(18, 24)]
    assert hours(limits(plant={"heats_to": "9"}).heat_runs) == [0, 7, 8]


@pytest.mark.parametrize("heater", ["gas heater", "pellet stove", "electric heater"])
def test_what_lights_itself_runs_at_any_hour_or_at_its_own(heater):
    assert limits(plant={"heater": heater}).heat_runs is None
    own = limits(plant={"heater": heater, "heats_from": "22"})
    assert hours(own.heat_runs) == [22, 23]


def test_what_burns_and_has_no_name_must_be_fed():
    assert hours(limits(plant={"heater": "", "burns": "yes"}).heat_runs) == [0, *range(7, 24)]
    for burns in ("no", ""):
        with pytest.raises(Lacking):
            limits(plant={"heater": "", "burns": burns})


def test_nothing_heats():
    found = limits(plant={"heater": "none", "heat_w": ""})
    assert (found.heat_w, found.heat_runs, found.heat_cop) == (0, None, None)
    with pytest.raises(Lacking, match="Heat output"):
        limits(plant={"heat_w": ""})


def test_electricity_as_heat_and_through_a_pump():
    assert set(limits(plant={"heater": "electric heater"}).heat_cop) == {1.0}
    taking = Taking()
    pump = limits(still(air_k=COLD), taking, plant={"heater": "heat pump"})
    assert pump.heat_cop[0] == pytest.approx(0.4 * 308 / (308 - COLD))
    assert ("heating_cop", "4") in [(c.head, c.value) for a in taking.found for c in a.cells]
    typed = limits(still(air_k=COLD), plant={"heater": "heat pump", "heating_cop": "2"})
    assert set(typed.heat_cop) == {2.0}


def test_cooling():
    taking = Taking()
    assert limits(taking=taking).cool_w == 0
    assert taking.found[0].cells[0].value == "0 W"
    found = limits(still(air_k=313.15), plant={"cooling_w": "2000", "cooling_cop": "5"})
    assert found.cool_w == 2000
    assert found.cool_cop[0] == pytest.approx(0.4 * 285 / (313.15 - 285))
    with pytest.raises(Lacking, match="Cooling COP"):
        limits(plant={"cooling_w": "2000"})


def test_what_burns_fuel():
    assert burns_fuel(hut())
    assert not burns_fuel(hut(plant={"heater": "heat pump"}))


NOON = 12


def fed(weather=None, taking=None, room_k=ROOM_K, **changes):
    package, taking = hut(**changes), taking or Taking()
    weather = weather or still(beam_w_m2=600, diffuse_w_m2=100)
    sky = sky_over(positions(weather.place), weather)
    return supply(package, in_use(package, Taking()), weather, sky, room_k, taking)


def test_panels_wind_and_battery():
    taking = Taking()
    found = fed(taking=taking)
    assert found.most_j == 5 * 3.6e6
    assert found.least_j == pytest.approx(0.2 * 5 * 3.6e6)
    assert found.essential_w[:24].sum() == pytest.approx(120)
    assert found.kept_for_essential_j == pytest.approx(120 * 3600 / 0.95)
    assert (found.charge_w, found.discharge_w) == (2500, 5000)
    assert found.made_w[NOON] > 100
    (bearing,) = taking.found
    assert (bearing.cells[0].head, bearing.cells[0].value) == ("panel_bearing", "180 °")
    windy = fed(power={"wind_wh": "240"})
    assert np.allclose(windy.made_w - found.made_w, 10)
    limited = fed(power={"charge_w": "500", "discharge_w": "800"})
    assert (limited.charge_w, limited.discharge_w) == (500, 800)


def test_panels_face_the_sun_of_noon_unless_they_say():
    def bearing(latitude):
        taking = Taking()
        fed(taking=taking, site={"latitude": latitude})
        return taking.found[0].cells[0].value

    assert [bearing(x) for x in ("46", "-46", "")] == ["180 °", "0 °", "180 °"]
    east = fed(power={"panel_bearing": "E"}).made_w
    west = fed(power={"panel_bearing": "W"}).made_w
    assert east[9] > west[9]
    assert east[14] < west[14]


def test_a_part_of_the_panels_on_another_plane():
    level = fed(power={"tilt": "0", "panel_bearing": "S"}).made_w
    steep = fed(power={"tilt": "90", "panel_bearing": "S"}).made_w
    second = {"second_kwp": "0.25", "second_tilt": "90", "second_bearing": "S"}
    both = fed(power={"tilt": "0", "panel_bearing": "S", **second}).made_w
    assert np.allclose(both, 0.75 * level + 0.25 * steep)
    with pytest.raises(Lacking, match="no more than all panels"):
        fed(power={**second, "second_kwp": "2"})


def test_what_arrives_is_the_briefs_or_the_chargers():
    by_brief, taking = fed().made_w, Taking()
    plain = fed(taking=taking, site={"system_factor": ""}).made_w
    assert "tracker" in [a.cells[0].head for a in taking.found]
    held = fed(site={"system_factor": ""}, power={"tracker": "no"}).made_w
    assert plain[NOON] / by_brief[NOON] == pytest.approx(arriving_share() / arriving_share(0.76))
    assert held[NOON] / plain[NOON] == pytest.approx(0.75 / 0.95)


def test_snow_lies_on_flat_panels_unless_somebody_sweeps_them():
    snow = still(beam_w_m2=600, diffuse_w_m2=100, has_snow=True)
    assert fed(snow, power={"tilt": "30"}).made_w.sum() == 0
    assert fed(snow, power={"tilt": "30", "swept_from": "the terrace"}).made_w.sum() > 0


@pytest.mark.parametrize(
    ("share", "kind"), [("0.5", "lead"), ("0.59", "lead"), ("0.6", "lithium iron")]
)
def test_a_battery_without_a_kind_is_taken_by_its_share(share, kind):
    taking = Taking()
    found = fed(taking=taking, power={"battery_kind": "", "usable_share": share})
    assert kind in [cell.value for a in taking.found for cell in a.cells]
    assert found.charge_share == (0.9 if kind == "lead" else 0.95)


def stands(**power):
    """Whether it may be charged at −5 °C outside, in a room at 18 °C."""
    weather = still(air_k=COLD, beam_w_m2=600, diffuse_w_m2=100)
    return bool(fed(weather, power={"battery_stands": "", **power}).may_charge.all())


def test_where_the_battery_stands():
    assert not stands()
    assert stands(battery_stands="heated")
    assert stands(battery_c="5")
    taking = Taking()
    fed(taking=taking, power={"battery_stands": "", "battery_c": "4"})
    assert "unheated" in [cell.value for a in taking.found for cell in a.cells]


def test_a_battery_stands_as_far_from_the_room_as_its_coldest_day_says():
    # half way from −18 to 16 °C is −1 °C: at −5 outside and 18 in the room it stands at 6.5 °C
    assert stands(battery_stands="unheated", battery_c="-1")
    # at −12.2 °C it is a sixth of the way: −1.1 °C
    assert not stands(battery_stands="unheated", battery_c="-12.2")
    weather = still(air_k=COLD)
    cold = {"battery_stands": "unheated", "battery_c": "15"}
    assert not fed(weather, power=cold, site={"design_outside_c": ""}).may_charge.any()
    assert not fed(weather, power=cold, site={"design_outside_c": "20"}).may_charge.any()
    assert fed(weather, power={**cold, "battery_c": "40"}).may_charge.all()
    assert not fed(weather, power={**cold, "battery_c": "-30"}).may_charge.any()


def test_no_plant_no_supply_and_half_of_one_lacks():
    assert fed(power={"pv_kwp": "", "battery_kwh": ""}) is None
    with pytest.raises(Lacking, match="Panels"):
        fed(power={"pv_kwp": ""})
    with pytest.raises(Lacking, match="Battery"):
        fed(power={"battery_kwh": ""})
