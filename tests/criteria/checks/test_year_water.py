"""Warm water that the sun gives in a year."""

import pytest

from criteria.check_sheet.columns_read import columns_read
from criteria.checks.catalogue import CHECKS
from criteria.schedules.site import MONTHS
from tests.criteria.hourly.hut import hut

CLIMATE = [
    {
        "month": month,
        "mean_c": "5",
        "mean_min_c": "1",
        "rain_mm": "50",
        "sun_hours_60s": "3",
        "wind_ms": "4",
    }
    for month in MONTHS
]
WATER = {"hot_l_pd": "15", "hot_c": "40", "cold_c": "8", "summer_outside_c": "28"}


def found(site=WATER, **plant):
    plant = {"collector_m2": "4", "collector_tilt": "60", "hot_tank": "200", **plant}
    return CHECKS["sun_in_water"].of(hut(site=site, plant=plant, climate=CLIMATE))


def test_a_collector_gives_a_share_of_the_warm_water():
    (few,), (many,) = found(collector_m2="1"), found(collector_m2="8")
    assert 0 < few.values[0] < many.values[0] < 1
    # 4 people, 15 L, 32 K: 2.23 kWh a day
    asked = few.steps[0].amounts[0].si / 365
    assert asked == pytest.approx(4 * 15 * 4186 * 32, rel=0.01)
    said = [note.write() for note in many.notes]
    assert any(words.startswith("another heater helps on") for words in said)
    assert any("face 180" in words for words in said)


def test_where_the_sun_gives_all_no_day_needs_another_heater():
    site = {**WATER, "hot_l_pd": "0.1"}
    (all_of_it,) = found(site, collector_m2="20")
    assert all_of_it.values[0] == pytest.approx(1, abs=0.01)


def test_without_a_collector_or_without_water_there_is_nothing_to_say():
    assert found(collector_m2="") == []
    assert found({**WATER, "hot_l_pd": "0"}) == []


def test_a_collector_without_a_tilt_lacks():
    (lacks,) = found(collector_tilt="")
    assert any("Collector tilt" in words for words in lacks.missing)


def test_the_columns_of_its_own_are_named_before_any_year_is_run():
    own = {("plant", "collector_m2"), ("plant", "collector_tilt"), ("site", "hot_l_pd")}
    assert own <= columns_read("sun_in_water")
