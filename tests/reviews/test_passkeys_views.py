"""Passkeys: added by whoever is signed in and has the password, and signed in by; lies are none."""

import json

import pytest
from allauth.mfa.models import Authenticator
from django.contrib.auth.hashers import make_password
from django.core import mail
from django.test import Client

from reviews.deeds import passkey_keeping
from reviews.deeds.person_links import path_for
from reviews.models import Mail, Person, UnwantedMail
from reviews.moments import moment_words
from tests.passkey_device import PRESENT, Device
from tests.reviews.mail_steps import send
from tests.reviews.page_steps import text_of

ADD, ENTER = "/you/passkeys/", "/sign-in/passkey/"
NEW = "dry-cairn-2"


def added(client: Client, device: Device, **more: str):
    """Add a device's passkey, as the page's script does."""
    sent = {"name": "phone", **more}
    asked = client.post(ADD, sent)
    assert asked["Content-Type"] == "application/json", text_of(asked)
    return client.post(ADD, sent | {"answer": device.made(asked.json())})


def entered(client: Client, device: Device, **more: str):
    """Sign in by a device's passkey."""
    asked = client.post(ENTER).json()
    return client.post(ENTER, {"answer": device.answered(asked), **more})


@pytest.fixture(autouse=True)
def _nobody_has_a_password(cast):
    Person.objects.update(password=make_password(None))
    for person in (cast.student, cast.mate):
        person.refresh_from_db()


@pytest.fixture
def device(cast) -> Device:
    """A device whose passkey is the student's."""
    device = Device()
    assert added(cast.client(cast.student), device).status_code == 302
    return device


def test_a_passkey_is_added_with_a_name_and_signs_in(cast, device):
    client = Client()
    answer = entered(client, device)
    assert (answer.status_code, answer["Location"]) == (302, "/")
    assert "stef@example.org" in text_of(client.get("/you/"))
    text = text_of(client.get(ADD))
    assert "phone" in text
    assert "never" not in text
    assert Authenticator.objects.get().last_used_at is not None


def test_what_is_kept_is_no_secret_and_little(cast, device):
    kept = json.dumps(Authenticator.objects.get().data)
    assert str(device.key.private_numbers().private_value) not in kept
    assert len(kept) < 2_000


def test_the_session_s_key_is_another_afterwards(cast, device):
    client = Client()
    asked = client.post(ENTER).json()
    before = client.cookies["sessionid"].value
    client.post(ENTER, {"answer": device.answered(asked)})
    assert client.cookies["sessionid"].value != before


@pytest.mark.parametrize(
    ("wanted", "where"), [("/you/", "/you/"), ("https://elsewhere.example/", "/"), ("//x.y", "/")]
)
def test_one_goes_on_to_a_page_of_this_site_alone(cast, device, wanted, where):
    assert entered(Client(), device, next=wanted)["Location"] == where


def test_whoever_has_a_password_types_it_to_add_one(cast):
    cast.student.set_password("lee-shelf-1")
    cast.student.save()
    client = Client()
    client.force_login(cast.student)
    assert "Read nothing. Expected the password in use now." in text_of(
        client.post(ADD, {"name": "phone"})
    )
    wrong = client.post(ADD, {"name": "phone", "password": "no"})
    assert "This is not the password in use now." in text_of(wrong)
    device = Device()
    asked = client.post(ADD, {"name": "phone", "password": "lee-shelf-1"}).json()
    sent = {"name": "phone", "password": "no", "answer": device.made(asked)}
    assert client.post(ADD, sent).status_code == 200
    assert not Authenticator.objects.exists()
    assert added(client, device, password="lee-shelf-1").status_code == 302
    assert Authenticator.objects.get().user == cast.student


@pytest.mark.parametrize(
    ("name", "read"), [("", "Read nothing."), ("p" * 61, "Expected a name of at most 60")]
)
def test_an_odd_name_is_refused_before_a_device_is_asked(cast, name, read):
    assert read in text_of(cast.client(cast.student).post(ADD, {"name": name}))


def test_a_passkey_is_removed_by_its_owner_alone_and_signs_nobody_in(cast, device):
    own = Authenticator.objects.get()
    assert cast.client(cast.mate).post(f"{ADD}{own.pk}/remove/").status_code == 404
    assert cast.client(cast.student).post(f"{ADD}{own.pk}/remove/").status_code == 302
    assert entered(Client(), device).status_code == 403


def test_a_password_set_by_a_personal_link_ends_the_passkeys_and_a_changed_one_none(cast, device):
    client = Client()
    sent = {"new_password1": "dry-cairn-2", "new_password2": "dry-cairn-2"}
    assert client.post(path_for(cast.student), sent).status_code == 302
    assert entered(Client(), device).status_code == 403
    added(client, device, password="dry-cairn-2")
    changed = {"old_password": "dry-cairn-2"} | dict.fromkeys(sent, "wet-cairn-3")
    assert client.post("/you/password/", changed).status_code == 302
    assert entered(Client(), device).status_code == 302


def letters() -> list[str]:
    """What the letters say that are sent by now, to whom and under which head."""
    send()
    return [f"{each.to[0]} {each.subject}\n{each.body}" for each in mail.outbox]


def test_the_owner_is_told_of_a_passkey_added(cast, device):
    UnwantedMail.objects.bulk_create(
        UnwantedMail(address=cast.student.email, kind=kind) for kind in Mail.Kind
    )
    (letter,) = letters()
    assert letter.startswith(f"{cast.student.email} A passkey was added to your account")
    kept = Authenticator.objects.get()
    assert f"Passkey: phone\nAt: {moment_words(kept.created_at)}" in letter
    assert "No more letters" not in letter


def test_what_was_added_and_taken_away_before_its_letter_went_is_told_of_both(cast, device):
    client, own = cast.client(cast.student), Authenticator.objects.get()
    for answer in (302, 404):
        assert client.post(f"{ADD}{own.pk}/remove/").status_code == answer
    heads = [each.partition("\n")[0].partition(" ")[2] for each in letters()]
    assert heads == [f"A passkey was {deed} your account" for deed in ("added to", "removed from")]


def test_the_owner_is_told_of_each_passkey_that_a_new_beginning_ends(cast, device):
    added(cast.client(cast.student), Device(), name="tablet")
    Client().post(path_for(cast.student), dict.fromkeys(("new_password1", "new_password2"), NEW))
    ended = [each for each in letters() if "removed from" in each]
    assert ["Passkey: phone" in each for each in ended] == [True, False]
    assert ["Passkey: tablet" in each for each in ended] == [False, True]


def test_what_adds_nothing_tells_nobody(cast):
    added(cast.client(cast.student), Device(flags=PRESENT))
    assert letters() == []


def test_a_closed_account_is_not_entered(cast, device):
    Person.objects.filter(pk=cast.student.pk).update(is_active=False)
    is_refused(entered(client := Client(), device), client)


def is_refused(answer, client: Client) -> None:
    assert answer.status_code == 403
    assert "This passkey signs nobody in" in text_of(answer)
    assert client.get("/you/").status_code == 302


@pytest.mark.parametrize(
    "lie",
    [
        {"origin": "https://elsewhere.example"},
        {"origin": "http://testserver"},
        {"site": "elsewhere.example"},
        {"flags": PRESENT},
        {"flags": 0},
        {"key": Device().key},
        {"name": b"another passkey's"},
        {"owner": ""},
        {"owner": "OTk5OTk5OTk5OTk5OTk5OTk5OTk5OTk5OTk"},
        {"owner": "LTE"},
    ],
    ids=lambda lie: next(iter(lie)),
)
def test_a_device_that_lies_signs_nobody_in(cast, device, lie):
    for name, value in lie.items():
        setattr(device, name, value)
    client = Client()
    is_refused(entered(client, device), client)


def test_another_s_passkey_does_not_enter_an_account(cast, device):
    other = Device()
    added(cast.client(cast.mate), other)
    other.owner = device.owner
    client = Client()
    is_refused(entered(client, other), client)


def test_an_answer_counts_once_and_in_its_own_browser(cast, device):
    client, other = Client(), Client()
    answer = device.answered(client.post(ENTER).json())
    other.post(ENTER)
    is_refused(other.post(ENTER, {"answer": answer}), other)
    assert client.post(ENTER, {"answer": answer}).status_code == 302
    client.post("/sign-out/")
    is_refused(client.post(ENTER, {"answer": answer}), client)


@pytest.mark.parametrize(
    "sent",
    [
        "x",
        "[]",
        "null",
        "{}",
        '{"id": 1, "rawId": [], "response": 7}',
        '{"response": {"userHandle": 7}}',
        '{"id": "AA", "rawId": "AA", "type": "public-key", "response": {"clientDataJSON": "AA", '
        '"authenticatorData": "AA", "signature": "AA", "userHandle": "MQ"}}',
        "9" * 30_000,
        "[" * 15_000,
    ],
    ids=lambda sent: sent[:30],
)
def test_what_no_device_sends_is_no_passkey(cast, device, sent):
    client = Client()
    client.post(ENTER)
    is_refused(client.post(ENTER, {"answer": sent}), client)
    own = cast.client(cast.student)
    own.post(ADD, {"name": "phone"})
    refused = own.post(ADD, {"name": "phone", "answer": sent})
    assert "is no passkey for this site" in text_of(refused)
    assert Authenticator.objects.count() == 1


@pytest.mark.parametrize(
    "lie",
    [{"origin": "https://elsewhere.example"}, {"site": "elsewhere.example"}, {"flags": PRESENT}],
    ids=lambda lie: next(iter(lie)),
)
def test_a_device_that_lies_adds_nothing(cast, lie):
    refused = added(cast.client(cast.student), Device(**lie))
    assert "is no passkey for this site" in text_of(refused)
    assert not Authenticator.objects.exists()


def test_so_many_are_kept_and_no_more(cast, device, monkeypatch):
    monkeypatch.setattr(passkey_keeping, "MOST_PASSKEYS", 1)
    added(cast.client(cast.student), Device())
    assert Authenticator.objects.count() == 1


def test_a_script_of_another_site_adds_and_enters_nothing(cast):
    client = Client(enforce_csrf_checks=True)
    assert client.post(ENTER).status_code == 403
    client.force_login(cast.student)
    assert client.post(ADD, {"name": "phone"}).status_code == 403
