"""Compare the pictures of sheets in the background: what differs is found once and kept."""

from __future__ import annotations

import shutil
from collections.abc import Iterable
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from django.db import transaction
from django.utils import timezone
from django_tasks import TaskResultStatus
from django_tasks_db.models import DBTaskResult

from criteria.errors import Refused
from reviews import picture_limits as limits
from reviews.deeds.sheet_uploads import (
    LONGEST_WAIT_S,
    CutOff,
    Unfinished,
    read_apart,
    the_line,
    work_folder,
)
from reviews.jobs import job
from reviews.models import PictureChange, Revision, SheetFile
from reviews.reading.sheet_changes import SheetPair, sheet_pairs

LATER = -10
"""Letters go before pictures."""


def await_changes(pairs: Iterable[SheetPair]) -> None:
    """Have pairs of sheets compared that aren't yet, each pair of pictures once."""
    wanted = [each.pictures for each in pairs if each.is_waited_for and each.pictures]
    rows = [PictureChange(former_id=one, present_id=other) for one, other in wanted]
    if rows:
        with transaction.atomic():
            PictureChange.objects.bulk_create(rows, ignore_conflicts=True)
            transaction.on_commit(queue_waiting)


def await_changes_of(revision: Revision) -> None:
    """Have what a revision changed looked for, beside the letter before."""
    if before := revision.scheme.revisions.filter(pk__lt=revision.pk).order_by("-pk").first():
        await_changes(sheet_pairs(before, revision))


def queue_waiting() -> None:
    """Queue one look at what waits, unless one is queued: it sees to those behind it."""
    ahead = DBTaskResult.objects.filter(
        task_path=compare_next.module_path,
        status__in=(TaskResultStatus.READY, TaskResultStatus.RUNNING),
    )
    if _waiting().exists() and not ahead.exists():
        compare_next.using(priority=LATER).enqueue()


def _waiting() -> Any:
    return PictureChange.objects.filter(found_at=None).order_by("pk")


@job
def compare_next() -> None:
    """Compare the two pictures that wait longest; letters may go before the next two."""
    with the_line(LONGEST_WAIT_S):
        change = _waiting().select_related("former", "present").first()
        if change is None:
            return
        found = found_between(change.former, change.present)
        PictureChange.objects.filter(pk=change.pk).update(found=found, found_at=timezone.now())
    if _waiting().exists():
        compare_next.using(priority=LATER).enqueue()


def found_between(former: SheetFile, present: SheetFile) -> dict[str, Any]:
    """Say where one picture differs from another; `lack` says in words why nobody can.

    Raises OSError where the store doesn't answer, CutOff where something ended the comparing.
    """
    with TemporaryDirectory(dir=work_folder()) as folder:
        paths = []
        for name, file in (("former", former), ("present", present)):
            paths.append(Path(folder, name))
            try:
                with file.image.open("rb") as kept, paths[-1].open("wb") as copy:
                    shutil.copyfileobj(kept, copy)
            except FileNotFoundError:
                return {"lack": f"the {name} picture’s file is missing"}
        try:
            asked = [str(path) for path in paths]
            return read_apart("comparing them", "picture_changes.py", asked, LONGEST_WAIT_S)
        except CutOff:  # by the system, where memory runs short: another time
            raise
        except Unfinished:
            return {"lack": f"comparing them takes over {LONGEST_WAIT_S} s"}
        except Refused:
            most = f"{limits.MOST_SECONDS} s and {limits.MOST_MEMORY_MB} MB"
            return {"lack": f"they can’t be compared within {most}"}
