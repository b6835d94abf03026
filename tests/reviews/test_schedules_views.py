"""Schedules on their pages: typed, kept, met, undone."""

import uuid

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from reviews.deeds import package_keeping
from reviews.models import Change, Row
from tests.factories import RowFactory
from tests.reviews.schedule_steps import HTMX, KITCHEN, at, page, saved


@pytest.fixture
def client(cast):
    return cast.client(cast.student)


class TestShow:
    def test_rows_stand_as_typed_with_the_same_in_the_heads_unit_beneath(
        self, cast, package, client
    ):
        package_keeping.add_row(package, "rooms", KITCHEN | {"floor_m2": "86 sq ft"}, cast.mate)
        text = page(client, cast.scheme)
        assert 'value="86 sq ft"' in text
        assert "8.0 m²" in text
        assert "Last changed by Mira Mate" in text

    def test_an_empty_schedule_shows_an_example_and_suggests_the_first_mark(self, cast, client):
        text = page(client, cast.scheme, "windows")
        assert 'value="W1"' in text
        assert 'placeholder="1240"' in text

    def test_the_next_mark_follows_the_highest(self, cast, row, client):
        assert 'value="R3"' in page(client, cast.scheme)

    def test_a_cell_that_is_refused_is_kept_flagged_and_counted(self, cast, package, client):
        package_keeping.add_row(package, "rooms", KITCHEN | {"floor_m2": "12 kg"}, cast.student)
        text = page(client, cast.scheme)
        assert 'value="12 kg"' in text
        assert "Read “12 kg”. Expected an area" in text
        assert "kg is a mass" in text
        assert "1 cell can't be read and counts as No data" in text

    def test_a_reference_is_chosen_among_known_marks_and_says_what_it_leads_to(
        self, cast, package, row, client
    ):
        package_keeping.add_row(package, "windows", {"mark": "W1", "room": "R2"}, cast.student)
        text = page(client, cast.scheme, "windows")
        assert "<option selected>R2</option>" in text
        assert "Kitchen</span>" in text

    def test_a_reference_to_no_row_is_kept_and_flagged(self, cast, package, row, client):
        package_keeping.add_row(package, "windows", {"mark": "W1", "room": "R9"}, cast.student)
        text = page(client, cast.scheme, "windows")
        assert "<option selected>R9</option>" in text
        assert "Expected a mark of the rooms schedule (R2)" in text

    def test_an_odd_value_is_asked_beside_its_row_with_what_would_mend_it(
        self, cast, package, client
    ):
        tank = {"mark": "T1", "holds": "potable", "litres": "1.6", "usable_share": "0.9"}
        package_keeping.add_row(package, "tanks", tank, cast.student)
        text = page(client, cast.scheme, "tanks")
        assert "T1 reads 1.6 L. Is that 1.6 m³, 1\u202f600 L?" in text
        assert "Write 1.6 m³" in text

    def test_help_can_be_read_without_hovering(self, cast, client):
        text = page(client, cast.scheme)
        assert 'id="help-floor_m2"' in text
        assert "Inside the walls, low parts included." in text

    def test_a_leader_reads_and_is_given_no_field(self, cast, row):
        text = page(cast.client(cast.leader), cast.scheme)
        assert "Kitchen" in text
        assert "data-keep" not in text

    def test_a_sheet_of_one_row_is_one_form(self, cast, client):
        text = page(client, cast.scheme, "plant")
        assert text.count("data-keep=") == 1
        assert "<table" not in text

    def test_there_is_no_schedule_of_the_leaders_here(self, cast, client):
        for slug in ("site", "climate", "nothing"):
            assert client.get(at("show-schedule", cast.scheme, slug=slug)).status_code == 404

    def test_queries_do_not_grow_with_rows(self, cast, package, client):
        counts = []
        for rows in (10, 90):
            for n in range(rows):
                cells = KITCHEN | {"mark": f"R{rows}{n}"}
                RowFactory(package=package, cells=cells, changed_by=cast.student)
            with CaptureQueriesContext(
                connection,
            ) as queries:
                page(client, cast.scheme)
            counts.append(len(queries))
        assert counts[0] == counts[1]


class TestSave:
    def test_a_save_is_kept_and_leads_back_to_its_row(self, cast, row, client):
        answer = client.post(at("save-row", cast.scheme, row.pk), saved(row, floor_m2="9"))
        assert answer.url == f"{at('show-schedule', cast.scheme)}?row={row.pk}#row-{row.pk}"
        row.refresh_from_db()
        assert (row.cells["floor_m2"], row.version, row.changed_by) == ("9", 2, cast.student)

    def test_a_script_is_answered_with_the_row_its_time_and_the_checks(self, cast, row, client):
        answer = client.post(
            at("save-row", cast.scheme, row.pk), saved(row, use="day"), **HTMX
        ).content.decode()
        assert f'id="row-{row.pk}"' in answer
        assert 'name="version" value="2"' in answer
        assert "Kept " in answer
        assert 'id="checks"' in answer
        assert "T01 Day room daylight ratio" in answer
        assert "<html" not in answer

    @pytest.mark.parametrize(("headers", "whole"), [(HTMX, False), ({}, True)])
    def test_a_save_over_a_newer_version_shows_both(
        self, cast, package, row, client, headers, whole
    ):
        package_keeping.save_row(package, row.pk, {"floor_m2": "9"}, 1, cast.mate)
        answer = client.post(
            at("save-row", cast.scheme, row.pk), saved(row, floor_m2="7"), **headers
        )
        text = answer.content.decode()
        assert answer.status_code == 409
        assert 'value="7"' in text
        assert "Kept: 9" in text
        assert "Mira Mate changed R2" in text
        assert 'name="version" value="2"' in text
        assert ("<html" in text) is whole
        row.refresh_from_db()
        assert row.cells["floor_m2"] == "9"

    def test_keeping_mine_after_both_were_shown_is_kept(self, cast, package, row, client):
        package_keeping.save_row(package, row.pk, {"floor_m2": "9"}, 1, cast.mate)
        client.post(at("save-row", cast.scheme, row.pk), saved(row, version=2, floor_m2="7"))
        row.refresh_from_db()
        assert row.cells["floor_m2"] == "7"

    def test_a_save_of_a_row_that_was_removed_offers_to_put_it_back(
        self, cast, package, row, client
    ):
        package_keeping.remove_row(package, row.pk, 1, cast.mate)
        answer = client.post(at("save-row", cast.scheme, row.pk), saved(row, room="Bothy"), **HTMX)
        text = answer.content.decode()
        assert answer.status_code == 409
        assert "Mira Mate removed R2" in text
        assert 'value="Bothy"' in text
        assert f'action="{at("add-row", cast.scheme)}"' in text

    @pytest.mark.parametrize("version", ["", "new", "-1", "²", "9" * 30])
    def test_a_version_that_nobody_saw_overwrites_nothing(self, cast, row, client, version):
        sent = saved(row, version=version, floor_m2="7")
        assert client.post(at("save-row", cast.scheme, row.pk), sent).status_code == 409
        row.refresh_from_db()
        assert row.cells == KITCHEN

    def test_the_same_save_twice_is_one_change(self, cast, row, client):
        sent = saved(row, floor_m2="9") | {"key": str(uuid.uuid4())}
        for _ in range(2):
            client.post(at("save-row", cast.scheme, row.pk), sent, **HTMX)
        assert Change.objects.filter(what="R2: Floor 8 → 9").count() == 1

    def test_one_press_mends_an_odd_value_and_leaves_the_rest(self, cast, package, client):
        tank = {"mark": "T1", "holds": "potable", "litres": "1.6", "usable_share": "0.9"}
        row = package_keeping.add_row(package, "tanks", tank, cast.student)
        client.post(
            at("save-row", cast.scheme, row.pk, slug="tanks"),
            {"version": 1, "cell-litres": "1.6 m³"},
        )
        row.refresh_from_db()
        assert row.cells == tank | {"litres": "1.6 m³"}

    def test_a_row_of_another_schedule_or_scheme_is_not_here(self, cast, row, client):
        other = RowFactory(package=cast.other_scheme.package, changed_by=cast.classmate)
        assert (
            client.post(at("save-row", cast.scheme, row.pk, slug="tanks"), saved(row)).status_code
            == 404
        )
        sent = {"version": 1, "cell-room": "Mine now"}
        client.post(at("save-row", cast.scheme, other.pk), sent)
        other.refresh_from_db()
        assert other.cells["room"] == "Day room"

    def test_a_withdrawn_scheme_is_not_changed(self, cast, row, client):
        from django.utils import timezone

        cast.scheme.withdrawn_at = timezone.now()
        cast.scheme.save()
        assert client.post(at("save-row", cast.scheme, row.pk), saved(row)).status_code == 403


class TestUnits:
    @pytest.fixture
    def us_client(self, cast):
        cast.mate.units = "us"
        cast.mate.save()
        return cast.client(cast.mate)

    def test_a_bare_number_under_a_us_head_is_kept_with_its_unit(self, cast, row, us_client):
        us_client.post(at("save-row", cast.scheme, row.pk), saved(row, floor_m2="86"))
        row.refresh_from_db()
        assert row.cells["floor_m2"] == "86 ft²"

    def test_a_bare_metric_number_shows_its_unit_to_a_us_reader(self, cast, row, us_client):
        text = page(us_client, cast.scheme)
        assert 'value="8 m²"' in text
        assert "86.1 ft²" in text

    def test_saving_what_was_only_shown_leaves_it_as_typed(self, cast, row, us_client):
        sent = saved(row, floor_m2="8 m²", room="Galley")
        us_client.post(at("save-row", cast.scheme, row.pk), sent)
        row.refresh_from_db()
        assert row.cells == KITCHEN | {"room": "Galley"}

    def test_checks_are_shown_in_the_readers_units(self, cast, package, us_client):
        package_keeping.add_row(package, "rooms", KITCHEN, cast.student)
        text = us_client.get(reverse("show-check", args=[cast.scheme.pk, "floor_area"]))
        assert "86.1 ft²" in text.content.decode()


class TestAddRemoveUndo:
    def test_a_row_is_added_with_what_was_typed(self, cast, client):
        sent = {f"cell-{head}": text for head, text in KITCHEN.items()}
        answer = client.post(at("add-row", cast.scheme), sent | {"key": str(uuid.uuid4())})
        row = Row.objects.get()
        assert row.cells == KITCHEN
        assert answer.url.endswith(f"#row-{row.pk}")

    def test_a_script_gets_the_row_and_the_next_empty_one(self, cast, client):
        sent = {"cell-mark": "R7", "cell-room": "Lab"}
        text = client.post(at("add-row", cast.scheme), sent, **HTMX).content.decode()
        assert f'id="row-{Row.objects.get().pk}"' in text
        assert 'id="row-new"' in text
        assert 'value="R8"' in text

    def test_adding_twice_with_one_key_adds_once(self, cast, client):
        sent = {"cell-mark": "R7", "key": str(uuid.uuid4())}
        for _ in range(2):
            client.post(at("add-row", cast.scheme), sent)
        assert Row.objects.count() == 1

    def test_two_who_fill_a_sheet_of_one_row_at_once_see_both(self, cast, package, client):
        package_keeping.add_row(package, "plant", {"heat_w": "900"}, cast.mate)
        sent = {"cell-hrv_as_typed": "0.8", "key": str(uuid.uuid4())}
        answer = client.post(at("add-row", cast.scheme, slug="plant"), sent)
        text = answer.content.decode()
        assert answer.status_code == 409
        assert 'value="0.8"' in text
        assert "Mira Mate changed" in text

    def test_a_full_schedule_takes_no_more(self, cast, row, client, monkeypatch):
        monkeypatch.setattr(package_keeping, "MOST_ROWS", 1)
        answer = client.post(at("add-row", cast.scheme), {"cell-mark": "R3"}, **HTMX)
        assert answer.status_code == 409
        assert "Read 2 rows. Expected at most 1 row" in answer.content.decode()
        assert Row.objects.get() == row

    def test_a_row_is_removed_and_put_back(self, cast, row, client):
        client.post(at("remove-row", cast.scheme, row.pk), {"version": 1})
        assert not Row.objects.exists()
        assert "Last change: R2 removed, by Stef Student" in page(client, cast.scheme)
        change = Change.objects.first()
        client.post(at("undo-change", cast.scheme), {"change": change.pk})
        assert Row.objects.get().cells == KITCHEN

    def test_a_row_that_a_mate_changed_is_not_removed(self, cast, package, row, client):
        package_keeping.save_row(package, row.pk, {"floor_m2": "9"}, 1, cast.mate)
        answer = client.post(at("remove-row", cast.scheme, row.pk), {"version": 1}, **HTMX)
        assert answer.status_code == 409
        assert "Mira Mate changed this row meanwhile" in answer.content.decode()
        assert Row.objects.exists()

    @pytest.mark.parametrize("change", ["", "none", "0", "999999"])
    def test_undoing_what_is_not_the_last_change_does_nothing(self, cast, row, client, change):
        answer = client.post(at("undo-change", cast.scheme), {"change": change})
        assert answer.status_code == 409
        assert Row.objects.exists()
