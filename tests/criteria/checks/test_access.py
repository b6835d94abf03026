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


def test_doors_marked_on_the_way_are_the_ones_that_count(package, hold):
    doors = [door("D1", "Porch", "900", role="main exit"), door("D4", "Store", "700",
                                                                step_free="yes")]  # fmt: skip
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
