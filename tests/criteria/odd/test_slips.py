"""Planted slips are asked about and honest figures are not: the whole list, every build.

The lists were written before the rules. `python -m tests.benchmarks.slips` prints the rates.
"""

import pytest

from criteria.odd.values import RULES, asked_by_rule, name_of, odd_values
from criteria.package import read_package
from criteria.schedules import BY_SLUG
from tests.benchmarks import slips as benchmark
from tests.criteria.odd.planted import (
    FOLDING,
    PACKAGES,
    asked_of,
    changed,
    changes,
    extra,
    outcomes,
    typed,
)

# whole sheets again and again, of lines that other tests count
pytestmark = pytest.mark.uncounted


def test_there_are_as_many_slips_and_honest_figures_as_were_asked_for():
    assert len({change.name for change in changes("slips")}) >= 60
    honest = list(outcomes("honest"))
    assert len(honest) >= 300
    change = {"H07 B", "E11 C", FOLDING}
    assert sum(each.package in change for each in honest) >= 200


def test_at_least_85_in_100_slips_are_seen_and_at_most_5_in_100_honest_figures_asked(capsys):
    assert benchmark.main() == 0
    assert "0 of which turn a miss into a pass" in capsys.readouterr().out


# The demo scenario lists what is built into each package; no rule adds to it.
@pytest.mark.parametrize(
    ("package", "expected"),
    [
        ("H07 B", set()),
        (FOLDING, set()),
        ("E11 C", {("ramp", "ramp_drawn_mm")}),
        ("H03 B", {("ramp", "ramp_drawn_mm"), ("pieces", "l_m"), ("pieces", "w_m")}),
        (
            "H07 A",
            {
                ("tanks", "litres"),
                ("windows", "open_share"),
                ("occupants", "n"),
                ("envelope", "lambda"),
                ("plant", "hrv_as_typed"),
                ("power", "sun_hours_on_sheet"),
                ("power", "usable_share"),
                ("loads", "h_day"),
                ("doors", "clear_w"),
                ("furniture", "night"),  # the warden has no bed
                ("stowage", "also_used_as"),
                ("precedents", "outcome"),
            },
        ),
    ],
)
def test_of_the_demos_packages_nothing_is_asked_but_what_was_built_in(package, expected):
    assert {(schedule, head) for schedule, _, _, head in asked_of(package)} == expected


@pytest.mark.parametrize("package", [*PACKAGES, FOLDING])
def test_a_cell_is_asked_about_once(package):
    odd = odd_values(read_package(typed(package)).package)
    places = [(each.schedule, each.mark, each.row, each.head) for each in odd]
    assert len(places) == len(set(places))


def test_every_rule_sees_a_slip_or_stands_in_what_the_demo_has_built_in():
    seen = {rule for change in outcomes("slips") for rule in change.rules}
    held = [read_package(typed(package)).package for package in PACKAGES]
    stands = {rule for package in held for rule, _ in asked_by_rule(package)}
    assert {name_of(rule) for rule in RULES} - seen - stands == {"systems.dry_toilets"}


def test_a_small_cabin_of_another_kind_in_us_units_is_asked_nothing():
    reading = read_package(extra("cabin", "cabin"))
    assert not reading.refused
    assert [odd.write_question() for odd in odd_values(reading.package)] == []


@pytest.mark.parametrize("package", PACKAGES)
def test_a_suggestion_is_text_that_its_column_reads(package):
    slips = [made for change in changes("slips") if (made := changed(typed(package), change))]
    odd = [each for made in slips for each in odd_values(read_package(made).package)]
    offered = [each for each in odd if each.suggestion]
    for each in offered:
        column = BY_SLUG[each.schedule].column(each.head)
        assert column.read(each.suggestion) is not None
    assert len(offered) > 20


def test_taking_a_suggestion_ends_the_question():
    tables = {"plant": [{"hrv_as_typed": "75"}]}
    (odd,) = odd_values(read_package(tables).package)
    tables["plant"][0][odd.head] = odd.suggestion
    assert odd_values(read_package(tables).package) == ()
