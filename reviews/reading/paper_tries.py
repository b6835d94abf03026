"""What became of the tries to make a crit's paper: jobs tell it, for no row of ours does."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from datetime import datetime, timedelta
from typing import Any

from django.db.models import QuerySet
from django.utils import timezone
from django_tasks_db.models import DBTaskResult

from reviews import clock
from reviews.models import PaperSheets

MAKING = "reviews.deeds.paper_making.make_paper"
"""The job that makes it."""

DELAYS = (timedelta(minutes=1), timedelta(minutes=5))
"""How long a try that failed waits for the next: after the third it is given up."""


def tried_since(begin: datetime) -> set[int]:
    """Crits whose paper was tried by itself from a moment on, by the machine's clock."""
    jobs = DBTaskResult.objects.filter(task_path=MAKING, enqueued_at__gte=begin)
    return {args[0] for args, _ in _told(jobs) if len(args) == 1}


def given_up(crits: Collection[int]) -> dict[int, datetime]:
    """When the last try to make the paper of some crits failed, where none was made since."""
    last: dict[int, datetime] = {}
    failed = DBTaskResult.objects.failed().filter(task_path=MAKING).order_by("finished_at")
    for args, at in _told(failed):
        if args[0] in crits:
            last[args[0]] = at + clock.shift()
    made = PaperSheets.objects.filter(crit__in=last).values_list("crit_id", "made_at")
    since = {crit for crit, at in made if at > last[crit]}
    return {crit: timezone.localtime(at) for crit, at in last.items() if crit not in since}


def _told(jobs: QuerySet[Any]) -> Iterator[tuple[list[int], Any]]:
    """What some jobs were asked, and when each ended; None where it hasn't."""
    for told, at in jobs.values_list("args_kwargs", "finished_at"):
        yield told["args"], at
