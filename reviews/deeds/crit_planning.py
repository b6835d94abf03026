"""Set a crit: its kind, its day, the hour of pens down."""

from __future__ import annotations

from datetime import date, datetime
from typing import Any

from django.db import transaction

from reviews.deeds.record_versions import is_change
from reviews.models import Crit, Studio
from reviews.models.briefs import Frozen

PARTS = ("kind", "day", "pens_down", "names_jurors")


@transaction.atomic
def open_crit(studio: Studio, parts: dict[str, Any]) -> Crit:
    """Set a crit; setting the same kind on the same day twice sets one."""
    Studio.objects.select_for_update().get(pk=studio.pk)
    same = Crit.objects.filter(studio=studio, kind=parts["kind"], day=parts["day"]).first()
    return same or Crit.objects.create(studio=studio, **parts)


@transaction.atomic
def change_crit(crit: Crit, parts: dict[str, Any], seen: int) -> Crit:
    """Change a crit; raises Newer, and Frozen where it is released or a promise would break."""
    held = Crit.objects.select_for_update().get(pk=crit.pk)
    if not is_change(parts_of(held), parts, seen):
        return held
    if held.is_released:
        raise Frozen("The crit is released. Nothing of it changes.")
    if held.names_jurors != parts["names_jurors"] and held.is_filed:
        raise Frozen("A juror has begun, told whether names are shown. That stays as announced.")
    for name, value in parts.items():
        setattr(held, name, value)
    held.save(update_fields=list(parts))
    return held


def parts_of(crit: Crit) -> dict[str, Any]:
    """What of a crit its leader sets."""
    return {name: getattr(crit, name) for name in PARTS}


def is_before_its_end(day: date, pens_down: datetime) -> bool:
    """Whether pens go down before the day of the crit is over."""
    return pens_down.date() <= day
