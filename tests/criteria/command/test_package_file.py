"""A package as one JSON file: read as a folder is, and held to the printed schema."""

import json

import pytest

from criteria.__main__ import main
from criteria.command.folder import Unreadable
from criteria.command.package_file import MOST_BYTES, read_package_file
from criteria.command.schema import package_schema
from criteria.hourly.weather_record import as_record
from tests.criteria.hourly.denver import denver
from tests.json_schema_check import broken

PACKAGE = {
    "version": 1,
    "about": {"scheme": "H07", "revision": "B"},
    "decimal": "point",
    "schedules": {
        "rooms": [
            {"mark": "R1", "room": "Day", "floor_m2": "10", "clear_height_m": "2.4", "use": "day"}
        ],
        "windows": [
            {"mark": "W1", "room": "R1", "n": "1", "glass_w": "1000", "glass_h": "800"},
        ],
    },
    "targets": [
        {
            "id": "T01", "what": "Light", "check": "daylight_ratio", "rule": "at least",
            "value": "8", "unit": "%", "asked_by": "Addendum 2",
        },
        {"id": "T02", "check": "floor_per_person", "rule": "at least", "value": "2"},
    ],
}  # fmt: skip


@pytest.fixture
def file(tmp_path):
    """A file of the package, some of it replaced."""

    def made(**more):
        path = tmp_path / "h07-b.json"
        path.write_text(json.dumps({**PACKAGE, **more}), encoding="utf-8")
        return path

    return made


# By hand: 1.0 m × 0.8 m of glass to 10.0 m² of floor is 8 %.
def test_a_package_of_one_file_is_checked_as_a_folder_is(file, capsys):
    assert main(["check", str(file()), "--json", "--scheme", "H07", "--rev", "B"]) == 1
    written = json.loads(capsys.readouterr().out)
    light, floor = written["findings"][:2]
    assert (light["target"], light["value"]) == ("T01", pytest.approx(8.0))
    assert (light["asked_by"], floor["asked_by"]) == ("Addendum 2", "the brief")
    assert floor["state"] == "no_data"
    schema = package_schema()["$defs"]["check_sheet"]["properties"]["check_sheet"]
    assert list(broken(written, schema)) == []


def test_it_need_not_say_more_than_its_schedules(tmp_path):
    path = tmp_path / "bare.json"
    path.write_text(json.dumps({"schedules": PACKAGE["schedules"]}))
    reading = read_package_file(path)
    assert (reading.targets, reading.refused) == ((), ())
    assert [room.mark for room in reading.package.rooms] == ["R1"]


def test_its_own_decimal_sign_and_weather_hold(file):
    digest, year = as_record(denver())
    schedules = {"rooms": [{**PACKAGE["schedules"]["rooms"][0], "floor_m2": "12,5"}]}
    weather = {"name": "Denver", "digest": digest, "year": year}
    reading = read_package_file(file(decimal="comma", schedules=schedules, weather=weather))
    assert reading.package.rooms[0].floor_m2 == 12.5
    assert reading.package.weather.name == denver().name
    assert reading.refused == ()


def test_what_a_cell_or_a_target_holds_and_cannot_be_read_is_said(file, capsys):
    rows = [{**PACKAGE["schedules"]["rooms"][0], "floor_m2": "much"}]
    targets = [{**PACKAGE["targets"][0], "value": "lots"}]
    assert main(["check", str(file(schedules={"rooms": rows}, targets=targets))]) == 1
    out, err = capsys.readouterr()
    assert "h07-b.json, rooms, row 1 (R1), Floor: read “much”; expected" in err
    assert "h07-b.json, targets, row 1 (T01), Value: read “lots”; expected" in err
    assert "No data" in out


@pytest.mark.parametrize(
    ("more", "said"),
    [
        ({"version": 2}, "version: read “2”; expected 1"),
        ({"decimal": 3}, "decimal: read “3”; expected point or comma"),
        ({"about": []}, "about: read “[]”; expected an object"),
        ({"schedules": None}, "schedules: read “null”; expected an object"),
        ({"schedules": {"roms": []}}, "schedules: read “roms”; expected any of rooms"),
        ({"schedules": {"rooms": {}}}, "rooms: read “{}”; expected a list of at most 1000 rows"),
        ({"schedules": {"rooms": [{}] * 1001}}, "expected a list of at most 1000 rows"),
        ({"schedules": {"rooms": ["R1"]}}, "rooms, row 1: read “R1”; expected an object"),
        ({"schedules": {"rooms": [{"flor": "1"}]}}, "rooms, row 1: read “flor”; expected any of"),
        ({"schedules": {"rooms": [{"floor_m2": 10}]}}, "rooms, row 1, floor_m2: read “10”"),
        ({"targets": [{"id": "T1", "word": ""}]}, "targets, row 1: read “word”; expected any of"),
        ({"weather": "Denver"}, "weather: read “Denver”; expected an object"),
        ({"weather": {"digest": "", "year": "AA=="}}, "weather: a year of weather isn't as it was"),
    ],
)
def test_what_is_not_of_that_form_is_refused_in_words(file, more, said):
    with pytest.raises(Unreadable) as unreadable:
        read_package_file(file(**more))
    assert said in str(unreadable.value)


@pytest.mark.parametrize("written", ["", "rooms,1", "[" * 100_000, '{"a": ' + "9" * 5000 + "}"])
def test_a_file_that_is_no_json_is_exit_2(tmp_path, capsys, written):
    (tmp_path / "p.json").write_text(written)
    assert main(["check", str(tmp_path / "p.json")]) == 2
    assert (
        "p.json: read no JSON; expected a package as JSON, or a folder" in capsys.readouterr().err
    )


def test_a_file_of_anything_but_an_object_or_beyond_the_limit_is_refused(tmp_path):
    path = tmp_path / "p.json"
    path.write_text("[]")
    with pytest.raises(Unreadable, match="the file: read “\\[\\]”; expected an object"):
        read_package_file(path)
    with path.open("wb") as large:
        large.truncate(MOST_BYTES + 1)
    with pytest.raises(Unreadable, match=f"read “{MOST_BYTES + 1} bytes”"):
        read_package_file(path)


@pytest.mark.parametrize(
    ("options", "said"),
    [
        (["--targets", "t.csv"], "read --targets; expected a folder"),
        (["--scheme", "H08"], "scheme: read “H07”; expected H08"),
        (["--rev", "C"], "revision: read “B”; expected C"),
    ],
)
def test_what_it_says_itself_is_not_said_again_otherwise(file, capsys, options, said):
    assert main(["check", str(file()), *options]) == 2
    assert said in capsys.readouterr().err


def test_the_schema_holds_no_keyword_that_our_check_does_not_know():
    for name, schema in package_schema()["$defs"].items():
        assert list(broken({}, schema)), name
    whole = package_schema()
    assert list(broken(PACKAGE["schedules"], whole)) == []
    assert list(broken({"rooms": [{"mark": "R1"}], "roms": []}, whole)) == [
        "/rooms/0: required ['mark', 'room', 'use'], read {'mark': 'R1'}",
        "/roms: not foreseen",
    ]
