"""Ways at the edges: doors off their walls, rooms off the plan, storeys above, gaps in walls."""

import random
from itertools import pairwise

import pytest

from criteria.checks.catalogue import CHECKS
from criteria.findings import State
from criteria.walking.of_package import Storeys
from tests.criteria.checks.test_ways import (
    BED,
    BUNKS,
    DOOR,
    HALL,
    ROOM,
    TO_BUNKS,
    TO_WC,
    WC,
    bed,
    cabin,
    hut,
    piece,
)

__all__ = ["cabin", "hut"]

HATCH = {
    "mark": "D4",
    "place": "Hatch",
    "leaf_w": "600",
    "clear_w": "600",
    "outside": "yes",
    "role": "second exit",
    "room": "R2",
    "faces": "W",
    "left": "300",
}
UNPLACED = [room | {"at_x": "", "at_y": ""} for room in (HALL, BUNKS, WC)]


@pytest.mark.parametrize(
    ("hinge", "low", "high"), [("left", 1.0, 1.9), ("right", 1.1, 2.0), ("", 1.05, 1.95)]
)
def test_what_is_clear_of_a_door_lies_at_its_latch(cabin, hinge, low, high):
    """A leaf from x = 1 to 2, 900 mm of it clear: its left end, seen from inside, is at x = 2."""
    door = DOOR | {"leaf_w": "1000", "left": "4000", "swing": "in", "hinge": hinge}
    (gate,) = Storeys(cabin(BED, doors=door)).of("R1").gates
    assert sorted(x for x, _ in gate.gap) == pytest.approx([low, high])


def test_a_door_past_the_end_of_its_wall_is_left_out_and_named(cabin, hold):
    door = DOOR | {"left": "5200", "swing": "in"}
    finding = hold(cabin(BED, doors=door), "doors_open_fully", "yes")
    assert finding.missing == ("a place for D1 on its plan: it ends past its wall",)


def test_a_room_with_two_legs_wants_a_place_for_both(hut, hold):
    leg = WC | {"mark": "R4", "use": "circulation", "part_of": "R1"}
    finding = hold(hut(rooms=(UNPLACED[0], BUNKS, WC, leg)), "walked_out", "9")
    assert "R1, On the plan, across (room schedule)" in finding.missing


def test_rooms_on_one_plan_lie_as_the_windows_of_all_of_them_do(hut, hold):
    """With more glass to the south-east, the toilet's window to the north is in the wall that
    looks north-west, the left one: its depth of 1.2 m runs across the plan."""
    glass = {"n": "1", "glass_w": "900", "glass_h": "900"}
    windows = [
        glass | {"mark": "W1", "room": "R2", "n": "3", "faces": "SE"},
        glass | {"mark": "W2", "room": "R3", "faces": "N"},
    ]
    toilet = WC | {"depth_m": "1.2", "width_m": "1.5"}
    bunks = {"faces": "NE"}
    doors = (DOOR | {"faces": "SW"}, TO_BUNKS | bunks, TO_WC | bunks)
    there = hut(rooms=(HALL, BUNKS, toilet), windows=windows, doors=doors)
    storey = Storeys(there).of("R1")
    assert storey.turned_deg == 45
    (place,) = (place for place in storey.places if place.room == "R3")
    assert (place.low, place.high) == ((4.2, 2.5), (pytest.approx(5.4), 4.0))
    assert hold(there, "way_to_toilet", "650").value == pytest.approx(0.65, abs=1e-9)


def test_an_inner_door_to_what_has_no_place_is_left_out_and_named(hut, hold):
    store = TO_WC | {"mark": "D5", "faces": "E", "left": "0"}
    finding = hold(hut(doors=(DOOR, TO_BUNKS, TO_WC, store)), "way_to_bed", "600")
    words = "not on the plan: D5 (what it opens to has no place on the plan)"
    assert words in [note.write() for note in finding.notes]


def test_nobody_slips_between_the_walls_of_two_rooms(hut, hold):
    """With the main exit stood shut, 100 mm between hall and bunk room would be a way in."""
    finding = hold(hut(piece("U2", 0.9, 2, 0, 0.05)), "way_to_bed", "600")
    assert (finding.state, finding.value) == (State.SHORT, 0)


def test_a_bed_may_be_used_from_its_end(cabin, hold):
    """Its end is at x = 4, a locker's at 3.6; its long side against the upper wall isn't used."""
    there = cabin(bed("U1", 4, 6, 1.5, 2.4, front="short"), piece("U2", 3, 3.6, 1.5, 2.4))
    finding = hold(there, "room_before", "yes")
    assert [step.write() for step in finding.steps] == ["U1: 400 mm before it to U2, of 600 mm"]


def test_where_no_main_exit_is_said_the_widest_door_is_the_first_and_the_other_the_second(
    hut, hold
):
    unsaid = DOOR | {"role": "other exit"}
    there = hut(doors=(unsaid, TO_BUNKS, TO_WC, HATCH))
    finding = hold(there, "second_way_out", "550")
    assert finding.value == pytest.approx(0.6, abs=1e-9)
    first = hold(there, "way_to_bed", "550")
    words = "no main exit is said: reckoned from D1, the widest"
    assert words in [note.write() for note in first.notes]


@pytest.mark.parametrize("check", ["second_way_out", "walked_out"])
def test_a_room_on_its_own_plan_is_not_known_to_have_a_way_outside(hut, hold, check):
    finding = hold(hut(rooms=UNPLACED), check, "9")
    assert finding.state is State.NO_DATA
    assert "R2, On the plan, across (room schedule)" in finding.missing


def test_one_room_alone_has_the_second_door_that_is_drawn_in_it(cabin, hold):
    back = HATCH | {"room": "R1"}
    finding = hold(cabin(BED, doors=[DOOR, back]), "second_way_out", "550")
    assert finding.value == pytest.approx(0.6, abs=1e-9)
    none = hold(cabin(BED, rooms=ROOM), "second_way_out", "550")
    assert (none.state, none.value) == (State.SHORT, 0)


def test_a_door_that_opens_into_the_next_room_hangs_at_its_far_face(hut, hold):
    """Hung at (3.0, 2.5), past 100 mm of wall; a chest's edge 0.3 m off: asin(0.3 ÷ 0.7) = 25°."""
    out = TO_BUNKS | {"swing": "out", "hinge": "left"}
    chest = piece("U2", 2.5, 3, 0.3, 0.8, room="R2")
    finding = hold(hut(chest, doors=(DOOR | {"swing": "out"}, out)), "doors_open_fully", "yes")
    assert "D2 opens 25° and meets U2" in [step.write() for step in finding.steps]


def test_the_leaf_of_that_door_stands_open_in_the_next_room(hut):
    """700 mm from (3.0, 2.5), 40 mm thick beside the 700 that are clear."""
    out = TO_BUNKS | {"swing": "out", "hinge": "left"}
    gates = Storeys(hut(doors=(DOOR, out, TO_WC))).of("R1").gates
    (leaf,) = [gate.leaf for gate in gates if gate.mark == "D2"]
    xs, ys = zip(*leaf.corners, strict=True)
    assert (min(xs), max(xs)) == pytest.approx((2.96, 3.0))
    assert (min(ys), max(ys)) == pytest.approx((2.5, 3.2))


# a hall of 6 × 0.8 m: a door of 700 mm in its upper wall, x = 2 to 2.7, that opens into it
HALLWAY = ROOM | {
    "mark": "R1",
    "room": "Hallway",
    "use": "circulation",
    "depth_m": "0.8",
    "at_x": "0",
    "at_y": "0",
}
STORE = HALLWAY | {"mark": "R2", "room": "Store", "use": "store", "depth_m": "1", "at_y": "0.9"}
INTO_HALL = TO_BUNKS | {"room": "R1", "swing": "in", "left": "2000", "hinge": "left"}
FRONT = DOOR | {"faces": "W", "left": "0", "leaf_w": "700", "clear_w": "700", "swing": "slides"}


@pytest.mark.parametrize("hinge", ["left", "right"])
def test_a_door_that_a_way_can_do_without_is_shut_on_it(cabin, hold, hinge):
    """Open, its leaf of 700 leaves 100 mm of the hall; the way to the bench goes by, 700 wide."""
    bench = piece("U1", 5, 6, 0, 0.05, kind="bed", night="1", front="long", height_mm="450")
    there = cabin(
        bench,
        rooms=[HALLWAY, STORE],
        doors=[FRONT, INTO_HALL | {"hinge": hinge}],
    )
    finding = hold(there, "way_to_bed", "600")
    assert finding.value == pytest.approx(0.7, abs=0.06)
    out = hold(there, "walked_out", "9")
    assert out.value == pytest.approx(5, abs=1)


def test_a_leaf_that_a_way_leads_past_in_its_own_door_narrows_it(cabin, hold):
    """Into the store through that door: 900 of room, or what its own leaf leaves of it."""
    chest = piece("U1", 3.2, 4.2, 0.1, 0.9, room="R2", kind="bed", night="1", height_mm="450")
    there = cabin(
        chest,
        rooms=[HALLWAY, STORE],
        doors=[FRONT, INTO_HALL | {"hinge": "left"}],
    )
    finding = hold(there, "way_to_bed", "600")
    assert finding.value == pytest.approx(0.1, abs=1e-6)
    assert "D2, open" in finding.notes[0].write()


def test_a_wheelchair_turns_behind_a_door_that_is_shut_behind_it(cabin, hold):
    """A hall of 6 × 1.6 m; open at x = 1.4 a leaf of 900 leaves 700 of it, under 32 in."""
    hall = HALLWAY | {"use": "day", "depth_m": "1.6"}
    store = STORE | {"at_y": "1.7"}
    wide = {"leaf_w": "900", "clear_w": "900"}
    doors = [FRONT | wide, INTO_HALL | wide | {"left": "500", "hinge": "right"}]
    stool = piece("U1", 5.9, 6, 0, 0.1, kind="seat")
    finding = hold(cabin(stool, rooms=[hall, store], doors=doors), "circle_reached", "1500")
    assert finding.value == pytest.approx(1.6, abs=0.002)


@pytest.mark.parametrize("seed", range(12))
def test_more_furniture_never_widens_a_way_past_open_leaves(hut, seed):
    draw = random.Random(seed)
    hung = [
        door | {"swing": draw.choice(("in", "out")), "hinge": draw.choice(("left", "right"))}
        for door in (DOOR, TO_BUNKS, TO_WC)
    ]
    pieces = []
    for n in range(6):
        x, y = draw.uniform(0, 5), draw.uniform(0, 2)
        wide, deep = draw.uniform(0.1, 0.9), draw.uniform(0.1, 0.4)
        pieces.append(piece(f"U{n + 2}", x, x + wide, y, y + deep))
    for check in ("way_to_bed", "way_to_toilet"):
        widths = [
            CHECKS[check].of(hut(*pieces[:n], doors=hung))[0].values[0]
            for n in range(len(pieces) + 1)
        ]
        assert all(more <= less + 1e-6 for less, more in pairwise(widths)), widths
