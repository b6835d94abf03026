"""The worst night, the worst week and missed hours, of a year made by hand."""

from dataclasses import replace

import numpy as np
import pytest

from criteria.hourly.weather import HOURS, Spell
from criteria.hourly.worst import (
    Span,
    above,
    below,
    dark,
    flows,
    is_night_settled,
    longest,
    when,
    worst_night,
    worst_week,
)
from tests.criteria.drawing.year_made import COLD_DAY, DARK_DAY, a_weather, a_year

YEAR = a_year()


def test_a_night_goes_over_midnight_and_past_the_years_end():
    night = Span(24 * 364 + 22, 9)
    assert night.at.tolist() == [8758, 8759, 0, 1, 2, 3, 4, 5, 6]
    assert night.words == "31 Dec 22:00 to 1 Jan 07:00"
    assert when(24 * 31) == "1 Feb 00:00"


def test_the_worst_night_is_the_coldest_with_the_plant_that_is_drawn():
    assert worst_night(YEAR) == Span(24 * COLD_DAY + 22, 9)


def test_a_night_in_which_nobody_is_there_is_not_the_worst():
    away = np.where(np.arange(HOURS) // 24 < 60, False, YEAR.is_there)
    night = worst_night(replace(YEAR, is_there=away))
    assert night.first > 24 * 58
    nobody = replace(YEAR, is_there=np.zeros(HOURS, dtype=bool))
    assert worst_night(nobody) == Span(24 * COLD_DAY + 22, 9)


def test_the_night_before_people_come_is_not_the_worst():
    come = np.arange(HOURS) >= 24 * (COLD_DAY + 1)
    night = worst_night(replace(YEAR, is_there=YEAR.is_there & come))
    assert night.first > 24 * COLD_DAY + 22


def test_a_night_is_settled_where_the_weather_holds_the_cold_that_is_designed_for():
    assert is_night_settled(a_weather())
    assert is_night_settled(a_weather(has_spells=False, without=(Spell.HOT,)))
    assert not is_night_settled(a_weather(has_spells=False, without=(Spell.COLD, Spell.HOT)))
    assert not is_night_settled(a_weather(has_spells=False))


def test_where_plant_holds_every_night_the_worst_is_that_of_the_room_alone():
    warm = replace(YEAR.drawn, operative_k=np.full(HOURS, 293.0))
    warm.operative_k[24 * 90 : 24 * 100] -= 0.2  # within what counts as held
    assert worst_night(replace(YEAR, drawn=warm)) == Span(24 * COLD_DAY + 22, 9)


def test_an_hour_is_missed_past_half_a_kelvin_while_somebody_is_there():
    run = replace(YEAR.bare, operative_k=np.full(HOURS, 292.65))
    assert not below(run, YEAR).any()
    cooler = replace(run, operative_k=run.operative_k - 0.01)
    wanted = YEAR.is_there & ~np.isnan(YEAR.warm_k)
    assert (below(cooler, YEAR) == wanted).all()
    assert not above(cooler, YEAR).any()
    hot = replace(run, operative_k=np.full(HOURS, 299.66))
    assert (above(hot, YEAR) == wanted).all()
    assert not above(replace(hot, operative_k=np.full(HOURS, 299.65)), YEAR).any()


def test_dark_hours_are_those_in_which_essential_loads_go_without():
    assert longest(dark(YEAR)) == Span(24 * DARK_DAY + 17, 7)
    assert not dark(a_year(power=False)).any()


def test_the_longest_run_is_the_first_of_those_as_long():
    assert longest(np.array([True, True, False, True, True, False])) == Span(0, 2)
    assert longest(np.array([True, False, True, True, False, True, True])) == Span(5, 3)
    assert longest(np.zeros(5, dtype=bool)) == Span(0, 0)
    assert longest(np.ones(5, dtype=bool)) == Span(0, 5)


def test_the_worst_week_lacks_most_then_has_the_least_in_store_then_needs_most():
    week = worst_week(YEAR)
    lacks = np.maximum(YEAR.held.heat_w - YEAR.drawn.heat_w, 0) + YEAR.held.cool_w
    weeks = [lacks[d * 24 : d * 24 + 168].sum() for d in range(359)]
    assert weeks[week.first // 24] == max(weeks)
    assert week.hours == 168
    held = replace(YEAR, drawn=YEAR.held)
    assert worst_week(held).first // 24 in range(DARK_DAY - 6, DARK_DAY + 1)
    plain = worst_week(replace(held, power=None))
    needs = [YEAR.held.heat_w[d * 24 : d * 24 + 168].sum() for d in range(359)]
    assert needs[plain.first // 24] == pytest.approx(max(needs))
    hot = np.zeros(HOURS)
    hot[24 * 150 : 24 * 151] = 9000.0
    cooled = replace(held, held=replace(YEAR.held, cool_w=YEAR.held.cool_w + hot))
    assert worst_week(cooled).first // 24 in range(144, 151)


def test_flows_stand_together_by_kind_and_come_to_nothing():
    night = worst_night(YEAR)
    found = flows(YEAR.drawn, night)
    gap = (YEAR.drawn.air_k - YEAR.weather.air_k)[night.at].mean()
    assert found["walls"] == pytest.approx(-50 * gap)
    assert found["people"] == 300
    assert {"glass", "doors", "roof", "floor", "things", "air", "plant"} <= {*found}
    assert sum(found.values()) == pytest.approx(0)
    others = sum(watts for name, watts in found.items() if name != "room air")
    assert found["room air"] == pytest.approx(-others)
