"""Rain in the tanks through a year, and damp on the coldest face."""

import numpy as np
import pytest

from criteria.checks.catalogue import CHECKS
from criteria.hourly.moisture import saturation_pa
from criteria.hourly.of_tanks import tanks_of
from criteria.hourly.of_year import reckoned
from criteria.hourly.rain_tank import days_given
from tests.criteria.checks.year_crafted import level, notes, only, put, with_drawn, working
from tests.criteria.hourly.year_hut import CLIMATE, year_hut

RAIN = {"mark": "T1", "holds": "rain", "litres": "2000", "usable_share": "0.9", "catch_m2": "30"}
CASES = [
    {"case": "few", "people": "2", "sleepers": "2", "held": "yes"},
    {"case": "all", "people": "8", "sleepers": "8", "held": "no"},
]


def rained(mm, **changes):
    climate = [{**row, "rain_mm": mm} for row in CLIMATE]
    site = {"water_l_pd": "20"}
    return year_hut(tanks=[RAIN], site=site, climate=climate, **changes)


def test_the_rain_that_gives_least_stands_and_the_other_is_told():
    package = rained("60")
    years = tanks_of(package)
    found = only(package, "rain_days")
    by_rain = {str(year.rains): days_given(year) for year in years}
    assert len(set(by_rain.values())) == 2  # else the test could not tell them apart
    assert found.values == (min(by_rain.values()) * 86400,)
    least, most = sorted(by_rain, key=by_rain.get)
    assert f"rain {least}: caught " in working(found)
    assert f"rain {most}: caught " in notes(found)
    assert f"rain {least}" not in notes(found)
    short = 153 - min(by_rain.values())
    assert f"{short}.0 days short, " in working(found)
    assert "of 1\u202f800 L that the tanks hold" in working(found)


def test_rain_is_asked_for_each_case_of_people():
    found = CHECKS["rain_days"].of(rained("60", cases=CASES))
    assert [(each.in_case, each.is_held) for each in found] == [("few", True), ("all", False)]
    assert found[0].values > found[1].values


def test_without_a_tank_that_catches_nothing_is_asked():
    assert CHECKS["rain_days"].of(year_hut()) == []


def test_damp_hours_by_hand():
    package = year_hut()
    year = reckoned(package).year
    vapour = saturation_pa(year.weather.dew_k)
    # opened so wide that what people give off is nothing: outside air's own vapour, at 10 °C
    at = {"air_k": year.weather.air_k, "opened_m3_s": level(1e9)}
    dry = level(60 + 273.15)
    wet = np.flatnonzero(vapour > saturation_pa(level(270.0)))[:5]
    found = only(with_drawn(package, coldest_face_k=put(dry, wet, 270.0), **at), "damp_hours")
    assert found.values == (5 * 3600, 5 * 3600)
    assert "over 80.0 % humid for 5 h, wet for 5 h" in working(found)
    face = put(dry, wet, year.weather.dew_k[wet] + 1.0)  # damp, and 1 K from wet
    found = only(with_drawn(package, coldest_face_k=face, **at), "damp_hours")
    assert found.values == (5 * 3600, 0.0)
    assert "longest wet on end 0 h" in working(found)


def test_windows_that_say_no_flow_bring_no_air():
    package = year_hut()
    shut = only(with_drawn(package, opened_m3_s=None), "damp_hours")
    aired = only(with_drawn(package, opened_m3_s=level(1.0)), "damp_hours")
    assert shut.values[0] > aired.values[0]
    assert shut.values == pytest.approx(
        only(with_drawn(package, opened_m3_s=level(0.0)), "damp_hours").values
    )
