"""Which drawing shows what: each check and each schedule has one at most, and there are such."""

from collections import Counter

import pytest

from criteria.checks.catalogue import CHECKS
from criteria.drawing.catalogue import BY_CHECK, PICTURES
from criteria.drawing.drawing import Field
from criteria.drawing.picture import Asked, Seen
from criteria.findings import Amount, Measured
from criteria.package import read_package
from criteria.schedules import BY_SLUG
from criteria.units import HOURS
from tests.criteria.checks.steps import FOURTEEN, STATES
from tests.folding_cabin import TABLES


@pytest.mark.parametrize(("of", "known"), [("checks", CHECKS), ("schedules", BY_SLUG)])
def test_a_check_or_schedule_is_drawn_in_one_way(of, known):
    named = Counter(slug for each in PICTURES for slug in getattr(each, of))
    assert set(named) <= set(known)
    assert set(named.values()) == {1}


def test_every_check_draws_what_decided_it():
    assert set(BY_CHECK) == set(CHECKS)


def test_what_stands_over_a_schedule_has_a_check_to_draw_where_the_brief_asks_none():
    for each in PICTURES:
        assert bool(each.schedules and each.checks) == bool(each.main)
        assert not each.main or each.main in each.checks


@pytest.mark.parametrize(
    ("check", "rows", "title"),
    [
        ("doors_open_fully", TABLES, "Plan: Asked, 2.0 h"),
        ("exits_apart", TABLES, "Plan: Asked, 2.0 h"),
        ("setup_time", {"steps": FOURTEEN}, "Bars of asked"),
        ("heaviest_set_up_lift", {"steps": FOURTEEN}, "Bars of asked"),
    ],
)
def test_a_check_is_drawn_of_its_rows_and_nothing_is_where_they_lack(check, rows, title):
    subject = "no such row" if check == "exits_apart" else ""
    measured = Measured(subject=subject, values=(7200.0,))
    asked = Asked(title="Asked", measured=measured, amount=Amount(7200.0, HOURS))
    site = {"site": [{"crew": "4"}], "states": STATES}

    def ready(rows):
        seen = Seen(package=read_package(rows | site).package, check=check, asked=asked)
        return BY_CHECK[check].ready(seen)

    assert ready(rows).of(Field()).title == title
    assert ready({}) is None
