"""Adopt a trial of the year into the schedules, and take it back: all of them, or none."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from uuid import UUID, uuid5

from django.db import transaction

from criteria.hourly.trial import TRIED, Tryable
from criteria.schedules import BY_SLUG
from reviews import clock
from reviews.deeds.package_keeping import bring_in, hold, undo
from reviews.deeds.record_changes import last_change
from reviews.deeds.record_versions import version_of
from reviews.models import Change, Package, Person
from reviews.versions import Newer

ADOPTED = "Year trial adopted: "
"""What the change of each schedule begins with."""
SLUGS = tuple(kind.schedule.slug for kind in TRIED)
Records = Mapping[str, Sequence[Mapping[str, str]]]


def trial_version(records: Records) -> int:
    """Return the version of all rows that a trial stands on."""
    return version_of({slug: [dict(row) for row in records.get(slug, [])] for slug in SLUGS})


@transaction.atomic
def adopt(
    package: Package, texts: Mapping[Tryable, str], by: Person, *, seen: int, key: UUID
) -> tuple[Change, ...]:
    """Write a trial's cells down, one change a schedule; the same adoption sent again is once.

    seen   version of the rows that whoever adopts had seen

    Raises Newer where they were changed since, or a row is gone.
    """
    held = hold(package)
    keys = {slug: uuid5(key, slug) for slug in SLUGS}
    if done := tuple(Change.objects.filter(package=held, key__in=keys.values())):
        return done
    records, moment = held.records(), clock.now()
    if trial_version(records) != seen:
        raise Newer(None, None)
    made = []
    for slug in SLUGS:
        cells = {
            (each.row, each.head): text for each, text in texts.items() if each.schedule == slug
        }
        if cells:
            rows, what = _written(slug, records.get(slug, []), cells)
            made.append(
                bring_in(
                    held, slug, rows, by, is_replacing=True, key=keys[slug], at=moment, what=what
                )
            )
    return tuple(change for change in made if change)


def _written(
    slug: str, records: Sequence[Mapping[str, str]], cells: Mapping[tuple[int, str], str]
) -> tuple[list[dict[str, str]], str]:
    """Return a schedule's rows with other texts in some cells, and what that changes in words."""
    schedule = BY_SLUG[slug]
    rows = [dict(row) for row in records] or [{}]
    words = []
    for (number, head), text in cells.items():
        row = rows[number - 1]
        called = schedule.name_of(row) or ("" if schedule.is_single else f"row {number}")
        said = f"{schedule.column(head).label} {row.get(head) or 'blank'} → {text or 'blank'}"
        words.append(f"{called} {said}".strip())
        row[head] = text
    return rows, ADOPTED + ", ".join(words)


def adopted_words(changes: Sequence[Change]) -> str:
    """Say what an adoption changed, in all its schedules; "" where it changed nothing."""
    said = "; ".join(change.what.removeprefix(ADOPTED) for change in changes)
    return said and ADOPTED + said


def last_adopted(package: Package) -> tuple[Change, ...]:
    """Return the changes of the last adoption where all of them can still be taken back."""
    lasts = [change for slug in SLUGS if (change := last_change(package, slug))]
    adopted = [change for change in lasts if change.what.startswith(ADOPTED)]
    if not adopted:
        return ()
    together = _together(package, max(adopted, key=lambda change: change.at))
    return tuple(together) if {*together} <= {*lasts} else ()


def undo_adopted(package: Package, change_id: int, by: Person) -> Change:
    """Take a whole adoption back, named by one of its changes.

    Raises Newer where a schedule of it was changed since, of which nothing is then taken back, and
    Change.DoesNotExist where there is no such adoption.
    """
    with transaction.atomic():
        held = hold(package)
        change = held.changes.get(pk=change_id, what__startswith=ADOPTED)
        for each in _together(held, change):
            undo(held, each.schedule, each.pk, by)
    return change


def _together(package: Package, change: Change) -> list[Change]:
    """All changes of one adoption that stand."""
    same = package.changes.filter(at=change.at, what__startswith=ADOPTED, undone_at=None)
    return list(same.defer("before", "after").order_by("pk"))
