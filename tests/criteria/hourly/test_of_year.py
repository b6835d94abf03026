"""The year of a package: reckoned once, and never of what only stands in for cells."""

import numpy as np
import pytest

from criteria.hourly.of_year import NotRun, bare_year, reckoned, spreads, year_of
from criteria.hourly.people_hours import Spread
from criteria.typed.cells import Lacking, standing_in
from tests.criteria.hourly.year_hut import year_hut

RAIN = {"mark": "T1", "holds": "rain", "litres": "2000", "usable_share": "0.9", "catch_m2": "30"}


@pytest.fixture(scope="module")
def hut():
    return year_hut(loads={"when": ""})


def test_a_year_is_reckoned_once_for_each_way_of_the_loads(hut):
    assert reckoned(hut) is reckoned(hut)
    assert year_of(hut) is reckoned(hut).year
    assert bare_year(hut).run is reckoned(hut).year.bare
    assert reckoned(hut, Spread.BY_NIGHT) is not reckoned(hut)
    assert [words for words, _ in spreads(hut)] == [str(spread) for spread in Spread]
    said = year_hut()
    assert [found for _, found in spreads(said)] == [reckoned(said)]


def test_the_three_runs_close_and_stand_in_order(hut):
    year = year_of(hut)
    for run in (year.bare, year.held, year.drawn):
        assert run.closure < 1e-9
    assert not year.bare.heat_w.any()
    assert year.held.heat_w.sum() > year.drawn.heat_w.sum() > 0
    assert year.drawn.heat_w.max() <= 4000
    there = year.is_there & ~np.isnan(year.warm_k)
    assert (year.held.operative_k[there] >= year.warm_k[there] - 1e-6).all()


def test_what_only_stands_in_for_cells_is_run_by_nobody(hut):
    package = year_hut(site={"altitude_m": ""})
    with pytest.raises(Lacking):
        reckoned(package)
    kept = reckoned(hut)
    with standing_in({(id(package.site), "altitude_m"): 100.0}):
        with pytest.raises(NotRun):
            reckoned(package)
        with pytest.raises(NotRun):
            bare_year(package)
        with pytest.raises(NotRun):
            bare_year(hut)  # nor is one that is kept given for it
    assert not package.__dict__.get("_years")
    assert reckoned(hut) is kept


def test_tanks_that_lack_a_cell_leave_the_room_its_year():
    lacks = year_hut(tanks=[RAIN | {"litres": ""}], site={"water_l_pd": "5"})
    assert year_of(lacks).tanks == ()
    whole = year_hut(tanks=[RAIN], site={"water_l_pd": "5"})
    assert [str(tank.rains) for tank in year_of(whole).tanks] == [
        "every fourth day",
        "in the first ten days",
    ]
