"""The log, of lines or of JSON: each request found by its number, and nobody in it."""

import io
import json
import logging

import pytest
from django.db import IntegrityError, OperationalError
from django.urls import reverse

from reviews import watch
from reviews.env import choice
from reviews.logs import JsonLines, Lines, WithoutAddresses


@pytest.fixture
def logged(request):
    """What the console is told, in one of the two forms."""
    handler = logging.StreamHandler(said := io.StringIO())
    handler.addFilter(WithoutAddresses())
    handler.setFormatter(request.param())
    root = logging.getLogger()
    root.addHandler(handler)
    yield said.getvalue
    root.removeHandler(handler)


either = pytest.mark.parametrize("logged", [Lines, JsonLines], indirect=True)
as_json = pytest.mark.parametrize("logged", [JsonLines], indirect=True)
as_lines = pytest.mark.parametrize("logged", [Lines], indirect=True)


def broken(cast, monkeypatch, error):
    """The answer of a page that an error stops."""

    def stop(viewer):
        raise error

    monkeypatch.setattr("reviews.pages.waiting.led", stop)
    client = cast.client(cast.leader)
    client.raise_request_exception = False
    return client.get("/")


@either
def test_what_is_refused_is_logged_in_one_line(cast, logged):
    answer = cast.client(cast.student).get(reverse("edit-studio", args=[cast.studio.pk]))
    assert answer.status_code == 403
    (line,) = logged().splitlines()
    assert "Forbidden" in line
    assert "edit-studio" in line
    assert "/studios/" not in line


@either
def test_the_code_of_a_personal_link_is_never_logged(cast, logged, client):
    cast.crit.day = cast.crit.day.replace(year=2020)
    cast.crit.save()
    assert client.get(reverse("enter-jury", args=[cast.seat.code])).status_code == 404
    assert client.get(f"/j/{cast.seat.code}/nowhere").status_code == 404
    assert "Not Found: enter-jury" in logged()
    assert cast.seat.code not in logged()


@as_json
def test_what_broke_is_an_object_with_where_it_was_and_its_number(cast, logged, monkeypatch):
    answer = broken(cast, monkeypatch, IntegrityError("Key (email)=(ada@example.org) exists"))
    (line,) = [json.loads(line) for line in logged().splitlines()]
    assert line["level"] == "ERROR"
    assert line["view"] == "home"
    assert line["status"] == 500
    assert line["request"] == answer["X-Request-ID"]
    assert line["error"][0] == "IntegrityError"
    assert any("reviews/views/home.py" in where for where in line["error"])
    assert line["time"].endswith("+00:00")
    assert "ada@example.org" not in logged()


@as_lines
def test_what_broke_is_told_to_people_with_where_it_was(cast, logged, monkeypatch):
    answer = broken(cast, monkeypatch, IntegrityError("Key (email)=(ada@example.org) exists"))
    first, *where = logged().splitlines()
    assert f"ERROR django.request [{answer['X-Request-ID']} home]: Internal Server Error" in first
    assert where[0] == "IntegrityError"
    assert "ada@example.org" not in logged()


@either
def test_the_system_s_own_words_are_told(cast, logged, monkeypatch):
    broken(cast, monkeypatch, OperationalError("connection to server failed:\nrefused"))
    assert "OperationalError: connection to server failed: refused" in logged()


@as_json
def test_each_request_is_a_line_where_that_is_asked_for(cast, logged, monkeypatch):
    asked = reverse("show-schedule", args=[cast.scheme.pk, "rooms"])
    cast.client(cast.student).get(asked)
    assert logged() == ""
    monkeypatch.setattr(logging.getLogger("reviews.watch"), "level", logging.INFO)
    logging.getLogger("reviews.watch")._cache.clear()
    answer = cast.client(cast.student).get(asked)
    (line,) = [json.loads(line) for line in logged().splitlines()]
    assert (line["view"], line["status"]) == ("show-schedule", 200)
    assert line["ms"] >= 0
    assert line["request"] == answer["X-Request-ID"]


@as_json
def test_what_the_server_itself_says_of_an_address_is_left_out(logged):
    logging.getLogger("waitress").error("Exception while serving /j/secretcode12/")
    assert json.loads(logged())["message"] == "Exception while serving a request"


def test_no_two_requests_have_one_number(cast, client):
    numbers = {client.get("/sign-in/")["X-Request-ID"] for _ in range(20)}
    assert len(numbers) == 20
    assert watch.now_answered.get() is None


def test_the_form_of_the_log_is_one_of_two(monkeypatch):
    forms = {"lines": "a", "json": "b"}
    assert choice("MUNTIN_LOG", forms) == "a"
    monkeypatch.setenv("MUNTIN_LOG", "JSON")
    assert choice("MUNTIN_LOG", forms) == "b"
    monkeypatch.setenv("MUNTIN_LOG", "xml")
    with pytest.raises(Exception, match=r"MUNTIN_LOG: Read “xml”\. Expected lines or json\."):
        choice("MUNTIN_LOG", forms)
