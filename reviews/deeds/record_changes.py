"""The changes of a package and of a brief: what each did, and how the last is taken back."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime

from django.utils import timezone

from reviews.models import Brief, Change, Package
from reviews.versions import Newer

Holder = Package | Brief
"""What has records and remembers their changes."""


def last_change(holder: Holder, slug: str) -> Change | None:
    """Return the change of a schedule that undoing would take back."""
    return holder.changes.filter(schedule=slug, undone_at=None).select_related("by").first()


def change_words(what: str) -> str:
    """Return the words of a change, no longer than they may be."""
    longest = Change._meta.get_field("what").max_length or 0
    return what if len(what) <= longest else what[: longest - 1] + "…"


def undo(
    held: Holder,
    slug: str,
    change_id: int,
    put_back: Callable[[Change, datetime], None],
    at: datetime | None = None,
) -> Change:
    """Put back what stood before a schedule's last change. Undoing what is undone does nothing.

    Raises Newer where a later change stands, Change.DoesNotExist where there is no such change.
    """
    change: Change = held.changes.select_related("by").get(schedule=slug, pk=change_id)
    if change.undone_at:
        return change
    last = last_change(held, slug)
    if last is None or last.pk != change.pk:
        raise Newer(last, change)
    change.undone_at = at or timezone.now()
    put_back(change, change.undone_at)
    change.save(update_fields=["undone_at"])
    return change
