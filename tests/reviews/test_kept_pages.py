"""Parts of pages that a process keeps: shown again while what they show is the same, never longer.

What is changed here is changed behind the site's back, as another process does.
"""

import pickle
import re
from datetime import timedelta

import pytest
from django.core.cache import cache
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from reviews.deeds import crit_jury_keeping, revision_issuing
from reviews.models import (
    Answer,
    Comment,
    Correction,
    Crit,
    Criterion,
    HandInItem,
    Interest,
    JurySheet,
    LevelGiven,
    Person,
    Row,
    Scheme,
    SetAside,
    Sheet,
    SheetFile,
)
from reviews.templatetags.kept import TOKEN
from tests import factories

ROOM = {"mark": "R1", "room": "Day room", "use": "day", "floor_m2": "12"}


@pytest.fixture
def client(cast):
    factories.RowFactory(package=cast.scheme.package, cells=ROOM, changed_by=cast.student)
    return cast.client(cast.student)


def shown(client, name, *args, **query):
    answer = client.get(reverse(name, args=args), query)
    assert answer.status_code == 200
    return answer.content.decode()


def kept() -> int:
    return len(cache._cache)


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
    sheet = factories.SheetFactory(package=cast.scheme.package, changed_by=cast.student)
    edit = f'{reverse("edit-sheet", args=[cast.scheme.pk, sheet.pk])}"'
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


@pytest.fixture
def judged(cast, settings, tmp_path):
    """Two schemes with a locked sheet each."""
    settings.MEDIA_ROOT = tmp_path
    factories.issue_sheets(cast, "02")
    for scheme in (cast.scheme, cast.other_scheme):
        for criterion in Criterion.objects.filter(crit=cast.crit):
            crit_jury_keeping.keep_level(cast.seat, scheme, criterion, 3, 0)
        crit_jury_keeping.lock_sheet(cast.seat, scheme)
    return cast


def levels(client, crit):
    return shown(client, "show-table", crit.pk).replace("<i>", "").replace("</i>", "")


def test_a_level_changed_elsewhere_changes_the_table_and_the_numbers(judged):
    leader = judged.client(judged.leader)
    assert ">33<" in levels(leader, judged.crit)
    given = LevelGiven.objects.filter(criterion=judged.criterion, jury_sheet__scheme=judged.scheme)
    given.update(level=5)
    assert ">53<" in levels(leader, judged.crit)
    Scheme.objects.filter(pk=judged.scheme.pk).update(name="Renamed")
    assert "Renamed" in levels(leader, judged.crit)


def test_a_table_kept_for_one_leader_opens_nothing_to_another_who_sits_on_the_jury(judged):
    other = factories.PersonFactory(name="Jan Both", email="jan.both@example.org")
    factories.MembershipFactory(studio=judged.studio, person=other, role="leader")
    factories.SeatFactory(crit=judged.crit, name="Jan Both", email=other.email)
    assert ">33<" in levels(judged.client(judged.leader), judged.crit)
    assert ">33<" not in levels(judged.client(other), judged.crit)
    assert ">33<" in levels(judged.client(judged.leader), judged.crit)


def test_cohorts_are_compared_with_what_is_given_now(judged):
    factories.MembershipFactory(studio=judged.other_studio, person=judged.leader, role="leader")
    factories.CriterionFactory(crit=judged.other_crit, code="F1", name="Light")
    for crit in (judged.crit, judged.other_crit):
        crit.kind = "final"
        crit.save()
    leader = judged.client(judged.leader)
    args, query = [judged.studio.pk], {"other": judged.other_studio.pk}
    assert "2 at 3" in shown(leader, "compare-cohorts", *args, **query)
    LevelGiven.objects.filter(jury_sheet__scheme=judged.scheme).update(level=5)
    assert "1 at 3, 0 at 4, 1 at 5" in shown(leader, "compare-cohorts", *args, **query)


def test_a_jury_sheet_shows_the_level_and_the_words_that_stand(cast, settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path
    factories.issue_sheets(cast, "02")
    crit_jury_keeping.keep_level(cast.seat, cast.scheme, cast.criterion, 3, 0)
    sheet = cast.seat.sheets.get()
    factories.CommentFactory(jury_sheet=sheet, words="First words.")
    juror = cast.client(cast.seat)
    pressed = 'value="{}" aria-pressed="true"'
    text = shown(juror, "show-jury-sheet", cast.scheme.pk)
    assert pressed.format(3) in text
    assert "First words." in text
    LevelGiven.objects.update(level=4)
    Comment.objects.update(words="Other words.", version=2)
    text = shown(juror, "show-jury-sheet", cast.scheme.pk)
    assert pressed.format(4) in text
    assert pressed.format(3) not in text
    assert "Other words." in text
    assert "First words." not in text
    Criterion.objects.filter(pk=cast.criterion.pk).update(name="Daylight", level_4="Lit by day.")
    text = shown(juror, "show-jury-sheet", cast.scheme.pk)
    assert "F1 Daylight</option>" in text
    assert "Lit by day." in text
    sheet.revision.sheets.update(title="Ground")
    assert "</span> Ground</label>" in shown(juror, "show-jury-sheet", cast.scheme.pk)
    JurySheet.objects.update(impression=2, impression_kept_at=sheet.revision.issued_at)
    assert pressed.format(2) in shown(juror, "show-jury-sheet", cast.scheme.pk)


def test_facts_beside_a_criterion_follow_what_is_set_aside(cast, settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path
    target = {"id": "T07", "what": "Floor", "check": "floor_area", "rule": "at least", "value": "9"}
    factories.TargetLineFactory(brief=cast.studio.brief, cells=target)
    factories.RowFactory(package=cast.scheme.package, cells=ROOM, changed_by=cast.student)
    revision_issuing.issue(cast.scheme.package, cast.student)
    Criterion.objects.filter(pk=cast.criterion.pk).update(evidence="T07")
    juror = cast.client(cast.seat)
    assert "12.0 m²" in shown(juror, "show-jury-sheet", cast.scheme.pk)
    SetAside.objects.create(studio=cast.studio, key="T07", reason="No roof yet.", by=cast.leader)
    assert "No roof yet." in shown(juror, "show-jury-sheet", cast.scheme.pk)
    juror.cookies["units"] = "us"
    assert " ft²" in shown(juror, "show-jury-sheet", cast.scheme.pk)


def test_a_sheet_that_closes_or_meets_an_interest_takes_no_level_any_more(cast, settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path
    factories.issue_sheets(cast, "02")
    juror, level = cast.client(cast.seat), 'name="level" value="3"'
    assert level in shown(juror, "show-jury-sheet", cast.scheme.pk)
    interest = Interest.objects.create(seat=cast.seat, scheme=cast.scheme, may_comment=True)
    text = shown(juror, "show-jury-sheet", cast.scheme.pk)
    assert level not in text
    assert 'id="comment-blank"' in text
    interest.delete()
    assert level in shown(juror, "show-jury-sheet", cast.scheme.pk)
    cast.crit.released_at = timezone.now()
    cast.crit.save()
    text = shown(juror, "show-jury-sheet", cast.scheme.pk)
    assert level not in text
    assert 'id="comment-blank"' not in text


@pytest.fixture
def results(judged):
    """Results that are released, with a comment, and the page as one of its students reads it."""
    sheet = judged.seat.sheets.get(scheme=judged.scheme)
    judged.crit.released_at, judged.crit.released_by = sheet.locked_at, judged.leader
    judged.crit.save()
    place = {"issued_sheet": sheet.revision.sheets.get(), "revision": sheet.revision, "zone": "B4"}
    comment = factories.CommentFactory(
        jury_sheet=sheet, words="Turn it.", criterion=judged.criterion, **place
    )
    student, args = judged.client(judged.student), [judged.crit.pk, judged.scheme.pk]
    return comment, lambda: shown(student, "show-results", *args)


def test_an_answer_kept_elsewhere_stands_in_its_form(judged, results):
    comment, read = results
    assert f'id="answer-{comment.pk}-words"' in read()
    Answer.objects.create(
        comment=comment, kind=Answer.Kind.TALK, words="On Friday.", answered_by=judged.mate
    )
    assert read().count("On Friday.") == 2
    Answer.objects.update(words="On Monday.", version=2)
    assert "On Friday." not in read()
    assert "<strong>Renamed</strong>" not in read()
    Person.objects.filter(pk=judged.mate.pk).update(name="Renamed")
    assert "<strong>Renamed</strong>" in read()


def test_results_show_what_is_held_corrected_and_renamed_since(judged, results):
    comment, read = results
    text = read()
    assert "Turn it." in text
    level = LevelGiven.objects.get(criterion=judged.criterion, jury_sheet=comment.jury_sheet)
    factory = {"given": level, "was": "3", "now": "4", "reason": "Read wrong.", "by": judged.leader}
    Correction.objects.create(**factory)
    assert "Read wrong." in read()
    Person.objects.filter(pk=judged.leader.pk).update(name="Lea Renamed")
    assert "by Lea Renamed: was 3" in read()
    Criterion.objects.filter(pk=judged.criterion.pk).update(name="Daylight")
    assert read().count("F1 Daylight") == 2
    comment.issued_sheet.revision.sheets.update(title="Ground")
    assert "Sheet 02 Ground" in read()
    judged.seat.crit.seats.update(name="Jo Renamed")
    assert "<strong>Jo Renamed</strong>" in read()
    Comment.objects.update(held_at=judged.crit.released_at + timedelta(hours=1))
    assert "Held by the studio leader since" in read()
    assert "Turn it." not in read()


def test_results_kept_for_a_student_open_no_answer_to_a_leader(judged, results):
    comment, read = results
    form = f'action="{reverse("answer-comment", args=[comment.pk])}"'
    assert form in read()
    args = [judged.crit.pk, judged.scheme.pk]
    assert form not in shown(judged.client(judged.leader), "show-results", *args)
    assert form in read()


def test_a_form_in_a_kept_part_has_the_token_of_whoever_reads_it(judged, results):
    comment, read = results
    answer, args = reverse("answer-comment", args=[comment.pk]), [judged.crit.pk, judged.scheme.pk]
    read()
    parts, tokens = kept(), []
    for who in (judged.student, judged.mate):
        client = Client(enforce_csrf_checks=True)
        client.force_login(who)
        found = re.findall(
            r'name="csrfmiddlewaretoken" value="(\w+)"', shown(client, "show-results", *args)
        )
        tokens.append((client, *set(found)))
    assert kept() == parts
    assert tokens[0][1] != tokens[1][1]
    for client, token in tokens:
        sent = {"seen": 0, "kind": Answer.Kind.TALK, "words": "Later."}
        assert client.post(answer, sent).status_code == 403
        sent["csrfmiddlewaretoken"] = token
        assert client.post(answer, sent).status_code in (302, 409)
    assert Answer.objects.get().answered_by == judged.student


def test_no_kept_part_holds_a_form_s_token(judged, client):
    """Whoever is shown a kept part is given no token of somebody else's."""
    for who, name, args in (
        (judged.student, "show-package", [judged.scheme.pk]),
        (judged.student, "show-checks", [judged.scheme.pk]),
        (judged.leader, "show-table", [judged.crit.pk]),
        (judged.seat, "show-jury-sheet", [judged.other_scheme.pk]),
    ):
        shown(judged.client(who), name, *args)
    assert kept() >= 3
    for part in cache._cache.values():
        tokens = re.findall(r'name="csrfmiddlewaretoken" value="(.*?)"', pickle.loads(part))
        assert set(tokens) <= {TOKEN}
