"""Two exits apart (IBC 1007.1.1, from memory): by hand on the walker's room of 6 × 2.4 m."""

import math

import pytest

from criteria.findings import State
from tests.criteria.checks.test_ways import (
    DOOR,
    ON_ONE_PLAN,
    ROOM,
    TO_BUNKS,
    TO_WC,
    cabin,
    hut,
    piece,
)

__all__ = ["cabin", "hut"]

ACROSS = math.hypot(6, 2.4)
# in the right wall, which looks east: its left end is the upper one, so the middle is at y = 1.2
BACK = DOOR | {"mark": "D2", "role": "second exit", "faces": "E", "left": "750"}
SOFA = piece("U2", 5, 6, 0, 0.5, kind="seat", height_mm="450")


def said(finding):
    return [step.write() for step in finding.steps]


def test_two_exits_are_as_far_apart_as_their_middles_beside_the_diagonal(cabin, hold):
    """From (1.45, 0) to (6, 1.2): 4.71 m of 6.46."""
    finding = hold(cabin(SOFA, doors=[DOOR, BACK]), "exits_apart", "0.5")
    assert finding.value == pytest.approx(math.hypot(4.55, 1.2) / ACROSS, abs=1e-9)
    assert finding.state is State.MEETS
    assert said(finding) == ["D1 to D2: 4.71 m ÷ 6.46 m = 0.73"]


def test_two_doors_of_one_corner_are_not_apart(cabin, hold):
    """From (1.45, 0) to (0, 1.2): 1.88 m of 6.46."""
    finding = hold(cabin(SOFA, doors=[DOOR, BACK | {"faces": "W"}]), "exits_apart", "0.5")
    assert finding.state is State.SHORT
    assert finding.value == pytest.approx(math.hypot(1.45, 1.2) / ACROSS, abs=1e-9)


def test_of_three_the_two_that_stand_furthest_apart_count(cabin, hold):
    near = BACK | {"mark": "D3", "faces": "W"}
    finding = hold(cabin(SOFA, doors=[DOOR, near, BACK]), "exits_apart", "0.5")
    assert finding.value == pytest.approx(6 / ACROSS, abs=1e-9)


def test_a_bed_folded_out_at_night_closes_an_exit(cabin, hold):
    """2.4 m wide at night but for 300 mm of way to the door in the right wall."""
    night = {"mark": "U2", "state": "night", "l": "500", "w": "2100", "x": "5000", "y": "1050"}
    there = cabin(SOFA, doors=[DOOR, BACK], furniture_by_state=night)
    finding = hold(there, "exits_apart", "0.5")
    assert (finding.state, finding.value, finding.in_state) == (State.SHORT, 0, "night")
    assert said(finding) == [
        "exits that are open: D1",
        "D2 is closed: the way to it is 300 mm, between a wall of R1 and U2, of 550 mm",
    ]


def test_a_hatch_is_no_exit_and_one_exit_is_none_apart(cabin, hold):
    hatch = BACK | {"leaf_w": "700", "clear_w": "700"}
    finding = hold(cabin(SOFA, doors=[DOOR, hatch]), "exits_apart", "0.5")
    assert said(finding) == [
        "exits that are open: D1",
        "D2 is climbed through: 700 mm, of 750 mm",
    ]
    only = hold(cabin(SOFA, doors=DOOR | {"clear_w": "700"}), "exits_apart", "0.5")
    assert said(only)[0] == "exits that are open: none"


def test_rooms_without_a_place_and_doors_and_furniture_too_leave_no_verdict(cabin, hold):
    two = [ROOM, ROOM | {"mark": "R2", "room": "Other"}]
    assert "R2, On the plan, up (room schedule)" in (
        hold(cabin(SOFA, rooms=two), "exits_apart", "0.5").missing
    )
    lost = hold(
        cabin(
            SOFA, rooms=ROOM | ON_ONE_PLAN, doors=[DOOR, BACK, BACK | {"mark": "D3", "left": ""}]
        ),
        "exits_apart",
        "0.5",
    )
    assert (lost.state, lost.missing) == (
        State.NO_DATA,
        ("D3, From the left (door schedule)",),
    )
    unplaced = hold(cabin(SOFA | {"plan_x": ""}, doors=[DOOR, BACK]), "exits_apart", "0.5")
    assert unplaced.state is State.NO_DATA


def test_inner_doors_are_no_exits_and_the_diagonal_runs_over_all_rooms(hut, hold):
    finding = hold(hut(doors=(DOOR, TO_BUNKS, TO_WC)), "exits_apart", "0.5")
    assert finding.value == 0
    assert hold(
        hut(doors=(DOOR, TO_BUNKS, TO_WC, BACK | {"faces": "W", "mark": "D4"})),
        "exits_apart",
        "0.5",
    ).value == pytest.approx(math.hypot(1.45, 1.2) / math.hypot(5, 5.5))


def test_a_building_of_lofts_alone_has_no_floor_by_the_door(cabin, hold):
    finding = hold(cabin(SOFA, rooms=ROOM | {"level": "1"}), "exits_apart", "0.5")
    assert finding.missing == ("a room on the floor by the door (room schedule)",)
