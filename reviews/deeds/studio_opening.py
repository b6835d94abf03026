"""Open a studio: with its leader, and a brief to write."""

from __future__ import annotations

from typing import Any

from django.db import transaction

from reviews.deeds.record_versions import is_change
from reviews.models import Brief, HandInItem, Membership, Person, Studio

STUDIO_PARTS = ("title", "cohort", "year_line", "is_wall_open")


@transaction.atomic
def open_studio(by: Person, parts: dict[str, Any]) -> Studio:
    """Open a studio led by whoever opens it; opening the same one twice opens one.

    parts   title, cohort, year_line, is_wall_open
    """
    Person.objects.select_for_update().get(pk=by.pk)
    same = Studio.objects.filter(opened_by=by, title=parts["title"], cohort=parts["cohort"])
    if found := same.first():
        return found
    studio = Studio.objects.create(opened_by=by, **parts)
    Membership.objects.create(studio=studio, person=by, role=Membership.Role.LEADER)
    brief = Brief.objects.create(studio=studio)
    HandInItem.objects.create(brief=brief, kind=HandInItem.Kind.STATEMENT, code="statement")
    return studio


@transaction.atomic
def change_studio(studio: Studio, parts: dict[str, Any], seen: int) -> Studio:
    """Change what a studio is called and who may see its wall; raises Newer."""
    held = Studio.objects.select_for_update().get(pk=studio.pk)
    if is_change(studio_parts(held), parts, seen):
        for name, value in parts.items():
            setattr(held, name, value)
        held.save(update_fields=list(parts))
    return held


def studio_parts(studio: Studio) -> dict[str, Any]:
    """What of a studio its leader writes."""
    return {name: getattr(studio, name) for name in STUDIO_PARTS}
