"""The site's clock: what time it is, and in the demo the hour at which its day stands.

Whatever people see or is kept of a crit asks here; what a process waits for (letters, locks, the
line of pictures) asks the machine. Only the demo's clock can be moved: its shift stands in a file
beside its mark, so that every process of it reads the same.
"""

from __future__ import annotations

from datetime import date, datetime, timedelta

from django.conf import settings
from django.utils import timezone

SHIFT = "clock-moved-by"
"""File in the demo's folder that says by how many seconds its clock is moved."""


def shift() -> timedelta:
    """By how much the demo's clock is moved; nothing of a school's."""
    if not settings.IS_DEMO_GROUND:
        return timedelta()
    try:
        return timedelta(seconds=float((settings.DATA_DIR / SHIFT).read_text(encoding="ascii")))
    except (OSError, ValueError):
        return timedelta()


def move_to(moment: datetime) -> None:
    """Let the demo's clock stand at a moment and go on from there; raises ValueError elsewhere."""
    if not settings.IS_DEMO_GROUND:
        raise ValueError("Only the demo's clock is moved.")
    path = settings.DATA_DIR / SHIFT
    begun = path.with_suffix(".new")
    begun.write_text(str((moment - timezone.now()).total_seconds()), encoding="ascii")
    begun.replace(path)


def now() -> datetime:
    """This moment."""
    return timezone.now() + shift()


def here() -> datetime:
    """This moment in the site's time zone."""
    return timezone.localtime(now())


def today() -> date:
    """The day that it is in the site's time zone."""
    return here().date()
