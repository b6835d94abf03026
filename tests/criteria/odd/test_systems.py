"""Odd values of systems and people."""

import pytest

from criteria.odd.values import odd_values
from criteria.package import Package
from criteria.schedules.people import Occupant
from criteria.schedules.plant import Plant
from criteria.schedules.power import Load, PowerPlant
from criteria.schedules.precedents import Precedent
from criteria.schedules.site import Site
from criteria.schedules.stowage import Stowage
from criteria.schedules.water import Tank


@pytest.mark.parametrize(
    ("litres", "share", "heads"),
    [
        (1.6, 0.92, ["litres"]),
        (19.9, 0.92, ["litres"]),
        (20, 0.92, []),
        (10_000, 0.92, []),
        (10_001, 0.92, ["litres"]),
        (1600, 1.0, ["usable_share"]),
        (1600, None, ["usable_share"]),
    ],
)
def test_tanks(litres, share, heads):
    tank = Tank(mark="T1", holds="potable", volume_m3=litres / 1000, usable_share=share)
    assert [odd.head for odd in odd_values(Package(tanks=(tank,)))] == heads


def test_cubic_metres_typed_as_litres_are_offered_as_cubic_metres():
    tank = Tank(mark="T1", holds="potable", volume_m3=0.0016, usable_share=0.92)
    (odd,) = odd_values(Package(tanks=(tank,)))
    assert odd.suggestion == "1.6 m³"
    assert odd.write_question() == "T1 reads 1.6 L. Is that 1.6 m³, 1\u202f600 L?"


@pytest.mark.parametrize(("typed", "mended"), [("75", "0.75"), ("100", "1"), ("1.01", "0.0101")])
def test_a_percentage_typed_for_a_fraction(typed, mended):
    (odd,) = odd_values(Package(plant=Plant.schedule.parse({"hrv_as_typed": typed})))
    assert odd.suggestion == mended


@pytest.mark.parametrize("typed", ["", "0", "0.75", "1", "75 %", "much"])
def test_a_fraction_is_left_alone(typed):
    assert odd_values(Package(plant=Plant.schedule.parse({"hrv_as_typed": typed}))) == ()


@pytest.mark.parametrize(("typed_h", "asked"), [(3.6, False), (3.5, False), (4.7, True)])
def test_sun_of_a_better_month(typed_h, asked):
    site = Site(sun_hours_s=3.6 * 3600, design_month="Oct")
    found = odd_values(Package(site=site, power=PowerPlant(sun_s=typed_h * 3600)))
    assert bool(found) is asked
    assert [odd.suggestion for odd in found] == ["3.6 h"] * asked


@pytest.mark.parametrize(("share", "asked"), [(None, True), (1.0, True), (0.85, False)])
def test_a_battery_label_taken_as_usable(share, asked):
    row = PowerPlant(battery_j=7.2 * 3.6e6, usable_share=share)
    assert bool(odd_values(Package(power=row))) is asked


def test_a_load_without_hours():
    load = Load(mark="L3", item="Fan", n=1, power_w=45)
    (odd,) = odd_values(Package(loads=(load,)))
    assert odd.write_question() == "L3 (Fan) has no hours. Does it run all night?"


@pytest.mark.parametrize(("sleeping", "asked"), [(12, True), (13, False), (14, True)])
def test_people_in_the_schedule_against_the_brief(sleeping, asked):
    row = Occupant(mark="O1", who="Walkers", n=sleeping, sleeps_here=True)
    found = odd_values(Package(site=Site(people=13), occupants=(row,)))
    assert bool(list(found)) is asked


def test_volume_that_two_things_take_is_a_mismatch():
    row = Stowage(mark="S1", what="Drawer", also_used_as="T1 stands in the same bay")
    (odd,) = odd_values(Package(stowage=(row,)))
    assert odd.is_mismatch


@pytest.mark.parametrize(("outcome", "asked"), [("built", True), ("failed: flue fire", False)])
def test_only_precedents_that_succeeded(outcome, asked):
    row = Precedent(mark="P1", building="Cabin", outcome=outcome)
    assert bool(odd_values(Package(precedents=(row,)))) is asked


def test_no_precedents_at_all_is_no_slip():
    assert odd_values(Package()) == ()


def tank(mark="T1", holds="potable", litres="1000"):
    return {"mark": mark, "holds": holds, "litres": litres, "usable_share": "0.9"}


@pytest.mark.parametrize(("litres", "asked"), [("119", True), ("120", False)])
def test_a_grey_tank_against_the_potable_ones(asks, litres, asked):
    found = asks("litres", tanks=[tank(), tank("T2", "grey", litres)])
    assert [odd.mark for odd in found] == ["T2"] * asked


def test_no_grey_tank_at_all_is_no_slip(asks):
    assert asks("litres", tanks=tank()) == []


@pytest.mark.parametrize(
    ("uses", "asked"), [("6.9", True), ("7", False), ("14", False), ("14.1", True)]
)
def test_uses_of_water_against_the_briefs_rate(asks, uses, asked):
    fixture = {"mark": "F1", "use": "Wash hands", "uses_a_day": uses, "l_each": "1"}
    found = asks("uses_a_day", fixtures=fixture, site={"water_l_pd": "10"})
    assert bool(found) is asked
    runs = {"mark": "F1", "use": "Wash hands", "uses_a_day": uses, "flow": "2", "minutes": "0.5"}
    assert bool(asks("uses_a_day", fixtures=runs, site={"water_l_pd": "10"})) is asked
    more = [fixture, {"mark": "F2", "use": "Cook", "uses_a_day": "1"}]
    assert asks("uses_a_day", fixtures=more, site={"water_l_pd": "10"}) == []


def test_black_water_and_what_flushes(asks):
    flush = {"mark": "F1", "use": "Flush", "uses_a_day": "4", "l_each": "3", "goes_to": "black"}
    hands = {"mark": "F2", "use": "Wash hands", "uses_a_day": "4", "l_each": "1", "goes_to": "grey"}
    black = tank("T2", "black", "300")
    assert [o.mark for o in asks("holds", tanks=[tank(), black], fixtures=[hands])] == ["T2"]
    assert [o.mark for o in asks("goes_to", tanks=tank(), fixtures=[flush])] == ["F1"]
    assert asks("holds", tanks=[tank(), black], fixtures=[flush, hands]) == []
    assert asks("goes_to", tanks=[tank(), black], fixtures=[flush, hands]) == []
    assert asks("holds", tanks=[tank(), black]) == []


@pytest.mark.parametrize("holds", ["solids", "urine"])
def test_black_water_beside_a_dry_toilet(asks, holds):
    black, dry = tank("T2", "black", "300"), tank("T3", holds, "60")
    flush = {"mark": "F1", "use": "Flush", "uses_a_day": "4", "l_each": "3", "goes_to": "black"}
    (odd,) = asks("holds", tanks=[tank(), black, dry])
    assert odd.write_question() == (
        f"T2 holds black water, and T3 {holds} of a dry toilet. Which toilet is it?"
    )
    assert asks("holds", tanks=[tank(), dry]) == []
    # the uses say that one of two toilets flushes
    assert asks("holds", tanks=[tank(), black, dry], fixtures=[flush]) == []


ROOF = {"part": "roof", "layer": "Board", "mm": "20", "lambda": "0.13", "gross_area_m2": "20"}
LOAD = {"mark": "L1", "item": "Heater", "n": "1", "w_each": "1000", "h_day": "1"}


@pytest.mark.parametrize(("kw", "asked"), [("4.4", False), ("4.5", True)])
def test_panels_against_the_roof(asks, kw, asked):
    """20 m² and a tenth over, at 0.2 kW/m²."""
    assert bool(asks("pv_kwp", envelope=ROOF, power={"pv_kwp": kw})) is asked


@pytest.mark.parametrize(("kw", "asked"), [("4", False), ("4.1", True)])
def test_panels_that_make_many_times_what_is_used(asks, kw, asked):
    """2 sun-hours and a factor of 0.75 make 1.5 kWh a kW; six times 1 kWh is 4 kW."""
    site = {"sun_hours": "2", "system_factor": "0.75"}
    assert bool(asks("pv_kwp", loads=LOAD, site=site, power={"pv_kwp": kw})) is asked


@pytest.mark.parametrize(("watts", "asked"), [("1000", False), ("999", True)])
def test_an_inverter_against_its_largest_load(asks, watts, asked):
    lamp = LOAD | {"mark": "L2", "w_each": "4"}
    found = asks("inverter_w", loads=[lamp, LOAD], power={"inverter_w": watts})
    assert bool(found) is asked
    if found:
        said = "The inverter gives 999 W, and L1 alone takes 1\u202f000 W. Which is it?"
        assert found[0].write_question() == said
