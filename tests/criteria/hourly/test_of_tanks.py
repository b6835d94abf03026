"""Rain of a package's tanks, from rows."""

import numpy as np
import pytest

from criteria.hourly.assumed import Taking
from criteria.hourly.hot_water import COLLECTORS
from criteria.hourly.of_tanks import by_case, tanks_of
from criteria.hourly.people_hours import WHEN_H
from criteria.hourly.rain_tank import KEPT_BY_SURFACE, Rains
from criteria.hourly.weather import HOURS
from criteria.schedules import plant, power, water
from criteria.schedules.site import MONTHS
from criteria.typed.cells import Lacking
from tests.criteria.hourly.hut import hut
from tests.criteria.hourly.weather_still import still

RAIN = {"mark": "T1", "holds": "rain", "litres": "1000", "usable_share": "0.9", "catch_m2": "20"}
# a day of 10.5 mm, of which half a millimetre is lost: 10 mm off the roof
WET = np.zeros(HOURS)
WET[12] = 0.0105
RAINY = still(rain_m=WET)


def caught(*rows, weather=RAINY, taking=None, **changes):
    months = [{"month": month, "rain_mm": "80"} for month in MONTHS]
    changes = {"site": {"water_l_pd": "10"}, "climate": months, **changes}
    return by_case(hut(tanks=list(rows), **changes), weather, taking)


def first_day(*rows, **more):
    return float(caught(*rows, **more)[0].caught_m3[0])


def test_words_of_schedules_are_those_that_are_reckoned_with():
    assert set(plant.COLLECTORS) == set(COLLECTORS)
    assert set(power.WHEN) == set(WHEN_H)
    assert set(water.CATCHES) == {"roof", *KEPT_BY_SURFACE}


def test_nothing_is_caught_where_no_tank_says_so():
    assert caught() == ()
    assert caught({**RAIN, "holds": "grey", "catch_m2": ""}) == ()
    assert caught({**RAIN, "holds": "potable", "catch_m2": "0"}) == ()


@pytest.mark.parametrize(("surface", "share"), [("", 0.85), ("metal", 0.9), ("green", 0.5)])
def test_what_a_tank_says_that_it_catches(surface, share):
    (year,) = caught({**RAIN, "holds": "potable", "catch_surface": surface})
    assert year.caught_m3[0] == pytest.approx(20 * 0.010 * share)
    assert (year.capacity_m3, year.rains, year.case) == (0.9, Rains.BY_HOUR, "")
    assert (year.drawn_m3 + year.short_m3)[5] == pytest.approx(0.04)


def test_a_rain_tank_catches_the_roof_on_plan_once():
    taking = Taking()
    first, second = {**RAIN, "catch_m2": ""}, {**RAIN, "mark": "T2", "catch_m2": ""}
    whole = first_day(first, second, taking=taking, supports={"roof_slope": "60"})
    # of 30 m² at 60° half are on plan; at 60° snow slides, and there is none
    assert whole == pytest.approx(15 * 0.010 * 0.85)
    assert [cell.value for a in taking.found for cell in a.cells] == ["15 m²", "0 m²"]
    (year,) = caught(first, second)
    assert year.capacity_m3 == pytest.approx(1.8)


def test_snow_slides_off_steep_roofs_and_off_metal_sooner():
    days = np.full((365, 24), 263.15)
    days[5:] = 283.15
    snowy = still(rain_m=WET, air_k=days.ravel())

    def year_m3(slope, surface):
        row = {**RAIN, "catch_surface": surface}
        (year,) = caught(row, weather=snowy, supports={"roof_slope": slope})
        return year.caught_m3.sum()

    assert year_m3("29", "metal") > 0
    assert year_m3("30", "metal") == 0
    assert year_m3("59", "") > 0
    assert year_m3("60", "") == 0


def test_rain_of_months_falls_in_two_ways_for_each_case():
    climate = [{"month": month, "rain_mm": "80"} for month in MONTHS]
    cases = [{"case": "full", "people": "8"}, {"case": "few", "people": "2", "from": "May"}]
    found = caught(RAIN, weather=still(), climate=climate, cases=cases)
    assert [(year.case, year.rains) for year in found] == [
        (case, rains) for case in ("full", "few") for rains in (Rains.EVERY_FOURTH, Rains.FIRST_TEN)
    ]
    full, few = (year.drawn_m3 + year.short_m3 for year in found[::2])
    assert np.allclose(full, 0.08)
    assert (few[119], few[120]) == (0, pytest.approx(0.02))
    with pytest.raises(Lacking, match="Feb, Dec"):
        caught(RAIN, weather=still(), climate=[climate[0], *climate[2:11]])
    with pytest.raises(Lacking, match="Rain"):
        caught(RAIN, weather=still(), climate=[{**climate[0], "rain_mm": ""}, *climate[1:]])


def test_without_weather_it_is_that_of_the_package():
    means = {
        "mean_c": "5",
        "mean_min_c": "1",
        "rain_mm": "80",
        "sun_hours_60s": "3",
        "wind_ms": "4",
    }
    package = hut(
        site={"water_l_pd": "10"},
        tanks=[RAIN],
        climate=[{"month": month, **means} for month in MONTHS],
    )
    one, other = tanks_of(package), tanks_of(package, still())
    assert [year.rains for year in one] == [year.rains for year in other]
    assert one[0].caught_m3.sum() > 0
