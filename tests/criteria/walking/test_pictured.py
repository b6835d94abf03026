"""What a plan shows of rows: what is given stands where it is, what isn't is named."""

import pytest

from criteria.package import read_package
from criteria.walking.of_package import storeys_of
from criteria.walking.pictured import pictured
from tests.folding_cabin import DOORS, FURNITURE, ROOMS, TABLES, WINDOWS


def shown(**changed):
    package = read_package({**TABLES, **changed}).package
    return pictured(package, storeys_of(package).of("R1"))


def window(**cells):
    return [{**WINDOWS[0], **cells}]


def said(picture):
    return [each.says for each in picture.missing]


def ends(picture):
    return [(w.ends[0][0], w.ends[1][0]) for w in picture.windows]


def test_a_window_stands_where_its_row_says_from_the_left_seen_from_inside():
    """The left end of a wall that looks south is its east end: 4.8 − 0.3 and 1.6 further."""
    picture = shown(windows=window())
    assert ends(picture) == [(pytest.approx(4.5), pytest.approx(2.9))]
    assert picture.windows[0].missing is None


def test_a_window_without_a_place_is_set_in_the_middle_and_says_so():
    picture = shown(windows=window(left=""))
    assert ends(picture) == [(pytest.approx(3.2), pytest.approx(1.6))]
    assert picture.windows[0].missing.says == "W1: place not given"
    assert picture.windows[0].missing.column == "left"


def test_several_alike_stand_by_their_gap_or_are_spread():
    given = shown(windows=window(n="2", glass_w="800", gap="400"))
    assert ends(given) == [
        (pytest.approx(4.5), pytest.approx(3.7)),
        (pytest.approx(3.3), pytest.approx(2.5)),
    ]
    assert given.windows[1].missing is None
    spread = shown(windows=window(n="2", glass_w="800"))
    assert ends(spread)[1] == (pytest.approx(1.1), pytest.approx(0.3))
    assert spread.windows[0].missing.column == "gap"


def test_more_than_a_wall_holds_stay_on_it():
    picture = shown(windows=window(n="9", left=""))
    assert all(-1e-9 <= end <= 4.8 + 1e-9 for pair in ends(picture) for end in pair)


@pytest.mark.parametrize("faces", ["", "NE"])
def test_a_window_that_no_wall_has_is_named(faces):
    picture = shown(windows=[*window(), {**WINDOWS[0], "mark": "W8", "faces": faces}])
    assert len(picture.windows) == 1
    (missing,) = [each for each in picture.missing if each.mark == "W8"]
    assert missing.column == "faces"


def test_roof_lights_and_other_rooms_windows_are_no_part_of_the_plan():
    roof = [*window(), {**WINDOWS[0], "mark": "W8", "faces": "up"}]
    roof.append({**WINDOWS[0], "mark": "W9", "opens": "roof light"})
    assert [w.mark for w in shown(windows=roof).windows] == ["W1"]


def test_doors_that_say_no_swing_or_hinge_are_named():
    doors = [{**DOORS[0], "swing": ""}, {**DOORS[1], "hinge": ""}, *DOORS[2:]]
    assert said(shown(doors=doors))[:2] == ["D1: swing not given", "D2: hinge not given"]


def test_walls_are_as_thick_as_the_first_room_says():
    assert shown().wall_m == pytest.approx(0.18)
    rooms = [{**ROOMS[0], "wall_mm": "thick"}, {**ROOMS[1], "wall_mm": "90"}, ROOMS[2]]
    assert shown(rooms=rooms).wall_m == pytest.approx(0.09)
    bare = shown(rooms=[{**room, "wall_mm": ""} for room in ROOMS])
    assert bare.wall_m is None
    assert "walls: thickness not given, drawn as lines" in said(bare)


def test_what_has_no_place_is_named_with_its_schedule():
    lost = {**DOORS[1], "mark": "D9", "left": ""}
    picture = shown(doors=[*DOORS, lost])
    named = {each.schedule: each.says for each in picture.missing}
    assert named["furniture"] == "U8: it has no size"
    assert named["doors"] == "D9: it has no place"


def test_sides_that_differ_from_the_floor_are_said_of_the_room():
    slanted = window(faces="NE") + WINDOWS
    picture = shown(windows=[slanted[0] | {"mark": "W8"}, *slanted[1:]])
    assert any(each.schedule == "rooms" for each in picture.missing)


def test_a_bed_is_made_where_someone_sleeps_and_isnt_said_to_be_where_that_cant_be_read():
    made = {piece.body.mark: piece.is_made for piece in shown().pieces}
    assert (made["U4"], made["U2"]) == (True, False)
    odd = [{**row, "night": "many"} if row["mark"] == "U4" else row for row in FURNITURE]
    assert {p.body.mark: p.is_made for p in shown(furniture=odd).pieces}["U4"] is False
