"""Which way walls, roof and glass look."""

import pytest

from criteria.hourly import facing
from criteria.hourly.assumed import Taking
from criteria.hourly.facing import Opening
from criteria.typed.cells import Lacking
from tests.criteria.hourly.hut import HUT, hut

WINDOW = Opening(tilt_deg=90, bearing_deg=180, area_m2=2.4)
DOOR = Opening(tilt_deg=90, bearing_deg=0, area_m2=2.0)


def walls(package, *openings, taking=None):
    return facing.walls(package, openings or (WINDOW, DOOR), taking or Taking())


def areas(faces):
    return {face.name: pytest.approx(face.net_m2) for face in faces}


def with_rooms(*rooms, **more):
    first = HUT["rooms"][0]
    return hut(rooms=[{**first, **room} for room in rooms], **more)


def test_walls_are_spread_by_the_sides_of_the_plan():
    taking = Taking()
    faces = walls(hut(), taking=taking)
    # 6 m by 4 m: 15, 10, 15 and 10 m² of 50, less what is cut out of each
    assert areas(faces) == {"wall N": 13.0, "wall E": 10.0, "wall S": 12.6, "wall W": 10.0}
    (taken,) = taking.found
    assert [cell.value for cell in taken.cells] == ["15 m²", "10 m²", "15 m²", "10 m²"]
    assert "clockwise from N: 15.00 m²" in taken.write()


def test_rooms_on_one_plan_are_taken_together():
    package = with_rooms(
        {"at_x": "0", "at_y": "0"},
        {"mark": "R2", "at_x": "6", "at_y": "0", "width_m": "4"},
        {"mark": "R3", "level": "1", "at_x": "90", "at_y": "0"},
    )
    # both drawn by their own sides: R1 6 × 4, R2 4 × 4 beside it
    assert facing.sides_m(package) == (10.0, 4.0)


def test_rooms_that_dont_say_where_they_lie_give_no_sides():
    taking = Taking()
    package = with_rooms({}, {"mark": "R2"})
    assert facing.sides_m(package) is None
    # a quarter each, 12.5 m², less what is cut out
    faces = walls(package, taking=taking)
    assert areas(faces) == {"wall N": 10.5, "wall E": 12.5, "wall S": 10.1, "wall W": 12.5}
    assert "no plan says" in taking.found[0].write()


def test_a_room_without_sides_gives_none_but_one_that_cant_be_read_stops():
    assert facing.sides_m(with_rooms({"depth_m": ""})) is None
    with pytest.raises(Lacking):
        facing.sides_m(with_rooms({"depth_m": "deep"}))
    assert facing.sides_m(with_rooms({"level": "1"})) is None


def test_a_side_with_more_glass_than_its_share_takes_from_the_others():
    wide = Opening(tilt_deg=90, bearing_deg=170, area_m2=20.0)
    faces = walls(hut(), wide)
    assert "wall S" not in areas(faces)
    # 30 m² are left for 15, 10 and 10
    assert areas(faces)["wall N"] == 30 * 15 / 35
    assert sum(face.net_m2 for face in faces) == pytest.approx(30.0)


def test_walls_as_the_row_gives_them():
    package = hut(envelope={"faces_n": "20", "faces_s": "30"})
    assert areas(walls(package)) == {"wall N": 18.0, "wall S": 27.6}
    turned = hut(envelope={"faces_n": "25", "faces_s": "25", "turned": "-30"})
    assert set(areas(walls(turned))) == {"wall 330°", "wall 150°"}


def test_roof_lights_are_no_part_of_the_wall():
    light = Opening(tilt_deg=30, bearing_deg=0, area_m2=1.0, is_in_roof=True)
    assert sum(face.net_m2 for face in walls(hut(), light)) == pytest.approx(50.0)
    assert sum(face.net_m2 for face in facing.roof(hut(), [light], Taking())) == 29.0


@pytest.mark.parametrize(
    ("cells", "openings", "lacks"),
    [
        ({"faces_n": "20", "faces_s": "20"}, (WINDOW,), "add up"),
        ({"faces_n": "48", "faces_s": "2"}, (WINDOW,), "larger than their windows"),
        ({}, (Opening(tilt_deg=90, bearing_deg=0, area_m2=50.0),), "larger than its openings"),
    ],
)
def test_what_cant_be_a_wall_lacks(cells, openings, lacks):
    with pytest.raises(Lacking, match=lacks):
        walls(hut(envelope=cells), *openings)


def test_walls_are_turned_as_most_glass_is():
    package = hut(windows={"faces": "SW"})
    assert [face.bearing_deg for face in walls(package)] == [45, 135, 225, 315]
    assert next(iter(areas(walls(package)))) == "wall NE"


@pytest.mark.parametrize(
    ("cells", "glass", "bearings"),
    [
        ({"roof_slope": "30", "roof_faces": "SW"}, "S", (225,)),
        ({"roof_slope": "0.5", "roof_faces": "S"}, "S", (0,)),
        ({"roof_slope": "1", "roof_faces": ""}, "S", (0, 180)),
        ({"roof_slope": "30", "roof_faces": ""}, "SE", (135, 315)),
    ],
)
def test_slopes_of_the_roof(cells, glass, bearings):
    package = hut(supports=cells, windows={"faces": glass})
    slopes = facing.roof(package, (), Taking())
    assert tuple(face.bearing_deg for face in slopes) == bearings
    assert sum(face.net_m2 for face in slopes) == pytest.approx(30.0)


def test_a_roof_slopes_to_its_long_sides():
    deep = with_rooms({"depth_m": "9"}, supports={"roof_faces": ""})
    assert facing.roof_bearings_deg(deep, Taking()) == (90, 270)


def test_a_roof_without_a_slope_is_level_and_says_so():
    taking = Taking()
    (level,) = facing.roof(hut(supports={"roof_slope": ""}), (), taking)
    assert level.tilt_deg == 0
    assert taking.found[0].cells[0].value == "0 °"


def test_a_roof_of_lights_alone_lacks():
    light = Opening(tilt_deg=30, bearing_deg=0, area_m2=30.0, is_in_roof=True)
    with pytest.raises(Lacking, match="roof lights"):
        facing.roof(hut(), [light], Taking())


@pytest.mark.parametrize(
    ("cells", "plane"),
    [
        ({"faces": "E"}, (90, 90)),
        ({"faces": "E", "bearing": "360"}, (90, 0)),
        ({"faces": "", "bearing": "200", "tilt": "70"}, (70, 200)),
        ({"faces": "up"}, (30, 0)),
        ({"faces": "S", "opens": "roof light"}, (30, 180)),
        ({"faces": "", "opens": "roof light"}, (30, 0)),
        ({"faces": "up", "tilt": "5"}, (5, 0)),
    ],
)
def test_planes_of_windows(cells, plane):
    package = hut(windows=cells)
    assert facing.plane_deg(package, package.windows[0], Taking()) == plane


def test_a_window_that_looks_nowhere_lacks():
    package = hut(windows={"faces": ""})
    with pytest.raises(Lacking):
        facing.plane_deg(package, package.windows[0], Taking())
