"""Signing in through a school: the whole way, against a server of the standard's."""

import socket
import time
from html import unescape

import pytest
from allauth.socialaccount.models import SocialAccount, SocialToken
from django.test import Client

from reviews.deeds import school_asking
from reviews.env_school import School
from reviews.models import Person
from tests import factories
from tests.reviews.page_steps import text_of
from tests.school_server import STEF, SchoolServer, school_server


@pytest.fixture
def school(cast, settings, monkeypatch):
    """A school's server that the site trusts."""
    monkeypatch.setenv("NO_PROXY", "127.0.0.1,localhost")
    with school_server() as server:
        settings.SCHOOL = server.school
        yield server


def begun(client: Client, onward: str = "") -> str:
    """The address to which a browser is sent."""
    answer = client.post("/school/", {"next": onward})
    assert answer.status_code == 200, text_of(answer)
    after, _, url = answer["Refresh"].partition("; url=")
    assert after == "0"
    return url


def come_back(client: Client, server: SchoolServer, onward: str = ""):
    """Go to the school and come back, as a browser would."""
    back = server.visit(begun(client, onward))
    assert back.startswith("http://testserver/school/back/?")
    return client.get(back.removeprefix("http://testserver"))


def who(client: Client) -> str:
    """Who is signed in, by the page about oneself."""
    answer = client.get("/you/")
    return text_of(answer) if answer.status_code == 200 else ""


def is_refused(answer, status: int, *words: str) -> None:
    text = unescape(text_of(answer))
    assert answer.status_code == status, text
    assert [word for word in words if word not in text] == [], text
    assert answer["Cache-Control"] == "private, no-store"
    assert not who(answer.client)
    assert not SocialAccount.objects.exists()


def test_a_member_signs_in_by_an_address_however_it_is_capitalised(cast, school):
    client, people = Client(), Person.objects.count()
    answer = come_back(client, school)
    assert (answer.status_code, answer["Location"]) == (302, "/")
    assert "stef@example.org" in who(client)
    assert Person.objects.count() == people


def test_the_sign_in_page_has_the_school_s_button_and_the_password(cast, school):
    text = text_of(Client().get("/sign-in/?next=/you/"))
    assert "Sign in through Fell School" in text
    assert text.count('name="next" value="/you/"') == 3  # the passkey too
    assert 'type="password"' in text


def test_without_a_school_nothing_of_it_is_there(cast, settings):
    settings.SCHOOL = School()
    assert "school" not in text_of(Client().get("/sign-in/"))
    assert Client().post("/school/").status_code == 404
    assert Client().get("/school/back/?state=x&code=y").status_code == 404


def test_signing_in_begins_by_a_post_alone_and_of_this_site(cast, school):
    assert Client().get("/school/").status_code == 405
    assert Client(enforce_csrf_checks=True).post("/school/").status_code == 403
    assert Client().post("/school/back/").status_code == 405
    assert school.asked == []


@pytest.mark.parametrize(
    ("wanted", "where"), [("/you/", "/you/"), ("https://elsewhere.example/", "/"), ("//x.y", "/")]
)
def test_one_goes_on_to_a_page_of_this_site_alone(cast, school, wanted, where):
    assert come_back(Client(), school, wanted)["Location"] == where


def test_whoever_is_signed_in_goes_on_at_once(cast, school):
    answer = cast.client(cast.mate).post("/school/", {"next": "/you/"})
    assert (answer.status_code, answer["Location"]) == (302, "/you/")


def test_the_session_s_key_is_another_afterwards_and_the_password_stays(cast, school):
    cast.student.set_password("lee-shelf-1")
    cast.student.save()
    client = Client()
    url = begun(client)
    before = client.cookies["sessionid"].value
    client.get(school.visit(url).removeprefix("http://testserver"))
    assert client.cookies["sessionid"].value != before
    sent = {"username": "stef@example.org", "password": "lee-shelf-1"}
    assert Client().post("/sign-in/", sent).status_code == 302


def test_the_least_is_kept_and_no_token(cast, school):
    school.person |= {"name": "Stephanie", "picture": "https://x.example/s.jpg"}
    come_back(Client(), school)
    (link,) = SocialAccount.objects.all()
    assert (link.provider, link.uid, link.user) == (school.url, "s-1", cast.student)
    assert link.extra_data == {"email": "Stef@Example.org"}
    assert not SocialToken.objects.exists()


def test_the_address_may_stand_on_the_school_s_page_alone(cast, school):
    school.page = dict(STEF)
    client = Client()
    come_back(client, school)
    assert "stef@example.org" in who(client)
    assert "/person" in school.asked


def test_a_page_about_somebody_else_leads_nowhere(cast, school):
    school.page = STEF | {"sub": "s-2"}
    is_refused(come_back(Client(), school), 403, "not verified")


def test_a_server_that_wants_its_secret_in_the_head_is_given_it_there(cast, school):
    school.says["token_endpoint_auth_methods_supported"] = ["client_secret_basic"]
    client = Client()
    come_back(client, school)
    assert who(client)


@pytest.mark.parametrize("said", [False, None, "no", "false", 2])
def test_an_address_that_is_not_verified_leads_nowhere(cast, school, said):
    school.person["email_verified"] = said
    is_refused(come_back(Client(), school), 403, "Your address is not verified")


def test_somebody_unknown_gets_a_plain_page_and_no_account(cast, school):
    school.person["email"] = "new@example.org"
    people = Person.objects.count()
    words = "Nobody with this address is in a studio", "Ask your studio leader"
    is_refused(come_back(Client(), school), 403, *words)
    assert Person.objects.count() == people


def test_a_closed_account_is_told_the_same_as_somebody_unknown(cast, school):
    unknown = school.person | {"sub": "s-9", "email": "nobody@example.org"}
    come_back(Client(), school)
    Person.objects.filter(pk=cast.student.pk).update(is_active=False)
    closed = come_back(Client(), school)
    school.person = unknown
    told = come_back(Client(), school)
    said = [(each.status_code, each.context["said"]) for each in (closed, told)]
    assert said[0] == said[1] != (302, None)


@pytest.mark.parametrize("name", ["leader", "coordinator", "other_student"])
def test_a_leader_is_handled_like_anybody(cast, school, name):
    person = getattr(cast, name)
    school.person |= {"sub": name, "email": person.email}
    client = Client()
    come_back(client, school)
    assert person.email in who(client)


def test_whoever_is_invited_signs_in_and_is_then_asked(cast, school):
    place = factories.MembershipFactory(
        studio=cast.other_studio, person=cast.student, is_invited=True
    )
    client = Client()
    come_back(client, school)
    assert "Join the studio" in text_of(client.get("/"))
    place.refresh_from_db()
    assert place.is_invited


def test_an_address_may_change_at_the_school(cast, school):
    come_back(Client(), school)
    school.person |= {"email": cast.mate.email, "email_verified": False}
    client = Client()
    come_back(client, school)
    assert "stef@example.org" in who(client)
    assert SocialAccount.objects.get().extra_data == {"email": "Stef@Example.org"}
    school.person |= {"email": "stef.now@example.org", "email_verified": True}
    come_back(Client(), school)
    assert SocialAccount.objects.get().extra_data == {"email": "stef.now@example.org"}


def test_whoever_has_no_password_is_not_asked_to_change_it(cast, school):
    cast.student.set_unusable_password()
    cast.student.save()
    client = Client()
    come_back(client, school)
    assert "Change the password" not in who(client)
    cast.mate.set_password("lee-shelf-1")
    cast.mate.save()
    assert "Change the password" in text_of(cast.client(cast.mate).get("/you/"))


def test_an_address_given_to_somebody_else_takes_no_account_over(cast, school, caplog):
    come_back(Client(), school)
    school.person["sub"] = "s-2"
    client = Client()
    answer = come_back(client, school)
    assert answer.status_code == 403
    assert "This address belongs to somebody else here" in text_of(answer)
    assert not who(client)
    assert SocialAccount.objects.get().uid == "s-1"
    (line,) = [each for each in caplog.messages if "another subject" in each]
    assert f"account {cast.student.pk} " in line
    assert "--unlink" in line
    assert "example.org" not in line


@pytest.mark.parametrize(
    ("lie", "words"),
    [
        ({"aud": "another site"}, "can't be trusted"),
        ({"aud": ["muntin at fell", "another"], "azp": "another"}, "can't be trusted"),
        ({"iss": "https://elsewhere.example"}, "can't be trusted"),
        ({"nonce": "of another sign-in"}, "can't be trusted"),
        ({"nonce": None}, "can't be trusted"),
        ({"sub": None}, "can't be trusted"),
        ({"sub": 7}, "can't be trusted"),
        ({"sub": ""}, "can't be trusted"),
        ({"sub": "s" * 192}, "can't be trusted"),
        ({"sub": "s\0"}, "can't be trusted"),
        ({"exp": None}, "can't be trusted"),
        ({"exp": int(time.time()) - 90}, "The clocks differ"),
        ({"iat": int(time.time()) + 9_000}, "The clocks differ"),
        ({"email": "stef@example.org\0"}, "not verified"),
        ({"email": ["stef@example.org"]}, "not verified"),
    ],
)
def test_a_token_that_says_what_is_not_so_signs_nobody_in(cast, school, lie, words):
    school.lies = lie
    answer = come_back(Client(), school)
    is_refused(answer, 403 if words == "not verified" else 502, words)


def test_a_token_of_a_clock_a_little_off_is_taken(cast, school):
    school.lies = {"iat": int(time.time()) + 40, "exp": int(time.time()) - 40}
    assert come_back(Client(), school).status_code == 302


@pytest.mark.parametrize(
    ("head", "key"),
    [
        ({"alg": "none"}, "school"),
        ({"alg": "HS256"}, "school"),
        ({"alg": "HS256", "kid": "1"}, "school"),
        ({"alg": "RS256", "kid": "2"}, "school"),
        ({"alg": "RS256", "kid": "1"}, "another"),
        ({"alg": "PS256", "kid": "1"}, "school"),
    ],
)
def test_a_token_that_the_school_did_not_sign_signs_nobody_in(cast, school, head, key):
    school.head, school.key = head, key
    is_refused(come_back(Client(), school), 502, "can't be trusted")


def test_a_token_without_the_name_of_its_key_is_read_with_the_first(cast, school):
    school.head = {"alg": "RS256"}
    assert come_back(Client(), school).status_code == 302


def test_an_answer_that_nobody_asked_for_is_refused(cast, school):
    is_refused(Client().get("/school/back/"), 400, "This sign-in is over")
    is_refused(Client().get("/school/back/?state=guessed&code=x"), 400, "This sign-in is over")
    back = school.visit(begun(Client())).removeprefix("http://testserver")
    is_refused(Client().get(back), 400, "This sign-in is over")


def test_an_answer_counts_once(cast, school):
    client = Client()
    back = school.visit(begun(client)).removeprefix("http://testserver")
    assert client.get(back).status_code == 302
    client.post("/sign-out/")
    assert client.get(back).status_code == 400


def test_an_answer_of_another_issuer_is_refused(cast, school):
    client = Client()
    back = school.visit(begun(client)).removeprefix("http://testserver")
    is_refused(client.get(f"{back}&iss=https://elsewhere.example"), 502, "can't be trusted")
    assert "/token" not in school.asked


@pytest.mark.parametrize(
    ("error", "status", "words"),
    [
        ("access_denied", 403, "The sign-in was stopped at Fell School"),
        ("temporarily_unavailable", 503, "Fell School does not answer"),
        ("invalid_scope", 502, "can't be trusted"),
        ("\x1b<script>", 502, "can't be trusted"),
    ],
)
def test_what_the_school_refuses_is_said(cast, school, error, status, words):
    school.denies = error
    is_refused(come_back(Client(), school), status, words)


def test_a_wrong_secret_is_told_to_the_log_and_not_repeated(cast, school, caplog):
    school.secret = "changed there"
    is_refused(come_back(Client(), school), 502, "can't be trusted")
    assert any("invalid_client" in line for line in caplog.messages)
    assert "0123" not in caplog.text


def test_a_server_that_breaks_midway_is_said_to_be_away(cast, school, caplog):
    client = Client()
    back = school.visit(begun(client)).removeprefix("http://testserver")
    school.is_broken = True
    is_refused(client.get(back), 502)
    school.is_broken = False
    school.page = {}
    back = school.visit(begun(client)).removeprefix("http://testserver")
    school.says["userinfo_endpoint"] = f"{school.url}/nothing"
    school_asking._found.clear()
    is_refused(client.get(back), 503, "Fell School does not answer")
    assert not [each for each in caplog.records if each.exc_info]


def test_a_server_that_is_away_is_said_and_not_asked_by_everybody(cast, settings, monkeypatch):
    monkeypatch.setenv("NO_PROXY", "127.0.0.1")
    with school_server() as server:
        gone = server.school
    settings.SCHOOL = gone
    is_refused(Client().post("/school/"), 503, "Fell School does not answer", "with a password")
    monkeypatch.setattr(school_asking, "_asked", None)
    is_refused(Client().post("/school/"), 503, "Fell School does not answer")


def test_a_server_that_never_answers_keeps_nobody_waiting(cast, settings, monkeypatch):
    monkeypatch.setenv("NO_PROXY", "127.0.0.1")
    settings.SOCIALACCOUNT_REQUESTS_TIMEOUT = 0.2
    with socket.create_server(("127.0.0.1", 0)) as mute:
        settings.SCHOOL = School("Fell", f"http://127.0.0.1:{mute.getsockname()[1]}", "a", "b")
        is_refused(Client().post("/school/"), 503, "Fell does not answer")


@pytest.mark.parametrize(
    "says",
    [
        {"issuer": "https://elsewhere.example"},
        {"issuer": 7},
        {"jwks_uri": None},
        {"authorization_endpoint": "javascript:alert(1)"},
        {"userinfo_endpoint": "ftp://x.example"},
    ],
)
def test_a_configuration_that_is_not_the_school_s_is_refused(cast, school, says):
    school.says = says
    is_refused(Client().post("/school/"), 502, "can't be trusted")


def test_a_school_over_https_is_not_left_for_a_plain_address():
    server = "https://id.school.example"
    said = of_server(server) | {"token_endpoint": "http://id.school.example/token"}
    with pytest.raises(school_asking.NotSignedIn):
        school_asking._sound(server, said)
    assert school_asking._sound(server, of_server(server))


def of_server(server: str) -> dict[str, str]:
    """A configuration whose every address is the server's."""
    heads = ("issuer", "authorization_endpoint", "token_endpoint", "jwks_uri")
    return dict.fromkeys(heads, server)


def test_wrong_passwords_of_others_keep_nobody_out_of_the_school(cast, school):
    sent = {"username": "stef@example.org", "password": "no"}
    for _ in range(12):
        Client().post("/sign-in/", sent, REMOTE_ADDR="203.0.113.9")
    assert come_back(Client(), school).status_code == 302
