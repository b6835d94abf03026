"""The plan walked, of a package's own rows: figures by hand, from plans with round numbers.

The plan is one room of 6 × 2.4 m, its lower wall looking south, with a door of 900 mm clear in
it: the room of the walker's own tests. Its frame is the furniture's: x from the left wall, y up.
"""

import pytest

from criteria.findings import State
from criteria.package import read_package
from criteria.plans.of_package import outline
from criteria.situations import Situation, states_of

ROOM = {
    "mark": "R1",
    "room": "Cabin",
    "use": "sleep",
    "floor_m2": "14.4",
    "depth_m": "2.4",
    "width_m": "6",
    "clear_height_m": "2.4",
}
# left end of a wall that looks south is its east end: 6 − 1.9 = 4.1 m from it
DOOR = {
    "mark": "D1",
    "place": "Front",
    "leaf_w": "900",
    "clear_w": "900",
    "outside": "yes",
    "role": "main exit",
    "room": "R1",
    "faces": "S",
    "left": "4100",
}
ON_ONE_PLAN = {"at_x": "0", "at_y": "0"}


def piece(mark: str, x0: float, x1: float, y0: float, y1: float, **cells: str) -> dict[str, str]:
    """A piece between two x and two y in metres, as it is typed: sizes and middle in mm."""
    return {
        "mark": mark,
        "item": "Piece",
        "kind": "other",
        "n": "1",
        "room": "R1",
        "l": f"{1000 * (x1 - x0):g}",
        "w": f"{1000 * (y1 - y0):g}",
        "plan_x": f"{500 * (x0 + x1):g}",
        "plan_y": f"{500 * (y0 + y1):g}",
        **cells,
    }


def bed(mark: str, x0: float, x1: float, y0: float, y1: float, **cells: str) -> dict[str, str]:
    return piece(mark, x0, x1, y0, y1, **{"kind": "bed", "night": "1", "height_mm": "450", **cells})


BED = bed("U1", 4, 6, 0, 0.9)
"""Its free long side lies 1.5 m from the upper wall."""


@pytest.fixture
def cabin(package):
    def made(*furniture, rooms=ROOM, doors=DOOR, **more):
        return package(rooms=rooms, doors=doors, furniture=list(furniture), **more)

    return made


# the way to a bed


# door 0.9, then y: 2.4 − 1.5 = 0.9 left beside the locker, and so on
@pytest.mark.parametrize(
    ("locker", "mm", "between"),
    [
        (piece("U2", 2, 3, 1.5, 2.4), 900, "in D1"),
        (piece("U2", 2.5, 3.5, 0.4, 1.6), 800, "between a wall of R1 and U2"),
        (piece("U2", 2.5, 3.5, 0, 1.78), 620, "between a wall of R1 and U2"),
        (piece("U2", 3, 3.1, 0, 2.4), 0, "between a wall of R1 and U2"),
    ],
)
def test_the_widest_way_is_as_wide_as_its_narrowest_place(cabin, hold, locker, mm, between):
    finding = hold(cabin(BED, locker), "way_to_bed", "700")
    assert finding.value == pytest.approx(mm / 1000, abs=1e-9)
    assert finding.notes[0].write() == f"U1 is reached by {mm} mm, {between}"
    assert finding.state is (State.MEETS if mm > 700 else State.SHORT)


def test_the_places_of_a_turned_piece_and_of_a_round_one_are_its_own(cabin, hold):
    """As oracle states-walk “turned square” and “round table”: 1.2 − √½ and 1.2 − 0.5."""
    square = piece("U2", 2.5, 3.5, 0.7, 1.7, turn="45")
    round_ = piece("U2", 2.5, 3.5, 0.7, 1.7, round="yes", w="")
    finding = hold(cabin(BED, square), "way_to_bed", "700")
    assert finding.value == pytest.approx(0.4928932188134524, abs=1e-9)
    assert hold(cabin(BED, round_), "way_to_bed", "700").value == pytest.approx(0.7, abs=1e-9)


def test_a_corridor_beside_a_bed_is_as_wide_as_it_is(cabin, hold):
    """A locker along the other wall leaves 1.5 − 1.0 = 0.5 m before all of the bed."""
    finding = hold(cabin(BED, piece("U2", 3.5, 6, 1.4, 2.4)), "way_to_bed", "700")
    assert finding.value == pytest.approx(0.5, abs=1e-9)
    assert finding.notes[0].write() == "U1 is reached by 500 mm, between U1 and U2"


def test_a_trundle_pulled_out_at_night_blocks_the_way_that_is_there_by_day(cabin, hold):
    """By day 0.6 deep; at night 1.9: 2.4 − 1.9 = 0.5 left, of which nobody said by day."""
    trundle = bed("U2", 2, 3, 0, 0.6, kind="seat", night="0")
    night = {"mark": "U2", "state": "night", "y": "950", "w": "1900", "made": "yes"}
    there = cabin(BED, trundle, furniture_by_state=night)
    finding = hold(there, "way_to_bed", "700")
    assert [(m.subject, m.in_state) for m in finding.worst_first] == [
        ("U1", "night"),
        ("U2", "night"),
    ]
    assert finding.value == pytest.approx(0.5, abs=1e-9)
    by_day = hold(cabin(BED, trundle), "way_to_bed", "700")
    assert by_day.value == pytest.approx(0.9, abs=1e-9)


def test_a_loft_bed_and_a_mat_stop_nobody(cabin, hold):
    over = piece("U2", 2, 3, 0, 2.4, under_mm="2100")
    mat = piece("U3", 2, 3, 0, 2.4, height_mm="40")
    assert hold(cabin(BED, over, mat), "way_to_bed", "700").value == pytest.approx(0.9)
    assert hold(cabin(BED, over | {"under_mm": "2000"}), "way_to_bed", "700").value == 0


def test_a_bunk_over_another_takes_no_room_before_it(cabin, hold):
    upper = bed("U2", 3.95, 6, 0, 0.95, under_mm="1000", height_mm="1600")
    finding = hold(cabin(BED, upper), "way_to_bed", "700")
    assert [m.values[0] for m in finding.worst_first] == pytest.approx([0.9, 0.9], abs=1e-6)


# what isn't known


def test_what_has_no_place_or_size_is_named_and_the_way_may_be_narrower(cabin, hold):
    lost = [
        piece("U2", 2, 3, 0, 1) | {"l": ""},
        piece("U3", 2, 3, 0, 1) | {"plan_x": ""},
        piece("U4", 2, 3, 0, 0.1, n="3"),
    ]
    finding = hold(cabin(BED, *lost), "way_to_bed", "700")
    assert finding.notes[-1].write() == (
        "not on the plan: U2 (it has no size); U3 (it has no place); U4 (2 of 3 have no place)"
    )


def test_what_is_in_no_room_is_named_too(cabin, hold):
    finding = hold(cabin(BED, piece("U2", 2, 3, 0, 1) | {"room": ""}), "way_to_bed", "700")
    assert finding.missing == ("a place for U2 on its plan: it is in no room",)


def test_a_bed_whose_sides_cannot_be_read_says_so_and_the_other_is_measured(hold):
    beds = [BED, bed("U2", 0, 2, 0, 0.9, front="askew")]
    reading = read_package({"rooms": [ROOM], "doors": [DOOR], "furniture": beds})
    finding = hold(reading.package, "way_to_bed", "700")
    assert finding.missing[0].startswith("U2, Used from (furniture schedule): read “askew”")
    assert [m.subject for m in finding.worst_first if m.values] == ["U1"]


def test_what_has_no_place_leaves_no_verdict_but_a_miss_stays_one(cabin, hold):
    lost = piece("U3", 2, 3, 0, 1) | {"plan_x": ""}
    assert hold(cabin(BED), "way_to_bed", "700").state.is_met
    finding = hold(cabin(BED, lost), "way_to_bed", "700")
    assert (finding.state, finding.missing) == (
        State.NO_DATA,
        ("a place for U3 on its plan: it has no place",),
    )
    assert hold(cabin(BED, lost), "way_to_bed", "1200").state is State.SHORT  # more only narrows


@pytest.mark.parametrize(
    ("head", "label"),
    [("l", "Length"), ("w", "Width"), ("plan_x", "On the plan, across"), ("room", "Room")],
)
def test_a_bed_that_nobody_can_place_has_no_data_and_names_its_cells(cabin, hold, head, label):
    finding = hold(cabin(BED | {head: ""}), "way_to_bed", "700")
    assert finding.state is State.NO_DATA
    assert f"U1, {label} (furniture schedule)" in finding.missing


@pytest.mark.parametrize(
    ("slug", "head", "label"),
    [
        ("furniture", "turn", "U2, Turned (furniture schedule)"),
        ("furniture", "l", "U2, Length (furniture schedule)"),
        ("furniture", "plan_y", "U2, On the plan, up (furniture schedule)"),
        ("furniture", "under_mm", "U2, Clear under (furniture schedule)"),
        ("furniture", "round", "U2, Round (furniture schedule)"),
        ("doors", "clear_w", "D1, Clear w (door schedule)"),
        ("doors", "left", "D1, From the left (door schedule)"),
        ("rooms", "depth_m", "R1, Depth (room schedule)"),
        ("rooms", "at_x", "R1, On the plan, across (room schedule)"),
    ],
)
def test_a_cell_that_cannot_be_read_leaves_no_verdict(hold, slug, head, label):
    tables = {
        "rooms": [ROOM | ON_ONE_PLAN],
        "doors": [dict(DOOR)],
        "furniture": [BED, piece("U2", 2, 3, 0, 1)],
    }
    tables[slug][-1] = tables[slug][-1] | {head: "~?"}
    finding = hold(read_package(tables).package, "way_to_bed", "700")
    assert finding.state is State.NO_DATA
    assert any(cell.startswith(f"{label}: read “~?”") for cell in finding.missing)


def test_a_room_without_sides_has_no_plan_and_says_so(cabin, hold):
    finding = hold(cabin(BED, rooms=ROOM | {"depth_m": "", "width_m": ""}), "way_to_bed", "700")
    assert finding.state is State.NO_DATA
    assert {"R1, Depth (room schedule)", "R1, Width (room schedule)"} <= {*finding.missing}


def test_a_room_whose_door_stands_nowhere_has_no_way(cabin, hold):
    finding = hold(cabin(BED, doors=DOOR | {"room": ""}), "way_to_bed", "700")
    assert finding.state is State.NO_DATA
    assert finding.missing == (
        "a door of R1 with its wall, its left end and its room (door schedule)",
    )


def test_no_bed_is_no_data(cabin, hold):
    finding = hold(cabin(piece("U2", 2, 3, 0, 1)), "way_to_bed", "700")
    assert finding.missing == ("beds (furniture schedule)",)


def test_a_passage_that_was_typed_is_held_to_what_is_walked(cabin, hold):
    locker = piece("U2", 2.5, 3.5, 0, 1.78)
    said = [
        hold(cabin(BED, locker, rooms=ROOM | {"passage_mm": mm}), "way_to_bed", "600")
        for mm in ("640", "900")
    ]
    words = "R1 says a passage of 900 mm, walked it is 620 mm"
    assert [words in [n.write() for n in f.notes] for f in said] == [False, True]
    assert not any("says a passage" in note.write() for note in said[0].notes)


# several rooms on one plan

HALL = ROOM | ON_ONE_PLAN | {"room": "Hall", "use": "circulation"}
BUNKS = {
    "mark": "R2",
    "room": "Bunks",
    "use": "sleep",
    "floor_m2": "9",
    "depth_m": "3",
    "width_m": "3",
    "clear_height_m": "2.4",
    "at_x": "1",
    "at_y": "2.5",
}
WC = {
    "mark": "R3",
    "room": "Toilet",
    "use": "wc",
    "floor_m2": "1.8",
    "depth_m": "1.5",
    "width_m": "1.2",
    "clear_height_m": "2.4",
    "at_x": "4.2",
    "at_y": "2.5",
}
# from the left of the hall's upper wall: x = 3 to 3.7, in R2; x = 4.5 to 5.15, in R3
TO_BUNKS = {
    "mark": "D2",
    "place": "Bunks",
    "leaf_w": "700",
    "clear_w": "700",
    "outside": "no",
    "role": "internal",
    "room": "R1",
    "faces": "N",
    "left": "3000",
}
TO_WC = TO_BUNKS | {"mark": "D3", "place": "WC", "leaf_w": "650", "clear_w": "650", "left": "4500"}
BUNK = bed("U1", 0, 2, 2.1, 3, room="R2")


@pytest.fixture
def hut(package):
    def made(*furniture, doors=(DOOR, TO_BUNKS, TO_WC), rooms=(HALL, BUNKS, WC), **more):
        return package(rooms=list(rooms), doors=list(doors), furniture=[BUNK, *furniture], **more)

    return made


def test_ways_lead_from_room_to_room_by_the_doors_between_them(hut, hold):
    finding = hold(hut(), "way_to_bed", "650")
    assert finding.value == pytest.approx(0.7, abs=1e-9)
    assert finding.notes[0].write() == "U1 is reached by 700 mm, in D2"
    locker = piece("U2", 2, 2.4, 0, 1.9)
    blocked = hold(hut(locker), "way_to_bed", "650")
    assert blocked.value == pytest.approx(0.5, abs=1e-9)
    assert blocked.notes[0].write() == "U1 is reached by 500 mm, between a wall of R1 and U2"


def test_the_way_to_the_toilet_is_as_narrow_as_its_door(hut, hold):
    finding = hold(hut(), "way_to_toilet", "600")
    assert finding.value == pytest.approx(0.65, abs=1e-9)
    assert finding.notes[0].write() == "U1 is reached by 650 mm, in D3"


def test_a_toilet_narrower_than_its_door_is_as_wide_as_it_is(hut, hold):
    # 0.55 m deep behind a door of 650 mm
    shallow = WC | {"depth_m": "0.55", "floor_m2": "0.66"}
    finding = hold(hut(rooms=(HALL, BUNKS, shallow)), "way_to_toilet", "600")
    assert finding.value == pytest.approx(0.55, abs=2e-3)
    assert "in R3 itself" in finding.notes[0].write()


def test_rooms_without_a_place_have_no_way_from_one_to_the_other(hut, hold):
    rooms = [room | {"at_x": "", "at_y": ""} for room in (HALL, BUNKS, WC)]
    finding = hold(hut(rooms=rooms), "way_to_toilet", "600")
    assert finding.state is State.NO_DATA
    assert "R3, On the plan, across (room schedule)" in finding.missing


def test_a_door_without_a_place_leaves_what_it_leads_to_unknown_not_shut(hut, hold):
    finding = hold(hut(doors=(DOOR, TO_BUNKS | {"left": ""}, TO_WC)), "way_to_bed", "600")
    assert finding.state is State.NO_DATA
    assert finding.missing == ("D2, From the left (door schedule)",)


def test_a_room_that_no_door_leads_to_is_reached_by_nothing(hut, hold):
    finding = hold(hut(doors=(DOOR, TO_WC)), "way_to_bed", "600")
    assert (finding.state, finding.value) == (State.SHORT, 0)


def test_the_second_way_out_is_walked_with_the_main_exit_shut(hut, hold):
    """A hatch of 600 mm in the bunk room's left wall; without it there is no second way."""
    hatch = {
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
    finding = hold(hut(doors=(DOOR, TO_BUNKS, TO_WC, hatch)), "second_way_out", "550")
    assert finding.value == pytest.approx(0.6, abs=1e-9)
    none = hold(hut(), "second_way_out", "550")
    assert (none.state, none.value) == (State.SHORT, 0)
    lost = hold(hut(doors=(DOOR, TO_BUNKS, TO_WC, hatch | {"faces": ""})), "second_way_out", "550")
    assert lost.missing == ("D4, Wall (door schedule)",)


def test_a_covered_window_turns_no_room_round(hut):
    """R2's window wall is its east one: its depth runs across the plan, covered or not."""
    window = {"mark": "W1", "room": "R2", "n": "1", "glass_w": "900", "glass_h": "900"}
    covered = {"mark": "W1", "state": "night", "covered_by": "Flap"}
    deep = BUNKS | {"depth_m": "3.2", "width_m": "2.9"}
    there = hut(rooms=(HALL, deep, WC), windows=window | {"faces": "E"}, openings_by_state=covered)
    night = next(state for state in states_of(there) if state.kind == "night")
    found = [outline(each, each.rooms[1]) for each in (there, Situation(night).of(there))]
    assert [(each.across_m, each.up_m) for each in found] == [(3.2, 2.9)] * 2


def test_two_legs_of_one_room_have_no_wall_between_them(hut, hold):
    leg = {
        "mark": "R4",
        "room": "Leg",
        "use": "circulation",
        "floor_m2": "2",
        "depth_m": "1.4",
        "width_m": "1",
        "clear_height_m": "2.4",
        "at_x": "0",
        "at_y": "2.4",
        "part_of": "R1",
    }
    by_leg = TO_BUNKS | {"room": "R2", "faces": "W", "left": "200"}
    rooms = (HALL, BUNKS | {"at_x": "1.1"}, WC, leg)
    finding = hold(hut(doors=(DOOR, by_leg, TO_WC), rooms=rooms), "way_to_bed", "650")
    assert finding.value == pytest.approx(0.7, abs=1e-9)
