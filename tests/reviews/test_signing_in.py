"""Guessing is slowed by account and address; nobody can lock another out, nobody learns who is."""

import re
from datetime import timedelta

import pytest
from axes.models import AccessAttempt
from django.contrib.auth.hashers import MD5PasswordHasher
from django.test import Client
from django.utils import timezone

from reviews.deeds.signing_in import UNKNOWN, client_address, delay_s
from reviews.models import Person

HERE, THERE = "203.0.113.5", "203.0.113.6"
RIGHT, WRONG = "lee-shelf-1", "wrong-shelf-1"


@pytest.fixture
def known(db) -> Person:
    return Person.objects.create_user("ada@example.org", "Ada", RIGHT)


def tried(password, *, at="ada@example.org", whence=HERE, client=None):
    sent = {"username": at, "password": password}
    return (client or Client()).post("/sign-in/", sent, REMOTE_ADDR=whence)


def said(answer) -> str:
    return answer.content.decode()


def failed(times: int, *, at="ada@example.org", whence=HERE) -> None:
    for _ in range(times):
        tried(WRONG, at=at, whence=whence)


def test_ten_failures_refuse_that_address_and_no_other(known):
    failed(9)
    assert tried(RIGHT).status_code == 302
    failed(10)
    answer = tried(RIGHT)
    assert answer.status_code == 429
    assert "Too many wrong passwords for this account from where you are" in said(answer)
    client = Client()
    assert "wait 2 s" in said(tried(RIGHT, whence=THERE, client=client))
    matured(client)
    assert tried(RIGHT, whence=THERE, client=client).status_code == 302


def test_the_refusal_ends_and_trying_on_does_not_lengthen_it(known):
    failed(12)
    then = timezone.now() - timedelta(minutes=16)
    assert tried(WRONG).status_code == 429
    AccessAttempt.objects.update(attempt_time=then)
    assert tried(RIGHT).status_code == 302


def test_another_account_is_not_slowed_at_the_same_address(known):
    failed(12, at="ben@example.org")
    assert tried(RIGHT).status_code == 302


def test_capitals_make_no_other_account(known):
    failed(5)
    failed(5, at="ADA@Example.org ")
    assert tried(RIGHT).status_code == 429


def matured(client: Client) -> None:
    """Let what a browser has to wait be over."""
    session = client.session
    account, until = session["sign-in-waits"]
    session["sign-in-waits"] = (account, until - 31)
    session.save()


def spread(failures: int) -> None:
    """Fail at an account from many addresses, a few times at each."""
    for n in range(failures):
        AccessAttempt.objects.create(
            username="ada@example.org", ip_address=f"198.51.100.{n}", failures_since_start=1
        )


@pytest.mark.parametrize(
    ("failures", "wait"), [(0, 0), (9, 0), (10, 2), (11, 4), (13, 16), (14, 30), (200, 30)]
)
def test_by_account_alone_there_is_a_delay_of_half_a_minute_at_most(known, failures, wait):
    spread(failures)
    assert delay_s("ADA@example.org") == wait


def test_the_owner_gets_in_however_often_others_go_on(known):
    spread(200)
    client = Client()
    answer = tried(RIGHT, whence=THERE, client=client)
    assert (answer.status_code, "wait 30 s" in said(answer)) == (429, True)
    failed(5, whence="198.51.100.1")  # others go on: their waiting is theirs
    assert re.search(r"wait (29|30) s", said(tried(RIGHT, whence=THERE, client=client)))
    matured(client)
    assert tried(RIGHT, whence=THERE, client=client).status_code == 302


def test_each_try_waits_anew(known):
    spread(200)
    client = Client()
    tried(WRONG, client=client)
    matured(client)
    assert "No account has" in said(tried(WRONG, client=client))
    assert tried(RIGHT, client=client).status_code == 429


def test_a_clock_that_steps_back_keeps_nobody_longer(known):
    spread(200)
    client = Client()
    tried(RIGHT, client=client)
    session = client.session
    session["sign-in-waits"] = ("ada@example.org", timezone.now().timestamp() + 9_999)
    session.save()
    assert "wait 30 s" in said(tried(RIGHT, client=client))


def without(text: str, at: str) -> str:
    """A page without what differs on every page, and without the address that was typed."""
    text = re.sub(r'data-now="\d+"', "", text)
    return re.sub(r'(value="|")[\w-]{64}"', "", text.replace(at, ""))


@pytest.mark.parametrize("failures", [1, 12])
def test_an_account_that_is_not_there_is_answered_the_same(known, failures, monkeypatch):
    hashed, encode = [], MD5PasswordHasher.encode
    monkeypatch.setattr(MD5PasswordHasher, "encode", lambda *a: hashed.append(1) or encode(*a))
    answers, work = [], []
    Person.objects.create_user("zoe@example.org", "Zoe")  # no password yet
    Person.objects.create_user("old@example.org", "Old", RIGHT, is_active=False)
    for at in ("ada@example.org", "nobody@example.org", "zoe@example.org", "old@example.org"):
        for _ in range(failures):
            hashed.clear()
            answer = tried(WRONG if at != "old@example.org" else RIGHT, at=at)
        answers.append((answer.status_code, without(said(answer), at)))
        work.append(len(hashed))
    assert len({*answers}) == 1
    assert len({*work}) == 1


def test_what_was_typed_as_password_is_kept_nowhere(known):
    failed(2)
    (attempt,) = AccessAttempt.objects.all()
    assert WRONG not in f"{attempt.get_data}{attempt.post_data}"
    assert attempt.failures_since_start == 2


@pytest.mark.parametrize(
    ("header", "sent", "whence"),
    [
        ("", {"REMOTE_ADDR": HERE}, HERE),
        ("", {"REMOTE_ADDR": HERE, "HTTP_X_FORWARDED_FOR": THERE}, HERE),
        ("", {"REMOTE_ADDR": "127.0.0.1"}, UNKNOWN),
        ("", {"REMOTE_ADDR": "::1"}, UNKNOWN),
        ("", {"REMOTE_ADDR": ""}, UNKNOWN),
        ("X-Real-IP", {"REMOTE_ADDR": HERE, "HTTP_X_REAL_IP": THERE}, THERE),
        ("X-Real-IP", {"REMOTE_ADDR": HERE, "HTTP_X_FORWARDED_FOR": THERE}, UNKNOWN),
        ("X-Forwarded-For", {"HTTP_X_FORWARDED_FOR": f"{HERE}, {THERE}"}, THERE),
        ("X-Real-IP", {"HTTP_X_REAL_IP": "me"}, UNKNOWN),
        ("X-Real-IP", {"HTTP_X_REAL_IP": "2001:db8:1:2:3::4"}, "2001:db8:1:2::"),
        ("X-Real-IP", {"HTTP_X_REAL_IP": "::ffff:203.0.113.5"}, HERE),
    ],
)
def test_whence_somebody_asks(rf, settings, header, sent, whence):
    settings.CLIENT_HEADER = header
    assert client_address(rf.get("/", **sent)) == whence


def test_where_addresses_are_not_known_nobody_is_refused(known):
    failed(30, whence="127.0.0.1")
    client = Client()
    assert "wait" in said(tried(RIGHT, whence="127.0.0.1", client=client))
    matured(client)
    assert tried(RIGHT, whence="127.0.0.1", client=client).status_code == 302
