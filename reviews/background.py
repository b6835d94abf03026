"""The worker that every server process runs inside itself: it does the jobs that are queued.

Any number of processes may work on one queue: each job is taken by one. A job whose process was
killed is taken up by another.
"""

from __future__ import annotations

import logging
from collections.abc import Callable
from contextlib import suppress
from datetime import datetime, timedelta
from threading import Event, Thread
from time import monotonic

from django.contrib.sessions.models import Session
from django.db import close_old_connections, connections
from django.db.models import Q
from django.utils import timezone
from django.utils.crypto import get_random_string
from django_tasks import TaskResultStatus, default_task_backend
from django_tasks_db.management.commands.db_worker import Worker
from django_tasks_db.models import DBTaskResult

from reviews import clock
from reviews.deeds import (
    crit_release_setting,
    mail_bounces,
    mail_queueing,
    mail_sending,
    paper_making,
    picture_comparing,
    sheet_line,
    sheet_sending,
    watch_keeping,
)
from reviews.jobs import KEPT

LOG = logging.getLogger(__name__)

PAUSE_S = 1.0
"""Between two looks at an empty queue [s]."""

ROUND_S = 60.0
"""Between two rounds for what falls due by the clock [s]."""

GRACE_S = 10.0
"""How long a server that ends waits for the job in hand [s]."""

LEFT_AFTER = timedelta(minutes=30)
"""When a job in hand counts as left by a process that was killed."""


def start_worker() -> Callable[[], None]:
    """Do what is queued, in a thread of this process; return what stops it."""
    over = Event()
    thread = Thread(target=_work, args=(over,), name="worker", daemon=True)
    thread.start()

    def stop() -> None:
        over.set()
        thread.join(GRACE_S)

    return stop


def _work(over: Event) -> None:
    next_round = monotonic()
    pause = PAUSE_S
    while not over.wait(pause):
        pause = PAUSE_S
        try:
            if monotonic() >= next_round:
                next_round = monotonic() + ROUND_S
                go_round(timezone.now())
            while not over.is_set() and is_work_waiting():
                do_one()
        except Exception as fault:  # the database is away: the worker outlives it
            LOG.warning("The worker waits: %s", fault)
            pause = 10 * PAUSE_S
        finally:
            close_old_connections()
    with suppress(Exception):  # what was counted since the last round, if the database is there
        watch_keeping.keep_counts()
    connections.close_all()


def is_work_waiting() -> bool:
    """Whether a job is queued whose time has come: asked without holding anything."""
    return DBTaskResult.objects.ready().exists()


def do_one() -> None:
    """Take the next job, and do it."""
    Worker(
        queue_names=["*"],
        excluded_queue_names=[],
        interval=0,
        batch=True,
        backend_name=default_task_backend.alias,
        startup_delay=False,
        max_tasks=1,
        worker_id=get_random_string(32),
    ).run()


def go_round(at: datetime) -> None:
    """Do what falls due by the clock: letters, what was left lying, what is old or lacks.

    What began after now was begun before the clock was set back: it would else lie till then.
    """
    is_left = Q(started_at__lt=at - LEFT_AFTER) | Q(started_at__gt=at + LEFT_AFTER)
    DBTaskResult.objects.running().filter(is_left).update(status=TaskResultStatus.READY)
    DBTaskResult.objects.successful().filter(finished_at__lt=at - KEPT).delete()
    Session.objects.filter(expire_date__lt=at).delete()
    crit_release_setting.release_due(at + clock.shift())
    mail_queueing.queue_days(at)
    paper_making.queue_papers(at + clock.shift())
    mail_sending.tidy(at)
    mail_bounces.look(at)
    watch_keeping.keep_counts()
    watch_keeping.tidy(at)
    sheet_sending.give_up_old()
    sheet_line.ring_for_waiting()
    sheet_line.make_lacking_pictures()
    picture_comparing.queue_waiting()
