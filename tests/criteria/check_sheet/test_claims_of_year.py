"""Claims of never held to a year: refuted only where the year lacks it whatever is unsaid."""

from pathlib import Path

import pytest

from criteria.check_sheet import claims_of_year
from criteria.check_sheet.claims import ClaimResult, hold, hold_claims
from criteria.checks.catalogue import CHECKS
from criteria.command.folder import read_folder
from criteria.hourly.of_year import reckoned
from criteria.hourly.running import Ready
from criteria.schedules.claims import Claim
from criteria.typed.rows import Row
from tests.criteria.hourly.year_hut import CLIMATE, year_hut

DATA = Path(__file__).parents[3] / "reviews" / "demo" / "data"
AGREES, DIFFERS, APART = ClaimResult.AGREES, ClaimResult.DIFFERS, ClaimResult.NOT_COMPARED
ELECTRIC = {"heater": "electric heater", "heat_w": "2000"}
HOT = {"summer_outside_c": "24", "summer_inside_c": "26"}


def held(package, wording, about="Energy", **cells):
    return hold(package, Claim(about=about, wording=wording, **cells))


def why(found):
    return "; ".join(found.write_why())


@pytest.fixture(scope="module")
def on_panels():
    return year_hut(plant=ELECTRIC, site=HOT)


def test_the_demo_says_that_its_panels_run_the_heating_and_is_refuted():
    package = read_folder(DATA, scheme="E11", rev="C").package
    (found,) = (each for each in hold_claims(package) if each.about == "Heating")
    assert found.result is DIFFERS
    assert found.write_held() == "Hours that plant can't hold warm, 0 h"
    assert found.computed == CHECKS["hours_not_held"].of(package)[0].values[0] > 3000 * 3600
    assert found.write_apart() == ""


def test_a_package_without_such_claims_runs_no_year(monkeypatch):
    def run(*given):
        raise AssertionError("a year is run")

    monkeypatch.setattr(Ready, "run", run)
    for wording in ("3 days", "our panels run most of the heating", "warm"):
        held(year_hut(), wording, about="Battery")
    package = read_folder(DATA, scheme="H07", rev="B").package
    assert hold_claims(package)


def test_what_lacks_for_over_a_day_in_all_differs_and_for_a_day_agrees(monkeypatch):
    package = year_hut()
    hours = CHECKS["hours_not_held"].of(package)[0].values[0]
    assert hours > 86400
    assert held(package, "the stove is enough").result is DIFFERS
    monkeypatch.setattr(claims_of_year, "NEVER_S", hours)
    found = held(package, "the stove is enough")
    assert (found.result, found.computed) == (AGREES, hours)
    assert why(found).startswith("up to ")
    monkeypatch.setattr(claims_of_year, "NEVER_S", hours - 3600)
    assert held(package, "the stove is enough").result is DIFFERS


def test_a_plant_that_holds_agrees_without_a_word_of_tolerance():
    always = {"heater": "gas heater", "heat_w": "20000"}
    found = held(year_hut(plant=always, site={"design_inside_c": "5"}), "the heater is enough")
    assert found.result is ClaimResult.WHICH_CHECK  # which heater, is not said
    found = held(year_hut(plant=always), "the stove is enough")
    assert (found.result, found.claimed, found.computed) == (AGREES, 0.0, 0.0)
    assert "up to" not in why(found)


def test_panels_are_not_praised_for_what_a_stove_does():
    found = held(year_hut(), "our panels run the heating")
    assert found.result is APART
    assert why(found) == "what heats it is scheduled as wood stove"
    assert held(year_hut(plant=ELECTRIC), "the stove is enough").result is APART
    found = held(year_hut(plant=ELECTRIC, power={"pv_kwp": ""}), "our panels run the heating")
    assert why(found) == "no panels are scheduled (power plant)"
    assert "Burns fuel" in why(held(year_hut(plant={"heater": ""}), "the stove is enough"))


def test_the_worst_of_two_decides_and_the_other_stands_beside(on_panels):
    found = held(on_panels, "our panels run the heating and the cooling")
    assert (found.check, found.result) == ("hours_not_held", DIFFERS)
    assert "Hours that plant can't hold cool: can't be compared" in why(found)
    cooled = year_hut(plant=ELECTRIC | {"cooling_w": "1000", "cooling_cop": "3"}, site=HOT)
    found = held(cooled, "our panels run the heating and the cooling")
    assert "Hours that plant can't hold cool: 0 h" in why(found)
    found = held(cooled, "our panels run the cooling")
    assert (found.check, found.result) == ("hot_not_held", AGREES)
    found = held(cooled, "runs on the panels", about="Cooling", check="hours_not_held")
    assert found.check == "hours_not_held"
    assert found.result is APART  # the chosen check isn't what the words say


def test_what_depends_on_when_loads_run_is_no_accusation():
    loads = {"when": "", "h_day": "10", "n": "20"}
    package = year_hut(loads=loads, power={"pv_kwp": "4", "battery_kwh": "0.5"})
    found = held(package, "lamps never go out")
    assert found.result is APART
    assert why(found).startswith("depends on when loads run that don't say it")
    assert found.computed > 86400
    dark = year_hut(loads=loads, power={"pv_kwp": "0.5", "battery_kwh": "0.2"})
    assert held(dark, "lamps never go out").result is DIFFERS


def test_without_plant_each_way_of_the_loads_is_asked():
    package = year_hut(loads={"when": ""}, site=HOT)
    assert held(package, "needs no heating").result is DIFFERS
    assert held(package, "it stays cool by itself").result is AGREES


def test_a_year_without_its_hottest_days_settles_no_claim_of_a_cool_summer():
    package = year_hut(site={"summer_inside_c": "26"})
    found = held(package, "it stays cool by itself")
    assert (found.result, found.computed) == (APART, 0.0)
    assert "Design summer outside (site sheet), or a weather file in the brief" in why(found)
    warm = [{**row, "mean_c": "33", "mean_min_c": "28"} for row in CLIMATE]
    hot = year_hut(climate=warm, site={"summer_inside_c": "26"})
    assert held(hot, "it stays cool by itself").result is DIFFERS  # hotter yet changes nothing


def test_a_year_without_its_coldest_days_settles_no_claim_on_plant():
    found = held(year_hut(site={"design_outside_c": ""}), "the stove is enough")
    assert found.result is APART
    assert "Design outside (site sheet), or a weather file" in why(found)


RAIN = {"mark": "T1", "holds": "rain", "litres": "2000", "usable_share": "0.9", "catch_m2": "30"}
USE = {"water_l_pd": "5"}


def test_rain_is_held_to_all_days_on_which_water_is_wanted():
    wet = [{**row, "rain_mm": "150"} for row in CLIMATE]
    package = year_hut(tanks=[RAIN], site=USE, climate=wet)
    found = held(package, "the rain fills the tank", about="Water")
    days = 30 + 31 + 31 + 30 + 31
    assert (found.result, found.claimed, found.computed) == (AGREES, days * 86400, days * 86400)
    dry = [{**row, "rain_mm": "10"} for row in CLIMATE]
    found = held(year_hut(tanks=[RAIN], site=USE, climate=dry), "the rain fills the tank")
    assert (found.result, found.claimed) == (DIFFERS, days * 86400)
    assert found.computed < found.claimed


def test_the_case_in_which_most_days_are_dry_is_shown_of_those_that_are_held():
    cases = [
        {"case": "few", "people": "1", "sleepers": "1", "from": "Jun", "to": "Jul", "held": "yes"},
        {"case": "all", "people": "9", "sleepers": "9", "from": "Jun", "to": "Oct", "held": "yes"},
        {"case": "feast", "people": "90", "sleepers": "9", "from": "Jun", "to": "Oct",
         "held": "no"},
    ]  # fmt: skip
    package = year_hut(tanks=[RAIN], site={"water_l_pd": "20"}, cases=cases)
    found = held(package, "the rain fills the tank", about="Water")
    assert (found.result, found.claimed) == (DIFFERS, 153 * 86400)
    by_case = {each.in_case: each.values[0] for each in CHECKS["rain_days"].of(package)}
    assert found.computed == by_case["all"]
    assert by_case["few"] == 61 * 86400
    unheld = year_hut(tanks=[RAIN], site=USE, cases=cases[2:])
    assert held(unheld, "the rain fills the tank", about="Water").result is APART


def test_without_a_rain_tank_nothing_is_compared():
    found = held(year_hut(), "the rain fills the tank", about="Water")
    assert (found.result, why(found)) == (APART, "no row to compare")


def test_lamps_that_nobody_calls_essential_are_not_always_on():
    found = held(year_hut(loads={"essential": "no"}), "lamps never go out")
    assert found.result is APART
    assert "essential loads (load schedule)" in why(found)


def test_nobody_who_is_there_is_no_good_news():
    closed = [{**row, "open": "no"} for row in CLIMATE]
    found = held(year_hut(climate=closed), "the stove is enough")
    assert found.result is APART
    assert "people who are there" in why(found)


def test_a_year_is_reckoned_once_for_all_claims_of_a_package(on_panels, monkeypatch):
    first = reckoned(on_panels)
    held(on_panels, "our panels run the heating")
    held(on_panels, "lamps never go out")
    assert reckoned(on_panels) is first
    assert isinstance(on_panels.plant, Row)
