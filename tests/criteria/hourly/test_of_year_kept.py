"""A package's year is run once while it is asked of, and few are kept: each is some megabytes."""

from pathlib import Path

import pytest

from criteria.command.folder import read_folder
from criteria.hourly.building import NO_PLANT
from criteria.hourly.of_year import MOST_KEPT, bare_year, reckoned, spreads, year_of
from criteria.hourly.people_hours import Spread
from criteria.hourly.running import Ready
from criteria.package import Package

DATA = Path(__file__).parents[3] / "reviews" / "demo" / "data"


def _package() -> Package:
    return read_folder(DATA, scheme="E11", rev="C").package


@pytest.fixture
def runs(monkeypatch) -> list:
    """The runs that are made, of a year in which none takes time."""
    made: list = []
    real = Ready.run
    once: dict = {}

    def run(self, plant, supply=None):
        made.append(plant)
        if "run" not in once:
            once["run"] = real(self, NO_PLANT)
        return once["run"]

    monkeypatch.setattr(Ready, "run", run)
    return made


def test_a_package_s_year_is_run_three_times_and_kept(runs):
    package = _package()
    year = year_of(package)
    assert len(runs) == 3
    assert year_of(package) is year
    assert bare_year(package).run is year.bare
    assert reckoned(package).year is year
    assert len(runs) == 3


def test_another_package_of_the_same_rows_is_another(runs):
    one, other = _package(), _package()
    assert one == other
    assert year_of(one) is not year_of(other)


def test_of_many_packages_only_the_last_few_are_kept(runs):
    first = _package()
    year = year_of(first)
    others = [_package() for _ in range(MOST_KEPT)]
    theirs = [year_of(each) for each in others]
    count = len(runs)
    assert [year_of(each) for each in others] == theirs
    assert len(runs) == count
    assert year_of(first) is not year
    assert len(runs) == count + 3


def test_a_changed_package_is_run_anew(runs):
    package = _package()
    year = year_of(package)
    changed = package.but(loads=package.loads[:-1])
    assert year_of(changed) is not year


def test_loads_that_don_t_say_when_are_run_in_three_ways(runs):
    package = _package()
    said = [row for row in package.loads if row.unless_blank("when") is not None]
    assert len(spreads(package)) in (1, 3)
    unsaid = package.but(loads=tuple(row.but(when=None) for row in package.loads))
    assert [words for words, _ in spreads(unsaid)] == list(map(str, Spread))
    assert said
