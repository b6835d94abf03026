"""What somebody had in studios before their people were changed: read of the changes kept."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from django.db.models import Count, Q
from django.utils import timezone

from reviews.models import Change, Crit, Person

PEOPLE = "people"
"""The table whose changes say who came and went."""


@dataclass(frozen=True)
class Had:
    """A place in a studio as it was until a change.

    until     when that was
    schemes   those drawn there
    """

    until: datetime
    schemes: frozenset[int]


def had_since(person: Person, since: datetime) -> dict[int, Had]:
    """What somebody had in studios before changes since a moment; it may stand still.

    Of studios without a crit since then nothing is asked.
    """
    late = Q(at__gte=since) | Q(undone_at__gte=since)
    found: dict[int, Had] = {}
    ahead = Crit.objects.filter(day__gte=timezone.localdate(since)).values("studio")
    changes = Change.objects.filter(late, schedule=PEOPLE, studio__in=ahead)
    for change in changes.order_by("pk"):
        assert change.studio_id is not None
        for until, people in _states_before(change, since):
            if _has_place(person, people):
                earlier = found.get(change.studio_id, Had(until, frozenset()))
                schemes = earlier.schemes | {*_schemes_of(person, people)}
                found[change.studio_id] = Had(max(until, earlier.until), schemes)
    return found


def _states_before(change: Change, since: datetime) -> Iterator[tuple[datetime, dict[str, Any]]]:
    """How people stood until it was done, and until it was undone."""
    for until, people in ((change.at, change.before), (change.undone_at, change.after)):
        if until is not None and until >= since:
            yield until, people


def _has_place(person: Person, people: dict[str, Any]) -> bool:
    places = (place for place in people["places"] if place["person_id"] == person.pk)
    return any(not place["is_invited"] for place in places)


def _schemes_of(person: Person, people: dict[str, Any]) -> Iterator[int]:
    return (scheme["pk"] for scheme in people["schemes"] if person.pk in scheme["members"])


def changes_of_people(studios: Iterable[int]) -> dict[int, int]:
    """How often the people of each studio were changed, and put back: it only ever rises."""
    changes = Change.objects.filter(schedule=PEOPLE, studio__in=studios).values("studio")
    counted = changes.annotate(done=Count("pk"), undone=Count("undone_at")).order_by()
    return {line["studio"]: line["done"] + line["undone"] for line in counted}
