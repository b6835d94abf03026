"""What stands on a brief beside its words: the latest questions, who opened which addendum."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import NamedTuple

from reviews.models import (
    Addendum,
    AddendumOpened,
    Brief,
    BriefQuestion,
    Membership,
    Person,
    Studio,
)

MOST_ON_BRIEF = 3
"""Questions that stand on the page of the brief itself, the latest."""


class OpenedBy(NamedTuple):
    """How many of a studio's students opened an addendum, and who has not."""

    opened: int
    asked: int
    waits_for: Sequence[Person]


def latest_questions(brief: Brief) -> tuple[list[BriefQuestion], int]:
    """The latest questions of a brief, for its own page, and how many there are in all."""
    found = brief.questions.select_related("asked_by", "answered_by", "addendum")
    return list(found.order_by("-asked_at", "-pk")[:MOST_ON_BRIEF]), found.count()


def opened_by(studio: Studio, addenda: Iterable[Addendum]) -> dict[int, OpenedBy]:
    """Of each addendum, who of the studio's students opened it."""
    places = studio.memberships.joined().filter(role=Membership.Role.STUDENT)
    people = sorted((place.person for place in places.select_related("person")), key=str)
    opened: dict[int, set[int]] = {addendum.pk: set() for addendum in addenda}
    rows = AddendumOpened.objects.filter(addendum__in=opened)
    for addendum, person in rows.values_list("addendum_id", "person_id"):
        opened[addendum].add(person)
    return {
        pk: OpenedBy(
            sum(person.pk in who for person in people),
            len(people),
            [person for person in people if person.pk not in who],
        )
        for pk, who in opened.items()
    }
