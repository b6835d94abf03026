"""A letter is sent once: refused, cut off, twice at once, the server down or a name that lies."""

import threading
from datetime import timedelta
from itertools import pairwise

import pytest
from django.core import mail as outbox
from django.core.mail.backends.base import BaseEmailBackend
from django.db import connection
from django.utils import timezone

from reviews.deeds import mail_choosing, mail_queueing, mail_sending
from reviews.jobs import DELAYS
from reviews.models import Mail, Seat
from reviews.reading.mail_deliveries import undelivered_to_jurors
from tests import factories
from tests.reviews.mail_steps import due_now, free_port, mail_server, send, states

State = Mail.State


@pytest.fixture
def jo(cast):
    cast.seat.email = "jo@example.org"
    cast.seat.save()
    mail_queueing.hand_links(cast.crit)
    return cast.seat


def test_a_letter_goes_through_a_mail_server_with_plain_text_and_html(cast, jo, settings):
    with mail_server(settings) as box:
        send()
        send()
    (letter,) = box.letters
    assert letter["To"] == "jo@example.org"
    assert letter["Auto-Submitted"] == "auto-generated"
    plain, html = (part.get_content() for part in letter.iter_parts())
    assert f"/j/{jo.code}/" in plain
    assert f"/j/{jo.code}/" in html
    assert "<img" not in html
    sent = Mail.objects.get()
    assert (sent.state, sent.subject) == (State.SENT, str(letter["Subject"]))


def test_what_a_server_refuses_for_good_is_shown_with_its_words(cast, jo, settings):
    with mail_server(settings) as box:
        box.answer = "550 No such mailbox here"
        send()
    assert states() == [State.FAILED]
    [(name, words)] = undelivered_to_jurors(cast.crit)
    assert name == "Jo Juror"
    assert "could not be delivered: 550" in words
    assert "No such mailbox here" in words
    shown = cast.client(cast.leader).get(f"/crits/{cast.crit.pk}/jurors/").content.decode()
    assert "No such mailbox here" in shown


def test_what_a_server_refuses_for_now_is_sent_later(cast, jo, settings):
    with mail_server(settings) as box:
        box.answer = "450 Come back later"
        send()
        waits = Mail.objects.get()
        assert waits.state == State.QUEUED
        assert waits.due_at > timezone.now()
        assert "450" in waits.said
        box.answer = "250 OK"
        due_now()
        send()
        assert len(box.letters) == 1
    now = Mail.objects.get()
    assert (now.state, now.said) == (State.SENT, "")


def test_a_server_that_is_down_is_tried_later_each_time_and_then_given_up(cast, settings):
    settings.EMAIL_BACKEND = "django.core.mail.backends.smtp.EmailBackend"
    settings.EMAIL_HOST, settings.EMAIL_PORT, settings.EMAIL_USE_TLS = (
        "127.0.0.1",
        free_port(),
        False,
    )
    for n in range(60):
        factories.SeatFactory(crit=cast.crit, name=f"J{n}", email=f"j{n}@example.org")
    mail_queueing.hand_links(cast.crit)
    waited = []
    for _ in DELAYS:
        send()
        one = Mail.objects.first()
        waited.append(one.due_at - one.begun_at)
        due_now()
    assert states() == [State.QUEUED] * 60
    assert all(later > sooner for sooner, later in pairwise(waited))
    send()
    assert states() == [State.FAILED] * 60
    assert "was not reached" in Mail.objects.first().said


def test_sixty_links_are_sixty_letters_each_to_one_juror(cast):
    for n in range(60):
        factories.SeatFactory(crit=cast.crit, name=f"J{n}", email=f"j{n}@example.org")
    mail_queueing.hand_links(cast.crit)
    mail_queueing.hand_links(cast.crit)
    send()
    assert len(outbox.outbox) == 60
    assert {len(letter.to) for letter in outbox.outbox} == {1}
    codes = {seat.email: seat.code for seat in Seat.objects.exclude(email="")}
    for letter in outbox.outbox:
        assert codes[letter.to[0]] in letter.body


def test_a_name_cannot_write_a_head_or_a_line_of_its_own(cast, jo, settings):
    cast.studio.title = "Hut\r\nBcc: all@example.org"
    cast.studio.save()
    Seat.objects.filter(pk=jo.pk).update(name="Jo\n\nYour password: http://bad.example/")
    with mail_server(settings) as box:
        send()
    (letter,) = box.letters
    assert letter["Bcc"] is None
    assert "\n" not in str(letter["Subject"])
    lines = letter.get_body(("plain",)).get_content().splitlines()
    assert not [line for line in lines if line.startswith("Your password")]


def test_an_address_with_a_line_break_is_refused_and_holds_up_no_other(cast, jo, settings):
    bad = factories.SeatFactory(crit=cast.crit, name="Bad", email="bad@example.org\nBcc: x@y.org")
    mail_queueing.hand_links(cast.crit)
    with mail_server(settings) as box:
        send()
    assert [str(letter["To"]) for letter in box.letters] == ["jo@example.org"]
    assert Mail.objects.get(about=bad.pk).state == State.FAILED


class _Cut(BaseEmailBackend):
    """A server that goes away while it has the letter in hand."""

    def send_messages(self, messages):
        raise ConnectionResetError("connection reset by peer")


def test_nobody_knows_what_became_of_a_letter_cut_off_and_it_is_not_sent_again(cast, jo, settings):
    settings.EMAIL_BACKEND = f"{__name__}._Cut"
    send()
    settings.EMAIL_BACKEND = "django.core.mail.backends.locmem.EmailBackend"
    due_now()
    send()
    assert states() == [State.UNKNOWN]
    assert outbox.outbox == []
    assert "nobody knows whether it arrived" in undelivered_to_jurors(cast.crit)[0][1]


@pytest.mark.parametrize("sign", [1, -1], ids=["later", "the clock set back"])
def test_a_letter_whose_sender_was_killed_is_said_to_be_unknown(cast, jo, sign):
    begun = timezone.now()
    assert Mail.objects.claim(Mail.objects.get().pk, begun)
    send()
    mail_sending.tidy(begun + sign * timedelta(minutes=14))
    assert states() == [State.SENDING]
    mail_sending.tidy(begun + sign * timedelta(minutes=16))
    assert states() == [State.UNKNOWN]
    assert outbox.outbox == []


def test_a_kind_that_is_switched_off_when_it_falls_due_is_not_sent(cast):
    revision = factories.RevisionFactory(scheme=cast.scheme, issued_at=timezone.now())
    mail_queueing.hand_receipts(revision)
    mail_choosing.choose(cast.student.email, ["results", "answers", "day"])
    send()
    assert [letter.to for letter in outbox.outbox] == [[cast.mate.email]]


def test_a_letter_that_cannot_be_written_fails_alone(cast, jo, monkeypatch):
    revision = factories.RevisionFactory(scheme=cast.scheme, issued_at=timezone.now())
    mail_queueing.hand_receipts(revision)

    def broken(mail):
        raise ZeroDivisionError

    monkeypatch.setitem(mail_sending.letter_of.__globals__["_WRITERS"], Mail.Kind.LINK, broken)
    send()
    assert states() == [State.FAILED, State.SENT, State.SENT]


@pytest.mark.django_db(transaction=True)
def test_workers_at_once_send_each_letter_once(cast, settings):
    for n in range(20):
        factories.SeatFactory(crit=cast.crit, name=f"J{n}", email=f"j{n}@example.org")
    mail_queueing.hand_links(cast.crit)
    Mail.objects.filter(state=State.SENT).update(state=State.QUEUED)
    outbox.outbox.clear()
    together = threading.Barrier(3)
    faults = []

    def work():
        try:
            together.wait()
            send()
        except Exception as fault:
            faults.append(fault)
        finally:
            connection.close()

    workers = [threading.Thread(target=work) for _ in range(3)]
    for worker in workers:
        worker.start()
    for worker in workers:
        worker.join()
    assert faults == []
    assert sorted(letter.to[0] for letter in outbox.outbox) == sorted(
        f"j{n}@example.org" for n in range(20)
    )


def test_old_rows_are_deleted_and_what_waits_is_not(cast, jo):
    old = timezone.now() - mail_sending.KEPT - timedelta(days=1)
    Mail.objects.update(queued_at=old, state=State.SENT)
    mail_queueing.hand_receipts(
        factories.RevisionFactory(scheme=cast.other_scheme, issued_at=timezone.now())
    )
    Mail.objects.filter(kind="receipt").update(queued_at=old, due_at="2100-01-01T00:00:00Z")
    mail_sending.tidy(timezone.now())
    assert states() == [State.QUEUED]


def test_without_a_server_letters_are_written_into_a_folder(cast, jo, settings, tmp_path):
    settings.EMAIL_BACKEND = "django.core.mail.backends.filebased.EmailBackend"
    settings.EMAIL_FILE_PATH = str(tmp_path / "mail")
    send()
    (file,) = (tmp_path / "mail").iterdir()
    assert jo.code in file.read_text(encoding="utf-8")
