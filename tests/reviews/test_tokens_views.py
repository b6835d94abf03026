"""Tokens for scripts: shown once, kept as digests, ended by hand, by a new password, by erasing."""

from datetime import timedelta

import pytest
from django.core import mail
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from reviews import clock
from reviews.deeds import token_keeping
from reviews.deeds.person_erasing import erase, find
from reviews.deeds.person_links import path_for
from reviews.models import (
    Crit,
    ScriptToken,
)
from reviews.reading.person_relations import rows_of
from tests.reviews.mail_steps import send
from tests.reviews.script_steps import by_token, get


@pytest.fixture
def at_school(cast):
    """The student signs in through a school, and has no password here."""
    cast.student.set_unusable_password()
    cast.student.save()
    return cast


def test_a_token_is_shown_once_kept_as_a_digest_and_ended(at_school):
    cast = at_school
    client, page = cast.client(cast.student), reverse("keep-tokens")
    assert "No token stands" in client.get(page).content.decode()
    made = client.post(page, {"name": "spreadsheet"}).content.decode()
    token = made.split("<code>")[1].split("</code>")[0]
    assert token.startswith("muntin_")
    assert len(token) > 40
    assert token not in client.get(page).content.decode()
    kept = ScriptToken.objects.get()
    assert token not in str(vars(kept))
    head = {"Authorization": f"Bearer {token}"}
    assert get("tell-start", head=head).status_code == 200
    kept.refresh_from_db()
    assert kept.used_on == clock.today()
    client.post(reverse("end-token", args=[kept.pk]))
    assert get("tell-start", head=head).status_code == 401
    assert cast.student.mails.get().kind == "token-made"


def test_a_name_that_stands_too_many_and_a_wrong_password_are_said(at_school, monkeypatch):
    cast = at_school
    client, page = cast.client(cast.student), reverse("keep-tokens")
    client.post(page, {"name": "laptop"})
    said = client.post(page, {"name": "laptop"}).content.decode()
    assert "You have a token called “laptop” already." in said
    assert 'value="laptop"' in said
    monkeypatch.setattr(token_keeping, "MOST_TOKENS", 1)
    assert "You have 1 tokens." in client.post(page, {"name": "other"}).content.decode()
    assert "Expected a name" in client.post(page, {"name": ""}).content.decode()
    cast.student.set_password("a long way round")
    cast.student.save()
    client.force_login(cast.student)
    wrong = client.post(page, {"name": "other", "password": "no"}).content.decode()
    assert "This is not the password in use now." in wrong
    assert ScriptToken.objects.count() == 1


def test_nobody_ends_anothers_token(cast):
    token_keeping.make(cast.student, "laptop")
    kept = ScriptToken.objects.get()
    answer = cast.client(cast.leader).post(reverse("end-token", args=[kept.pk]))
    assert answer.status_code == 404
    assert ScriptToken.objects.exists()


def test_who_begins_anew_and_who_is_made_anonymous_has_no_token(cast):
    heads = [by_token(person) for person in (cast.student, cast.mate)]
    told_of = dict(rows_of(cast.mate))["ScriptToken.person"]
    assert [each["name"] for each in told_of] == ["laptop"]
    sent = {"new_password1": "dry-cairn-2", "new_password2": "dry-cairn-2"}
    assert Client().post(path_for(cast.student), sent).status_code == 302
    erase(find(cast.mate.email), although_a_crit_is_open=True)
    assert [get("tell-start", head=head).status_code for head in heads] == [401, 401]
    assert ScriptToken.objects.count() == 0


def test_the_owner_is_told_by_letter(cast):
    token_keeping.make(cast.student, "laptop")
    send()
    (letter,) = mail.outbox
    assert letter.subject == "A token for scripts was made in your account"
    assert "laptop" in letter.body
    assert "muntin_" not in letter.body


def test_the_day_of_use_is_written_once_a_day(cast, monkeypatch):
    head = by_token(cast.student)
    get("tell-start", head=head)
    with CaptureQueriesContext(connection) as queries:
        get("tell-start", head=head)
    assert not [each for each in queries if each["sql"].startswith("UPDATE")]
    tomorrow = clock.today() + timedelta(days=1)
    monkeypatch.setattr(clock, "today", lambda: tomorrow)
    get("tell-start", head=head)
    assert ScriptToken.objects.get().used_on == tomorrow
    assert Crit.objects.exists()
