"""What whoever watches over the server is told: whether it works, and nothing of anybody."""

import pytest
from django.core.files.storage import default_storage
from django.db import OperationalError, connection
from django.test.utils import CaptureQueriesContext


@pytest.fixture(autouse=True)
def store(settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path
    return tmp_path


def test_a_site_that_works_says_so_in_plain_text(client, db, store):
    answer = client.get("/healthz")
    assert (answer.status_code, answer["Content-Type"]) == (200, "text/plain; charset=utf-8")
    assert answer.content == b"Database: works\nStorage: works\n"
    assert "no-store" in answer["Cache-Control"]
    assert list(store.iterdir()) == []


def test_it_asks_nobody_who_they_are(client, db):
    with CaptureQueriesContext(connection) as asked:
        answer = client.get("/healthz")
    assert [query["sql"] for query in asked] == ["SELECT 1"]
    assert "Set-Cookie" not in answer


@pytest.mark.parametrize("who", ["student", "seat", None])
def test_a_database_that_does_not_answer_is_503(cast, monkeypatch, who):
    """Whoever asks, signed in or not: before, a cookie made it a bare 500."""
    client = cast.client(getattr(cast, who) if who else None)

    def fail() -> None:
        raise OperationalError("no such host: secret.example")

    with monkeypatch.context() as away:
        away.setattr(connection, "cursor", fail)
        answer = client.get("/healthz")
    assert answer.status_code == 503
    assert answer.content == b"Database: fails\nStorage: works\n"


def test_a_store_that_keeps_nothing_is_503(client, db, monkeypatch):
    def fail(*args: object) -> None:
        raise OSError("No space left on device")

    monkeypatch.setattr(type(default_storage), "save", fail, raising=False)
    answer = client.get("/healthz")
    assert answer.status_code == 503
    assert answer.content == b"Database: works\nStorage: fails\n"
