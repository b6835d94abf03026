"""What is typed is kept: versions, resends, changes and their undoing."""

import uuid

import pytest

from criteria.errors import Refused
from reviews.deeds import package_keeping
from reviews.deeds.record_changes import last_change
from reviews.models import Change, Row
from reviews.versions import Newer

KITCHEN = {"mark": "R2", "room": "Kitchen", "floor_m2": "8", "use": "kitchen"}


def test_a_row_is_kept_as_typed_even_where_a_cell_is_refused(cast, package):
    row = package_keeping.add_row(
        package, "rooms", KITCHEN | {"floor_m2": "eight or so"}, cast.student
    )
    assert Row.objects.get(pk=row.pk).cells["floor_m2"] == "eight or so"


def test_cells_that_no_column_has_and_blanks_are_left_out(cast, package):
    row = package_keeping.add_row(
        package, "rooms", {"mark": "R1", "colour": "red", "room": " "}, cast.mate
    )
    assert row.cells == {"mark": "R1"}


def test_a_save_changes_only_the_cells_it_names(cast, package):
    row = package_keeping.add_row(package, "rooms", KITCHEN, cast.student)
    saved = package_keeping.save_row(package, row.pk, {"floor_m2": "86 sq ft"}, 1, cast.mate)
    assert saved.cells == KITCHEN | {"floor_m2": "86 sq ft"}
    assert (saved.version, saved.changed_by) == (2, cast.mate)
    assert last_change(package, "rooms").what == "R2: Floor 8 → 86 sq ft"


def test_a_save_over_a_newer_version_changes_nothing_and_carries_both(cast, package):
    row = package_keeping.add_row(package, "rooms", KITCHEN, cast.student)
    package_keeping.save_row(package, row.pk, {"floor_m2": "9"}, 1, cast.mate)
    with pytest.raises(Newer, match="floor_m2") as newer:
        package_keeping.save_row(package, row.pk, {"floor_m2": "7"}, 1, cast.student)
    assert newer.value.kept.cells["floor_m2"] == "9"
    assert newer.value.sent["floor_m2"] == "7"
    assert Row.objects.get(pk=row.pk).cells["floor_m2"] == "9"


def test_a_save_sent_again_with_its_key_changes_nothing_even_after_a_mates_change(cast, package):
    key = uuid.uuid4()
    row = package_keeping.add_row(package, "rooms", KITCHEN, cast.student)
    package_keeping.save_row(package, row.pk, {"floor_m2": "9"}, 1, cast.student, key=key)
    package_keeping.save_row(package, row.pk, {"floor_m2": "10"}, 2, cast.mate)
    again = package_keeping.save_row(package, row.pk, {"floor_m2": "9"}, 1, cast.student, key=key)
    assert (again.cells["floor_m2"], again.version) == ("10", 3)


def test_a_row_added_twice_with_one_key_is_one_row(cast, package):
    key = uuid.uuid4()
    first = package_keeping.add_row(package, "rooms", KITCHEN, cast.student, key=key)
    assert package_keeping.add_row(package, "rooms", KITCHEN, cast.student, key=key) == first
    assert Row.objects.count() == 1


def test_another_row_under_a_key_that_was_used_is_another_row(cast, package):
    key = uuid.uuid4()
    package_keeping.add_row(package, "rooms", KITCHEN, cast.student, key=key)
    package_keeping.add_row(package, "rooms", KITCHEN | {"mark": "R3"}, cast.student, key=key)
    assert [row.cells["mark"] for row in Row.objects.all()] == ["R2", "R3"]


def test_a_save_of_a_row_that_was_removed_carries_what_was_typed(cast, package):
    row = package_keeping.add_row(package, "rooms", KITCHEN, cast.student)
    package_keeping.remove_row(package, row.pk, 1, cast.mate)
    with pytest.raises(Newer, match="Bothy") as newer:
        package_keeping.save_row(package, row.pk, {"room": "Bothy"}, 1, cast.student)
    assert (newer.value.kept, newer.value.sent) == (None, {"room": "Bothy"})
    assert package_keeping.removal_of(package, "rooms", row.pk).by == cast.mate


def test_removing_a_row_that_changed_is_refused_and_one_that_is_gone_needs_nothing(cast, package):
    row = package_keeping.add_row(package, "rooms", KITCHEN, cast.student)
    package_keeping.save_row(package, row.pk, {"floor_m2": "9"}, 1, cast.mate)
    with pytest.raises(Newer, match="R2"):
        package_keeping.remove_row(package, row.pk, 1, cast.student)
    assert package_keeping.remove_row(package, row.pk, 2, cast.student) is None
    assert package_keeping.remove_row(package, row.pk, 2, cast.student) is None
    assert Change.objects.filter(what="R2 removed").count() == 1


def test_a_sheet_of_one_row_keeps_its_first(cast, package):
    first = package_keeping.add_row(package, "plant", {}, cast.student)
    with pytest.raises(Newer, match="kept") as newer:
        package_keeping.add_row(package, "plant", {}, cast.mate)
    assert newer.value.kept == first


class TestUndo:
    def test_a_save_is_put_back(self, cast, package):
        row = package_keeping.add_row(package, "rooms", KITCHEN, cast.student)
        package_keeping.save_row(package, row.pk, {"floor_m2": "9"}, 1, cast.student)
        change = last_change(package, "rooms")
        package_keeping.undo(package, "rooms", change.pk, cast.mate)
        row.refresh_from_db()
        assert (row.cells, row.version) == (KITCHEN, 3)
        assert last_change(package, "rooms").what == "R2 added"

    def test_a_removed_row_comes_back_in_its_place_so_that_earlier_changes_can_be_undone(
        self, cast, package
    ):
        first = package_keeping.add_row(package, "rooms", KITCHEN, cast.student)
        package_keeping.add_row(package, "rooms", KITCHEN | {"mark": "R3"}, cast.student)
        package_keeping.remove_row(package, first.pk, 1, cast.student)
        for _ in range(3):
            package_keeping.undo(package, "rooms", last_change(package, "rooms").pk, cast.student)
        assert Row.objects.count() == 0
        assert last_change(package, "rooms") is None

    def test_a_row_that_comes_back_is_newer_than_any_seen(self, cast, package):
        row = package_keeping.add_row(package, "rooms", KITCHEN, cast.student)
        package_keeping.remove_row(package, row.pk, 1, cast.student)
        package_keeping.undo(package, "rooms", last_change(package, "rooms").pk, cast.student)
        with pytest.raises(Newer, match="R2"):
            package_keeping.save_row(package, row.pk, {"floor_m2": "9"}, 1, cast.mate)

    def test_undoing_twice_undoes_once(self, cast, package):
        package_keeping.add_row(package, "rooms", KITCHEN, cast.student)
        row = package_keeping.add_row(package, "rooms", KITCHEN | {"mark": "R3"}, cast.student)
        change = last_change(package, "rooms")
        package_keeping.undo(package, "rooms", change.pk, cast.student)
        package_keeping.undo(package, "rooms", change.pk, cast.student)
        assert not Row.objects.filter(pk=row.pk).exists()
        assert Row.objects.count() == 1

    def test_a_change_under_a_later_one_is_not_undone(self, cast, package):
        row = package_keeping.add_row(package, "rooms", KITCHEN, cast.student)
        seen = last_change(package, "rooms")
        package_keeping.save_row(package, row.pk, {"floor_m2": "9"}, 1, cast.mate)
        with pytest.raises(Newer, match="Floor 8 → 9"):
            package_keeping.undo(package, "rooms", seen.pk, cast.student)

    def test_another_schedules_changes_are_left_alone(self, cast, package):
        package_keeping.add_row(package, "rooms", KITCHEN, cast.student)
        package_keeping.add_row(package, "tanks", {"mark": "T1"}, cast.student)
        package_keeping.undo(package, "rooms", last_change(package, "rooms").pk, cast.student)
        assert [row.schedule for row in Row.objects.all()] == ["tanks"]


class TestBringIn:
    def test_the_words_of_a_long_change_are_cut_to_what_is_kept(self, cast):
        windows = ", ".join(f"W{n}" for n in range(60))
        change = package_keeping.bring_in(
            cast.scheme.package, "windows", [{"mark": "W1"}], cast.student, what=windows
        )
        assert change.what == f"{windows[:119]}…"

    def test_a_block_is_one_change_and_is_undone_as_one(self, cast, package):
        package_keeping.add_row(package, "rooms", KITCHEN, cast.student)
        block = [{"mark": "R3", "room": "Lab"}, {}, {"mark": "R4", "room": "Store"}]
        change = package_keeping.bring_in(package, "rooms", block, cast.mate, is_replacing=True)
        assert change.what == "2 rows in place of 1 row"
        assert [row.cells["mark"] for row in Row.objects.all()] == ["R3", "R4"]
        package_keeping.undo(package, "rooms", change.pk, cast.student)
        assert [row.cells for row in Row.objects.all()] == [KITCHEN]

    def test_added_rows_stand_behind_those_there(self, cast, package):
        package_keeping.add_row(package, "rooms", KITCHEN, cast.student)
        package_keeping.bring_in(package, "rooms", [{"mark": "R1"}], cast.student)
        assert [row.cells["mark"] for row in Row.objects.all()] == ["R2", "R1"]

    def test_a_block_in_place_of_rows_that_changed_since_is_refused(self, cast, package):
        package_keeping.add_row(package, "rooms", KITCHEN, cast.student)
        with pytest.raises(Newer, match="R2 added"):
            package_keeping.bring_in(package, "rooms", [], cast.mate, is_replacing=True, seen=0)
        assert Row.objects.count() == 1

    def test_a_block_sent_again_with_its_key_is_brought_in_once(self, cast, package):
        key = uuid.uuid4()
        for _ in range(2):
            package_keeping.bring_in(package, "rooms", [KITCHEN], cast.mate, seen=0, key=key)
        assert Row.objects.count() == 1

    def test_more_rows_than_a_schedule_holds_are_refused(self, cast, package):
        block = [{"mark": f"R{n}"} for n in range(1001)]
        with pytest.raises(Refused, match="at most 1,000 rows in the room schedule"):
            package_keeping.bring_in(package, "rooms", block, cast.student)
        assert Row.objects.count() == 0


def test_the_statement_is_kept_by_version(cast, package):
    assert (
        package_keeping.keep_statement(package, "A shelf.\r\nCalm.", 0).statement
        == "A shelf.\nCalm."
    )
    with pytest.raises(Newer, match="A fire"):
        package_keeping.keep_statement(package, "A fire.", 0)
    assert package_keeping.keep_statement(package, "A shelf.\nCalm.", 0).statement_version == 1


def test_a_long_change_is_cut_where_it_is_told_and_kept_whole(cast, package):
    row = package_keeping.add_row(package, "rooms", KITCHEN, cast.student)
    package_keeping.save_row(package, row.pk, {"room": "x" * 500}, 1, cast.student)
    change = last_change(package, "rooms")
    assert len(change.what) == 120
    assert change.after[0]["cells"]["room"] == "x" * 500
