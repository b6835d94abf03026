"""What stands before doors, furniture and windows, in the cabin of the ways' tests."""

import pytest

from criteria.findings import State
from criteria.package import read_package
from tests.criteria.checks.test_ways import BED, DOOR, ROOM, bed, cabin, piece

__all__ = ["cabin"]

IN = DOOR | {"swing": "in", "hinge": "left"}
"""Hung at (1.9, 0), it points to x = 1.0 when it is shut, and opens towards y."""


def written(finding) -> list[str]:
    return [step.write() for step in finding.steps]


# doors


def test_a_leaf_that_meets_a_cupboard_says_how_far_it_opens(cabin, hold):
    """As oracle states-walk “meets”, mirrored: atan(0.3 ÷ √(0.81 − 0.09)) = 19.47°."""
    finding = hold(cabin(piece("U2", 0.9, 1.4, 0.3, 0.8), doors=IN), "doors_open_fully", "yes")
    assert (finding.state, finding.write_value()) == (State.SHORT, "not: D1 (meets U2)")
    assert written(finding) == ["D1 opens 19° and meets U2"]


def test_a_leaf_whose_edge_passes_a_cupboard_opens_fully(cabin, hold):
    """As oracle states-walk “clears”, mirrored: the nearest corner is 0.922 m off, the leaf 0.9."""
    clears = piece("U2", 0.7, 1.2, 0.6, 1.0)
    finding = hold(cabin(clears, doors=IN), "doors_open_fully", "yes")
    assert (finding.state, written(finding)) == (State.MEETS, ["D1 opens fully"])


def test_the_end_at_which_a_door_hangs_is_asked_where_it_decides(cabin, hold):
    unsaid = IN | {"hinge": ""}
    finding = hold(cabin(piece("U2", 0.7, 1.2, 0.6, 1.0), doors=unsaid), "doors_open_fully", "yes")
    assert finding.missing == ("D1, Hinged at (door schedule)",)
    free = hold(cabin(piece("U2", 4, 5, 0, 1), doors=unsaid), "doors_open_fully", "yes")
    assert free.state is State.MEETS


def test_a_door_that_opens_out_of_doors_meets_nothing_indoors(cabin, hold):
    out = IN | {"swing": "out"}
    finding = hold(cabin(piece("U2", 0.9, 1.4, 0.3, 0.8), doors=out), "doors_open_fully", "yes")
    assert finding.state is State.MEETS


def test_a_door_beside_a_wall_opens_along_it_and_stops_at_the_one_before_it(cabin, hold):
    corner = IN | {"left": "0"}
    assert hold(cabin(BED, doors=corner), "doors_open_fully", "yes").state is State.SHORT
    assert hold(cabin(doors=corner, furniture_by_state=[]), "doors_open_fully", "yes").state is (
        State.MEETS
    )
    narrow = ROOM | {"depth_m": "0.8", "floor_m2": "4.8"}
    finding = hold(cabin(rooms=narrow, doors=IN), "doors_open_fully", "yes")
    assert written(finding) == ["D1 opens 63° and meets a wall of R1"]  # asin(0.8 ÷ 0.9) = 62.7°


def test_a_door_opens_into_the_bed_that_is_made_at_night_alone(cabin, hold):
    seat = piece("U2", 0, 0.4, 0, 0.9, kind="seat")
    made = {"mark": "U2", "state": "night", "x": "700", "l": "1400", "made": "yes"}
    finding = hold(cabin(seat, doors=IN, furniture_by_state=made), "doors_open_fully", "yes")
    assert (finding.state, finding.situation) == (State.SHORT, "state night")
    assert hold(cabin(seat, doors=IN), "doors_open_fully", "yes").state is State.MEETS


@pytest.mark.parametrize("head", ["room", "faces", "left", "leaf_w", "swing"])
def test_a_door_of_which_something_is_not_said_leaves_no_verdict(cabin, hold, head):
    finding = hold(cabin(BED, doors=IN | {head: ""}), "doors_open_fully", "yes")
    assert finding.state is State.NO_DATA
    assert any(cell.startswith("D1, ") for cell in finding.missing)


# room before what is used


def test_a_locker_too_near_a_bed_is_named(cabin, hold):
    near = piece("U2", 3.5, 6, 1.4, 2.4)
    finding = hold(cabin(BED, near), "room_before", "yes")
    assert finding.write_value() == "not: U1 (U2 before it)"
    assert written(finding) == ["U1: 500 mm before it to U2, of 600 mm"]
    far = piece("U2", 3.5, 6, 1.5, 2.4)
    assert hold(cabin(BED, far), "room_before", "yes").state is State.MEETS


def test_what_stands_before_a_corner_of_a_side_counts_over_its_whole_width(cabin, hold):
    """As oracle states-walk “worktop, corner of an island”: 1.3 − 0.6 = 0.7 over 100 mm."""
    top = piece("U1", 0.5, 2.5, 0, 0.6, kind="worktop")
    finding = hold(cabin(top, piece("U2", 2.4, 3, 1.3, 2.0)), "room_before", "yes")
    assert written(finding) == ["U1: 700 mm before it to U2, of 900 mm"]


def test_a_side_against_a_wall_is_used_only_where_somebody_says_so(cabin, hold):
    table = piece("U1", 4, 5, 0, 0.8, kind="table")
    assert hold(cabin(table), "room_before", "yes").state is State.MEETS
    finding = hold(cabin(table | {"front": "all"}), "room_before", "yes")
    assert finding.write_value() == "not: U1 (R1 before it)"


def test_chairs_take_no_room_from_their_table_nor_it_from_them(cabin, hold):
    table = piece("U1", 4, 5, 0.9, 1.5, kind="table", front="long")
    chairs = [
        piece("U2", 4.2, 4.6, 0.5, 0.9, kind="seat"),
        piece("U3", 4.2, 4.6, 1.5, 1.9, kind="seat"),
    ]
    assert hold(cabin(table, *chairs), "room_before", "yes").state is State.MEETS


def test_a_side_that_looks_out_of_the_building_has_no_floor_before_it(cabin, hold):
    """A room that turns, or a place mistyped: nothing endless is written, and nothing is free."""
    outside = piece("U1", 8.0, 8.4, 1.0, 1.6, kind="toilet", front="short")
    finding = hold(cabin(outside), "room_before", "yes")
    assert finding.write_value() == "not: U1 (no floor before it, no floor beside it)"
    assert written(finding) == [
        "U1: 0 mm before it to the outside, of 533 mm",
        "U1: 200 mm from its middle to the outside, of 381 mm",
    ]


def test_a_bed_drawn_a_little_into_its_wall_is_used_from_the_other_side(cabin, hold):
    finding = hold(cabin(bed("U1", 4.01, 6.01, 0, 0.9)), "room_before", "yes")
    assert written(finding) == ["U1: 1\u202f500 mm before it to a wall of R1, of 600 mm"]


# toilets, basins and showers (IRC R307.1 and P2705.1, a secondary source: 21, 15 and 24 in)


# 380 × 700 mm against the upper wall, used from its lower end
TOILET = piece("U1", 3, 3.38, 1.7, 2.4, kind="toilet")


@pytest.mark.parametrize(
    ("others", "value"),
    [
        ([], "all"),
        ([piece("U2", 2.5, 4, 0.6, 1.166, kind="hook", height_mm="900")], "all"),
        ([piece("U2", 2.5, 4, 0.6, 1.166)], "all"),
        ([piece("U2", 2.5, 4, 0.6, 1.167)], "not: U1 (U2 before it)"),
        # 190 mm of the toilet's own half, and 191 of 381
        ([piece("U2", 2.4, 2.809, 2, 2.4)], "all"),
        ([piece("U2", 2.4, 2.810, 2, 2.4)], "not: U1 (U2 beside it)"),
    ],
)
def test_a_toilet_has_room_before_it_and_on_both_sides_of_its_middle(cabin, hold, others, value):
    finding = hold(cabin(TOILET, *others), "room_before", "yes")
    assert finding.write_value() == value


def test_the_working_of_a_toilet_says_both(cabin, hold):
    beside = piece("U2", 2.4, 2.9, 1.9, 2.4)
    assert written(hold(cabin(TOILET, beside), "room_before", "yes")) == [
        "U1: 1\u202f700 mm before it to a wall of R1, of 533 mm",
        "U1: 290 mm from its middle to U2, of 381 mm",
    ]


@pytest.mark.parametrize(
    ("kind", "deep", "holds"), [("basin", 1.46, True), ("shower", 1.46, False)]
)
def test_a_basin_and_a_shower_are_used_from_one_long_side(cabin, hold, kind, deep, holds):
    """2.4 − 0.4 − 1.46 = 540 mm before it: over 21 in, under 24."""
    fixture = piece("U1", 3, 3.6, 2, 2.4, kind=kind)
    locker = piece("U2", 2.8, 3.8, 0, deep)
    assert hold(cabin(fixture, locker), "room_before", "yes").state.is_met is holds


# escape windows

WINDOW = {
    "mark": "W1",
    "room": "R1",
    "n": "1",
    "glass_w": "900",
    "glass_h": "1000",
    "opens": "side-hung",
    "sill": "900",
    "faces": "N",
    "left": "4500",
    "escape_w": "600",
    "escape_h": "1000",
}
INSIDE = DOOR | {"outside": "no", "role": "internal"}


def escape(cabin, hold, *pieces, **more):
    return hold(
        cabin(*pieces, **{"windows": WINDOW, "doors": INSIDE, **more}), "escape_at_night", "yes"
    )


def test_a_window_behind_a_made_bunk_is_no_escape(cabin, hold):
    bunk = bed("U2", 4, 6, 1.5, 2.4, height_mm="1600")
    finding = escape(cabin, hold, bunk)
    assert finding.write_value() == "not: R1 (Cabin)"
    assert written(finding) == ["W1 is behind U2, 1\u202f600 mm high before a sill of 900 mm"]


def test_a_bed_under_the_sill_is_climbed_over_and_said(cabin, hold):
    finding = escape(cabin, hold, bed("U2", 4, 6, 1.5, 2.4))
    assert (finding.state, written(finding)) == (State.MEETS, ["W1 is climbed to over U2"])


def test_a_trundle_made_before_the_window_blocks_it_at_night_alone(cabin, hold):
    chest = piece("U2", 0, 1.9, 1.5, 2.4, kind="seat", night="0", height_mm="450")
    night = {"mark": "U2", "state": "night", "x": "5000", "h": "950", "made": "yes"}
    assert escape(cabin, hold, BED, chest).state is State.MEETS
    finding = escape(cabin, hold, BED, chest, furniture_by_state=night)
    assert (finding.state, finding.situation) == (State.SHORT, "state night")


def test_the_way_from_a_bed_to_the_window_is_walked(cabin, hold):
    """The window lies 0.5 m past a locker that leaves 2.4 − 1.9 = 0.5 m: less than 550."""
    sleeper = bed("U1", 0, 0.9, 0, 1.9)
    narrow = piece("U2", 2.5, 3.5, 0, 1.9)
    finding = escape(cabin, hold, sleeper, narrow)
    assert finding.state is State.SHORT
    assert written(finding) == ["W1 is reached by 500 mm from U1, of 550 mm"]
    wide = piece("U2", 2.5, 3.5, 0, 1.8)
    assert escape(cabin, hold, sleeper, wide).state is State.MEETS


@pytest.mark.parametrize("shut", [{"covered_by": "Flap"}, {"locked": "yes"}])
def test_a_window_covered_or_locked_at_night_is_none(cabin, hold, shut):
    row = {"mark": "W1", "state": "night", **shut}
    finding = escape(cabin, hold, BED, openings_by_state=row)
    assert (finding.state, finding.situation) == (State.SHORT, "state night")


def test_a_door_out_of_the_room_is_a_way_where_the_window_is_none(cabin, hold):
    bunk = bed("U2", 4, 6, 1.5, 2.4, height_mm="1600")
    door = DOOR | {"height": "2000"}
    finding = escape(cabin, hold, bunk, doors=door)
    assert finding.state is State.MEETS


def test_a_window_in_a_wall_that_its_room_has_not_leaves_no_verdict(cabin, hold):
    north, askew = WINDOW | {"escape_w": "100"}, WINDOW | {"mark": "W2", "faces": "NE"}
    finding = escape(cabin, hold, windows=[north, askew])
    assert finding.state is State.NO_DATA
    assert finding.missing == ("a wall of R1 that looks NE, as W2",)


@pytest.mark.parametrize(
    ("slug", "head", "cell"),
    [
        ("windows", "left", "W1, From the left (window schedule)"),
        ("windows", "escape_w", "W1, Clear opening w (window schedule)"),
        ("windows", "faces", "W1, Faces (window schedule)"),
        ("furniture", "height_mm", "U1, Height (furniture schedule)"),
        ("furniture", "plan_x", "U1, On the plan, across (furniture schedule)"),
    ],
)
def test_what_decides_and_is_blank_or_unread_leaves_no_verdict(hold, slug, head, cell):
    for text in ("", "~?"):
        tables = {
            "rooms": [ROOM],
            "windows": [WINDOW],
            "doors": [INSIDE],
            "furniture": [bed("U1", 4, 6, 1.5, 2.4)],
        }
        tables[slug][0] = tables[slug][0] | {head: text}
        finding = hold(read_package(tables).package, "escape_at_night", "yes")
        assert finding.state is State.NO_DATA
        assert any(each.startswith(cell) for each in finding.missing), finding.missing


def test_where_nobody_sleeps_no_window_is_asked_for(cabin, hold):
    finding = hold(cabin(BED, rooms=ROOM | {"use": "day"}), "escape_at_night", "yes")
    assert (finding.value, finding.missing) == (None, ())


# open leaves, and leaves that strike each other

HUNG = DOOR | {"swing": "in", "hinge": "left"}
"""Open at 90° it stands from x = 1.9 to 1.94, from the wall to y = 0.9."""
LOCKER = piece("U2", 2.24, 3, 1.3, 2.4)
"""From the leaf's edge to its corner: √(0.3² + 0.4²) = 0.5."""


@pytest.mark.parametrize(
    ("cells", "mm", "between"),
    [
        ({}, 500, "between D1, open and U2"),
        ({"hinge": "right"}, 900, "in D1"),
        ({"swing": "out"}, 900, "in D1"),
        ({"swing": "slides"}, 900, "in D1"),
        ({"hinge": ""}, 900, "in D1"),
    ],
)
def test_the_leaf_of_an_open_door_stands_in_the_way(cabin, hold, cells, mm, between):
    there = cabin(bed("U1", 4, 6, 0, 0.9), LOCKER, doors=HUNG | cells)
    finding = hold(there, "way_to_bed", "600")
    assert finding.value == pytest.approx(mm / 1000, abs=1e-9)
    assert finding.notes[0].write() == f"U1 is reached by {mm} mm, {between}"


def test_a_leaf_takes_nothing_of_what_its_door_is_clear(cabin, hold):
    """A leaf of 1\u202f000 mm leaves 900 beside its 40 mm; a shut one narrows no circle."""
    wide = HUNG | {"leaf_w": "1000"}
    finding = hold(cabin(bed("U1", 4, 6, 0, 0.9), doors=wide), "way_to_bed", "600")
    assert finding.value == pytest.approx(0.9, abs=1e-9)


# quarter circles of 0.9 about (1.2, 0) and (0, 1.2): both hold (0.6, 0.6), √0.72 = 0.85 from each
CORNER = HUNG | {"left": "4800"}


@pytest.mark.parametrize(
    ("left", "cells", "strike"),
    [
        ("300", {}, True),
        ("1300", {}, False),
        ("300", {"swing": "out"}, False),
        ("300", {"swing": "slides"}, False),
    ],
)
def test_two_leaves_that_strike_each_other_are_said_and_decide_nothing(
    cabin, hold, left, cells, strike
):
    beside = HUNG | {"mark": "D2", "role": "other exit", "faces": "W", "hinge": "right"}
    there = cabin(BED, doors=[CORNER, beside | {"left": left} | cells])
    finding = hold(there, "doors_open_fully", "yes")
    assert finding.state is State.MEETS
    said = "D1 and D2 strike each other" in [note.write() for note in finding.notes]
    assert said is strike


def test_the_two_leaves_of_one_pair_close_on_each_other_and_strike_nothing(cabin, hold):
    """Hung at x = 1 and 2.8, both 900 mm: their edges only touch."""
    one = HUNG | {"left": "3200"}
    other = HUNG | {"mark": "D2", "role": "other exit", "left": "4100", "hinge": "right"}
    finding = hold(cabin(BED, doors=[one, other]), "doors_open_fully", "yes")
    assert [note.write() for note in finding.notes] == []
