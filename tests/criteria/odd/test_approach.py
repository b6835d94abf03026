"""Ramps and thresholds that don't go with the rise."""

import pytest

from criteria.odd.values import odd_values
from criteria.package import Package
from criteria.schedules.access import Door, Ramp, WaysOut


def ramp(**cells):
    return {
        "rise_mm": "500",
        "slope_drawn": "12",
        "ramp_drawn_mm": "9050",
        "landings_drawn": "2",
        **cells,
    }


@pytest.mark.parametrize(
    ("cells", "heads"),
    [
        ({}, []),
        ({"rise_mm": "50"}, ["rise_mm"]),
        ({"rise_mm": "20"}, ["rise_mm"]),
        ({"ramp_drawn_mm": "9"}, ["ramp_drawn_mm"]),
        ({"ramp_drawn_mm": "5100"}, []),
        ({"ramp_drawn_mm": "5099"}, ["ramp_drawn_mm"]),
        ({"ramp_drawn_mm": "13575"}, []),
        ({"ramp_drawn_mm": "13576"}, ["rise_mm"]),
        ({"ramp_drawn_mm": "90500"}, ["rise_mm"]),
        ({"rise_mm": "", "ramp_drawn_mm": "9"}, []),
        ({"slope_drawn": "8.3"}, ["slope_drawn"]),
        ({"slope_drawn": "8.5"}, []),
    ],
)
def test_a_ramp_that_its_rise_and_slope_contradict(asks, cells, heads):
    """500 mm at 1 in 12 runs 6 m: 0.85 of it is 5.1 m, 1.5 × (6 + 2 × 1.525) is 13.575 m."""
    assert [odd.head for odd in asks(ramp=ramp(**cells)) if odd.schedule == "ramp"] == heads


@pytest.mark.parametrize(
    ("clear", "asked"), [("0.48", False), ("0.491", True), ("0.5", True), ("0.6", True)]
)
def test_a_rise_against_the_clear_height_under_the_building(asks, clear, asked):
    assert bool(asks("clear_under_m", ramp=ramp(), supports={"clear_under_m": clear})) is asked


@pytest.mark.parametrize(("threshold", "asked"), [("99", False), ("100", True)])
def test_a_step_at_the_head_of_a_ramp(asks, threshold, asked):
    door = {
        "mark": "D1",
        "place": "Porch",
        "role": "main exit",
        "threshold_mm": threshold,
        "leaf_w": "1000",
        "clear_w": "900",
    }
    assert bool(asks("threshold_mm", ramp=ramp(), doors=door)) is asked
    assert asks("threshold_mm", doors=door) == []


@pytest.mark.parametrize(("clear", "asked"), [(0.861, True), (0.860, False), (0.820, False)])
def test_a_clear_width_that_is_the_leaf(clear, asked):
    door = Door(mark="D1", place="Store", leaf_w_m=0.9, clear_w_m=clear, role="internal")
    assert bool(odd_values(Package(doors=(door,)))) is asked


def test_a_blank_clear_width_is_asked_for_on_the_step_free_way_only():
    main = Door(mark="D1", place="Porch", leaf_w_m=0.9, role="main exit")
    store = Door(mark="D2", place="Store", leaf_w_m=0.7, role="internal")
    assert [odd.mark for odd in odd_values(Package(doors=(main, store)))] == ["D1"]


def test_two_thresholds_of_one_exit_are_a_mismatch():
    door = Door(mark="D2", place="Loft", role="second exit", threshold_m=2.3, clear_w_m=0.8)
    package = Package(doors=(door,), ways_out=WaysOut(second_threshold_m=1.9))
    (odd,) = odd_values(package)
    assert odd.is_mismatch
    assert "1\u202f900 mm here and 2\u202f300 mm" in odd.write_question()


@pytest.mark.parametrize(
    ("drawn", "landings", "asked"),
    [(5.76, 0, True), (5.87, 0, True), (5.88, 0, False), (5.76, 2, False)],
)
def test_a_ramp_of_twelve_times_the_rise_has_no_landings(drawn, landings, asked):
    package = Package(ramp=Ramp(rise_m=0.48, drawn_m=drawn, landings=landings))
    assert bool(odd_values(package)) is asked


@pytest.mark.parametrize(("travel", "asked"), [("500", False), ("499", True), ("", False)])
def test_legs_against_the_slope(asks, travel, asked):
    # by hand: a tenth of the diagonal of 4 by 3 m is 500 mm
    supports = {"travel": travel, "building_l_m": "4", "building_w_m": "3"}
    assert bool(asks("travel", supports=supports, site={"slope": "10 %"})) is asked
    assert asks("travel", supports=supports) == []
