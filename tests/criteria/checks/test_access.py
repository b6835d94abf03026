"""Doors and ramps of the step-free way: at, under and over each limit."""

import pytest

from criteria.findings import State

MEETS, LINE, SHORT, OVER = State.MEETS, State.ON_THE_LINE, State.SHORT, State.OVER
NO_DATA = State.NO_DATA


def door(mark: str, place: str, clear: str = "", **cells: str) -> dict[str, str]:
    return {"mark": mark, "place": place, "leaf_w": "1000", "clear_w": clear, **cells}


# 2010 ADA 404.2.3 prints 815 mm: one under, at, and over half a per cent above.
@pytest.mark.parametrize(("clear", "state"), [("810", SHORT), ("815", LINE), ("820", MEETS)])
def test_a_step_free_door(package, hold, clear, state):
    doors = [door("D1", "Porch", clear, role="main exit")]
    assert hold(package(doors=doors), "step_free_doors", "815").state is state


def test_the_widest_toilet_door_counts_and_other_doors_do_not(package, hold):
    doors = [
        door("D1", "Porch", "900", role="main exit"),
        door("D2", "Toilet 1", "830"),
        door("D3", "Toilet 2", "620"),
        door("D4", "Store", "600"),
    ]
    found = hold(package(doors=doors), "step_free_doors", "815")
    assert (found.subject, found.write_value()) == ("D2", "830 mm")


def test_a_toilet_door_of_unknown_width_may_be_the_widest(package, hold):
    doors = [door("D2", "Toilet 1", "830"), door("D3", "Toilet 2")]
    found = hold(package(doors=doors), "step_free_doors", "815")
    assert (found.state, found.missing) == (NO_DATA, ("D3, Clear w (door schedule)",))


def test_doors_marked_on_the_way_are_the_ones_that_count(package, hold):
    doors = [
        door("D1", "Porch", "900", role="main exit"),
        door("D4", "Store", "700", step_free="yes"),
    ]
    assert hold(package(doors=doors), "step_free_doors", "815").subject == "D4"


def test_a_blank_width_is_named_and_keeps_it_from_meeting(package, hold):
    doors = [door("D1", "Porch", role="main exit"), door("D2", "Toilet", "830")]
    found = hold(package(doors=doors), "step_free_doors", "815")
    assert (found.state, found.missing) == (NO_DATA, ("D1, Clear w (door schedule)",))


# By hand: 480 × 12 + 2 × 1,525 = 8,810 mm.
@pytest.mark.parametrize(
    ("drawn", "state"), [("8,700", SHORT), ("8,810", LINE), ("8,900", MEETS), ("5,760", SHORT)]
)
def test_a_ramp_needs_its_landings(package, hold, drawn, state):
    hut = package(ramp={"rise_mm": "480", "ramp_drawn_mm": drawn})
    found = hold(hut, "ramp_length", "1")
    assert found.state is state
    assert found.write_notes()[0].startswith("needs 8.81 m (1 run, 2 landings)")


# 2010 ADA Standards 405.6 and 405.7.3 print 30 in (760 mm) and 60 in (1525 mm): 30 in × 12 and
# two landings of 60 in are 40 ft; 762 mm in millimetres takes two runs and three landings.
@pytest.mark.parametrize(
    ("rise", "units", "said"),
    [
        ("30 in", "metric", "needs 12.19 m (1 run, 2 landings)"),
        ("2'-6\"", "metric", "needs 12.19 m (1 run, 2 landings)"),
        ("762", "US", "needs 12.19 m (1 run, 2 landings)"),
        ("762", "metric", "needs 13.72 m (2 runs, 3 landings)"),
        ("762", "", "needs 13.72 m (2 runs, 3 landings)"),
        ("30.1 in", "metric", "needs 13.75 m (2 runs, 3 landings)"),
        ("760", "metric", "needs 12.17 m (1 run, 2 landings)"),
    ],
)
def test_inches_are_held_to_inches_and_millimetres_to_the_printed_metric(
    package, hold, rise, units, said
):
    hut = package(ramp={"rise_mm": rise, "ramp_drawn_mm": "40 ft"}, site={"units": units})
    found = hold(hut, "ramp_length", "1")
    assert found.write_notes()[0].startswith(said)
    assert found.state.is_met is ("1 run" in said)


def test_thirty_inches_with_forty_feet_is_exactly_one(package, hold):
    hut = package(ramp={"rise_mm": "30 in", "ramp_drawn_mm": "40 ft"})
    assert hold(hut, "ramp_length", "1").value == pytest.approx(1, abs=1e-12)


# 2010 ADA Standards 303.4, from memory: over ½ in (13 mm) a change in level is ramped.
@pytest.mark.parametrize(
    ("rise", "is_ramp"),
    [("12", False), ("13", False), ("13.1", True), ("1/2 in", False), ("0.51 in", True)],
)
def test_a_rise_of_half_an_inch_is_a_threshold(package, hold, rise, is_ramp):
    hut = package(ramp={"rise_mm": rise, "ramp_drawn_mm": "0", "ramp_clear_w": "500"})
    length, width = hold(hut, "ramp_length", "1"), hold(hut, "ramp_width", "915")
    assert length.state is (SHORT if is_ramp else LINE)
    assert width.state is (SHORT if is_ramp else State.NOT_ASKED)
    assert is_ramp or "is a threshold" in length.write_notes()[0]


def test_no_rise_needs_no_ramp(package, hold):
    assert hold(package(ramp={"rise_mm": "0"}), "ramp_length", "1").state is LINE


@pytest.mark.parametrize(("slope", "state"), [("12", MEETS), ("11.9", OVER), ("8", OVER)])
def test_one_in_twelve_is_the_limit(package, hold, slope, state):
    found = hold(package(ramp={"slope_drawn": slope}), "ramp_slope", "1/12")
    assert found.state is state


def test_finished_floor_is_ground_and_rise(package, hold):
    hut = package(site={"ground_m": "2.10", "flood_m": "3.20"}, ramp={"rise_mm": "1000"})
    found = hold(hut, "floor_above_datum", "3.45")
    assert (found.write_value(), found.state) == ("3.10 m", SHORT)
    assert found.write_notes() == ("0.10 m below the flood or storm tide",)
