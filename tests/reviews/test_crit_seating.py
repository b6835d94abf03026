"""Seating jurors, by hand and from a table."""

import pytest

from reviews.access import SEAT_KEY
from reviews.deeds import crit_seating
from reviews.deeds.crit_seating import (
    PARTS,
    SEATS,
    lines_of,
    open_link,
    read_jurors,
    renew_code,
)
from reviews.deeds.record_changes import last_change, undo_part
from reviews.deeds.record_versions import version_of
from reviews.deeds.table_bringing import NotClean
from reviews.models.briefs import Frozen
from reviews.versions import Newer
from tests import factories

TABLE = """name,kind,room,e-mail
Hesper Quill,visiting,A,hesper@example.org
Marek Ostrey,Industry juror,B,
Bea Lantry,In-house,,BEA@example.org
"""


@pytest.fixture
def crit(db):
    return factories.CritFactory()


def bring_in_jurors(crit, typed):
    crit_seating.bring_in_jurors(crit, typed, crit.studio.opened_by)


def keep_seats(crit, lines, seen):
    crit_seating.keep_seats(crit, lines, seen, crit.studio.opened_by)


def keep_now(crit, lines):
    keep_seats(crit, lines, version_of(lines_of(crit)))


def undo_last(crit):
    return undo_part(crit, SEATS, last_change(crit, SEATS.slug).pk)


def _seats(crit):
    return sorted(crit.seats.values_list("name", "kind", "room", "email"))


def test_jurors_come_in_with_kind_room_and_a_code_each(crit):
    bring_in_jurors(crit, TABLE)
    assert _seats(crit) == [
        ("Bea Lantry", "in-house", "", "bea@example.org"),
        ("Hesper Quill", "visiting", "A", "hesper@example.org"),
        ("Marek Ostrey", "industry", "B", ""),
    ]
    assert len(set(crit.seats.values_list("code", flat=True))) == 3


def test_bringing_in_twice_changes_nothing(crit):
    bring_in_jurors(crit, TABLE)
    before = list(crit.seats.values())
    assert set(read_jurors(crit, TABLE).news) == {"the same"}
    bring_in_jurors(crit, TABLE)
    assert list(crit.seats.values()) == before


def test_a_known_name_is_changed_in_the_open(crit):
    bring_in_jurors(crit, TABLE)
    code = crit.seats.get(name="Hesper Quill").code
    moved = "name,kind,room,email\nhesper quill,visiting,B,hesper@example.org"
    assert read_jurors(crit, moved).news == ("changes room",)
    bring_in_jurors(crit, moved)
    seat = crit.seats.get(name="Hesper Quill")
    assert (seat.name, seat.room, seat.code) == ("Hesper Quill", "B", code)


@pytest.mark.parametrize("way", ["by hand", "from a table"])
def test_the_moment_of_a_move_is_kept_and_of_nothing_else(crit, way):
    bring_in_jurors(crit, TABLE)

    def keep(**changed):
        lines = [
            line | (changed if line["name"] == "Hesper Quill" else {}) for line in lines_of(crit)
        ]
        if way == "by hand":
            keep_seats(crit, lines, version_of(lines_of(crit)))
        else:
            rows = [",".join(str(line[part]) for part in PARTS) for line in lines]
            bring_in_jurors(crit, "\n".join([",".join(PARTS), *rows]))
        return crit.seats.get(name="Hesper Quill").room_since

    assert keep(email="h@example.org") is None
    moved = keep(room="B")
    assert moved is not None
    assert keep(email="hq@example.org") == moved
    assert keep(room="") > moved
    assert not crit.seats.exclude(name="Hesper Quill").exclude(room_since=None).exists()


@pytest.mark.parametrize(
    ("line", "column", "expected"),
    [
        (",visiting,A,", "Name", "text of at most 120 characters"),
        ("Jo,critic,A,", "Kind", "one of: visiting, in-house, industry"),
        ("Jo,visiting,A long room name,", "Room", "text of at most 12 characters"),
        ("Jo,visiting,A,jo at home", "E-mail", "an e-mail address, or a blank"),
        ("bea lantry,visiting,A,", "Name", "a name that no line above has"),
    ],
)
def test_a_cell_that_cannot_be_used_is_named(crit, line, column, expected):
    (cell,) = read_jurors(crit, TABLE + line).refused
    assert (cell.row, cell.column, cell.expected) == (4, column, expected)
    with pytest.raises(NotClean, match="refused"):
        bring_in_jurors(crit, TABLE + line)
    assert not crit.seats.exists()


def test_a_juror_who_has_begun_keeps_the_seat(crit):
    seat = factories.SeatFactory(crit=crit)
    factories.JurySheetFactory(seat=seat, scheme=factories.SchemeFactory(studio=crit.studio))
    with pytest.raises(Frozen, match="has begun a jury sheet"):
        keep_seats(crit, [], version_of(lines_of(crit)))
    assert crit.seats.exists()


def test_a_late_keep_is_refused(crit):
    seen = version_of(lines_of(crit))
    line = {"pk": None, "name": "Jo", "kind": "visiting", "room": "", "email": ""}
    keep_seats(crit, [line], seen)
    keep_seats(crit, [line], seen)
    assert crit.seats.count() == 1
    with pytest.raises(Newer, match="Jo"):
        keep_seats(crit, [line | {"name": "Jan"}], seen)


def test_two_seats_may_change_names(crit):
    first, second = (factories.SeatFactory(crit=crit, name=name) for name in ("Ann", "Bo"))
    lines = lines_of(crit)
    swapped = [line | {"name": {"Ann": "Bo", "Bo": "Ann"}[line["name"]]} for line in lines]
    keep_seats(crit, swapped, version_of(lines))
    first.refresh_from_db()
    second.refresh_from_db()
    assert (first.name, second.name) == ("Bo", "Ann")


def test_a_new_code_ends_the_former_link(cast):
    client = cast.client(cast.seat)
    assert client.get("/jury/").status_code == 200
    former = cast.seat.code
    assert renew_code(cast.seat).code != former
    assert client.get("/jury/").status_code == 404


# undoing


def test_each_change_of_the_jurors_is_named_and_put_back(crit):
    bring_in_jurors(crit, TABLE)
    before, lines = SEATS.read(crit), lines_of(crit)
    bea, hesper, marek = sorted(lines, key=lambda line: line["name"])
    new = {"pk": None, "name": "Jo", "kind": "visiting", "room": "", "email": ""}
    deeds = {
        "Jo added": [*lines, new],
        "Bea Lantry left out": [hesper, marek],
        "Hesper Quill: Room A → B": [bea, hesper | {"room": "B"}, marek],
        "Hesper Quill: 2 cells": [bea, hesper | {"room": "", "email": ""}, marek],
        "Marek Ostrey: Name Marek Ostrey → Bo, Bea Lantry: Name Bea Lantry → Marek Ostrey": [
            hesper,
            bea | {"name": "Marek Ostrey"},
            marek | {"name": "Bo"},
        ],
    }
    for what, changed in deeds.items():
        keep_now(crit, changed)
        change = last_change(crit, SEATS.slug)
        assert (change.what, change.by) == (what, crit.studio.opened_by)
        undo_last(crit)
        assert SEATS.read(crit) == before
    bring_in_jurors(crit, "name,room\nHesper Quill,B\nJo,A")
    assert last_change(crit, SEATS.slug).what == "Hesper Quill and 1 more brought in"
    undo_last(crit)
    assert SEATS.read(crit) == before


def test_a_seat_that_comes_back_has_its_own_link_and_number(cast):
    lines, code = lines_of(cast.crit), cast.seat.code
    keep_now(cast.crit, [])
    assert cast.client().get(f"/j/{code}/").status_code == 404
    undo_last(cast.crit)
    assert lines_of(cast.crit) == lines
    assert cast.client().get(f"/j/{code}/").status_code == 302


def test_a_seat_that_comes_back_is_still_known_to_have_been_opened(crit):
    bring_in_jurors(crit, TABLE)
    seat = crit.seats.get(name="Marek Ostrey")
    open_link(seat)
    seat.refresh_from_db()
    keep_now(crit, [line for line in lines_of(crit) if line["pk"] != seat.pk])
    undo_last(crit)
    assert crit.seats.get(pk=seat.pk).opened_at == seat.opened_at
    with pytest.raises(Frozen, match="Marek Ostrey has opened the personal link"):
        undo_last(crit)


def test_a_link_that_was_renewed_stays_ended(cast):
    former, lines = cast.seat.code, lines_of(cast.crit)
    keep_now(cast.crit, [lines[0] | {"room": "A"}])
    fresh = renew_code(cast.seat).code
    keep_now(cast.crit, [])
    undo_last(cast.crit)
    undo_last(cast.crit)
    assert lines_of(cast.crit) == lines
    assert cast.crit.seats.get().code == fresh
    assert cast.client().get(f"/j/{former}/").status_code == 404


def test_the_moment_of_a_move_comes_back_with_the_room(crit):
    bring_in_jurors(crit, TABLE)
    moves = ("B", "")
    for room in moves:
        keep_now(crit, [line | {"room": room} for line in lines_of(crit)])
    moved = set(crit.seats.values_list("room_since", flat=True))
    undo_last(crit)
    assert set(crit.seats.values_list("room", flat=True)) == {"B"}
    assert max(filter(None, crit.seats.values_list("room_since", flat=True))) < max(moved)
    undo_last(crit)
    assert set(crit.seats.values_list("room_since", flat=True)) == {None}


@pytest.mark.parametrize("entered", ["sheet", "interest", "link"])
def test_a_juror_who_entered_anything_is_not_undone(crit, entered):
    bring_in_jurors(crit, TABLE)
    seat = crit.seats.get(name="Marek Ostrey")
    scheme = factories.SchemeFactory(studio=crit.studio)
    said = "has begun a jury sheet, declared an interest or crosses rooms. The seat stays"
    if entered == "link":
        open_link(seat)
        said = "Marek Ostrey has opened the personal link: nothing was undone"
    elif entered == "sheet":
        factories.JurySheetFactory(seat=seat, scheme=scheme)
    else:
        factories.InterestFactory(seat=seat, scheme=scheme)
    before = SEATS.read(crit)
    with pytest.raises(Frozen, match=said):
        undo_last(crit)
    assert SEATS.read(crit) == before
    assert last_change(crit, SEATS.slug) is not None


def test_a_juror_who_entered_something_is_moved_back_all_the_same(crit):
    bring_in_jurors(crit, TABLE)
    seat = crit.seats.get(name="Marek Ostrey")
    open_link(seat)
    sheet = factories.JurySheetFactory(
        seat=seat, scheme=factories.SchemeFactory(studio=crit.studio)
    )
    keep_now(crit, [line | {"room": "C"} for line in lines_of(crit)])
    undo_last(crit)
    seat.refresh_from_db()
    assert (seat.room, list(seat.sheets.all())) == ("B", [sheet])


def test_a_declared_interest_keeps_the_seat(crit):
    seat = factories.SeatFactory(crit=crit)
    interest = factories.InterestFactory(
        seat=seat, scheme=factories.SchemeFactory(studio=crit.studio)
    )
    with pytest.raises(Frozen, match="declared an interest"):
        keep_now(crit, [])
    assert list(seat.interests.all()) == [interest]


def test_the_first_opening_of_a_link_is_kept(cast):
    client = cast.client()
    client.get(f"/j/{cast.seat.code}/")
    cast.seat.refresh_from_db()
    first = cast.seat.opened_at
    assert first is not None
    client.get(f"/j/{cast.seat.code}/")
    cast.seat.refresh_from_db()
    assert (cast.seat.opened_at, client.session[SEAT_KEY][0]) == (first, cast.seat.pk)


def test_jurors_that_another_changed_meanwhile_are_not_put_back(crit):
    seen = read_jurors(crit, TABLE).seen
    bring_in_jurors(crit, TABLE)
    first = last_change(crit, SEATS.slug)
    bring_in_jurors(crit, "name\nJo")
    before, by = SEATS.read(crit), crit.studio.opened_by
    with pytest.raises(Newer) as later:
        undo_part(crit, SEATS, first.pk)
    assert later.value.kept.what == "Jo: new seat"
    with pytest.raises(Newer):
        crit_seating.bring_in_jurors(crit, "name\nAl", by, seen=seen)
    crit_seating.bring_in_jurors(crit, TABLE, by, seen=seen)
    assert SEATS.read(crit) == before
