"""Seating jurors, by hand and from a table."""

import pytest

from reviews.deeds.crit_seating import (
    PARTS,
    bring_in_jurors,
    keep_seats,
    lines_of,
    read_jurors,
    renew_code,
)
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
    assert set(read_jurors(crit, TABLE).news) == {"here already"}
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
