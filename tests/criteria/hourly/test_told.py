"""What is told beside a year's figures: every part once, with its source; limits as sentences."""

from criteria.hourly.told import LIMITS, NOT_SETTLED, WAYS
from criteria.own_words import in_units
from criteria.units import System


def test_each_part_is_told_once_with_its_source():
    parts = [way.part for way in WAYS]
    assert len(parts) == len(set(parts)) >= 10
    assert all(way.way and way.source for way in WAYS)


def test_limits_are_sentences():
    assert all(line.endswith(".") for line in (*LIMITS, NOT_SETTLED))


def test_films_are_told_to_readers_of_us_units_in_theirs():
    films = next(way for way in WAYS if way.part == "Films")
    assert "W/m²K" in in_units(films.way, System.METRIC)
    assert "W/m²K" not in in_units(films.way, System.US)
