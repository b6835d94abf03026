"""The evening list: comments reach students by the leader's hand, and no level goes along."""

from datetime import datetime, time, timedelta
from zipfile import ZipFile

import pytest
from django.core import mail as outbox
from django.urls import reverse
from django.utils import timezone

from reviews import access, access_day
from reviews.access import Viewer
from reviews.deeds import crit_evening, crit_jury_keeping, crit_moderating, crit_releasing
from reviews.deeds.crit_interest_declaring import declare_interest
from reviews.deeds.crit_jury_keeping import CommentSent
from reviews.deeds.crit_releasing import Changed
from reviews.models import AuditLine, Comment, Crit, Mail, Seat
from reviews.models.briefs import Frozen
from reviews.pages.person_data import export_person
from reviews.pages.results_page import results_of
from reviews.reading.crit_evening import evening_list, why_not_now
from tests import factories
from tests.reviews.jury_steps import lock, read
from tests.reviews.mail_steps import send

LEVEL_WORDS = ("Not shown", "Roughed out", "Worked through", "Resolved", "Carried to the detail")


def at(cast, hour, minute=0, days=0):
    day = cast.crit.day + timedelta(days=days)
    return timezone.make_aware(datetime.combine(day, time(hour, minute)))


@pytest.fixture
def said(cast):
    """A locked sheet with levels and an impression, and one comment on it."""
    cast.criterion.level_4 = "Every room says what its light is for."
    cast.criterion.save()
    crit_jury_keeping.keep_impression(cast.seat, cast.scheme, 5, 0)
    sheet = lock(cast, cast.seat, 4)
    return factories.CommentFactory(jury_sheet=sheet, kind="Keep", words="The step is the locker.")


def sent(cast, **more):
    seen = evening_list(cast.crit).seen
    more = {"seen": seen, "at": at(cast, 17, 30)} | more
    cast.crit = crit_evening.send_comments(cast.crit, cast.leader, **more)
    return cast.crit


def results_url(cast):
    return reverse("show-results", args=[cast.crit.pk, cast.scheme.pk])


def test_students_read_comments_and_no_trace_of_a_level(cast, said, settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path
    issued = factories.issue_sheets(cast, "02", schemes=[cast.scheme])[0]
    Comment.objects.filter(pk=said.pk).update(issued_sheet=issued.sheets.get(), zone="C4")
    student = cast.client(cast.student)
    assert student.get(results_url(cast)).status_code == 404
    sent(cast)
    page = read(student, results_url(cast))
    assert "The step is the locker." in page
    assert "Jo Juror" in page
    assert "02·C4" in page
    assert "Levels follow at the release" in page
    shown = page.partition("<main")[2]
    leaks = (*LEVEL_WORDS, "Every room says", "levels-title", "level-section", "descriptor", "mean")
    assert [words for words in leaks if words in shown] == []
    assert "answer-comment" not in page
    assert "to answer" not in page
    close = read(student, reverse("show-issued-sheet", args=[issued.pk, "02"]))
    assert "The step is the locker." in close
    assert [words for words in LEVEL_WORDS if words in close] == []
    for name, args in (
        ("export-annotations", [cast.crit.pk, cast.scheme.pk]),
        ("show-table", [cast.crit.pk]),
        ("export-table", [cast.crit.pk]),
    ):
        assert student.get(reverse(name, args=args)).status_code == 404, name
    assert not cast.crit.openings.exists()
    results = results_of(cast.crit, cast.scheme, is_sent=True)
    assert results.sheets == []


@pytest.mark.parametrize(
    ("who", "reads"),
    [("student", 200), ("mate", 200), ("classmate", 404), ("scribe", 404), ("examiner", 404),
     ("coordinator", 404), ("other_student", 404), ("other_leader", 404), ("leader", 200)],
)  # fmt: skip
def test_whose_own_it_is_reads_it_before_the_release_and_nobody_else(cast, said, who, reads):
    sent(cast)
    assert cast.client(getattr(cast, who)).get(results_url(cast)).status_code == reads


def test_only_the_own_scheme_of_the_own_studio_is_read_and_only_until_the_release(cast, said):
    assert not access_day.can_read_comments(Viewer(cast.student), cast.crit, cast.scheme)
    sent(cast)
    assert access_day.can_read_comments(Viewer(cast.student), cast.crit, cast.scheme)
    assert not access_day.can_read_comments(Viewer(cast.student), cast.crit, cast.other_scheme)
    crit_releasing.release_crit(cast.crit, cast.leader, "Words.")
    cast.crit.refresh_from_db()
    assert not access_day.can_read_comments(Viewer(cast.student), cast.crit, cast.scheme)
    assert access.can_read_results(Viewer(cast.student), cast.crit, cast.scheme)


def test_what_stays_behind_is_named(cast, said):
    sheet = said.jury_sheet
    zoe = factories.SeatFactory(crit=cast.crit, name="Zoe")
    crit_jury_keeping.keep_level(zoe, cast.scheme, cast.criterion, 2, 0)
    draft = factories.CommentFactory(jury_sheet=zoe.sheets.get(), words="In draft.", kind="Rework")
    stub = factories.CommentFactory(jury_sheet=sheet, kind="Prove", words=" ")
    held = factories.CommentFactory(jury_sheet=sheet, words="Lazy.")
    crit_moderating.hold_comment(held, cast.leader, "About the person.")
    lee, keel = evening_list(cast.crit).schemes
    assert [each.said for each in lee.goes] == [said]
    assert lee.lines == (
        "not locked, so their comments stay theirs: Zoe",
        "1 remark held, not sent",
        "no words yet, not sent: Jo Juror: Prove",
        "only 1 remark",
    )
    assert keel.lines == ("nothing to send: its students read no comment",)
    sent(cast)
    page = read(cast.client(cast.student), results_url(cast))
    assert "In draft." not in page
    assert "Lazy." not in page
    assert "Held by" not in page
    assert [each.sent_at for each in (draft, stub, held)] == [None] * 3
    Comment.objects.filter(kind="Keep").update(kind="Ask")
    assert "nothing to keep named" in evening_list(cast.crit).schemes[0].lines


def test_a_hazard_is_read_before_anything_goes_out_and_again_where_it_changed(cast, said):
    hazard = factories.CommentFactory(
        jury_sheet=said.jury_sheet, kind="Hazard", words="1 in 6 at low water."
    )
    told = evening_list(cast.crit)
    assert told.schemes[0].goes[0].said == hazard  # first
    with pytest.raises(crit_evening.Undecided, match="R01 Lee: 1 hazard to decide"):
        sent(cast)
    assert not crit_evening.decide_hazard(hazard, cast.leader, hazard.version + 1)
    assert crit_evening.decide_hazard(hazard, cast.leader, hazard.version)
    assert evening_list(cast.crit).asks == []
    Comment.objects.filter(pk=hazard.pk).update(kept_at=timezone.now() + timedelta(minutes=1))
    assert evening_list(cast.crit).asks == ["R01 Lee: 1 hazard to decide"]
    crit_moderating.hold_comment(hazard, cast.leader, "Ask the engineer first.")
    sent(cast)
    assert "low water" not in read(cast.client(cast.student), results_url(cast))


def test_a_spoken_note_goes_out_labelled_and_a_spoken_hazard_is_decided_too(cast, said):
    slot = cast.crit.slots.get(scheme=cast.scheme)
    note = factories.SpokenNoteFactory(slot=slot, by=cast.scribe, kind="Hazard", typed="no rail?")
    remark = evening_list(cast.crit).schemes[0].goes[0]
    assert (remark.said, remark.by, remark.is_spoken) == (note, "Speaker unknown", True)
    client = cast.client(cast.leader)
    address = reverse("decide-spoken", args=[note.pk])
    assert client.post(address, {"seen": note.version}).status_code == 302
    sent(cast)
    note.refresh_from_db()
    assert note.sent_at == cast.crit.comments_sent_at


HOURS = [
    (0, 18, 30, True), (0, 18, 31, False), (0, 8, 0, True), (1, 8, 59, False),
    (1, 9, 0, True), (2, 18, 31, False), (-1, 12, 0, False),
]  # fmt: skip


@pytest.mark.parametrize(("days", "hour", "minute", "may"), HOURS)
def test_nothing_arrives_at_night(cast, said, days, hour, minute, may):
    moment = at(cast, hour, minute, days)
    assert (why_not_now(cast.crit, moment) == "") is may
    if may:
        assert sent(cast, at=moment).comments_sent_at == moment
    else:
        with pytest.raises(Frozen):
            sent(cast, at=moment)
        assert not Crit.objects.get(pk=cast.crit.pk).comments_sent_at


def test_twice_is_once_and_what_came_in_between_is_read_first(cast, said):
    seen = evening_list(cast.crit).seen
    late = factories.CommentFactory(jury_sheet=said.jury_sheet, words="Not read by the leader.")
    with pytest.raises(Changed):
        sent(cast, seen=seen)
    first = sent(cast).comments_sent_at
    assert sent(cast, at=at(cast, 18, 0), seen="").comments_sent_at == first
    assert AuditLine.objects.filter(deed="sent").count() == 1
    late.refresh_from_db()
    assert late.sent_at == first


def test_an_empty_day_is_not_sent(cast):
    with pytest.raises(crit_evening.Undecided, match="nothing was said"):
        sent(cast)


def test_a_leader_on_the_jury_sends_nothing_that_is_closed_to_them(cast, said):
    with pytest.raises(crit_evening.Undecided, match="lock your own sheet first"):
        sent(cast, closed={cast.scheme.pk})
    told = evening_list(cast.crit, closed={cast.scheme.pk})
    assert told.schemes[0].remarks == ()


def test_what_went_out_stays_as_it_was_read(cast, said):
    zoe = factories.SeatFactory(crit=cast.crit, name="Zoe")
    other = factories.CommentFactory(jury_sheet=lock(cast, zoe, 2), words="Draw the fourth hour.")
    sent(cast)
    client = cast.client(cast.student)
    crit_moderating.hold_comment(other, cast.leader, "About the person.")
    page = read(client, results_url(cast))
    assert "Held by the studio leader since" in page
    assert "fourth hour" not in page
    crit_moderating.reopen_sheet(said.jury_sheet, cast.leader, "A level is wrong.")
    said.refresh_from_db()
    with pytest.raises(Frozen, match="given this comment already"):
        crit_jury_keeping.keep_comment(
            cast.seat, cast.scheme, said.key, CommentSent("Ask", words="Else."), said.version
        )
    with pytest.raises(Frozen, match="given this comment already"):
        crit_jury_keeping.remove_comment(cast.seat, cast.scheme, said.key, said.version)
    declare_interest(zoe, cast.scheme)
    pages = [read(client, results_url(cast))]
    crit_releasing.release_crit(cast.crit, cast.leader, "Words.")
    pages.append(read(client, results_url(cast)))
    for page in pages:
        assert "The step is the locker." in page
        assert "Held by the studio leader since" in page
    assert [*access.answerable_comments(Viewer(cast.student))] == [said]


def test_what_is_worded_after_it_comes_with_the_release(cast, said):
    stub = factories.CommentFactory(jury_sheet=said.jury_sheet, words="")
    sent(cast)
    crit_jury_keeping.keep_comment(
        cast.seat, cast.scheme, stub.key, CommentSent("Prove", words="Weigh it wet."), stub.version
    )
    client = cast.client(cast.student)
    assert "Weigh it wet." not in read(client, results_url(cast))
    crit_releasing.release_crit(cast.crit, cast.leader, "Words.")
    assert "Weigh it wet." in read(client, results_url(cast))


def test_a_release_called_back_leaves_the_comments_alone(cast, said):
    sent(cast)
    late = factories.CommentFactory(jury_sheet=said.jury_sheet, words="With the release.")
    cast.crit = crit_releasing.release_crit(cast.crit, cast.leader, "Leader's words.")
    cast.crit = crit_releasing.call_back(cast.crit, cast.leader)
    page = read(cast.client(cast.student), results_url(cast))
    assert "The step is the locker." in page
    assert late.words not in page
    assert "Leader&#x27;s words." not in page
    assert [words for words in LEVEL_WORDS if words in page] == []


def test_letters_of_jurors_stay_when_more_of_them_are_read(cast, said):
    cast.crit.names_jurors = False
    cast.crit.save()
    sent(cast)
    before = results_of(cast.crit, cast.scheme, is_sent=True).names
    early = factories.SeatFactory(crit=cast.crit, name="Early", code="a")
    lock(cast, early, 2)
    now = results_of(cast.crit, cast.scheme).names
    assert now[cast.seat.pk] == before[cast.seat.pk] == "Juror A"
    assert now[early.pk] == "Juror B"


def test_students_are_written_to_once_and_read_no_level_in_the_letter(cast, said):
    sent(cast)
    send()
    assert {letter.to[0] for letter in outbox.outbox} == {
        each.email for each in (cast.student, cast.mate, cast.classmate)
    }
    body = outbox.outbox[0].body
    assert "Levels follow at the release" in body
    assert "locker" not in body


def test_a_letter_of_comments_that_were_released_meanwhile_is_not_sent(cast, said):
    sent(cast)
    crit_releasing.release_crit(cast.crit, cast.leader, "Words.")
    send()
    assert Mail.objects.filter(kind="comments", state="dropped").count() == 3


# jurors asked for words


def test_a_juror_with_stubs_gets_one_letter_with_the_list(cast, said):
    cast.seat.email = "jo@example.org"
    cast.seat.save()
    bare = factories.SeatFactory(crit=cast.crit, name="Zoe")
    gone = factories.SeatFactory(crit=cast.crit, name="Abe", email="abe@example.org")
    for seat in (bare, gone):
        sheet = factories.JurySheetFactory(seat=seat, scheme=cast.scheme)
        factories.CommentFactory(jury_sheet=sheet, words="")
    declare_interest(gone, cast.scheme)
    factories.CommentFactory(jury_sheet=said.jury_sheet, kind="Draw", words="")
    for _ in range(2):
        asked = crit_evening.ask_jurors(cast.crit, cast.leader, at=at(cast, 18))
        assert asked == (1, [bare])
        send()
    (letter,) = outbox.outbox
    assert letter.to == ["jo@example.org"]
    assert "R01 Lee: Draw" in letter.body
    assert reverse("enter-jury", args=[cast.seat.code]) in letter.body
    with pytest.raises(Frozen, match="past 18:30"):
        crit_evening.ask_jurors(cast.crit, cast.leader, at=at(cast, 21))


def test_a_stub_worded_meanwhile_is_not_asked_about(cast, said):
    cast.seat.email = "jo@example.org"
    cast.seat.save()
    stub = factories.CommentFactory(jury_sheet=said.jury_sheet, words="")
    crit_evening.ask_jurors(cast.crit, cast.leader, at=at(cast, 18))
    Comment.objects.filter(pk=stub.pk).update(words="Worded.")
    send()
    assert outbox.outbox == []


# the page


@pytest.fixture
def afternoon(cast, monkeypatch):
    monkeypatch.setattr("reviews.clock.now", lambda: at(cast, 17, 30))


def test_the_page_sends_once_every_tick_is_set(cast, said, afternoon):
    client, address = cast.client(cast.leader), reverse("show-evening", args=[cast.crit.pk])
    page = read(client, address)
    assert "The step is the locker." in page
    assert "only 1 remark" in page
    seen = evening_list(cast.crit).seen
    assert "Not ticked" in client.post(address, {"seen": seen}).content.decode()
    ticked = {"seen": seen, "known": [cast.scheme.pk, cast.other_scheme.pk]}
    again = client.post(address, ticked | {"seen": "other"}).content.decode()
    assert "Read it again" in again
    assert not Crit.objects.get(pk=cast.crit.pk).comments_sent_at
    for _ in range(2):
        assert client.post(address, ticked).status_code == 302
    assert Crit.objects.get(pk=cast.crit.pk).comments_sent_by == cast.leader
    assert "What went out stays" in read(client, address)
    home = read(cast.client(cast.student), reverse("home"))
    assert results_url(cast) in home
    assert results_url(cast) in read(
        cast.client(cast.student), reverse("show-crit", args=[cast.crit.pk])
    )


def test_a_student_takes_out_the_comments_that_were_sent_and_no_level(cast, said):
    cast.crit.release_words = "Words of a release that was called back."
    cast.crit.save()
    sent(cast)
    with export_person(cast.student, Seat.objects.none()) as file, ZipFile(file) as taken:
        told = "".join(taken.read(each).decode() for each in taken.namelist() if "json" in each)
    assert "The step is the locker." in told
    assert "called back" not in told
    assert '"levels": []' in told


def test_students_read_the_spoken_notes_that_were_sent_and_none_since(cast, said):
    slot = cast.crit.slots.get(scheme=cast.scheme)
    factories.SpokenNoteFactory(slot=slot, by=cast.scribe, seat=cast.seat, typed="Day five.")
    held = factories.SpokenNoteFactory(slot=slot, by=cast.scribe, typed="A ramp or a wish?")
    held.held_at = timezone.now()
    held.save()
    leader = read(cast.client(cast.leader), reverse("show-evening", args=[cast.crit.pk]))
    assert "Day five." in leader
    sent(cast)
    factories.SpokenNoteFactory(slot=slot, by=cast.scribe, typed="Said since, not read yet.")
    page = read(cast.client(cast.student), results_url(cast))
    assert "Day five." in page
    assert "unconfirmed" in page
    assert "A ramp or a wish?" not in page
    assert "Said since" not in page
