"""What is changed as one and remembered: what each change did, and how the last is taken back."""

from __future__ import annotations

from collections.abc import Callable, Container, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import datetime
from typing import Any, Generic, TypeVar

from django.db import models, transaction

from reviews import clock
from reviews.deeds.record_versions import is_change
from reviews.models import Brief, Change, Crit, Package, Person, Studio
from reviews.versions import Newer

Holder = Package | Brief | Studio | Crit
"""What has records and remembers their changes."""

_Held = TypeVar("_Held", Brief, Studio, Crit)


@dataclass(frozen=True, eq=False)
class Part(Generic[_Held]):
    """What of a brief, a studio or a crit is read whole, changed as one and undone as one.

    slug    in addresses and changes
    name    in words, after “the”
    hold    holds its brief, studio or crit until the transaction ends; raises Frozen
    read    what is kept of it with a change
    write   puts that back; raises Frozen where it would take away what somebody entered
    words   says what a change did, of what was before and what is after
    """

    slug: str
    name: str
    hold: Callable[[_Held], _Held]
    read: Callable[[_Held], Any]
    write: Callable[[_Held, Any], None]
    words: Callable[[Any, Any], str] | None = None

    def what(self, before: Any, after: Any) -> str:
        """Say what a change does."""
        return self.words(before, after) if self.words else f"{self.name.capitalize()} changed"


def cell_words(labels: Mapping[str, str], before: Mapping[str, Any], after: Any) -> str:
    """Say which cell is changed and both its texts, or how many are; labels by key of a cell."""
    changed = [key for key in labels if before.get(key) != after.get(key)]
    if len(changed) != 1:
        return f"{len(changed)} cells"
    old, new = (each.get(changed[0]) or "blank" for each in (before, after))
    return f"{labels[changed[0]]} {old} → {new}"


def last_change(holder: Holder, slug: str) -> Change | None:
    """Return the change of a schedule that undoing would take back."""
    changes = holder.changes.filter(schedule=slug, undone_at=None).select_related("by")
    return changes.defer("before", "after").first()


def last_seen(holder: Holder, slug: str) -> int:
    """Return the number of the last change, as a page carries it; 0 where there is none."""
    last = last_change(holder, slug)
    return last.pk if last else 0


def require_seen(holder: Holder, slug: str, seen: int | None) -> None:
    """Raise Newer where another change is the last than was seen; None asks no question."""
    if seen is not None and seen != last_seen(holder, slug):
        raise Newer(last_change(holder, slug), None)


def change_words(what: str) -> str:
    """Return the words of a change, no longer than they may be."""
    longest = Change._meta.get_field("what").max_length or 0
    return what if len(what) <= longest else what[: longest - 1] + "…"


@contextmanager
def logged(
    held: _Held,
    part: Part[_Held],
    by: Person,
    what: str = "",
    *,
    seen: int | None = None,
    at: datetime | None = None,
) -> Iterator[None]:
    """Remember what is done to a part, where that changes it.

    seen   the last change that whoever changes it had seen (0: none); None asks no question

    Raises Newer, of which all that was done is undone, where it was changed since.
    """
    before = part.read(held)
    yield
    after = part.read(held)
    if before == after:
        return
    require_seen(held, part.slug, seen)
    held.changes.create(
        schedule=part.slug,
        what=change_words(what or part.what(before, after)),
        before=before,
        after=after,
        by=by,
        at=at or clock.now(),
    )


@transaction.atomic
def keep(holder: _Held, part: Part[_Held], wanted: Any, seen: int, by: Person) -> None:
    """Keep a part whole. Raises Newer, Frozen."""
    held = part.hold(holder)
    if is_change(part.read(held), wanted, seen):
        with logged(held, part, by):
            part.write(held, wanted)


@transaction.atomic
def undo_part(holder: _Held, part: Part[_Held], change_id: int) -> Change:
    """Put back what stood before a part's last change.

    Raises Frozen, Newer where a later change stands, Change.DoesNotExist.
    """
    held = part.hold(holder)
    return undo(held, part.slug, change_id, lambda change, _: part.write(held, change.before))


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
    change.undone_at = at or clock.now()
    put_back(change, change.undone_at)
    change.save(update_fields=["undone_at"])
    return change


def has_entries(row: models.Model, besides: Container[type[models.Model]] = ()) -> bool:
    """Whether anything is kept that points at a row, and would go or be refused with it."""
    return any(
        relation.related_model._base_manager.filter(**{relation.field.name: row}).exists()
        for relation in row._meta.related_objects
        if relation.related_model not in besides
    )
