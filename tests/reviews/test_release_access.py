"""Who reads what of a jury: each rule alone, so that no operator of it can change unseen."""

from uuid import uuid4

import pytest
from django.urls import reverse
from django.utils import timezone

from reviews import access
from reviews.access import Viewer
from reviews.deeds import comment_answering, crit_moderating, crit_releasing, revision_issuing
from reviews.deeds.comment_answering import AnswerSent
from reviews.deeds.crit_appealing import make_appeal, withdraw
from reviews.deeds.crit_interest_declaring import declare_interest
from reviews.deeds.studio_roster import leave, remove_member
from reviews.models import Comment, JurySheet, Membership
from reviews.models.briefs import Frozen
from reviews.pages.results_page import results_of
from reviews.reading.crit_results import names_of
from tests import factories


@pytest.fixture
def comment(cast):
    sheet = factories.JurySheetFactory(seat=cast.seat, scheme=cast.scheme, locked_at=timezone.now())
    return factories.CommentFactory(jury_sheet=sheet, words="Weigh it wet.")


def _release(cast):
    cast.crit = crit_releasing.release_crit(cast.crit, cast.leader, "Words.")


def _led(cast):
    return access.led_comments(Viewer(cast.leader))


def _answerable(cast):
    return access.answerable_comments(Viewer(cast.student))


def _open(cast):
    return results_of(cast.crit, cast.scheme).said


def test_a_comment_that_stands_is_read_and_answered(cast, comment):
    assert list(_led(cast)) == [comment]
    assert not _answerable(cast).exists()
    _release(cast)
    assert [*_answerable(cast)] == [*_open(cast)] == [comment]


WHYS = {
    "left off": lambda c: Comment.objects.filter(pk=c.pk).update(removed_at=timezone.now()),
    "not locked": lambda c: JurySheet.objects.update(locked_at=None),
    "stepped aside": lambda c: declare_interest(c.jury_sheet.seat, c.jury_sheet.scheme),
}


@pytest.mark.parametrize("why", WHYS)
def test_what_does_not_stand_is_read_by_no_leader_and_answered_by_no_student(cast, comment, why):
    WHYS[why](comment)
    assert not _led(cast).exists()
    assert not _open(cast)
    _release(cast)
    assert not _open(cast)
    assert not _answerable(cast).exists()
    with pytest.raises(Frozen, match="not released"):
        comment_answering.answer_comment(comment, cast.student, AnswerSent("Taken up"), 0)


def test_a_stub_without_kind_and_words_is_not_read_and_with_either_it_is(cast, comment):
    for kind, words, is_read in (("", "", False), ("Keep", "", True), ("", "Said.", True)):
        Comment.objects.filter(pk=comment.pk).update(kind=kind, words=words)
        assert bool(_open(cast)) is is_read, (kind, words)


def test_a_comment_without_level_is_read_and_answered(cast, comment):
    declare_interest(cast.seat, cast.scheme, may_comment=True)
    assert _led(cast).exists()
    _release(cast)
    assert _answerable(cast).exists()
    page = cast.client(cast.student).get(
        reverse("show-results", args=[cast.crit.pk, cast.scheme.pk])
    )
    assert "Weigh it wet." in page.content.decode()
    assert "No jury sheet was locked for this scheme." in page.content.decode()


def test_comments_of_another_studio_are_not_the_leaders(cast, comment):
    assert not access.led_comments(Viewer(cast.other_leader)).exists()
    assert not access.led_levels(Viewer(cast.other_leader)).exists()
    assert not access.led_jury_sheets(Viewer(cast.other_leader)).exists()


def test_a_comment_held_after_release_leaves_a_trace_and_keeps_its_answer(
    cast, comment, settings, tmp_path
):
    settings.MEDIA_ROOT = tmp_path
    issued = factories.issue_sheets(cast, "02", schemes=[cast.scheme])[0]
    comment.issued_sheet, comment.zone = issued.sheets.get(), "C4"
    comment.save()
    _release(cast)
    comment_answering.answer_comment(
        comment, cast.student, AnswerSent("Taken up", "We weighed it."), 0
    )
    crit_moderating.hold_comment(comment, cast.leader, "About the person.")
    address = reverse("show-results", args=[cast.crit.pk, cast.scheme.pk])
    page = cast.client(cast.student).get(address).content.decode()
    assert "Weigh it wet." not in page
    assert "About the person." not in page
    assert "Held by the studio leader since" in page
    assert "02·C4" in page
    assert "We weighed it." in page
    assert not _answerable(cast).exists()
    crit_moderating.let_go_comment(comment, cast.leader)
    page = cast.client(cast.student).get(address).content.decode()
    assert "Weigh it wet." in page
    assert "Held by" not in page


def test_a_comment_held_before_release_leaves_no_trace(cast, comment):
    crit_moderating.hold_comment(comment, cast.leader, "About the person.")
    _release(cast)
    page = cast.client(cast.student).get(
        reverse("show-results", args=[cast.crit.pk, cast.scheme.pk])
    )
    assert "Held by" not in page.content.decode()
    assert "No comment was made." in page.content.decode()


# those who left


@pytest.fixture
def issued(cast):
    return revision_issuing.issue(cast.scheme.package, cast.student)


def _names(client, name, *args):
    return client.get(reverse(name, args=args)).status_code


@pytest.mark.parametrize("left", ["the team", "the studio"])
def test_a_student_who_left_reads_their_own_work_and_results_and_no_more(cast, issued, left):
    later = cast.client(cast.mate)
    if left == "the team":
        leave(cast.scheme, cast.mate)
    else:
        remove_member(Membership.objects.get(person=cast.mate, studio=cast.studio), cast.leader)
    after = revision_issuing.issue(cast.scheme.package, cast.student, letter="B")
    results = ("show-results", cast.crit.pk, cast.scheme.pk)
    assert _names(later, "show-issued-checks", issued.pk) == 200
    assert _names(later, "show-issued-checks", after.pk) == (403 if left == "the team" else 404)
    assert _names(later, "show-package", cast.scheme.pk) == 404
    assert _names(later, *results) == 404
    _release(cast)
    assert _names(later, *results) == 200
    assert not access.answerable_comments(Viewer(cast.mate)).exists()
    home = later.get(reverse("home")).content.decode()
    assert reverse("show-revision", args=[issued.pk]) in home
    assert reverse("show-revision", args=[after.pk]) not in home
    assert reverse("show-results", args=[cast.crit.pk, cast.scheme.pk]) in home


def test_credits_stay_as_issued(cast, issued):
    leave(cast.scheme, cast.mate)
    after = revision_issuing.issue(cast.scheme.package, cast.student, letter="B")
    assert (issued.by, after.by) == ("Mira Mate and Stef Student", "Stef Student")
    page = cast.client(cast.student).get(reverse("show-revision", args=[issued.pk]))
    assert "Mira Mate" in page.content.decode()


def test_a_student_of_another_scheme_or_crit_reads_no_results_of_it(cast, issued):
    leave(cast.scheme, cast.mate)
    again = factories.CritFactory(studio=cast.studio, kind="re-crit")
    for crit in (cast.crit, again):
        crit_releasing.release_crit(crit, cast.leader, "Words.")
    client = cast.client(cast.mate)
    assert _names(client, "show-results", cast.crit.pk, cast.scheme.pk) == 200
    assert _names(client, "show-results", again.pk, cast.scheme.pk) == 404
    assert _names(client, "show-results", cast.crit.pk, cast.other_scheme.pk) == 404


# withdrawn


@pytest.mark.parametrize(
    ("who", "name"),
    [
        ("leader", "show-crit"),
        ("leader", "show-table"),
        ("leader", "edit-order"),
        ("student", "show-crit"),
        ("seat", "show-jury"),
        ("leader", "show-studio"),
    ],
)
def test_a_withdrawn_scheme_is_marked_wherever_it_is_listed(cast, who, name):
    cast.scheme.withdrawn_at = timezone.now()
    cast.scheme.save()
    args = {"show-jury": [], "show-studio": [cast.studio.pk]}.get(name, [cast.crit.pk])
    page = cast.client(getattr(cast, who)).get(reverse(name, args=args)).content.decode()
    listed = [part.split("r02")[0] for part in page.lower().split("r01")[1:]]
    assert any("withdrawn" in part for part in listed)


def test_letters_of_jurors_follow_no_order_of_names(cast):
    cast.crit.names_jurors = False
    seats = [
        factories.SeatFactory(crit=cast.crit, name=name, code=code)
        for name, code in (("Anna", "cccc"), ("Bert", "aaaa"), ("Cleo", "bbbb"))
    ]
    names = names_of(cast.crit, seats)
    assert [names[seat.pk] for seat in seats] == ["Juror C", "Juror A", "Juror B"]
    cast.crit.names_jurors = True
    assert list(names_of(cast.crit, reversed(seats)).values()) == ["Anna", "Bert", "Cleo"]


def test_one_crit_s_sheets_and_comments_are_not_another_s_nor_one_scheme_s_another_s(cast, comment):
    again = factories.CritFactory(studio=cast.studio, kind="re-crit")
    other = factories.JurySheetFactory(
        seat=factories.SeatFactory(crit=again), scheme=cast.scheme, locked_at=timezone.now()
    )
    beside = factories.JurySheetFactory(
        seat=cast.seat, scheme=cast.other_scheme, locked_at=timezone.now()
    )
    for sheet in (other, beside):
        factories.CommentFactory(jury_sheet=sheet)
    assert list(_open(cast)) == [comment]
    assert results_of(again, cast.scheme).said == [other.comments.get()]
    assert list(JurySheet.objects.of(cast.crit.pk, cast.other_scheme.pk)) == [beside]


def test_a_coordinator_reads_no_spoken_note_and_held_words_of_an_appeal_alone(cast, comment):
    note = factories.SpokenNoteFactory(
        slot=cast.crit.slots.get(scheme=cast.scheme), by=cast.scribe, typed="Wet clay?"
    )
    crit_moderating.hold_comment(comment, cast.leader, "About the person.")
    _release(cast)
    at = [cast.crit.pk, cast.scheme.pk]
    moderated, results = reverse("moderate-scheme", args=at), reverse("show-results", args=at)
    table = reverse("show-table", args=at[:1])

    def reads(who):
        pages = [cast.client(who).get(each).content.decode() for each in (moderated, table)]
        spoken = cast.client(who).get(results).content.decode()
        return any("Weigh it wet." in page for page in pages), note.typed in pages[0] + spoken

    assert reads(cast.leader) == (True, True)
    assert reads(cast.coordinator) == (False, False)
    appeal = make_appeal(cast.crit, cast.scheme, cast.student, uuid4(), "other", "Look again.")
    assert reads(cast.coordinator) == (True, False)
    withdraw(appeal)
    assert reads(cast.coordinator) == (False, False)
