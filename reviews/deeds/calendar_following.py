"""The secret address of somebody's own times: made, made anew, ended."""

from __future__ import annotations

from typing import Any

from django.db import transaction

from reviews.models import CalendarLink, Person, Seat
from reviews.models.seats import new_code


def link_of(whose: Person | Seat) -> CalendarLink | None:
    """The address that somebody has; None where they made none."""
    return CalendarLink.objects.filter(**_of(whose)).first()


@transaction.atomic
def make_link(whose: Person | Seat) -> CalendarLink:
    """Give somebody an address; one that was there before ends at once."""
    link, is_new = CalendarLink.objects.get_or_create(**_of(whose))
    if not is_new:
        link.code = new_code()
        link.save(update_fields=["code"])
    return link


@transaction.atomic
def end_link(whose: Person | Seat) -> None:
    """End an address; where there is none, nothing."""
    CalendarLink.objects.filter(**_of(whose)).delete()


def _of(whose: Person | Seat) -> dict[str, Any]:
    return {"person" if isinstance(whose, Person) else "seat": whose}
