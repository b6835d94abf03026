"""Work done in the background: queued in the database, done by any process, tried again later."""

from __future__ import annotations

import logging
from collections.abc import Callable, Sequence
from datetime import timedelta
from functools import wraps
from typing import Any

from django.utils import timezone
from django_tasks import task
from django_tasks.base import Task

LOG = logging.getLogger(__name__)

DELAYS = tuple(timedelta(minutes=minutes) for minutes in (1, 5, 25, 120, 480))
"""How long what failed waits before it is tried again, each time longer."""


KEPT = timedelta(days=14)
"""How long jobs that are done are kept; those that failed stay."""


def job(work: Callable[..., None], *, delays: Sequence[timedelta] = DELAYS) -> Task[Any, None]:
    """Make a function of a module a job: its `enqueue` has it done in the background.

    delays   how long each try that failed waits for the next; after the last it is given up

    What a job does must bear being done twice: one whose process is killed is taken up again.
    """

    @wraps(work)
    def tried(*args: Any, tries: int = 0, **more: Any) -> None:
        try:
            work(*args, **more)
        except Exception as error:
            if tries >= len(delays):
                LOG.error("%s failed %d times and is given up: %s", work.__name__, tries + 1, error)
                raise
            again_at = timezone.now() + delays[tries]
            LOG.warning("%s failed and is tried again %s: %s", work.__name__, again_at, error)
            made.using(run_after=again_at).enqueue(*args, tries=tries + 1, **more)

    made: Task[Any, None] = task(tried)
    return made
