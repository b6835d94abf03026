"""Air of a package: leaks, vents, and when windows are opened."""

import numpy as np
import pytest

from criteria.hourly.assumed import Taking
from criteria.hourly.of_air import air_of
from criteria.hourly.of_use import in_use
from criteria.hourly.weather import HOURS
from criteria.typed.cells import Lacking
from tests.criteria.hourly.hut import HUT, hut
from tests.criteria.hourly.weather_still import still

VOLUME = 60.0
NOT_HEATED = np.full(HOURS, np.nan)


def air(package, weather=None, warm_k=NOT_HEATED, taking=None):
    taking = taking or Taking()
    people = in_use(package, taking).people
    return air_of(package, weather or still(), VOLUME, people, warm_k, taking)


def fixed(package, **more):
    return float(air(package, **more)[0].fixed_m3_s[0])


def test_leaks_are_a_twentieth_of_the_test():
    assert fixed(hut(plant={"n50": "2"})) == pytest.approx(0.1 * VOLUME / 3600 + 0.010)


def test_leaks_that_nothing_says_are_taken():
    taking = Taking()
    assert fixed(hut(), taking=taking) == pytest.approx(0.3 * VOLUME / 3600 + 0.010)
    assert ("n50", "6 1/h") in [(c.head, c.value) for a in taking.found for c in a.cells]


def vents(*types, **plant):
    rows = [
        {**HUT["vents"][0], "mark": f"V{n}", "type": type, "n": "1", "l_s_each": "10"}
        for n, type in enumerate(types)
    ]
    return hut(vents=rows, plant={"n50": "0", **plant})


def test_heat_is_recovered_of_what_passes_a_fan():
    package = vents("slot vent", "supply fan", hrv_as_typed="0.8")
    assert fixed(package) == pytest.approx(0.010 + 0.002)
    assert air(package)[1] == ()


def test_where_no_vent_passes_a_fan_it_is_recovered_of_all_and_said():
    package = vents("slot vent", "", hrv_as_typed="0.8")
    assert fixed(package) == pytest.approx(0.004)
    assert "recovered of all" in air(package)[1][0].write()
    plain = vents("slot vent", "wall vent")
    assert fixed(plain) == pytest.approx(0.020)
    assert air(plain)[1] == ()


def test_without_vents_the_briefs_air_is_taken_and_said():
    package = hut(vents=[], plant={"n50": "0", "hrv_as_typed": "0.5"})
    assert fixed(package) == pytest.approx(4 * 0.004 / 2)
    assert air(package)[1][0].write() == "no vents are scheduled: 16.0 L/s are taken, by the brief"


def test_windows_are_opened_by_whoever_is_awake():
    found, _ = air(hut())
    assert len(found.openings) == 1
    assert [bool(x) for x in found.may_open[:24]] == [7 <= h < 23 for h in range(24)]
    assert set(found.open_above_k) == {297.15}


def test_after_a_warm_day_they_stand_open_at_night():
    days = np.full((365, 24), 283.15)
    days[10] = 288.15
    found, _ = air(hut(), still(air_k=days.ravel()))
    hours = np.flatnonzero(found.open_above_k == 293.15)
    assert hours.tolist() == [*range(10 * 24 + 22, 11 * 24 + 7)]
    assert found.may_open[hours].all()


def test_they_arent_opened_near_what_is_heated_to():
    found, _ = air(hut(), warm_k=np.full(HOURS, 297.15))
    assert set(found.open_above_k) == {298.15}


@pytest.mark.parametrize(("typed", "terrain"), [("", "C"), ("D", "D")])
def test_terrain(typed, terrain):
    assert air(hut(site={"exposure": typed}))[0].terrain == terrain


def test_a_type_that_cant_be_read_isnt_guessed():
    with pytest.raises(Lacking, match="Type"):
        air(vents("fan " * 40, hrv_as_typed="0.8"))
