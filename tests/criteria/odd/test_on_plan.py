"""Odd values of furniture where it stands, by hand: rooms of 4 by 3 m, things in millimetres."""

import pytest

ROOM = {"mark": "R1", "room": "Hall", "use": "sleep", "floor_m2": "12", "clear_height_m": "2.4",
        "depth_m": "3", "width_m": "4", "sleepers": "1"}  # fmt: skip


def thing(mark, x, y, size="1000 1000", kind="other", **more):
    length, width = size.split()
    cells = {"mark": mark, "item": mark, "room": "R1", "kind": kind, "n": "1", "l": length}
    cells |= {"w": width, "plan_x": str(x), "plan_y": str(y), "height_mm": "800"}
    return cells | more


def words(found):
    return [odd.write_question() for odd in found]


@pytest.mark.parametrize(
    ("x", "out"),
    [
        (500, None),
        (480, None),
        (479, "21 mm"),
        (3520, None),
        (3521, "21 mm"),
        (9000, "5\u202f500 mm"),
    ],
)
def test_furniture_out_of_its_room_is_asked_about(asks, x, out):
    found = words(asks("plan_x", rooms=[ROOM], furniture=[thing("U1", x, 1500)]))
    said = f"U1 (U1) reaches {out} out of R1. Is it its place, its size or the room?"
    assert found == ([said] if out else [])


def test_a_turned_thing_and_a_round_one_are_held_by_what_they_cover(asks):
    # by hand: a square of 1 m turned by 45° reaches 707 mm; a disc of 1 m 500 mm
    turned, round_ = {"turn": "45"}, {"round": "yes"}
    for y, more, is_asked in (
        (690, turned, False), (686, turned, True), (480, round_, False), (478, round_, True),
    ):  # fmt: skip
        found = asks("plan_x", rooms=[ROOM], furniture=[thing("U1", 1500, y, **more)])
        assert bool(found) is is_asked


def test_either_leg_of_a_room_holds_its_furniture(asks):
    # the second leg begins at the first one's right wall, 4 m across
    first, leg = ROOM | {"at_x": "0", "at_y": "0"}, ROOM | {"mark": "R2", "part_of": "R1"}
    legs = [first, leg | {"at_x": "4", "at_y": "0", "sleepers": "0"}]
    for x, is_asked in ((5000, False), (7900, True)):
        found = asks("plan_x", rooms=legs, furniture=[thing("U1", x, 1500)])
        assert bool(found) is is_asked


@pytest.mark.parametrize(("x", "is_asked"), [(1990, False), (1989, True), (1000, True)])
def test_two_solid_things_in_one_place_are_asked_about(asks, x, is_asked):
    # a square metre each, 1 % of it shared at 990 mm apart
    pair = [thing("U1", 1000, 1500), thing("U2", x, 1500)]
    found = asks("plan_x", rooms=[ROOM], furniture=pair)
    assert [odd.mark for odd in found] == (["U2"] if is_asked else [])
    if x == 1000:
        said = "U1 and U2 lie in each other by 1.00 m². Does one go under the other?"
        assert words(found) == [said]


@pytest.mark.parametrize(
    "more",
    [
        {"kind": "seat"},  # pushed under the table
        {"under_mm": "780"},  # hangs over it
        {"height_mm": ""},  # how high it is isn't known
        {"kind": "hook"},
        {"plan_y": ""},
        {"room": "R2"},
        {"n": "x"},
    ],
)
def test_what_can_share_a_place_or_is_not_known_is_not_asked_about(asks_anyway, more):
    table = thing("U1", 1000, 1500, kind="table")
    rooms = [ROOM, ROOM | {"mark": "R2"}]
    pair = [table, thing("U2", 1000, 1500) | more]
    assert asks_anyway("plan_x", rooms=rooms, furniture=pair) == []


@pytest.mark.parametrize(("height", "is_asked"), [("1400", False), ("1390", True)])
def test_bunks_lie_over_each_other(asks, height, is_asked):
    beds = [thing("U1", 1000, 1500, "900 1900", "bed"), thing("U2", 1000, 1500, "900 1900", "bed")]
    beds[1]["height_mm"] = height
    assert bool(asks("plan_x", rooms=[ROOM], furniture=beds)) is is_asked


def test_a_state_moves_a_thing_into_another(asks):
    pair = [thing("U1", 1000, 1500), thing("U2", 3000, 1500)]
    night = [{"mark": "U2", "state": "night", "x": "1500"}]
    (odd,) = asks("plan_x", rooms=[ROOM], furniture=pair, furniture_by_state=night)
    said = "U1 and U2 (night) lie in each other by 0.50 m². Does one go under the other?"
    assert odd.write_question() == said


DOOR = {"mark": "D1", "place": "Front", "room": "R1", "faces": "N", "left": "1500",
        "role": "main exit", "leaf_w": "900", "clear_w": "830", "swing": "in",
        "hinge": "left"}  # fmt: skip


@pytest.mark.parametrize(
    ("y", "more", "is_asked"),
    [
        (1600, {}, False),  # the leaf reaches down to 2,100 and the bed up to 2,050
        (1700, {}, True),
        (1700, {"swing": "out"}, False),
        (1700, {"swing": "slides"}, False),
        (1700, {"hinge": ""}, False),  # at which end it hangs isn't known
        (1700, {"faces": ""}, False),
        (1700, {"room": "R9"}, False),
        (1700, {"left": "3900"}, False),  # it ends past its wall
    ],
)
def test_a_door_that_a_bed_stops_is_asked_about(asks_anyway, y, more, is_asked):
    bed = thing("U1", 2000, y, "2000 900", "bed", night="1")
    found = asks_anyway("swing", rooms=[ROOM], doors=[DOOR | more], furniture=[bed])
    assert bool(found) is is_asked
    if found:
        assert found[0].write_question().endswith("and meets U1, a bed. Who gets out first?")


def test_only_beds_are_asked_about_before_a_door_and_only_at_night(asks):
    tables = {"rooms": [ROOM], "doors": [DOOR]}
    assert asks("swing", **tables, furniture=[thing("U1", 2000, 1700, "2000 900")]) == []
    bench = thing("U1", 2000, 600, "2000 900", "seat")
    out = {"mark": "U1", "state": "night", "y": "1700", "sleeps": "1"}
    assert asks("swing", **tables, furniture=[bench]) == []
    (odd,) = asks("swing", **tables, furniture=[bench], furniture_by_state=[out])
    assert "(night) and meets U1" in odd.write_question()


@pytest.mark.parametrize("schedule", ["rooms", "doors", "furniture"])
def test_a_mark_that_stands_twice_breaks_no_check_sheet(schedule, asks_anyway):
    """Where two rows can't be told apart nothing is walked: a save would have met an error page."""
    door = {"mark": "D1", "place": "Front", "room": "R1", "faces": "S", "left": "0", "swing": "in"}
    door |= {"leaf_w": "900", "clear_w": "900", "outside": "yes", "role": "main exit"}
    tables = {"rooms": [ROOM], "doors": [door], "furniture": [thing("U1", 9000, 1500)]}
    assert asks_anyway("plan_x", **tables)
    assert asks_anyway("plan_x", **{**tables, schedule: tables[schedule] * 2}) == []
