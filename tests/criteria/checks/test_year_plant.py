"""The plant's year: hours not held, fuel, and electricity that runs short, counted by hand."""

from dataclasses import replace

import numpy as np
import pytest

from criteria.checks.catalogue import CHECKS
from criteria.checks.year_plant import ESSENTIAL
from criteria.hourly.of_year import reckoned
from criteria.hourly.people_hours import Spread
from criteria.hourly.weather import CELSIUS_K, HOURS
from tests.criteria.checks.year_crafted import (
    electricity,
    level,
    notes,
    only,
    put,
    with_drawn,
    with_year,
    working,
)
from tests.criteria.hourly.year_hut import year_hut

HOT = {"summer_outside_c": "24", "summer_inside_c": "26"}
WARM_K, COOL_K = 16 + CELSIUS_K, 26 + CELSIUS_K


@pytest.fixture(scope="module")
def hut():
    return year_hut(site=HOT)


@pytest.fixture(scope="module")
def unsaid():
    return year_hut(loads={"when": ""})


def with_power(package, **hours):
    power = electricity(**hours)
    return with_year(package, lambda year: replace(year, power=power))


def test_hours_that_plant_cannot_hold_are_told_on_each_side_by_hand(hut):
    year = reckoned(hut).year
    there = np.flatnonzero(year.is_there)
    values = put(level(WARM_K + 1), there[:10], WARM_K - 0.5)
    values = put(put(values, there[50:53], WARM_K - 0.6), there[60:62], COOL_K + 0.6)
    values = put(values, there[70:74], COOL_K + 0.5)
    heat = put(level(0.0), there[50:53], 2000.0)
    package = with_drawn(hut, operative_k=values, heat_w=heat)
    cold, hot = only(package, "hours_not_held"), only(package, "hot_not_held")
    assert (cold.values, hot.values) == ((3 * 3600,), (2 * 3600,))
    assert working(cold).startswith("too cold for 3 h; longest too cold on end 3 h, from ")
    assert "given 6.0 kWh; worst week " in working(cold)
    assert working(hot).startswith("too warm for 2 h; longest too warm on end 2 h, from ")
    held = only(with_drawn(hut, operative_k=level(WARM_K + 1)), "hours_not_held")
    assert "longest" not in working(held)


def test_an_electric_heater_has_what_the_battery_leaves_and_that_is_said(hut):
    electric = year_hut(plant={"heater": "electric heater", "heat_w": "2000"})
    assert "the heater is electric" in notes(only(electric, "hours_not_held"))
    assert "electric" not in notes(only(hut, "hours_not_held"))
    gone = {"heater": "electric heater", "heat_w": "2000"}
    assert "electric" not in notes(only(year_hut(plant=gone, power=[]), "hours_not_held"))


def test_more_battery_never_holds_fewer_hours():
    def cold(kwh):
        plant = {"heater": "electric heater", "heat_w": "2000"}
        package = year_hut(plant=plant, power={"battery_kwh": kwh})
        return only(package, "hours_not_held").values[0]

    bare = only(year_hut(plant={"heater": "none"}), "hours_not_held").values[0]
    assert bare >= cold("2") >= cold("20")
    assert bare > cold("20")


def test_fuel_of_the_year_and_of_its_worst_week_by_hand(hut):
    # 1 kW for ten days of July: 240 kWh ÷ (0.75 · 15 MJ/kg); a week of it is 168 kWh
    days = slice(24 * 190, 24 * 200)
    package = with_drawn(hut, heat_w=put(level(0.0), days, 1000.0))
    year, week = only(package, "fuel_year"), only(package, "fuel_week")
    assert year.values == (pytest.approx(240 * 3.6 / (0.75 * 15)),)
    assert week.values == (pytest.approx(168 * 3.6 / (0.75 * 15)),)
    assert "heat given 240.0 kWh; 15.0 MJ/kg in the fuel, of which 0.75 stays" in working(year)
    assert "10 Jul 00:00 to 17 Jul 00:00: 54 kg" in working(week)


@pytest.mark.parametrize("heater", ["none", "electric heater", "heat pump"])
def test_what_burns_nothing_is_asked_no_fuel(heater):
    package = year_hut(plant={"heater": heater, "heating_cop": "3"})
    assert CHECKS["fuel_year"].of(package) == []
    assert CHECKS["fuel_week"].of(package) == []


def test_a_fire_without_a_name_burns_nothing_that_is_known():
    found = only(year_hut(plant={"heater": "", "burns": "yes"}), "fuel_year")
    assert found.missing == ("Heated by (heat and air plant)",)


def test_dark_hours_and_the_longest_run_over_the_turn_of_the_year_by_hand(hut):
    short = put(level(0.0), [0, 1, 2, HOURS - 1, HOURS - 2, 4000], 0.6)
    short = put(short, 5000, 0.5)  # the arithmetic's own
    package = with_power(hut, unserved_essential_w=short, made_w=level(10.0))
    hours, run = only(package, "dark_hours"), only(package, "longest_dark")
    assert (hours.values, run.values) == ((6 * 3600,), (5 * 3600,))
    assert "essential loads go without for 6 h; longest dark on end 5 h, from 30 Dec" not in (
        working(hours)
    )
    assert "essential loads go without for 6 h; longest dark on end 5 h, from 31 Dec 22:00" in (
        working(hours)
    )
    assert "5 h on end, from 31 Dec 22:00" in working(run)
    assert "made 87.6 kWh, asked for 876.0 kWh, of it plant 0.0 kWh" in working(run)


def test_the_share_that_is_spilled_by_hand(hut):
    package = with_power(hut, made_w=level(40.0), spilled_w=level(10.0))
    assert only(package, "spilled_share").values == (pytest.approx(0.25),)
    nothing = only(with_power(hut), "spilled_share")
    assert nothing.missing == ("panels or wind that make anything (power plant)",)


def test_days_without_sun_by_hand(hut):
    supply = reckoned(hut).supply
    holds_wh = (supply.most_j - supply.least_j) * supply.discharge_share / 3600
    found = only(with_power(hut), "days_without_sun")
    assert found.values == (pytest.approx(holds_wh / 100 * 3600),)
    holds = f"{holds_wh / 1000:.1f}"
    assert f"full it gives {holds} kWh; essential loads take 100 W at most" in working(found)
    assert CHECKS["days_without_sun"].rule != CHECKS["dark_hours"].rule


def test_nothing_essential_is_no_good_news(hut):
    package = with_power(hut, essential_w=level(0.0))
    for slug in ("dark_hours", "longest_dark", "days_without_sun"):
        assert only(package, slug).missing == (ESSENTIAL,)


def test_without_panels_or_battery_nothing_is_told_of_electricity():
    package = year_hut(power=[])
    for slug in ("dark_hours", "longest_dark", "spilled_share", "days_without_sun"):
        assert only(package, slug).missing == ("panels or a battery (power plant)",)


def test_the_worst_of_the_ways_in_which_unsaid_loads_run_stands_and_all_are_told(unsaid):
    dark = {Spread.AWAKE: 3, Spread.BY_DAY: 1, Spread.BY_NIGHT: 9}
    anew = unsaid.but()
    for spread, hours in dark.items():
        power = electricity(unserved_essential_w=put(level(0.0), slice(0, hours), 100.0))
        with_it = with_year(unsaid, lambda year, power=power: replace(year, power=power), spread)
        anew.__dict__.setdefault("_years", {}).update(with_it.__dict__["_years"])
    found = only(anew, "dark_hours")
    assert found.values == (9 * 3600,)
    assert (
        "depends on when loads run that don't say it: while somebody is awake 3 h, all by day "
        "1 h, all by night 9 h"
    ) in notes(found)


def test_of_what_more_is_better_the_least_of_the_ways_stands(unsaid):
    anew = unsaid.but()
    for spread, watts in zip(Spread, (100.0, 50.0, 200.0), strict=True):
        power = electricity(essential_w=level(watts))
        with_it = with_year(unsaid, lambda year, power=power: replace(year, power=power), spread)
        anew.__dict__.setdefault("_years", {}).update(with_it.__dict__["_years"])
    supply = reckoned(unsaid).supply
    holds_wh = (supply.most_j - supply.least_j) * supply.discharge_share / 3600
    found = only(anew, "days_without_sun")
    assert found.values == (pytest.approx(holds_wh / 200 * 3600),)
    assert "depends on when" in notes(found)


def test_what_is_the_same_in_all_ways_depends_on_nothing(unsaid):
    package = with_year(unsaid, lambda year: replace(year, power=electricity()), *Spread)
    assert "depends" not in notes(only(package, "dark_hours"))
