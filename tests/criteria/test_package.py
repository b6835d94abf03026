import pytest

from criteria.package import Package, read_package
from criteria.schedules import BY_SLUG, SCHEDULES, SITE


def test_a_package_has_a_field_for_every_schedule():
    assert set(BY_SLUG) == set(Package.__dataclass_fields__)
    assert {s.slug for s in (*SCHEDULES, SITE)} <= set(BY_SLUG)


def test_absent_schedules_are_empty():
    reading = read_package({})
    assert reading.package == Package()
    assert reading.refused == {}


def test_refused_cells_stand_by_schedule(room, window):
    reading = read_package({
        "rooms": [room(), room("R1")],
        "windows": [window(room="R9"), window("W2", n="many")],
    })  # fmt: skip
    assert [(c.row, c.column) for c in reading.refused["rooms"]] == [(2, "Mark")]
    assert [(c.row, c.column) for c in reading.refused["windows"]] == [(1, "Room"), (2, "No.")]
    assert reading.refused["windows"][0].expected == "a mark of the rooms schedule (R1)"
    assert set(reading.refused) == {"rooms", "windows"}


def test_a_refused_figure_is_blank_and_never_zero(room, window):
    package = read_package({"rooms": [room(floor="big")], "windows": [window()]}).package
    assert package.rooms[0].floor_m2 is None


def test_a_site_sheet_has_one_row():
    reading = read_package({"site": [{"people": "4"}, {"people": "5"}]})
    (cell,) = reading.refused["site"]
    assert str(cell) == "row 2, rows: read “2 rows”; expected one row"
    assert reading.package.site.people == 4


def test_windows_are_those_of_their_room(package, room, window):
    hut = package(rooms=[room("R1"), room("R2")], windows=[window("W1", "R2"), window("W2", "R2")])
    first, second = hut.rooms
    assert hut.windows_of(first) == ()
    assert [w.mark for w in hut.windows_of(second)] == ["W1", "W2"]


@pytest.mark.parametrize(("uses", "marks"), [
    ((), ["R1", "R2", "R3"]), (("day",), ["R1", "R3"]), (("wc", "sleep"), ["R2"]), (("lab",), []),
])  # fmt: skip
def test_rooms_of_some_uses_come_in_schedule_order(package, room, uses, marks):
    hut = package(rooms=[room("R1"), room("R2", use="sleep"), room("R3")])
    assert [r.mark for r in hut.rooms_used_for(uses)] == marks
