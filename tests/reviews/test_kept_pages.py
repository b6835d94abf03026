"""Parts of pages that a process keeps: shown again while what they show is the same, never longer.

What is changed here is changed behind the site's back, as another process does.
"""

import re

import pytest
from django.urls import reverse

from reviews.models import (
    Crit,
    HandInItem,
    Person,
    Row,
    SetAside,
    Sheet,
    SheetFile,
)
from tests import factories
from tests.reviews.kept_steps import kept, shown

ROOM = {"mark": "R1", "room": "Day room", "use": "day", "floor_m2": "12"}


@pytest.fixture
def client(cast):
    factories.RowFactory(package=cast.scheme.package, cells=ROOM, changed_by=cast.student)
    return cast.client(cast.student)


@pytest.mark.parametrize("name", ["show-checks", "show-questions", "show-package"])
def test_a_page_is_kept_and_shown_the_same_again(cast, client, name):
    first = shown(client, name, cast.scheme.pk)
    parts = kept()
    assert parts
    again = shown(client, name, cast.scheme.pk)
    assert len(first) == len(again)
    assert kept() == parts


def test_one_cell_changed_elsewhere_changes_the_check_sheet(cast, client):
    target = {"id": "T07", "what": "Floor", "check": "floor_area", "rule": "at least", "value": "9"}
    factories.TargetLineFactory(brief=cast.studio.brief, cells=target)
    assert "12.0 m²" in shown(client, "show-checks", cast.scheme.pk)
    Row.objects.update(cells=ROOM | {"floor_m2": "8"})
    text = shown(client, "show-checks", cast.scheme.pk)
    assert "8.0 m²" in text
    assert "12.0 m²" not in text


def test_a_check_sheet_kept_for_one_reader_is_not_another_s(cast, client):
    target = {"id": "T07", "what": "Floor", "check": "floor_area", "rule": "at least", "value": "9"}
    factories.TargetLineFactory(brief=cast.studio.brief, cells=target)
    assert "12.0 m²" in shown(client, "show-checks", cast.scheme.pk)
    Person.objects.filter(pk=cast.student.pk).update(units="us")
    text = shown(client, "show-checks", cast.scheme.pk)
    assert "ft²" in text
    assert "12.0 m²" not in text


def test_two_schemes_that_typed_the_same_lead_each_to_its_own_pages(cast, client):
    for scheme in (cast.scheme, cast.other_scheme):
        scheme.package.rows.all().delete()
        factories.RowFactory(package=scheme.package, cells=ROOM, changed_by=cast.student)
    leader = cast.client(cast.leader)
    for name in ("show-checks", "show-questions", "show-package"):
        shown(leader, name, cast.scheme.pk)
        assert f"/schemes/{cast.scheme.pk}/" not in shown(leader, name, cast.other_scheme.pk)


def test_what_is_set_aside_and_taken_back_is_seen_at_once(cast, client):
    assert "The roof glass" not in shown(client, "show-checks", cast.scheme.pk)
    aside = factories.SetAsideFactory(studio=cast.studio, by=cast.leader)
    assert "The roof glass" in shown(client, "show-checks", cast.scheme.pk)
    Person.objects.filter(pk=cast.leader.pk).update(name="Lea Renamed")
    assert "Set aside by Lea Renamed" in shown(client, "show-checks", cast.scheme.pk)
    SetAside.objects.filter(pk=aside.pk).delete()
    assert "The roof glass" not in shown(client, "show-checks", cast.scheme.pk)


def test_an_issued_check_sheet_follows_what_is_set_aside_and_its_own_revision(cast, client):
    one, other = (
        factories.RevisionFactory(scheme=cast.scheme, letter=letter, crit=cast.crit)
        for letter in "AB"
    )
    shown(client, "show-issued-checks", one.pk)
    assert f"/revisions/{one.pk}/checks/" not in shown(client, "show-issued-checks", other.pk)


def test_the_package_s_last_change_and_rows_are_of_now(cast, client):
    assert ">Stef Student, " not in shown(client, "show-package", cast.scheme.pk)
    url = reverse("add-row", args=[cast.scheme.pk, "rooms"])
    client.post(url, {"cell-mark": "R9", "cell-room": "Store"})
    assert ">Stef Student, " in shown(client, "show-package", cast.scheme.pk)


def test_a_package_shows_its_sheets_issues_and_lacks_as_they_are_now(cast, client, settings):
    package = cast.scheme.package
    sheet = factories.SheetFactory(package=package, number="02", changed_by=cast.student)
    revision = factories.RevisionFactory(scheme=cast.scheme, crit=cast.crit, letter="A")
    url = reverse("add-row", args=[cast.scheme.pk, "rooms"])
    client.post(url, {"cell-mark": "R9", "cell-room": "Store"})

    def page():
        return shown(client, "show-package", cast.scheme.pk)

    assert "<span>02 Plan" in page()
    Sheet.objects.filter(pk=sheet.pk).update(title="Ground")
    assert "<span>02 Ground" in page()
    SheetFile.objects.update(width=4321)
    assert 'width="4321"' in page()
    item = HandInItem.objects.create(brief=cast.studio.brief, kind="sheet", code="07", title="Long")
    assert "<li>Sheet 07 Long</li>" in page()
    item.delete()
    assert "Sheet 07 Long" not in page()
    assert f"<td>{cast.crit}</td>" in page()
    Crit.objects.filter(pk=cast.crit.pk).update(kind="re-crit")
    assert "<td>Re-crit, " in page()
    assert "Late by" not in page()
    type(revision).objects.filter(pk=revision.pk).update(minutes_late=3)
    assert "Late by 3 min" in page()
    assert page().count(">Stef Student, ") == 1
    Person.objects.filter(pk=cast.student.pk).update(name="Stef Renamed")
    assert page().count(">Stef Renamed, ") == 1


def test_a_package_kept_for_its_students_leads_a_leader_nowhere_else(cast, client):
    factories.SheetFactory(package=cast.scheme.package, changed_by=cast.student)
    edit = f'{reverse("edit-sheets", args=[cast.scheme.pk])}"'
    leader, coordinator = cast.client(cast.leader), cast.client(cast.coordinator)
    questions = reverse("show-questions", args=[cast.scheme.pk])
    for _ in range(2):
        assert edit in shown(client, "show-package", cast.scheme.pk)
        text = shown(leader, "show-package", cast.scheme.pk)
        assert edit not in text
        assert questions in text
        assert questions not in shown(coordinator, "show-package", cast.scheme.pk)


def test_a_schedule_shows_its_rows_and_checks_as_they_are_now(cast, client):
    target = {"id": "T07", "what": "Floor", "check": "floor_area", "rule": "at least", "value": "9"}
    factories.TargetLineFactory(brief=cast.studio.brief, cells=target)
    window = {"mark": "W1", "room": "R1", "glass_w": "1200", "glass_h": "wide"}
    factories.RowFactory(
        package=cast.scheme.package, schedule="windows", cells=window, changed_by=cast.student
    )
    rooms, windows = ([cast.scheme.pk, slug] for slug in ("rooms", "windows"))
    assert 'value="12"' in shown(client, "show-schedule", *rooms)
    assert "12.0 m²" in shown(client, "show-schedule", *rooms)
    text = shown(client, "show-schedule", *windows)
    assert ">Day room<" in text
    assert "Read “wide”" in text
    Row.objects.filter(schedule="rooms").update(cells=ROOM | {"floor_m2": "8", "room": "Den"})
    text = shown(client, "show-schedule", *rooms)
    assert 'value="8"' in text
    assert "12.0 m²" not in text
    text = shown(client, "show-schedule", *windows)
    assert ">Den<" in text
    assert ">Day room<" not in text
    Row.objects.filter(schedule="rooms").update(version=7)
    assert 'name="version" value="7"' in shown(client, "show-schedule", *rooms)
    Person.objects.filter(pk=cast.student.pk).update(units="us")
    assert 'class="unit">ft²' in shown(client, "show-schedule", *rooms)


def test_a_schedule_kept_for_its_students_opens_no_field_to_their_leader(cast, client):
    leader, args = cast.client(cast.leader), [cast.scheme.pk, "rooms"]
    for _ in range(2):
        assert 'name="cell-mark"' in shown(client, "show-schedule", *args)
        assert 'name="cell-mark"' not in shown(leader, "show-schedule", *args)
    assert kept() >= 3


def test_each_page_offers_a_row_to_add_with_a_key_of_its_own(cast, client):
    key = re.compile(r'name="key" value="(.*?)"')
    keys = [key.findall(shown(client, "show-schedule", cast.scheme.pk, "rooms")) for _ in "ab"]
    assert len(keys[0]) == len(keys[1]) == 1
    assert keys[0] != keys[1]


def test_nothing_is_kept_of_a_save(cast, client):
    row = cast.scheme.package.rows.get()
    save = reverse("save-row", args=[cast.scheme.pk, "rooms", row.pk])
    sent = {"cell-floor_m2": "14", "version": row.version}
    assert client.post(save, sent, headers={"HX-Request": "true"}).status_code == 200
    refused = client.post(save, sent | {"cell-floor_m2": "15"})
    assert refused.status_code == 409
    assert 'value="15"' in refused.content.decode()
    assert 'value="15"' not in shown(client, "show-schedule", cast.scheme.pk, "rooms")
