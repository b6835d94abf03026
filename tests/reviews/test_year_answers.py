"""What a year answers first: figures as the hours give them; nothing judged round what lacks."""

from dataclasses import replace

import numpy as np
import pytest

from criteria.hourly.weather import HOURS, Spell
from criteria.hourly.worst import worst_night
from criteria.package import read_package
from criteria.units import TEMPERATURE, System
from reviews.pages.year_answers import answers
from tests.criteria.drawing.year_made import DAY, a_tank, a_weather, a_year

YEAR = a_year()
BARE = read_package({}).package


def told(year=YEAR, package=BARE, system=System.METRIC):
    return {each.name: each for each in answers(package, year, system)}


def test_figures_are_those_of_the_hours():
    found = told()
    at = worst_night(YEAR).at
    night = float(YEAR.drawn.operative_k[at].mean())
    assert found["Coldest night"].figure == TEMPERATURE.write(night)
    assert found["Dark hours"].figure == "7 h"
    assert "the longest 7 h, 10 Feb 17:00 to 11 Feb 00:00" in found["Dark hours"].says
    assert found["Rain water"].figure == "12 days short"
    cold = int((YEAR.is_there & (YEAR.drawn.operative_k < YEAR.warm_k - 0.5)).sum())
    assert found["Hours that plant can't hold"].figure == f"{cold:,} h".replace(",", "\u202f")
    missed = [name for name, each in found.items() if each.is_missed]
    assert missed == [
        "Coldest night", "Worst week", "Hours that plant can't hold", "Dark hours", "Rain water",
    ]  # fmt: skip
    assert all(each.source for each in found.values())


def test_what_comes_later_doesnt_make_up_for_heat_that_lacked():
    spell = np.zeros(HOURS)
    spell[24 * 20 : 24 * 20 + 10] = 1000.0
    drawn = replace(YEAR.held, heat_w=YEAR.held.heat_w - spell + np.roll(spell, 24))
    week = told(replace(YEAR, drawn=drawn))["Worst week"]
    assert "10.0 kWh of heat is missing in its hour" in week.says


def test_where_nothing_is_wanted_nothing_is_missed():
    never = np.full(HOURS, np.nan)
    found = told(replace(YEAR, warm_k=never, cool_k=never))
    assert found["Hours that plant can't hold"].figure == "0 h"
    assert not found["Coldest night"].is_missed
    assert "Nothing is wanted in these hours." in found["Coldest night"].working


def test_only_warmth_wanted_counts_no_hour_as_too_warm():
    found = told(replace(YEAR, cool_k=np.full(HOURS, np.nan)))
    assert "0 h too warm" in found["By itself, without plant"].says


def test_nobody_there_is_counted_as_nothing():
    found = told(replace(YEAR, is_there=np.zeros(HOURS, dtype=bool)))
    assert found["Hours that plant can't hold"].figure == "0 h"
    assert len(found["Hours that plant can't hold"].working) == 1


def test_a_night_that_isnt_settled_is_no_miss():
    weather = a_weather(has_spells=False, without=(Spell.COLD, Spell.HOT))
    night = told(a_year(weather=weather))["Coldest night, not settled"]
    assert not night.is_missed
    assert "isn't settled" in night.says


def test_what_isnt_scheduled_is_no_data_with_its_reason():
    found = told(a_year(power=False, tanks=False))
    for name in ("Dark hours", "Rain water"):
        assert not found[name].is_missed
        assert found[name].figure == "No data"
    assert found["Rain water"].says == "no tank catches rain"
    rain = {"tanks": [{"mark": "K1", "tank": "Rain", "holds": "rain"}]}
    asked = told(a_year(tanks=False), read_package(rain).package)["Rain water"].says
    assert asked.startswith("still needs ")


def test_the_days_on_which_water_lacks_are_the_worst_cases():
    tanks = (a_tank("half"), a_tank("full house", short_days=1))
    water = told(replace(YEAR, tanks=tanks))["Rain water"]
    assert water.figure == "1 day short"
    assert water.says.endswith("at worst: for full house, rain every fourth day")
    assert len(water.working) == 2


def test_panels_that_make_nothing_throw_nothing_away():
    dark = replace(YEAR.power, made_w=np.zeros(HOURS), spilled_w=np.zeros(HOURS))
    power = told(replace(YEAR, power=dark))["Dark hours"]
    assert "Made and neither used nor kept: nothing is made." in power.working
    lit = replace(YEAR.power, unserved_essential_w=np.zeros(HOURS))
    assert told(replace(YEAR, power=lit))["Dark hours"].says.endswith("at no hour")


@pytest.mark.parametrize("system", list(System))
def test_readers_of_either_system_read_their_degrees(system):
    sign = TEMPERATURE.unit(system).symbol
    assert sign in told(system=system)["Coldest night"].figure
    assert DAY.size == HOURS
