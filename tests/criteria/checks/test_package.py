"""The package against itself: marks, levels and the month it is designed for."""

import pytest

from criteria.findings import State
from criteria.odd import approach

ROOMS = [
    {"mark": "R1", "room": "Day", "use": "day"},
    {"mark": "R2", "room": "Bunks", "use": "sleep"},
]


@pytest.mark.parametrize(
    ("marks", "value"),
    [
        ("R1, R2", "all"),
        ("R1", "not: R2 (not drawn)"),
        ("R1 R2 R3", "not: R3 (no row)"),
        ("R1; R2; N A", "all"),  # a north arrow is no mark of a schedule
    ],
)
def test_marks_drawn_and_scheduled_alike(package, hold, marks, value):
    hut = package(rooms=ROOMS, plan_marks={"sheet": "02", "marks": marks})
    assert hold(hut, "plan_marks", "yes").write_value() == value


def test_marks_of_several_sheets_count_together(package, hold):
    sheets = [{"sheet": "02", "marks": "R1"}, {"sheet": "03", "marks": "R2"}]
    assert hold(package(rooms=ROOMS, plan_marks=sheets), "plan_marks", "yes").state is State.MEETS


def test_marks_read_from_letters_count_beside_those_typed(package, hold):
    sheets = [
        {"sheet": "02", "marks": "R1 R4"},
        {"sheet": "02", "marks": "R1 R2 R3", "how": "read"},
    ]
    found = hold(package(rooms=ROOMS, plan_marks=sheets), "plan_marks", "yes")
    assert found.write_value() == "not: R3 (read, no row), R4 (no row)"


def test_without_a_list_of_marks_there_is_no_data(package, hold):
    found = hold(package(rooms=ROOMS), "plan_marks", "yes")
    assert found.missing == ("rows of the marks on sheets",)


@pytest.mark.parametrize(
    ("floor", "asked"), [("3.50", False), ("3.51", False), ("3.52", True), ("3.30", True)]
)
def test_ground_rise_and_floor_add_up(package, floor, asked):
    hut = package(site={"ground_m": "2.10"}, ramp={"rise_mm": "1400", "floor_m": floor})
    found = list(approach.levels(hut.leniently))
    assert bool(found) is asked
    assert all(odd.is_mismatch for odd in found)


def test_the_rise_that_the_levels_make_is_offered(package):
    hut = package(site={"ground_m": "2.10"}, ramp={"rise_mm": "1400", "floor_m": "3.60"})
    assert [odd.suggestion for odd in approach.levels(hut.leniently)] == ["1\u202f500 mm"]


def test_the_climate_row_of_the_design_month_gives_the_sun(package, hold):
    hut = package(
        loads={"mark": "L1", "item": "Light", "n": "1", "w_each": "100", "h_day": "10"},
        power={"pv_kwp": "1"},
        site={"design_month": "Oct", "system_factor": "0.5"},
        climate=[{"month": "Jun", "sun_hours_60s": "5"}, {"month": "Oct", "sun_hours_60s": "2"}],
    )
    # 1,000 W × 2 h × 0.5 ÷ 1,000 Wh (by hand)
    assert hold(hut, "power_ratio", "1").write_value() == "1.00"


def test_a_target_worded_as_a_check_s_title_means_that_check(package):
    from criteria.targets.reading import read_targets

    rows = [{"id": "T1", "what": "Turning circle", "rule": "at least", "value": "1525"}]
    (target,) = read_targets(rows).targets
    assert target.check.slug == "turning_circle"
