import pytest

from criteria.package import Package, read_package
from criteria.schedules import BY_SLUG, SCHEDULES, SITE
from criteria.schedules.power import Load
from criteria.schedules.rooms import Room
from criteria.typed.cells import Lacking


def test_a_package_has_a_field_for_every_schedule():
    beside = {"weather", "unread", "notation", "state", "case", "as_built"}
    assert set(BY_SLUG) | beside == set(Package.__dataclass_fields__)
    assert {s.slug for s in (*SCHEDULES, SITE)} <= set(BY_SLUG)


def test_absent_schedules_are_empty():
    reading = read_package({})
    assert reading.package == Package()
    assert reading.refused == {}


def test_refused_cells_stand_by_schedule(room, window):
    reading = read_package(
        {"rooms": [room(), room("R1")], "windows": [window(room="R9"), window("W2", n="many")]}
    )
    assert [(c.row, c.column) for c in reading.refused["rooms"]] == [(2, "Mark")]
    assert [(c.row, c.column) for c in reading.refused["windows"]] == [(1, "Room"), (2, "No.")]
    assert reading.refused["windows"][0].expected == "a mark of the rooms schedule (R1)"
    assert set(reading.refused) == {"rooms", "windows"}


def test_asking_for_a_refused_figure_names_it(room, window):
    package = read_package({"rooms": [room(floor="big")], "windows": [window()]}).package
    with pytest.raises(Lacking, match=r"R1, Floor \(room schedule\): read “big”"):
        package.rooms[0].floor_m2  # noqa: B018


def test_asking_for_a_schedule_without_rows_says_so():
    with pytest.raises(Lacking, match=r"^rows of the load schedule$"):
        Package().loads  # noqa: B018
    assert Package().rows_of(Load) == ()
    assert Package().leniently.loads == ()


def test_a_row_that_cannot_be_told_from_others_closes_its_schedule(room):
    package = read_package({"rooms": [room("R1"), room("R 2!")]}).package
    for ask in (lambda: package.rooms, lambda: package.rows_of(Room)):
        with pytest.raises(Lacking, match=r"^row 2, Mark \(room schedule\): read “R 2!”"):
            ask()
    assert [room.mark for room in package.leniently.rooms] == ["R1"]


def test_two_rows_of_a_sheet_that_has_one_close_it():
    reading = read_package({"site": [{"people": "4"}, {"people": "5"}]})
    (cell,) = reading.refused["site"]
    assert str(cell) == "row 2, rows: read “2 rows”; expected one row"
    with pytest.raises(Lacking, match="read “2 rows”; expected one row"):
        reading.package.site  # noqa: B018


def test_a_file_that_could_not_be_read_closes_its_schedule():
    with pytest.raises(Lacking, match=r"file \(load schedule\): read “what can't be read”"):
        read_package({}, unread=["loads"]).package.loads  # noqa: B018


def test_a_package_has_no_other_schedule():
    with pytest.raises(AttributeError, match="a package has no cellars"):
        Package().cellars  # noqa: B018


def test_a_package_is_the_same_as_one_of_the_same_rows(room):
    assert read_package({"rooms": [room()]}).package == read_package({"rooms": [room()]}).package
    assert read_package({"rooms": [room()]}).package != Package()
    assert Package() != "a package"


def test_windows_are_those_of_their_room(package, room, window):
    hut = package(rooms=[room("R1"), room("R2")], windows=[window("W1", "R2"), window("W2", "R2")])
    first, second = hut.rooms
    assert hut.windows_of(first) == ()
    assert [w.mark for w in hut.windows_of(second)] == ["W1", "W2"]


@pytest.mark.parametrize(
    ("uses", "marks"),
    [((), ["R1", "R2", "R3"]), (("day",), ["R1", "R3"]), (("wc", "sleep"), ["R2"]), (("lab",), [])],
)
def test_rooms_of_some_uses_come_in_schedule_order(package, room, uses, marks):
    hut = package(rooms=[room("R1"), room("R2", use="sleep"), room("R3")])
    assert [r.mark for r in hut.rooms_used_for(uses)] == marks
