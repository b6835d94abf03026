"""What pages took and what stopped them: counted in memory, added up in the database, of nobody."""

import threading
from datetime import timedelta

import pytest
from django.db import OperationalError, connection
from django.urls import reverse
from django.utils import timezone

from reviews import background, watch
from reviews.deeds import watch_keeping
from reviews.models import Tally


@pytest.fixture(autouse=True)
def nothing_counted():
    watch.take()


def counted():
    return {(t.view, t.what): (t.times, t.most_ms) for t in Tally.objects.all()}


def test_each_answer_is_counted_by_its_view_and_time(cast):
    client = cast.client(cast.student)
    for _ in range(3):
        client.get(reverse("show-package", args=[cast.scheme.pk]))
    client.get("/nowhere/")
    assert Tally.objects.count() == 0
    watch_keeping.keep_counts()
    assert {view for view, _ in counted()} == {"show-package"}
    assert sum(times for times, _ in counted().values()) == 3


@pytest.mark.parametrize(
    ("took_ms", "what"),
    [(0, "100"), (100, "100"), (101, "300"), (1000, "1000"), (3000, "3000"), (3001, "longer")],
)
def test_a_time_is_counted_in_the_first_class_that_holds_it(took_ms, what):
    assert watch.class_of(took_ms) == what


def test_what_stopped_a_page_is_counted_by_its_class(cast, monkeypatch):
    monkeypatch.setattr("reviews.pages.waiting.led", lambda viewer: 1 / 0)
    client = cast.client(cast.leader)
    client.raise_request_exception = False
    client.get("/")
    watch_keeping.keep_counts()
    assert counted()[("home", "ZeroDivisionError")] == (1, 0)


@pytest.mark.django_db
def test_what_other_processes_counted_is_added_to():
    for took_ms in (40, 70, 20):
        watch.count("home", "100", took_ms)
        watch_keeping.keep_counts()
    assert counted() == {("home", "100"): (3, 70)}


@pytest.mark.django_db
def test_what_can_not_be_kept_is_counted_on(monkeypatch):
    watch.count("home", "100", 40)
    with monkeypatch.context() as away:
        away.setattr(connection, "cursor", lambda: (_ for _ in ()).throw(OperationalError("away")))
        with pytest.raises(OperationalError):
            watch_keeping.keep_counts()
    watch.count("home", "100", 90)
    watch_keeping.keep_counts()
    assert counted() == {("home", "100"): (2, 90)}


def test_threads_that_count_at_once_lose_nothing():
    def work():
        for _ in range(500):
            watch.count("home", "100", 1)

    threads = [threading.Thread(target=work) for _ in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert sum(count.times for count in watch.take().values()) == 2000


@pytest.mark.django_db
def test_a_round_keeps_the_counts_and_lets_old_ones_go():
    now = timezone.now()
    old = now - watch_keeping.KEPT - timedelta(hours=1)
    Tally.objects.create(hour=old, view="home", what="100", times=9)
    watch.count("home", "300", 200)
    background.go_round(now)
    assert counted() == {("home", "300"): (1, 200)}
