"""The room's year: hours counted by hand, the coldest night, and what settles neither."""

from dataclasses import replace

import numpy as np
import pytest

from criteria.checks.catalogue import CHECKS
from criteria.findings import Rule
from criteria.hourly.of_year import reckoned
from criteria.hourly.weather import CELSIUS_K, HOURS
from tests.criteria.checks.year_crafted import (
    level,
    notes,
    only,
    put,
    with_bare,
    with_drawn,
    with_year,
    working,
)
from tests.criteria.hourly.epw_made import denver
from tests.criteria.hourly.year_hut import CLIMATE, year_hut

HOT = {"summer_outside_c": "24", "summer_inside_c": "26"}
WARM_K, COOL_K = 16 + CELSIUS_K, 26 + CELSIUS_K
JULY_1 = 181 * 24


@pytest.fixture(scope="module")
def hut():
    return year_hut(site=HOT)


def there_of(assembled):
    return np.flatnonzero(assembled.use.people.is_there)


def test_hours_too_cold_without_heating_by_hand(hut):
    def operative(assembled):
        there = there_of(assembled)
        nobody = np.flatnonzero(~assembled.use.people.is_there)
        values = put(level(WARM_K + 1), nobody, WARM_K - 20)  # nobody there is nobody cold
        values = put(values, there[:10], WARM_K - 0.5)  # on the line: held
        return put(values, there[20:27], WARM_K - 1.5)

    found = only(with_bare(hut, operative), "cold_hours")
    assert found.values == (7 * 3600,)
    assert "of them more than 0.5 K under 16.0 °C: 7 h; by 1.5 K in the mean" in working(found)
    assert "longest on end 7 h, from " in working(found)
    assert "hours with somebody there: " in working(found)


def test_hours_too_warm_without_cooling_by_hand(hut):
    def operative(assembled):
        there = there_of(assembled)
        values = put(level(COOL_K - 1), there[:10], COOL_K + 0.5)
        return put(values, there[40:45], COOL_K + 2.5)

    found = only(with_bare(hut, operative), "hot_hours")
    assert found.values == (5 * 3600,)
    assert "of them more than 0.5 K over 26.0 °C: 5 h; by 2.5 K in the mean" in working(found)
    # cool days have a fixed 26 °C; on those of 10 to 11.9 °C ASHRAE's band ends below 25 °C
    told = found.notes[-1].write()
    assert told == (
        "over what people accept who open windows: 15 h by EN 16798-1, II; 87 h by ASHRAE 55, 80 %"
    )


def test_a_room_that_holds_by_itself_has_no_longest_run(hut):
    found = only(with_bare(hut, lambda _: level(WARM_K + 1)), "cold_hours")
    assert found.values == (0.0,)
    assert "on end" not in working(found)


def test_the_coldest_night_and_what_each_part_lost_in_it(hut):
    night = np.arange(JULY_1 + 22, JULY_1 + 31)
    flows = {
        "wall N": level(-100.0),
        "wall S": level(-60.0),
        "window W1": level(-80.0),
        "people": level(240.4),
        "plant": level(0.4),
    }
    package = with_drawn(hut, operative_k=put(level(WARM_K), night, 5 + CELSIUS_K), flows_w=flows)
    found = only(package, "coldest_night")
    assert found.values == (pytest.approx(5 + CELSIUS_K),)
    assert working(found).startswith("1 Jul 22:00 to 2 Jul 07:00: ")
    # together nothing: 240.4 + 0.4 − 100 − 60 − 80 leaves 0.8 W that the room's air takes
    assert "people 240 W; walls -160 W; glass -80 W; room air -1 W; 5.0 °C" in working(found)
    assert "plant" not in working(found)  # less than half a watt
    assert "without any plant" in notes(found)
    assert "weather: made of the twelve months of the site" in notes(found)


def test_the_hottest_hour_is_one_in_which_somebody_is_there(hut):
    people = reckoned(hut).assembled.use.people
    there, nobody = np.flatnonzero(people.is_there)[100], np.flatnonzero(~people.is_there)[0]
    values = put(put(level(290.0), nobody, 320.0), there, 303.0)
    found = only(with_drawn(hut, operative_k=values), "hottest_hour")
    assert found.values == (303.0,)


def test_sleepers_hot_run_by_hand(hut):
    asleep = np.flatnonzero(reckoned(hut).year.is_asleep)
    awake = np.flatnonzero(~reckoned(hut).year.is_asleep)
    run = next(n for n in asleep if all(np.isin(np.arange(n, n + 4), asleep)))
    values = put(put(level(299.15), awake, 310.0), np.arange(run, run + 4), 299.25)
    found = only(with_drawn(hut, operative_k=values), "hot_run_asleep")
    assert found.values == (4 * 3600,)
    assert f"hours in bed {len(asleep):,} h".replace(",", "\u202f") in working(found)
    assert "of them over 26.0 °C: 4 h; longest on end 4 h" in working(found)
    nobody = with_year(hut, lambda year: replace(year, is_asleep=np.zeros(HOURS, dtype=bool)))
    assert CHECKS["hot_run_asleep"].of(nobody) == []


@pytest.mark.parametrize(
    ("slug", "cells", "lacks"),
    [
        ("cold_hours", {"design_inside_c": ""}, "Design inside (site sheet)"),
        ("hot_hours", {}, "Design summer inside (site sheet)"),
        ("hours_not_held", {"design_inside_c": ""}, "Design inside (site sheet)"),
        ("hot_not_held", {"summer_outside_c": "24"}, "Design summer inside (site sheet)"),
        *(
            (slug, {"design_outside_c": ""}, "Design outside (site sheet), or a weather file")
            for slug in ("coldest_night", "hours_not_held", "fuel_year", "dark_hours", "damp_hours")
        ),
        *(
            (slug, {}, "Design summer outside (site sheet), or a weather file in the brief")
            for slug in ("hottest_hour", "hot_run_asleep", "hot_not_held")
        ),
    ],
)
def test_what_a_year_does_not_settle_is_no_data_naming_what_would(slug, cells, lacks):
    found = only(year_hut(site=cells), slug)
    assert found.values == ()
    assert found.missing[0].startswith(lacks)


def test_a_file_settles_its_own_worst_days():
    site = {"latitude": "39.83", "altitude_m": "1650", "design_outside_c": ""}
    package = year_hut(site=site).but(weather=denver())
    found = only(package, "coldest_night")
    assert found.values
    assert "weather: the file of Denver" in notes(found)


def test_nobody_there_is_no_good_news():
    closed = [{**row, "open": "no"} for row in CLIMATE]
    package = year_hut(site=HOT, climate=closed)
    for slug in ("cold_hours", "hot_hours", "hours_not_held", "hot_not_held", "hottest_hour"):
        assert only(package, slug).missing == ("people who are there (occupant schedule)",)


def test_all_that_lacks_is_named_at_once_and_no_year_is_run_for_it():
    package = year_hut(site={"altitude_m": ""}, plant={"heat_w": ""})
    found = only(package, "coldest_night")
    assert "Altitude (site sheet)" in found.missing
    assert any("Heat output" in cell for cell in found.missing)
    assert not package.__dict__.get("_years")
    assert not package.__dict__.get("_bare_years")


def test_damp_is_shown_and_judges_nothing(hold):
    package = year_hut()
    found = hold(package, "damp_hours", "0 / 0")
    assert str(found.state) == "not_asked"
    assert "judges nothing" in " ".join(found.write_notes())
    assert CHECKS["damp_hours"].is_untried
    assert CHECKS["cold_hours"].rule is Rule.AT_MOST
