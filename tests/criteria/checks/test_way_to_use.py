"""The way to seats, tables, worktops, toilets and other doors out: by hand on the walker's room."""

import pytest

from criteria.findings import State
from criteria.package import read_package
from tests.criteria.checks.test_ways import (
    BED,
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

WORKTOP = piece("U2", 2, 3.5, 1.8, 2.4, kind="worktop", front="one long side")
"""Against the upper wall: 1.8 m before it."""


def said(finding):
    return [step.write() for step in finding.steps]


def test_each_place_has_its_own_figure_and_the_worst_is_named(cabin, hold):
    """A chest leaves 2.4 − 1.9 = 500 mm on the way to the table; the door gives 900."""
    table = piece("U3", 5, 6, 0, 0.8, kind="table", front="one long side")
    chest = piece("U4", 4.2, 4.8, 0, 1.9)
    finding = hold(cabin(WORKTOP, table, chest), "way_to_use", "600")
    assert finding.value == pytest.approx(0.5, abs=1e-9)
    assert (finding.state, finding.subject) == (State.SHORT, "R1")
    assert said(finding) == [
        "U3 is reached by 500 mm, between a wall of R1 and U4",
        "U2 is reached by 900 mm, in D1",
    ]


def test_a_seat_with_a_table_before_it_is_got_to_by_its_end(cabin, hold):
    """A bench along the upper wall, a table hard before all of its free side."""
    bench = piece("U2", 3, 5, 2, 2.4, kind="seat", front="one long side")
    table = piece("U3", 3, 5, 1.2, 2, kind="table", front="all")
    finding = hold(cabin(bench, table), "way_to_use", "300")
    assert finding.value > 0.3
    assert [line.split()[0] for line in said(finding)] == ["U2", "U3"]
    boxed = [piece("U4", 5, 6, 1.2, 2.4), piece("U5", 2.5, 3, 1.2, 2.4)]
    none = hold(cabin(bench, table, *boxed), "way_to_use", "300")
    assert said(none)[0] == (
        "U2 is reached by 0 mm, nothing is free before the sides that U2 is used from"
    )


def test_a_table_with_stools_all_round_is_got_to_by_them(cabin, hold):
    """Stools 20 mm off both long sides leave no way to the table's own; past them 900 is free."""
    table = piece("U2", 3, 4, 1.0, 1.4, kind="table", front="long")
    stools = [
        piece("U3", 3, 4, 0.58, 0.98, kind="seat"),
        piece("U4", 3, 4, 1.42, 1.5, kind="seat"),
    ]
    finding = hold(cabin(table, *stools), "way_to_use", "500")
    assert finding.state is State.MEETS
    chest = piece("U3", 3, 4, 0.58, 0.98), piece("U4", 3, 4, 1.42, 1.5)
    assert hold(cabin(table, *chest), "way_to_use", "500").value == pytest.approx(0.02, abs=1e-6)


def test_what_is_used_from_no_side_is_no_end_and_what_cannot_be_read_is_no_data(cabin, hold):
    hearth = piece("U2", 2.5, 3.5, 1.4, 2.4, kind="stove", front="none")
    finding = hold(cabin(BED, hearth), "way_to_use", "500")
    assert [line.split()[0] for line in said(finding)] == ["U1"]
    tables = {"rooms": [ROOM], "doors": [DOOR], "furniture": [BED, hearth | {"front": "~?"}]}
    odd = hold(read_package(tables).package, "way_to_use", "500")
    assert odd.state is State.NO_DATA
    assert odd.missing[0].startswith("U2, Used from (furniture schedule): read")


def test_a_toilet_and_a_second_door_are_ends_of_ways_in_their_rooms(hut, hold):
    back = DOOR | {"mark": "D4", "role": "second exit", "faces": "W", "left": "500"}
    there = hut(doors=(DOOR, TO_BUNKS, TO_WC, back | {"clear_w": "550", "leaf_w": "550"}))
    finding = hold(there, "way_to_use", "600")
    worst = {measured.subject: said(measured) for measured in finding.worst_first}
    assert worst["R1"] == ["D4 is reached by 550 mm, in D4"]
    assert set(worst) == {"R1", "R2", "R3"}
    assert worst["R3"][0].startswith("R3 is reached by ")


def test_the_main_exit_and_whatever_stands_for_it_is_no_end(cabin, hold):
    unsaid = DOOR | {"role": "other exit"}
    assert len(said(hold(cabin(BED, doors=unsaid), "way_to_use", "600"))) == 1


def test_a_passage_that_was_typed_stands_beside_the_least_way_in_its_room(cabin, hold):
    chest = piece("U4", 2.4, 3, 0, 1.9)
    rooms = ROOM | {"passage_mm": "900"}
    finding = hold(cabin(BED, chest, rooms=rooms), "way_to_use", "600")
    assert "R1 says a passage of 900 mm, walked it is 500 mm" in [
        note.write() for note in finding.notes
    ]


def test_what_has_no_place_leaves_a_miss_and_no_pass(cabin, hold):
    nowhere = piece("U5", 1, 2, 1, 2, kind="seat", plan_x="")
    known = hold(cabin(BED, nowhere), "way_to_use", "1000")
    assert known.state is State.SHORT
    unknown = hold(cabin(BED, nowhere), "way_to_use", "600")
    assert unknown.state is State.NO_DATA
    assert "U5, On the plan, across (furniture schedule)" in unknown.missing
    alone = hold(cabin(nowhere), "way_to_use", "600")
    assert alone.missing == ("U5, On the plan, across (furniture schedule)",)
    lost = DOOR | {"mark": "D2", "role": "second exit", "left": "5900"}
    off = hold(cabin(BED, doors=[DOOR, lost]), "way_to_use", "600")
    assert "a place for D2 on its plan" in off.missing


def test_where_nothing_is_used_there_is_nothing_to_reach(cabin, hold):
    finding = hold(cabin(piece("U2", 2, 3, 0, 1), rooms=ROOM), "way_to_use", "600")
    assert finding.missing == ("furniture that is used, in a room (furniture schedule)",)


def test_by_day_and_at_night_the_narrower_decides_and_says_when(cabin, hold):
    night = {"mark": "U1", "state": "night", "w": "1900", "y": "950"}
    finding = hold(cabin(BED, furniture_by_state=night), "way_to_use", "600")
    assert finding.in_state == "night"
    # 2.4 − 1.9 = 0.5 beside the bed pulled out
    assert finding.value == pytest.approx(0.5, abs=1e-9)


# a leg of 1.5 × 2.4 m beside the room's 6 × 2.4 m, drawn as one room of two rectangles
LEG = ROOM | {
    "mark": "R4",
    "room": "Bay",
    "use": "circulation",
    "part_of": "R1",
    "at_x": "6",
    "at_y": "0",
    "width_m": "1.5",
    "floor_m2": "3.6",
}


def test_what_is_typed_in_the_leg_of_a_room_stands_there(cabin, hold):
    """A worktop in the leg, 0.9 − 0.5 = 400 mm behind a chest there."""
    chest = piece("U3", 0.2, 0.5, 0, 1.7, room="R4")
    worktop = piece("U2", 0.9, 1.5, 0.5, 2, room="R4", kind="worktop", front="one long side")
    there = cabin(worktop, chest, rooms=[LEG, ROOM | ON_ONE_PLAN])
    finding = hold(there, "way_to_use", "600")
    step = "U2 is reached by 400 mm, between U2 and U3"
    assert step in said(finding)
    assert finding.subject == "R4"
