"""A database that is away or a disk that is full is said in words, never as a fault of ours."""

import contextlib
import errno
import sqlite3

import pytest
from django.contrib.sessions.base_session import AbstractBaseSession
from django.core.files.storage import default_storage
from django.core.files.uploadedfile import SimpleUploadedFile
from django.db import InterfaceError, OperationalError, connection
from django.test import Client
from django.urls import reverse

from reviews.deeds import package_keeping
from reviews.models import Row, SentPicture
from reviews.outages import Outage, StoreAway, outage_behind

ROOM = {"cell-mark": "R7", "cell-room": "Day room", "version": "0"}
IS_SQLITE = connection.vendor == "sqlite"


def bold(client: Client) -> Client:
    """A client that reads what was answered, whatever stopped the page."""
    client.raise_request_exception = False
    return client


@contextlib.contextmanager
def full_disk(monkeypatch):
    """The database's own word for it: of SQLite by a file that may not grow, else by its code."""
    if IS_SQLITE:
        with connection.cursor() as cursor:
            cursor.execute("PRAGMA max_page_count = 1")  # which is as large as it is now
        yield "x" * 400_000
        with connection.cursor() as cursor:
            cursor.execute("PRAGMA max_page_count = 1073741823")
    else:
        say = "DO $$ BEGIN RAISE EXCEPTION 'no space left' USING ERRCODE = 'disk_full'; END $$"
        monkeypatch.setattr(Row, "save", lambda row: connection.cursor().execute(say))
        yield "x"


@pytest.mark.django_db(transaction=True)
def test_a_full_disk_of_the_database_is_507_and_nothing_is_kept(cast, monkeypatch):
    add = reverse("add-row", args=[cast.scheme.pk, "rooms"])
    client = bold(cast.client(cast.student))
    with full_disk(monkeypatch) as words:
        answer = client.post(add, ROOM | {"cell-use": words})
        assert answer.status_code == 507
        text = answer.content.decode()
        assert "The server has no room left" in text
        assert "Not kept: what was just sent." in text
        assert answer["X-Request-ID"] in text
        assert client.get(reverse("show-package", args=[cast.scheme.pk])).status_code == 200
    monkeypatch.undo()
    assert not Row.objects.filter(cells__mark="R7").exists()
    assert client.post(add, ROOM).status_code == 302


@pytest.mark.django_db(transaction=True)
@pytest.mark.skipif(not IS_SQLITE, reason="PostgreSQL has no file that somebody else holds")
def test_a_database_that_somebody_else_holds_is_503(cast):
    add = reverse("add-row", args=[cast.scheme.pk, "rooms"])
    client = bold(cast.client(cast.student))
    other = sqlite3.connect(connection.settings_dict["NAME"])
    with connection.cursor() as cursor:
        cursor.execute("PRAGMA busy_timeout = 1")
    other.execute("BEGIN EXCLUSIVE")
    answer = client.post(add, ROOM)
    other.close()
    with connection.cursor() as cursor:
        cursor.execute("PRAGMA busy_timeout = 20000")
    assert (answer.status_code, answer["Retry-After"]) == (503, "5")
    assert "The database does not answer" in answer.content.decode()


@pytest.mark.django_db(transaction=True)
@pytest.mark.skipif(IS_SQLITE, reason="SQLite has no connection that can be cut")
def test_a_connection_that_is_cut_is_503(cast, monkeypatch):
    client = bold(cast.client(cast.student))
    cut = "SELECT pg_terminate_backend(pg_backend_pid())"
    monkeypatch.setattr(
        package_keeping, "add_row", lambda *args, **more: connection.cursor().execute(cut)
    )
    answer = client.post(reverse("add-row", args=[cast.scheme.pk, "rooms"]), ROOM)
    connection.close()
    assert answer.status_code == 503


def away(*args: object, **more: object) -> None:
    raise OperationalError("connection refused")


@pytest.fixture
def without_database():
    """The database is away for as long as a test says."""

    @contextlib.contextmanager
    def gone():
        with pytest.MonkeyPatch.context() as patch:
            patch.setattr(connection, "cursor", away)
            yield

    return gone


@pytest.mark.parametrize("method", ["get", "post"])
def test_a_database_that_is_away_is_503_on_every_page(cast, without_database, method):
    client = bold(cast.client(cast.leader))
    for name in ("home", "you"):
        with without_database():
            answer = getattr(client, method)(reverse(name))
        assert answer.status_code == 503
        text = answer.content.decode()
        assert "The database does not answer" in text
        assert ("isn't known whether what was just sent is kept" in text) is (method == "post")


def test_a_session_that_can_not_be_kept_is_an_outage_and_not_what_was_sent(cast, monkeypatch):
    """Before, it was 400: that what was sent can't be read."""
    client = bold(cast.client(cast.seat))
    monkeypatch.setattr(AbstractBaseSession, "save", away)
    assert client.post(reverse("leave-jury")).status_code == 503


def test_a_store_without_room_is_told_and_the_picture_is_not_taken(cast, monkeypatch):
    client = bold(cast.client(cast.student))

    def save(*args: object, **more: object) -> str:
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(type(default_storage), "save", save, raising=False)
    sheets = reverse("edit-sheets", args=[cast.scheme.pk])
    picture = SimpleUploadedFile("02 Plan.png", b"x" * 100)
    answer = client.post(sheets, {"files": [picture]})
    assert answer.status_code == 200
    assert "It can&#x27;t be stored just now." in answer.content.decode()
    assert not SentPicture.objects.waiting().exists()


def test_another_server_that_is_not_reached_is_not_said_to_be_the_store(cast, monkeypatch):
    def refused(*args: object, **more: object) -> None:
        raise ConnectionRefusedError(errno.ECONNREFUSED, "Connection refused")

    client = bold(cast.client(cast.leader))
    monkeypatch.setattr("reviews.pages.waiting.led", refused)
    answer = client.get("/")
    assert answer.status_code == 500
    assert "store" not in answer.content.decode()


def test_a_fault_of_ours_stays_one_and_shows_its_number(cast, monkeypatch):
    client = bold(cast.client(cast.leader))
    monkeypatch.setattr("reviews.pages.waiting.led", lambda viewer: 1 / 0)
    answer = client.get("/")
    assert answer.status_code == 500
    assert answer["X-Request-ID"] in answer.content.decode()
    assert "Retry-After" not in answer


@pytest.mark.django_db
def test_a_question_that_is_wrong_is_no_outage():
    with pytest.raises(Exception, match="nowhere") as raised, connection.cursor() as cursor:
        cursor.execute("SELECT * FROM nowhere")
    assert outage_behind(raised.value) is None


@pytest.mark.parametrize(
    ("error", "outage"),
    [
        (OSError(errno.ENOSPC, "full"), Outage.FULL),
        (OSError(errno.EDQUOT, "quota"), Outage.FULL),
        (OSError(errno.EFBIG, "limit"), Outage.FULL),
        (OSError(errno.ENOENT, "gone"), None),
        (StoreAway("the store does not answer"), Outage.STORE),
        (ConnectionRefusedError(errno.ECONNREFUSED, "a mail server or a school"), None),
        (OperationalError("pool timeout"), Outage.AWAY),
        (InterfaceError("the connection is closed"), Outage.AWAY),
        (ValueError("ours"), None),
        (None, None),
    ],
)
def test_what_is_out_follows_from_the_error(error, outage):
    assert outage_behind(error) is outage


def test_what_is_out_is_found_behind_other_errors():
    page = ValueError("a page")
    page.__context__ = OSError(errno.ENOSPC, "full")
    assert outage_behind(page) is Outage.FULL


def test_nobody_is_looked_up_for_the_page_that_says_so(cast, without_database):
    client = bold(cast.client(cast.student))
    with without_database():
        answer = client.get(reverse("show-schedule", args=[cast.scheme.pk, "rooms"]))
    assert answer.status_code == 503
    assert cast.student.name not in answer.content.decode()
