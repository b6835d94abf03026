"""The room file: read whole, every fault named with its key."""

import copy
import json

import pytest

from criteria.daylight import (
    Obstruction,
    Rooflight,
    Room,
    Wall,
    Window,
    read_room,
    room_from_spec,
)
from criteria.typed.json_file import UnreadableFile
from tests.criteria.daylight.open_cases import BY_ID

SPEC = BY_ID["D05"]["spec"]


def test_a_case_is_read_as_it_stands():
    reading = room_from_spec(SPEC)
    room = reading.room
    assert reading.unread == ()
    assert (room.length_m, room.width_m, room.height_m) == (8.0, 2.8, 2.5)
    assert (room.floor_reflectance, room.ceiling_reflectance) == (0.2, 0.8)
    assert room.wall_thickness_m == 0.2
    assert room.obstructions == (Obstruction(wall=Wall.WEST, angle_deg=30),)
    assert room.windows == (
        Window(
            wall=Wall.WEST, offset_m=0.4, sill_m=0.7, width_m=2.0, height_m=1.6, transmittance=0.68
        ),
    )


def test_everything_a_room_has_is_read():
    glass = {"visible_transmittance": 0.6, "frame_share": 0.2, "maintenance": 0.9}
    window = {"wall": "south", "offset_m": 1, "sill_m": 1, "width_m": 1, "height_m": 1}
    light = {"mark": "R1", "x_m": 1, "y_m": 1, "size_x_m": 0.5, "size_y_m": 0.5}
    spec = {
        "room": {"length_m": 4, "width_m": 3, "height_m": 2.5},
        "north_bearing_deg": 30,
        "roof_thickness_m": 0.3,
        "obstruction_angle_deg": {"east": 12},
        "obstructions": [{"wall": "south", "top_m": 4, "distance_m": 9}],
        "windows": [{"mark": "W1", **window, **glass}],
        "rooflights": [light],
    }
    sizes = {"offset_m": 1, "sill_m": 1, "width_m": 1, "height_m": 1}
    opening = Window(
        mark="W1", wall="south", **sizes, transmittance=0.6, frame_share=0.2, maintenance=0.9
    )
    reading = room_from_spec(spec)
    assert reading.unread == ()
    assert reading.room == Room(
        length_m=4,
        width_m=3,
        height_m=2.5,
        north_bearing_deg=30,
        roof_thickness_m=0.3,
        obstructions=[
            Obstruction(wall="east", angle_deg=12),
            Obstruction(wall="south", top_m=4, distance_m=9),
        ],
        windows=[opening],
        rooflights=[Rooflight(mark="R1", x_m=1, y_m=1, size_x_m=0.5, size_y_m=0.5)],
    )


def test_what_is_left_out_is_as_a_room_has_it_by_default():
    spec = {"room": SPEC["room"], "reflectance": {"floor": 0.35}}
    assert room_from_spec(spec).room == Room(
        length_m=8.0, width_m=2.8, height_m=2.5, floor_reflectance=0.35
    )


def test_an_opening_may_have_glazing_of_its_own():
    spec = copy.deepcopy(SPEC)
    spec["windows"][0] |= {"mark": "W1", "visible_transmittance": 0.5, "frame_share": 0.25}
    (window,) = room_from_spec(spec).room.windows
    assert (window.mark, window.transmittance, window.frame_share) == ("W1", 0.5, 0.25)


def test_keys_that_mean_nothing_are_told():
    spec = copy.deepcopy(SPEC)
    spec["colour"] = "red"
    spec["room"]["lenght_m"] = 3
    spec["windows"][0]["sil_m"] = 0.7
    assert room_from_spec(spec).unread == ("colour", "room.lenght_m", "windows[0].sil_m")


def changed(*steps, value):
    spec = copy.deepcopy(SPEC)
    place = spec
    for step in steps[:-1]:
        place = place[step]
    if value is None:
        del place[steps[-1]]
    else:
        place[steps[-1]] = value
    return spec


@pytest.mark.parametrize(
    ("spec", "key", "read", "expected"),
    [
        ([], "", "[]", "an object {…}"),
        (changed("room", value=None), "room", "nothing", "this key"),
        (changed("room", "width_m", value=None), "room.width_m", "nothing", "this key"),
        (changed("room", "width_m", value="2.8 m"), "room.width_m", '"2.8 m"', "a number"),
        (changed("room", "width_m", value=True), "room.width_m", "true", "a number"),
        (changed("room", "width_m", value=0), "width_m", "0 m", "more than 0 m and at most 30 m"),
        (changed("reflectance", "wall", value="white"), "reflectance.wall", '"white"', "a number"),
        (changed("windows", value={}), "windows", "{}", "a list […]"),
        (changed("windows", 0, value=3), "windows[0]", "3", "an object {…}"),
        (changed("windows", 0, "wall", value="up"), "windows[0].wall", '"up"',
         "south, north, west or east"),
        (changed("windows", 0, "sill_m", value=None), "windows[0].sill_m", "nothing", "this key"),
        (changed("windows", 0, "mark", value=3), "windows[0].mark", "3", "text"),
        (changed("windows", 0, "width_m", value=-2), "windows[0].width_m", "-2 m", "more than 0 m"),
        (changed("windows", 0, "width_m", value=2.6), "windows[0].offset_m",
         "offset 0.4 m + width 2.6 m = 3 m", "at most 2.8 m, the length of the west wall"),
        (changed("obstruction_angle_deg", "up", value=3), "obstruction_angle_deg.up", '"up"',
         "south, north, west or east"),
        (changed("obstruction_angle_deg", "west", value=95),
         "obstruction_angle_deg.west.angle_deg", "95°", "at least 0° and less than 90°"),
        (changed("obstructions", value=[{"wall": "south", "top_m": 3}]),
         "obstructions[0].distance_m", "nothing", "this key"),
        (changed("rooflights", value=[{"x_m": "a" * 60}]), "rooflights[0].x_m",
         '"' + "a" * 38 + "…", "a number"),
    ],
)  # fmt: skip
def test_a_fault_is_named(spec, key, read, expected):
    with pytest.raises(UnreadableFile, match=r"read .*; expected ") as caught:
        room_from_spec(spec, file="ROOM.json")
    fault = caught.value
    assert (fault.key, fault.read, fault.expected) == (key, read, expected)
    assert str(fault).startswith(f"ROOM.json: {key}: " if key else "ROOM.json: ")


@pytest.mark.parametrize(
    ("content", "read"),
    [
        (b"{", "line 1, Expecting property name enclosed in double quotes"),
        (b"\xff\xfe", "byte 0 that is no UTF-8"),
        (b"[" * 100_000, "deep nesting"),
    ],
)
def test_a_file_that_is_no_json_is_named(tmp_path, content, read):
    path = tmp_path / "ROOM.json"
    path.write_bytes(content)
    with pytest.raises(UnreadableFile, match=r"ROOM\.json: read ") as caught:
        read_room(path)
    assert caught.value.read == read


def test_a_missing_file_is_named(tmp_path):
    with pytest.raises(UnreadableFile, match="read No such file or directory; expected a file"):
        read_room(tmp_path / "nowhere.json")


def test_a_file_is_read(tmp_path):
    path = tmp_path / "ROOM.json"
    path.write_text(json.dumps(SPEC), encoding="utf-8-sig")
    assert read_room(path).room == room_from_spec(SPEC).room
