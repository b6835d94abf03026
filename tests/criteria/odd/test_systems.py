"""Odd values of systems and people."""

import pytest

from criteria.odd import systems
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
        (20_000, 0.92, []),
        (20_001, 0.92, ["litres"]),
        (1600, 1.0, ["usable_share"]),
        (1600, None, ["usable_share"]),
    ],
)
def test_tanks(litres, share, heads):
    tank = Tank(mark="T1", holds="potable", volume_m3=litres / 1000, usable_share=share)
    assert [odd.head for odd in systems.tanks(Package(tanks=(tank,)))] == heads


def test_cubic_metres_typed_as_litres_are_offered_as_cubic_metres():
    tank = Tank(mark="T1", holds="potable", volume_m3=0.0016, usable_share=0.92)
    (odd,) = systems.tanks(Package(tanks=(tank,)))
    assert odd.suggestion == "1.6 m³"
    assert odd.write_question() == "T1 reads 1.6 L. Is that 1.6 m³, 1,600 L?"


@pytest.mark.parametrize(("typed", "mended"), [("75", "0.75"), ("100", "1"), ("1.01", "0.0101")])
def test_a_percentage_typed_for_a_fraction(typed, mended):
    (odd,) = systems.plant(Package(plant=Plant.schedule.parse({"hrv_as_typed": typed})))
    assert odd.suggestion == mended


@pytest.mark.parametrize("typed", ["", "0", "0.75", "1", "75 %", "much"])
def test_a_fraction_is_left_alone(typed):
    assert list(systems.plant(Package(plant=Plant.schedule.parse({"hrv_as_typed": typed})))) == []


@pytest.mark.parametrize(("typed_h", "asked"), [(3.6, False), (3.5, False), (4.7, True)])
def test_sun_of_a_better_month(typed_h, asked):
    site = Site(sun_hours_s=3.6 * 3600, design_month="Oct")
    found = list(systems.power(Package(site=site, power=PowerPlant(sun_s=typed_h * 3600))))
    assert bool(found) is asked
    assert [odd.suggestion for odd in found] == ["3.6 h"] * asked


@pytest.mark.parametrize(("share", "asked"), [(None, True), (1.0, True), (0.85, False)])
def test_a_battery_label_taken_as_usable(share, asked):
    row = PowerPlant(battery_j=7.2 * 3.6e6, usable_share=share)
    assert bool(list(systems.power(Package(power=row)))) is asked


def test_a_load_without_hours():
    load = Load(mark="L3", item="Fan", n=1, power_w=45)
    (odd,) = systems.power(Package(loads=(load,)))
    assert odd.write_question() == "L3 (Fan) has no hours. Does it run all night?"


@pytest.mark.parametrize(("sleeping", "asked"), [(12, True), (13, False), (14, True)])
def test_people_in_the_schedule_against_the_brief(sleeping, asked):
    row = Occupant(mark="O1", who="Walkers", n=sleeping, sleeps_here=True)
    found = systems.people(Package(site=Site(people=13), occupants=(row,)))
    assert bool(list(found)) is asked


def test_volume_that_two_things_take_is_a_mismatch():
    row = Stowage(mark="S1", what="Drawer", also_used_as="T1 stands in the same bay")
    (odd,) = systems.stowage(Package(stowage=(row,)))
    assert odd.is_mismatch


@pytest.mark.parametrize(("outcome", "asked"), [("built", True), ("failed: flue fire", False)])
def test_only_precedents_that_succeeded(outcome, asked):
    row = Precedent(mark="P1", building="Cabin", outcome=outcome)
    assert bool(list(systems.precedents(Package(precedents=(row,))))) is asked


def test_no_precedents_at_all_is_no_slip():
    assert list(systems.precedents(Package())) == []
