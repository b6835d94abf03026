"""Each event queues its letters once; the letter is written by what holds when it is sent."""

from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from django.core import mail as outbox
from django.utils import timezone

from reviews.deeds import crit_releasing, mail_queueing, studio_roster
from reviews.deeds.comment_answering import AnswerSent, answer_comment
from reviews.deeds.crit_jury_keeping import keep_level, lock_sheet
from reviews.deeds.crit_seating import renew_code
from reviews.deeds.revision_issuing import issue
from reviews.models import Mail, Membership, Person, Scheme, Slot
from reviews.reading.mail_deliveries import undelivered_to_people
from tests import factories
from tests.reviews.mail_steps import due_now, send, states

Kind, State = Mail.Kind, Mail.State
ROSTER = "Name\tE-mail\tScheme number\tScheme name\nAda Merrowby\tada@example.org\tR09\tLadder\n"


def test_nothing_is_sent_before_the_event_is_kept(cast, django_capture_on_commit_callbacks):
    with django_capture_on_commit_callbacks(execute=False) as waiting:
        issue(cast.scheme.package, cast.student)
    assert outbox.outbox == []
    assert len(waiting) == 1
    with django_capture_on_commit_callbacks(execute=True):
        issue(cast.other_scheme.package, cast.classmate)
    assert {letter.to[0] for letter in outbox.outbox} == {
        p.email for p in (cast.student, cast.mate, cast.classmate)
    }


def test_a_new_member_gets_the_way_in_once(cast, client):
    for _ in range(2):
        studio_roster.bring_in(cast.studio, ROSTER, cast.leader)
    send()
    (letter,) = outbox.outbox
    assert letter.to == ["ada@example.org"]
    assert "Ridge" in letter.subject
    path = next(word for word in letter.body.split() if "/enter/" in word)
    assert path.startswith("http://localhost/enter/")
    assert client.get(path.removeprefix("http://localhost")).status_code == 200
    assert "List-Unsubscribe" not in letter.extra_headers


def test_somebody_with_a_password_is_told_to_sign_in(cast):
    ada = Person.objects.create_user("ada@example.org", "Ada", "a long password")
    studio_roster.bring_in(cast.studio, ROSTER, cast.leader)
    send()
    (letter,) = outbox.outbox
    assert letter.to == [ada.email]
    assert "/enter/" not in letter.body
    assert "/sign-in/" in letter.body


def test_somebody_of_another_studio_is_invited_and_their_own_name_not_told(cast, leader):
    stranger = cast.other_student
    stranger.set_password("a long password")
    stranger.save()
    row = f"Name\tE-mail\nO. Student\t{stranger.email}\n"
    studio_roster.bring_in(cast.studio, row, cast.leader)
    send()
    (letter,) = outbox.outbox
    assert letter.to == [stranger.email]
    assert "you are invited to the studio Ridge" in letter.body
    assert "asks whether you join" in letter.body
    Mail.objects.update(state=State.FAILED, said="550 Unknown")
    assert [name for name, _ in undelivered_to_people(cast.studio)] == ["O. Student"]


def test_nobody_is_invited_whose_place_was_undone(cast):
    studio_roster.bring_in(cast.studio, ROSTER, cast.leader)
    Membership.objects.filter(person__email="ada@example.org").delete()
    send()
    assert outbox.outbox == []
    assert states() == [State.DROPPED]


def test_a_link_is_mailed_again_only_once_it_is_new(cast):
    cast.seat.email = "jo@example.org"
    cast.seat.save()
    for _ in range(2):
        mail_queueing.hand_links(cast.crit)
    send()
    seat = renew_code(cast.seat)
    mail_queueing.hand_links(cast.crit)
    send()
    assert len(outbox.outbox) == 2
    assert f"/j/{seat.code}/" in outbox.outbox[1].body


def test_a_link_that_has_ended_is_not_mailed(cast):
    cast.seat.email = "jo@example.org"
    cast.seat.save()
    cast.crit.day = timezone.localdate() - timedelta(days=4)
    cast.crit.save()
    mail_queueing.hand_links(cast.crit)
    send()
    assert outbox.outbox == []


def test_a_receipt_says_letter_number_moment_and_what_was_lacking(cast):
    cast.studio.brief.hand_in.create(kind="statement", code="statement")
    factories.prepare(cast)
    revision = issue(cast.scheme.package, cast.student)
    send()
    letter = next(letter for letter in outbox.outbox if letter.to == [cast.mate.email])
    assert revision.fingerprint in letter.body.replace(" ", "")
    assert "Revision: A" in letter.body
    assert f"{timezone.localtime(revision.issued_at):%H:%M}, by Stef Student" in letter.body
    assert "Hand-in list lacks: Statement" in letter.body
    assert f"/revisions/{revision.pk}/" in letter.body
    assert "came because you are a student" in letter.body
    assert "/you/" in letter.body


def test_what_was_issued_days_ago_is_no_news(cast):
    issue(cast.scheme.package, cast.student, timezone.now() - timedelta(days=2))
    assert states() == []


@pytest.fixture
def judged(cast):
    for criterion in (cast.criterion, cast.other_criterion):
        keep_level(cast.seat, cast.scheme, criterion, 4, 0)
    return lock_sheet(cast.seat, cast.scheme)


def test_results_are_told_only_once_a_release_cannot_be_called_back(cast, judged):
    at = timezone.now()
    crit = crit_releasing.release_crit(cast.crit, cast.leader, "Well drawn.", at=at)
    send()
    assert outbox.outbox == []
    due = set(Mail.objects.values_list("due_at", flat=True))
    (due_at,) = due
    assert crit_releasing.why_not_called_back(crit, at + timedelta(minutes=10)) == ""
    assert crit_releasing.why_not_called_back(crit, due_at)
    due_now()
    send()
    assert {letter.to[0] for letter in outbox.outbox} == {
        p.email for p in (cast.student, cast.mate, cast.classmate)
    }


def test_nothing_is_told_of_a_release_that_was_called_back(cast, judged):
    crit = crit_releasing.release_crit(cast.crit, cast.leader, "")
    crit_releasing.call_back(crit, cast.leader)
    due_now()
    send()
    assert outbox.outbox == []
    crit_releasing.release_crit(cast.crit, cast.leader, "")
    due_now()
    send()
    assert len(outbox.outbox) == 3


def test_a_letter_of_results_holds_no_level_and_no_word_of_the_jury(cast, judged):
    factories.CommentFactory(jury_sheet=judged, words="Weigh it wet.")
    crit_releasing.release_crit(cast.crit, cast.leader, "Four of five resolved.")
    due_now()
    send()
    for letter in outbox.outbox:
        text = letter.body + str(letter.alternatives)
        assert "Four of five" not in text
        assert "Weigh it" not in text
        assert "Resolved" not in text
        assert not {"4.0", "Level", "level"} & set(text.split())


@pytest.fixture
def commented(cast, judged):
    cast.seat.email = "jo@example.org"
    cast.seat.save()
    cast.crit.released_at = timezone.now() - timedelta(days=3)
    cast.crit.save()
    return [
        factories.CommentFactory(jury_sheet=judged, words=words) for words in ("Weigh it.", "Why?")
    ]


def test_a_juror_gets_the_days_answers_in_one_letter_the_morning_after(cast, commented):
    for comment in commented:
        answer_comment(comment, cast.student, AnswerSent("Taken up", "Weighed on sheet 06."), 0)
    send()
    assert outbox.outbox == []
    (mail,) = Mail.objects.all()
    assert timezone.localtime(mail.due_at).hour == 7
    assert timezone.localdate(mail.due_at) == timezone.localdate() + timedelta(days=1)
    due_now()
    send()
    (letter,) = outbox.outbox
    assert letter.to == ["jo@example.org"]
    assert "“Weigh it.” → Taken up: “Weighed on sheet 06.”" in letter.body
    assert "“Why?” → Taken up" in letter.body
    assert "/letters/" in letter.body
    assert "/you/" not in letter.body  # a juror has no account


def test_a_juror_reads_no_answer_to_a_comment_that_is_held_since(cast, commented):
    answer_comment(commented[0], cast.student, AnswerSent("Taken up", "Done."), 0)
    commented[0].held_at = timezone.now()
    commented[0].save()
    due_now()
    send()
    assert outbox.outbox == []


def test_a_juror_without_an_address_gets_nothing(cast, commented):
    cast.seat.email = ""
    cast.seat.save()
    commented[0].jury_sheet.seat.refresh_from_db()
    answer_comment(commented[0], cast.student, AnswerSent("Taken up", "Done."), 0)
    assert states() == []


def _morning(settings, hour, minute=0):
    settings.TIME_ZONE = "Europe/Paris"
    today = timezone.localdate(timezone=ZoneInfo("Europe/Paris"))
    return datetime(
        today.year, today.month, today.day, hour, minute, tzinfo=ZoneInfo("Europe/Paris")
    )


def test_leaders_read_once_a_day_who_has_handed_in_and_what_waits(cast, settings):
    cast.crit.day = timezone.localdate() + timedelta(days=1)
    cast.crit.save()
    yesterday = timezone.now() - timedelta(days=1)
    factories.RevisionFactory(scheme=cast.scheme, crit=cast.crit, issued_at=yesterday)
    mail_queueing.queue_days(_morning(settings, 6, 59))
    assert states() == []
    for hour in (7, 8, 23):
        mail_queueing.queue_days(_morning(settings, hour))
    assert set(Mail.objects.values_list("address", flat=True)) == {
        "lena@example.org",
        "olaf@example.org",
    }
    assert len(states()) == 2
    due_now()
    send()
    letter = next(letter for letter in outbox.outbox if letter.to == ["lena@example.org"])
    assert "Ridge, issued: R01 Lee rev A" in letter.body
    assert "R02 Keel" in letter.body


def test_the_leader_of_more_than_a_thousand_schemes_gets_the_day_s_letter(cast, settings):
    many = [Scheme(studio=cast.studio, number=f"M{n}", name="One of many") for n in range(1_100)]
    Scheme.objects.bulk_create(many)
    Slot.objects.bulk_create(Slot(crit=cast.crit, scheme=s, position=9) for s in many)
    yesterday = timezone.now() - timedelta(days=1)
    factories.RevisionFactory(scheme=cast.scheme, crit=cast.crit, issued_at=yesterday)
    mail_queueing.queue_days(_morning(settings, 9))
    due_now()
    send()
    assert ["lena@example.org"] in [letter.to for letter in outbox.outbox]


def test_on_a_day_without_news_no_digest_comes(cast, settings):
    for crit in (cast.crit, cast.other_crit):
        crit.day = timezone.localdate() + timedelta(days=30)
        crit.save()
    mail_queueing.queue_days(_morning(settings, 9))
    due_now()
    send()
    assert outbox.outbox == []
    assert states() == [State.DROPPED] * 2
