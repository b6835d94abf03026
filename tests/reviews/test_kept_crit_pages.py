"""What a process keeps of a crit's pages: shown again while it is the same, and to whom it is open.

What is changed here is changed behind the site's back, as another process does.
"""

import pickle
import re
from datetime import timedelta
from unittest import mock

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
    Criterion,
    Interest,
    JurySheet,
    LevelGiven,
    Person,
    Scheme,
    SetAside,
)
from reviews.reading import crit_moderation_table
from reviews.templatetags.kept import TOKEN
from tests import factories
from tests.reviews.kept_steps import kept, shown

ROOM = {"mark": "R1", "room": "Day room", "use": "day", "floor_m2": "12"}


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


def test_what_waits_for_a_decision_is_worked_out_once_and_anew_after_a_change(judged, monkeypatch):
    type(judged.crit).objects.update(day=timezone.localdate())
    leader = judged.client(judged.leader)
    made = mock.Mock(side_effect=crit_moderation_table.table_of)
    monkeypatch.setattr(crit_moderation_table, "table_of", made)
    for _ in range(2):
        assert "hazard named" not in shown(leader, "home")
    assert made.call_count == 1
    sheet = JurySheet.objects.get(scheme=judged.scheme)
    said = factories.CommentFactory(jury_sheet=sheet, kind=Comment.Kind.HAZARD)
    assert f"{judged.scheme}: 1 hazard named" in shown(leader, "home")
    Comment.objects.filter(pk=said.pk).update(kind=Comment.Kind.KEEP)
    assert "hazard named" not in shown(leader, "home")


def test_cohorts_are_compared_with_what_is_given_now(judged):
    factories.MembershipFactory(studio=judged.other_studio, person=judged.leader, role="leader")
    factories.CriterionFactory(crit=judged.other_crit, code="F1", name="Light")
    for crit in (judged.crit, judged.other_crit):
        crit.kind, crit.released_at = "final", timezone.now()
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
    assert ">Ground</span></label>" in shown(juror, "show-jury-sheet", cast.scheme.pk)
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


def test_no_kept_part_holds_a_form_s_token(judged):
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
