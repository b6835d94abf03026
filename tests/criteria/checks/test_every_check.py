"""A check that no test names is a check that nobody has tried; and four by hand."""

import re
from pathlib import Path

import pytest

from criteria.checks.catalogue import CATALOGUE

HERE = Path(__file__).parent


def test_every_check_of_the_catalogue_is_tried_by_name():
    tests = "".join(path.read_text(encoding="utf-8") for path in HERE.parent.rglob("test_*.py"))
    named = set(re.findall(r'"([a-z][a-z0-9_]+)"', tests))
    assert [check.slug for check in CATALOGUE if check.slug not in named] == []


@pytest.mark.parametrize(
    ("check", "value"),
    [
        ("wall_u", 1 / (0.17 + 0.150 / 0.040)),
        ("roof_u", 1 / (0.14 + 0.150 / 0.040)),
        ("floor_u", 1 / (0.21 + 0.150 / 0.040)),
    ],
)
def test_one_layer_in_each_part_is_its_u_value(package, hold, check, value):
    """ISO 6946: R_si + R_se of a wall 0.13 + 0.04, a roof 0.10 + 0.04, a floor 0.17 + 0.04."""
    part = check.removesuffix("_u")
    layer = {"part": part, "layer": "Batt", "mm": "150", "lambda": "0.04", "gross_area_m2": "20"}
    found = hold(package(envelope=[layer]), check, "0.3")
    assert found.value == pytest.approx(value, rel=1e-9)


@pytest.mark.parametrize(
    ("check", "holds", "head", "rate", "days"),
    [
        # by hand: 420 L × 0.95 = 399 L, over 28 L/day and over 4.8 L/day
        ("grey_days", "grey", "grey_l_pd", "7", 420 * 0.95 / (4 * 7)),
        ("urine_days", "urine", "urine_l_pd", "1.2", 420 * 0.95 / (4 * 1.2)),
    ],
)
def test_a_tank_fills_in_its_volume_over_what_people_make(
    package, hold, check, holds, head, rate, days
):
    tank = {"mark": "T1", "holds": holds, "litres": "420", "usable_share": "0.95"}
    found = hold(package(tanks=tank, site={"people": "4", head: rate}), check, "10")
    assert found.value == pytest.approx(days * 86_400, rel=1e-9)


WC = {"mark": "F1", "use": "WC", "uses_a_day": "5", "l_each": "3", "goes_to": "black"}
BASIN = {"mark": "F2", "use": "Basin", "uses_a_day": "2", "l_each": "1.5", "goes_to": "grey"}


def test_a_students_own_fixtures_are_held_to_the_briefs_rate(package, hold):
    """By hand: 5 × 3 L + 2 × 1.5 L = 18 L/day each, over 15 L/day by the brief = 1.2."""
    made = package(fixtures=[WC, BASIN], site={"people": "4", "water_l_pd": "15"})
    assert hold(made, "fixture_share", "1").value == pytest.approx(1.2, rel=1e-9)


def test_a_black_tank_fills_by_what_goes_to_black(package, hold):
    """By hand: 420 L × 0.95 = 399 L, over 4 people × 15 L/day = 6.65 days."""
    tank = {"mark": "T1", "holds": "black", "litres": "420", "usable_share": "0.95"}
    made = package(fixtures=[WC, BASIN], tanks=tank, site={"people": "4", "water_l_pd": "15"})
    assert hold(made, "black_days", "5").value == pytest.approx(6.65 * 86_400, rel=1e-9)
