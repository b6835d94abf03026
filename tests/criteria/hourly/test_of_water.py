"""Warm water of a package, from rows."""

import numpy as np
import pytest

from criteria.hourly.assumed import Taking
from criteria.hourly.of_use import in_use
from criteria.hourly.of_water import sun_water, warm_water
from criteria.hourly.sky import sky_over
from criteria.hourly.sun import positions
from criteria.hourly.weather import HOURS
from tests.criteria.hourly.hut import hut
from tests.criteria.hourly.weather_still import still

SUN = {"hot_l_pd": "15", "hot_c": "40", "cold_c": "8"}
COLLECTOR = {"collector_m2": "4", "collector_tilt": "60"}


def warm(taking=None, weather=None, site=SUN, **cells):
    weather = weather or still(beam_w_m2=600, diffuse_w_m2=100)
    package = hut(site=site, plant={**COLLECTOR, **cells})
    sky = sky_over(positions(weather.place), weather)
    room = np.full(HOURS, 291.15)
    use = in_use(package, Taking())
    given = sun_water(package, taking or Taking())
    return None if given is None else warm_water(given, weather, use, sky, room)


def test_no_collector_warms_nothing():
    assert warm(collector_m2="") is None


def test_a_collector_warms_what_people_draw_while_awake():
    taking = Taking()
    year = warm(taking)
    asked = year.drawn_w + year.topped_w
    a_day = 4 * 0.015 * 4.18e6 * 32 / 3600
    assert asked[24:48].sum() == pytest.approx(a_day, rel=0.01)
    assert not asked[24:31].any()
    assert year.sun_w.sum() > 0
    assert [cell.value for a in taking.found for cell in a.cells] == ["180 °", "200 L"]


def test_what_the_collector_says_stands():
    taking = Taking()
    warm(taking, collector_bearing="SE", hot_tank="300")
    assert taking.found == ()
    south = Taking()
    warm(south, site={**SUN, "latitude": "-46"})
    assert south.found[0].cells[0].value == "0 °"
    tubes, flat = (warm(collector_kind=kind) for kind in ("tubes", "flat"))
    assert tubes.topped_w.sum() != flat.topped_w.sum()
    # in a room as warm as the water the jacket loses nothing; a larger tank loses more
    assert warm(hot_tank="800").lost_w.sum() != warm(hot_tank="200").lost_w.sum()


def test_nobody_draws_in_closed_months():
    package = hut(
        site=SUN, plant=COLLECTOR, climate=[{"month": "Jan", "open": "no"}, {"month": "Feb"}]
    )
    weather = still(beam_w_m2=600, diffuse_w_m2=100)
    sky, room = sky_over(positions(weather.place), weather), np.full(HOURS, 291.15)
    given, use = sun_water(package, Taking()), in_use(package, Taking())
    year = warm_water(given, weather, use, sky, room)
    asked = year.drawn_w + year.topped_w
    assert not asked[: 31 * 24].any()
    assert asked[31 * 24 :].any()
