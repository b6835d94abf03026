"""Answers as students write them and leaders list and close them; checks from before to now."""

import csv
import io
from dataclasses import replace

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from django.utils import timezone

from criteria.check_sheet.sheet import CheckSheet
from criteria.findings import State
from reviews.deeds import comment_answering
from reviews.deeds.comment_answering import AnswerSent
from reviews.models import AlikeGroup, Answer, Closing, Comment, FormerAnswer, OpposedPair
from reviews.reading.named_checks import named_checks
from reviews.reading.package_checking import issued_sheet
from tests import factories


@pytest.fixture
def released(cast, settings, tmp_path):
    """A Prove, a Keep and a Hazard on the scheme; one comment on the classmate's; released."""
    settings.MEDIA_ROOT = tmp_path
    for scheme in (cast.scheme, cast.other_scheme):
        revision = factories.RevisionFactory(
            scheme=scheme,
            crit=cast.crit,
            contents={
                "statement": "",
                "site": dict(cast.studio.brief.site),
                "sheets": [],
                "schedules": {},
                "targets": cast.studio.brief.target_records(),
            },
        )
        for number in ("02", "03"):
            factories.IssuedSheetFactory(revision=revision, number=number)
    cast.crit.released_at = timezone.now()
    cast.crit.save()
    sheet = factories.JurySheetFactory(seat=cast.seat, scheme=cast.scheme, locked_at=timezone.now())
    for kind in ("Prove", "Keep", "Hazard"):
        factories.CommentFactory(
            jury_sheet=sheet, kind=kind, words=f"{kind} it.", criterion=cast.criterion
        )
    other = factories.JurySheetFactory(
        seat=cast.seat, scheme=cast.other_scheme, locked_at=timezone.now()
    )
    factories.CommentFactory(jury_sheet=other, kind="Ask", words="=Of the classmate.")
    return cast


def comment(words):
    return Comment.objects.get(words=words)


def listed(cast):
    return reverse("show-answers", args=[cast.crit.pk])


def own(cast):
    return reverse("show-scheme-answers", args=[cast.crit.pk, cast.scheme.pk])


def send(cast, said, who=None, **data):
    url = reverse("answer-comment", args=[comment(said).pk])
    sent = {"seen": "0", "on": "list"} | data
    return cast.client(who or cast.student).post(url, sent)


def read(client, address):
    answer = client.get(address)
    assert answer.status_code == 200
    return answer.content.decode()


def test_open_ones_stand_first_and_what_an_answer_said_before_stays(released):
    assert send(released, "Prove it.", kind="Taken up", words="First words.").url.startswith(
        own(released)
    )
    send(released, "Prove it.", released.mate, kind="Part taken up", words="Then these.", seen="1")
    assert FormerAnswer.objects.get().answered_by == released.student
    page = read(released.client(released.student), own(released))
    order = [page.index(words) for words in ("Hazard it.", "Keep it.", "Prove it.")]
    assert order == sorted(order)
    assert "First words." in page
    assert "Stef Student" in page
    results = reverse("show-results", args=[released.crit.pk, released.scheme.pk])
    assert "Changed 1 time" in read(released.client(released.student), results)


def test_an_answer_that_is_refused_comes_back_on_the_list_and_talk_first_leads_to_the_talk(
    released,
):
    page = send(released, "Prove it.", kind="Taken up", place_now="09 B1").content.decode()
    assert "Read “09·B1”. Expected a sheet of the newest" in page
    assert "To answer" in page
    send(released, "Prove it.", released.mate, kind="Taken up", words="By the mate.")
    newer = send(released, "Prove it.", kind="Carried forward", words="Typed here.")
    assert newer.status_code == 409
    assert "Typed here." in newer.content.decode()
    talk = send(released, "Keep it.", kind="Talk first", words="Which?")
    assert talk.url == reverse("show-conversation", args=[released.crit.pk, released.scheme.pk])


def test_the_leader_filters_the_list_takes_it_as_csv_and_reads_no_formula(released):
    send(released, "Prove it.", kind="Taken up", place_now="02 B1")
    leader = released.client(released.leader)
    page = read(leader, listed(released))
    assert "Close 1 at once" in page
    for words in ("Prove it.", "Keep it.", "=Of the classmate."):
        assert words in page
    page = read(leader, f"{listed(released)}?answer=Taken+up&scheme=nonsense")
    assert "Prove it." in page
    assert "Keep it." not in page
    answer = leader.get(reverse("export-answers", args=[released.crit.pk]))
    rows = list(csv.DictReader(io.StringIO(answer.content.decode("utf-8-sig"))))
    assert {row["words"]: row["stands"] for row in rows} == {
        "Prove it.": "to close",
        "Keep it.": "not answered",
        "Hazard it.": "not answered",
        "'=Of the classmate.": "not answered",
    }
    studio = reverse("show-studio-answers", args=[released.studio.pk])
    assert "Keep it." in read(released.client(released.coordinator), studio)
    coordinator = read(released.client(released.coordinator), listed(released))
    assert reverse("close-comment", args=[comment("Prove it.").pk]) not in coordinator


def test_many_are_closed_in_one_press_over_the_list_that_was_shown(released):
    for words in ("Prove it.", "Keep it."):
        send(released, words, kind="Taken up", place_now="02 B1")
    leader = released.client(released.leader)
    address = reverse("close-many", args=[released.crit.pk])
    assert "Prove it." in read(leader, address)
    ticked = [f"{comment(words).pk}:1" for words in ("Prove it.", "Keep it.")]
    send(released, "Keep it.", kind="Part taken up", seen="1")
    refused = leader.post(address, {"ticked": ticked}).content.decode()
    assert "Read the list below again" in refused
    assert not Closing.objects.exists()
    assert leader.post(address, {"ticked": ticked[:1], "words": "Seen."}).status_code == 302
    assert Closing.objects.get().comment == comment("Prove it.")
    page = read(released.client(released.student), own(released))
    assert "Seen." in page
    assert "Closed" in page


def test_one_is_closed_with_words_and_opened_again(released):
    send(released, "Prove it.", kind="Not taken, with reason", words="It faces the drift.")
    leader, pk = released.client(released.leader), comment("Prove it.").pk
    address = reverse("close-comment", args=[pk])
    assert "its students read why" in leader.post(address, {"seen": "1"}).content.decode()
    newer = leader.post(address, {"seen": "0", "words": "Agreed."}).content.decode()
    assert "answered otherwise meanwhile" in newer
    assert "Agreed." in newer
    assert leader.post(address, {"seen": "1", "words": "Agreed."}).status_code == 302
    again = reverse("open-comment-again", args=[pk])
    assert leader.post(again, {"seen": "1", "words": "Draw it."}).status_code == 302
    assert [each.is_closed for each in Closing.objects.all()] == [True, False]
    for who in (released.student, released.coordinator, released.other_leader):
        assert released.client(who).post(address, {"seen": "1"}).status_code == 404


def test_queries_grow_neither_with_comments_nor_with_schemes(released):
    leader, student = released.client(released.leader), released.client(released.student)

    def queries(client, address):
        with CaptureQueriesContext(connection) as caught:
            read(client, address)
        return len(caught)

    few = [queries(leader, listed(released)), queries(student, own(released))]
    few = [queries(leader, listed(released)), queries(student, own(released))]
    for n in range(12):
        scheme = factories.SchemeFactory(studio=released.studio)
        for of in (scheme, released.scheme):
            seat = factories.SeatFactory(crit=released.crit)
            sheet = factories.JurySheetFactory(seat=seat, scheme=of, locked_at=timezone.now())
            said = factories.CommentFactory(jury_sheet=sheet, words=f"More {n}.")
            comment_answering.answer_comment(said, released.student, AnswerSent("Taken up"), 0)
    assert [queries(leader, listed(released)), queries(student, own(released))] == few


def test_checks_are_read_from_what_was_said_of_to_what_was_issued_last(released):
    revision = released.scheme.revisions.get()
    sheet = issued_sheet(revision)
    (finding,) = (each for each in sheet.asked if each.ref == "T01")
    said = comment("Prove it.")
    before = CheckSheet((finding,), ())
    moved = CheckSheet((_as(finding, State.MEETS),), ())
    (move,) = named_checks(said, before, moved)
    assert (move.ref, move.has_moved, move.is_typed) == ("T01", True, False)
    assert named_checks(said, moved, moved) == []
    said.words = "t01 is short."
    assert named_checks(said, moved, moved)[0].is_typed
    (gone,) = named_checks(said, before, None)
    assert gone.now is None
    assert gone.has_moved
    Comment.objects.filter(pk=said.pk).update(revision=revision)
    page = read(released.client(released.student), own(released))
    assert "T01" in page
    assert "unchanged from A to A" in page


def _as(finding, state):
    return replace(finding, state=state)


def test_nothing_of_it_is_there_before_the_release(released):
    released.crit.released_at = None
    released.crit.save()
    assert released.client(released.student).get(own(released)).status_code == 404
    assert "Students answer once" in read(released.client(released.leader), listed(released))
    assert released.client(released.coordinator).get(listed(released)).status_code == 403
    assert not Answer.objects.exists()


def test_students_read_a_ruling_beside_both_comments_and_that_several_say_the_same(released):
    prove, keep, hazard = (comment(f"{kind} it.") for kind in ("Prove", "Keep", "Hazard"))
    of = {"crit": released.crit, "scheme": released.scheme, "by": released.leader}
    pair = OpposedPair.objects.create(first=prove, second=keep, **of)
    results = reverse("show-results", args=[released.crit.pk, released.scheme.pk])
    student = released.client(released.student)
    assert "disagree" not in read(student, results)
    pair.ruling = "Argue it with the fog day drawn."
    pair.save()
    group = AlikeGroup.objects.create(heading="The second way out", **of)
    group.comments.set([prove, hazard])
    for address in (results, own(released)):
        page = read(student, address)
        assert page.count("Argue it with the fog day drawn.") == 2
        assert page.count("The second way out") == 2
        for words in ("Prove it.", "Hazard it."):
            assert words in page
    hazard.held_at = timezone.now()
    hazard.save()
    assert "The second way out" not in read(student, results)
