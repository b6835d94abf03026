"""Jobs: done once by one worker, tried again later, taken up where a worker was killed."""

import threading
import time
from datetime import timedelta

import pytest
from django.contrib.sessions.models import Session
from django.core import mail as outbox
from django.db import OperationalError, connection
from django.utils import timezone
from django_tasks import TaskResultStatus
from django_tasks_db.models import DBTaskResult

from reviews import background
from reviews.deeds import mail_queueing
from reviews.jobs import DELAYS, job
from reviews.models import Mail
from tests.reviews.mail_steps import states

DONE: list[str] = []


@job
def note(what: str) -> None:
    DONE.append(what)


@job
def stumble() -> None:
    raise OSError("the shelf is full")


@pytest.fixture
def queue(settings):
    """The queue in the database, as in life."""
    DONE.clear()
    settings.TASKS = {"default": {"BACKEND": "django_tasks_db.DatabaseBackend"}}


@pytest.mark.django_db
def test_sessions_that_are_over_are_cleared(cast):
    cast.client(cast.student)
    Session.objects.update(expire_date=timezone.now() - timedelta(minutes=1))
    cast.client(cast.mate)
    background.go_round(timezone.now())
    assert Session.objects.count() == 1


def _let_all_be_ready():
    DBTaskResult.objects.filter(status="READY").update(run_after=timezone.now())


@pytest.mark.django_db(transaction=True)
@pytest.mark.usefixtures("queue")
class TestQueue:
    def test_what_is_queued_is_done_once(self):
        note.enqueue("a")
        assert DONE == []
        while background.is_work_waiting():
            background.do_one()
        assert DONE == ["a"]

    def test_a_job_that_fails_is_tried_later_each_time_then_stays_as_failed(self, caplog):
        stumble.enqueue()
        waits = []
        for _ in DELAYS:
            background.do_one()
            again = DBTaskResult.objects.get(status="READY")
            assert not background.is_work_waiting()
            waits.append(again.run_after - timezone.now())
            _let_all_be_ready()
        assert waits == sorted(waits)
        assert waits[-1] > 10 * waits[0]
        background.do_one()
        failed = DBTaskResult.objects.failed().get()
        assert "the shelf is full" in failed.traceback
        assert "stumble failed 6 times and is given up: the shelf is full" in caplog.text
        assert not DBTaskResult.objects.filter(status="READY").exists()

    def test_a_job_whose_worker_was_killed_is_taken_up_again(self):
        note.enqueue("a")
        DBTaskResult.objects.get().claim("somebody who is no more")
        now = timezone.now()
        background.go_round(now + background.LEFT_AFTER - timedelta(minutes=1))
        assert not background.is_work_waiting()
        background.go_round(now + background.LEFT_AFTER + timedelta(minutes=1))
        background.do_one()
        assert DONE == ["a"]

    def test_a_job_in_hand_does_not_wait_till_the_clock_is_where_it_was(self):
        """Before, a clock set back a day let it lie for a day."""
        note.enqueue("a")
        DBTaskResult.objects.get().claim("somebody who is no more")
        background.go_round(timezone.now() - timedelta(days=1))
        background.do_one()
        assert DONE == ["a"]

    def test_jobs_done_long_ago_go_and_failed_ones_stay(self):
        note.enqueue("a")
        background.do_one()
        stumble.enqueue()
        long_ago = timezone.now() - background.KEPT - timedelta(days=1)
        DBTaskResult.objects.filter(status="READY").update(status=TaskResultStatus.FAILED)
        DBTaskResult.objects.update(finished_at=long_ago)
        background.go_round(timezone.now())
        assert [row.status for row in DBTaskResult.objects.all()] == ["FAILED"]

    def test_a_letter_that_falls_due_by_the_clock_is_sent_by_the_next_round(self, cast):
        cast.seat.email = "jo@example.org"
        cast.seat.save()
        mail_queueing.hand_links(cast.crit)
        background.do_one()
        Mail.objects.update(state="queued", due_at=timezone.now() + timedelta(minutes=5))
        night = timezone.now().replace(hour=0)  # no digest of the day is due yet
        outbox.outbox.clear()
        background.go_round(night)
        assert not background.is_work_waiting()
        Mail.objects.update(due_at=night)
        background.go_round(night)
        background.do_one()
        assert states() == ["sent"]
        assert len(outbox.outbox) == 1


@pytest.mark.django_db(transaction=True)
@pytest.mark.usefixtures("queue")
def test_many_workers_at_once_do_each_job_once():
    expected = [f"job {n}" for n in range(12)]
    for what in expected:
        note.enqueue(what)
    together = threading.Barrier(3)
    faults = []

    def work():
        try:
            together.wait()
            while background.is_work_waiting():
                background.do_one()
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
    assert sorted(DONE) == sorted(expected)


def _until(true, seconds=20):
    ends = time.monotonic() + seconds
    while not true() and time.monotonic() < ends:
        time.sleep(0.05)
    return true()


@pytest.mark.django_db(transaction=True)
@pytest.mark.usefixtures("queue")
def test_the_worker_inside_a_server_does_what_is_queued_and_outlives_a_lost_database(monkeypatch):
    monkeypatch.setattr(background, "PAUSE_S", 0.05)
    answers = iter([OperationalError("the database is away")])
    asked = background.is_work_waiting

    def is_work_waiting():
        for fault in answers:
            raise fault
        return asked()

    monkeypatch.setattr(background, "is_work_waiting", is_work_waiting)
    stop = background.start_worker()
    try:
        note.enqueue("a")
        assert _until(lambda: DONE == ["a"])
    finally:
        stop()
    assert not [thread for thread in threading.enumerate() if thread.name == "worker"]
