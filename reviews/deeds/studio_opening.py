"""Open a studio: with its leader, and a brief to write."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any, NamedTuple

from django.db import transaction

from reviews import clock
from reviews.deeds.audit_keeping import Deed, record
from reviews.deeds.record_versions import is_change
from reviews.deeds.studio_roster import name_leader
from reviews.models import Brief, HandInItem, Membership, Person, Studio
from reviews.moments import day_words

STUDIO_PARTS = ("title", "cohort", "year_line", "is_wall_open", "kept_until")

AFTER_RETENTION = (
    "After this day everybody here who belongs to no other studio is made anonymous, jurors too; "
    "drafts of theirs alone and pictures that were never issued go, and nobody can bring them "
    "back. Issued revisions, levels, comments and answers stay, without names."
)
"""What a day of retention does, as everybody of the studio reads it."""

NOTICE = timedelta(days=30)
"""How long before the day of retention its people read of it, to take their own data out."""


class Leader(NamedTuple):
    """Somebody who is to lead a studio, as typed."""

    name: str
    email: str


@transaction.atomic
def open_studio(
    by: Person,
    parts: dict[str, Any],
    leader: Leader | None = None,
    *,
    follows: Studio | None = None,
) -> Studio:
    """Open a studio led by whoever opens it, or by whom they name, who is invited.

    Opening the same one twice opens one.

    parts     those of STUDIO_PARTS
    follows   last year's, of a studio that is carried over
    """
    Person.objects.select_for_update().get(pk=by.pk)
    same = Studio.objects.filter(opened_by=by, title=parts["title"], cohort=parts["cohort"])
    if found := same.filter(follows=follows).first():
        return found
    studio = Studio.objects.create(opened_by=by, follows=follows, **parts)
    if leader is None:
        Membership.objects.create(studio=studio, person=by, role=Membership.Role.LEADER)
    else:
        name_leader(studio, leader.name, leader.email, by)
    brief = Brief.objects.create(studio=studio)
    HandInItem.objects.create(brief=brief, kind=HandInItem.Kind.STATEMENT, code="statement")
    return studio


@transaction.atomic
def change_studio(studio: Studio, parts: dict[str, Any], seen: int, by: Person) -> Studio:
    """Change what a studio is called, who may see its wall, how long it is kept; raises Newer."""
    held = Studio.objects.select_for_update().get(pk=studio.pk)
    if is_change(studio_parts(held), parts, seen):
        if held.kept_until != parts["kept_until"]:
            record(Deed.DATED, held, by=by, about=kept_until_words(parts["kept_until"]))
        for name, value in parts.items():
            setattr(held, name, value)
        held.save(update_fields=list(parts))
    return held


def studio_parts(studio: Studio) -> dict[str, Any]:
    """What of a studio its leader writes."""
    return {name: getattr(studio, name) for name in STUDIO_PARTS}


def kept_until_words(day: date | None) -> str:
    """Say how long a studio is kept: until Wed 30 Jun 2027; until somebody says."""
    return f"until {day_words(day) if day else 'somebody says'}"


def first_day_to_keep_until() -> date:
    """The earliest day of retention that can be set today."""
    return clock.today() + NOTICE
