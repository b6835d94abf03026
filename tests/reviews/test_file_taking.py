"""What a file proposes is taken over cell by cell, once, and can be undone as one."""

import pytest

from reviews.deeds import package_keeping
from reviews.deeds.file_taking import (
    Choices,
    last_change_of,
    merged_with,
    read_of,
    set_aside,
    take_over,
    undo_taking,
)
from reviews.exchange.proposed import How, Proposal, ProposedCell
from reviews.models import BroughtFile, Change
from reviews.versions import Newer
from tests.reviews.exchange.test_known_again import SQUARE, row
from tests.reviews.schedule_steps import KITCHEN

NOTHING = Choices(frozenset(), frozenset(), frozenset())
HOUSE = (
    row(source="r-a", floor="EG", shape=SQUARE, mark="R1", room="Day", floor_m2="16", use="day"),
    row("windows", source="w-a", mark="W1", room="R1", sill="700"),
    row("windows", source="w-b", mark="W2", room="R1", sill="900"),
)


@pytest.fixture
def bring(package, cast):
    """Keep what a file proposes, as if it had been read."""

    def brings(*rows, kind="model", name="house.ifc") -> BroughtFile:
        return BroughtFile.objects.create(
            package=package,
            by=cast.student,
            name=name,
            kind=kind,
            told=Proposal(kind=kind, rows=rows).as_json(),
        )

    return brings


@pytest.fixture
def take(package, cast):
    def takes(brought, rows=(), cells=(), gone=()) -> list[Change]:
        choices = Choices(frozenset(rows), frozenset(cells), frozenset(gone))
        seen, read = last_change_of(package), read_of(brought)
        return take_over(brought, choices, cast.student, seen=seen, read=read)

    return takes


def cells_of(package, slug):
    return [each.cells for each in package.rows.filter(schedule=slug)]


def test_ticked_rows_come_in_one_change_a_schedule(package, bring, take):
    changes = take(bring(*HOUSE), rows=(0, 1))
    assert [(each.schedule, each.what) for each in changes] == [
        ("rooms", "1 new, from house.ifc"),
        ("windows", "1 new, from house.ifc"),
    ]
    assert cells_of(package, "windows") == [{"mark": "W1", "room": "R1", "sill": "700"}]


def test_the_same_file_again_proposes_nothing(package, bring, take):
    take(bring(*HOUSE), rows=(0, 1, 2))
    again = bring(*HOUSE)
    assert merged_with(package, again).is_empty
    assert take(again) == []


def test_a_window_changed_by_hand_stays_and_the_file_is_not_asked_again(package, bring, take, cast):
    take(bring(*HOUSE), rows=(0, 1, 2))
    window = package.rows.get(cells__mark="W1")
    package_keeping.save_row(package, window.pk, {"sill": "750"}, window.version, cast.student)
    assert merged_with(package, bring(*HOUSE)).is_empty
    assert package.rows.get(pk=window.pk).cells["sill"] == "750"


def test_a_new_edition_changes_what_was_not_touched_and_asks_for_the_rest(
    package, bring, take, cast
):
    take(bring(*HOUSE), rows=(0, 1, 2))
    window = package.rows.get(cells__mark="W1")
    package_keeping.save_row(package, window.pk, {"sill": "750"}, window.version, cast.student)
    edition = [
        row("windows", source=f"w-{n}", mark="W7", room="R1", sill="800") for n in ("a", "b")
    ]
    merged = merged_with(package, bring(HOUSE[0], *edition))
    assert [each.news[0].is_proposed_ticked for each in merged.rows[1:]] == [False, True]
    take(bring(HOUSE[0], *edition), cells=[(2, "sill")])
    assert [each["sill"] for each in cells_of(package, "windows")] == ["750", "800"]
    assert merged_with(package, bring(HOUSE[0], *edition)).is_empty


def test_a_guess_that_was_left_unticked_is_not_made_and_not_asked_again(package, bring, take):
    guessed = {**HOUSE[0].cells, "use": ProposedCell(text="day", how=How.GUESSED)}
    room = row(source="r-a", shape=SQUARE)
    room = type(room)(schedule="rooms", source="r-a", shape=SQUARE, cells=guessed)
    take(bring(room), rows=(0,))
    assert "use" not in cells_of(package, "rooms")[0]
    assert merged_with(package, bring(room)).is_empty


def test_a_guess_comes_with_a_tick_of_its_own(package, bring, take):
    guessed = {**HOUSE[0].cells, "use": ProposedCell(text="day", how=How.GUESSED)}
    room = type(HOUSE[0])(schedule="rooms", source="r-a", cells=guessed)
    take(bring(room), rows=(0,), cells=[(0, "use")])
    assert cells_of(package, "rooms")[0]["use"] == "day"


def test_rows_that_the_file_lacks_go_only_where_that_is_ticked(package, bring, take):
    take(bring(*HOUSE), rows=(0, 1, 2))
    gone = package.rows.get(cells__mark="W2")
    assert take(bring(*HOUSE[:2])) == []
    [change] = take(bring(*HOUSE[:2]), gone=[gone.pk])
    assert change.what == "1 removed, from house.ifc"
    assert [each["mark"] for each in cells_of(package, "windows")] == ["W1"]


def test_nothing_else_goes_whatever_is_sent(package, bring, take, cast):
    typed = package_keeping.add_row(package, "windows", {"mark": "W9"}, cast.student)
    take(bring(*HOUSE), rows=(0, 1, 2, 77, -1), cells=[(0, "none"), (9, "sill")], gone=[typed.pk])
    assert {each["mark"] for each in cells_of(package, "windows")} == {"W9", "W1", "W2"}


def test_all_of_it_is_undone_as_one(package, bring, take, cast):
    row_ = package_keeping.add_row(package, "rooms", KITCHEN, cast.student)
    before = [(each.pk, each.cells, each.origin) for each in package.rows.all()]
    brought = bring(
        row(source="r-a", mark="R1", room=KITCHEN["room"], clear_height_m="3"), *HOUSE[1:]
    )
    take(brought, rows=(1, 2), cells=[(0, "clear_height_m")])
    assert package.rows.get(pk=row_.pk).cells["clear_height_m"] == "3"
    brought.refresh_from_db()
    undo_taking(brought, cast.student)
    assert [(each.pk, each.cells, each.origin) for each in package.rows.all()] == before


def test_undoing_does_nothing_where_something_came_after(package, bring, take, cast):
    brought = bring(*HOUSE)
    take(brought, rows=(0, 1, 2))
    package_keeping.add_row(package, "windows", {"mark": "W9"}, cast.student)
    brought.refresh_from_db()
    with pytest.raises(Newer):
        undo_taking(brought, cast.student)
    assert package.rows.filter(schedule="rooms").count() == 1
    with pytest.raises(Change.DoesNotExist):
        undo_taking(bring(*HOUSE), cast.student)


def test_who_meets_a_newer_package_keeps_nothing(package, bring, cast):
    brought, seen = bring(*HOUSE), last_change_of(package)
    package_keeping.add_row(package, "windows", {"mark": "W9"}, cast.mate)
    ticked = Choices(frozenset({0}), frozenset(), frozenset())
    with pytest.raises(Newer) as newer:
        take_over(brought, ticked, cast.student, seen=seen, read=read_of(brought))
    assert newer.value.kept.by == cast.mate
    assert not package.rows.filter(schedule="rooms").exists()


def test_sent_twice_it_is_taken_over_once(package, bring, take):
    brought = bring(*HOUSE)
    assert len(take(brought, rows=(0, 1))) == 2
    assert take(brought, rows=(0, 1, 2)) == []
    assert package.rows.count() == 2


def test_what_is_set_aside_changes_nothing_any_more(package, bring, take):
    brought = bring(*HOUSE)
    set_aside(brought)
    set_aside(brought)
    assert take(brought, rows=(0,)) == []
    brought.refresh_from_db()
    assert brought.ended_at
    assert not brought.changes


def test_where_a_row_came_from_stays_when_others_are_put_in_its_place(package, bring, take, cast):
    take(bring(*HOUSE), rows=(0, 1, 2))
    records = [{**cells, "sill": "1000"} for cells in cells_of(package, "windows")][::-1]
    package_keeping.bring_in(package, "windows", records, cast.student, is_replacing=True)
    sources = {r.cells["mark"]: r.origin["source"] for r in package.rows.filter(schedule="windows")}
    assert sources == {"W1": "w-a", "W2": "w-b"}


def test_a_room_whose_id_changed_is_the_same_room_afterwards(package, bring, take):
    take(bring(*HOUSE), rows=(0,))
    renewed = row(source="r-new", floor="EG", shape=SQUARE, mark="R1", room="Day", floor_m2="17")
    take(bring(renewed), cells=[(0, "floor_m2")])
    [room] = package.rows.filter(schedule="rooms")
    assert (room.cells["floor_m2"], room.origin["source"]) == ("17", "r-new")
    told = room.origin["cells"]
    assert told["floor_m2"]["at"] > told["room"]["at"]  # what is as before stays as it was
    assert room.origin["last"]["model"]["floor_m2"] == "17"


def test_what_two_kinds_of_file_say_otherwise_is_asked_once_and_then_stands(package, bring, take):
    take(bring(*HOUSE), rows=(0, 1, 2))
    book = row("windows", mark="W1", sill="710")
    [merged] = merged_with(package, bring(book, kind="workbook")).rows
    assert [cell.news for cell in merged.news] == ["differs"]
    take(bring(book, kind="workbook"), cells=[(0, "sill")])
    assert package.rows.get(cells__mark="W1").cells["sill"] == "710"
    assert merged_with(package, bring(*HOUSE)).is_empty
    later = bring(row("windows", mark="W1", sill="650"), kind="workbook")
    [merged] = merged_with(package, later).rows
    assert [cell.news for cell in merged.news] == ["follows"]


def test_where_a_cell_comes_from_is_told_of_what_was_taken_alone(package, bring, take, cast):
    package_keeping.add_row(package, "windows", {"mark": "W1", "sill": "700"}, cast.student)
    take(bring(row("windows", mark="W1", sill="700", n="2"), kind="workbook"), cells=[(0, "n")])
    assert set(package.rows.get().origin["cells"]) == {"n"}


def test_a_row_of_which_nothing_was_ticked_is_no_row(package, bring, take):
    guessed = {"use": ProposedCell(text="day", how=How.GUESSED)}
    room = type(HOUSE[0])(schedule="rooms", source="r-a", cells=guessed)
    assert take(bring(room), rows=(0,)) == []
    assert not package.rows.exists()
