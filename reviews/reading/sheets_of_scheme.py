"""The sheets on which something of a scheme can be shown: newest issued, and in preparation."""

from __future__ import annotations

from collections.abc import Collection

from criteria.errors import Refused
from reviews.models import IssuedSheet, Revision, Scheme, Sheet
from reviews.models.revisions import plain_number
from reviews.places import Place


def newest_revision(scheme: Scheme) -> Revision | None:
    """What was issued last of a scheme, for whatever crit."""
    return scheme.revisions.order_by("-pk").first()


def sheets_to_point_at(scheme: Scheme) -> list[str]:
    """Numbers of the newest revision's sheets, and of those that hang in its package by now."""
    last = scheme.revisions.order_by("-pk").values("pk")[:1]
    issued = IssuedSheet.objects.filter(revision__in=last).values_list("number", flat=True)
    hung = Sheet.objects.filter(package__scheme=scheme).values_list("number", flat=True)
    return sorted({*issued, *hung})


def place_on(place: Place, sheets: Collection[str]) -> Place:
    """A place as it stands on one of some sheets, which are called by number: 2 is 02.

    Raises Refused where it is on none of them, or names no sheet. Where there is no sheet at all,
    nothing can be held to them, and the place stands as it was typed.

    >>> place_on(Place("2", "B4"), ["01", "02"]), place_on(Place(), ["01"])
    (Place(sheet='02', zone='B4'), Place(sheet='', zone=''))
    """
    if not sheets or not any(place):
        return place
    for number in sheets:
        if place.sheet and plain_number(number) == plain_number(place.sheet):
            return Place(number, place.zone)
    raise Refused(str(place), f"a sheet of the newest revision or of the package: {_few(sheets)}")


def _few(sheets: Collection[str], most: int = 12) -> str:
    listed = list(sheets)
    return ", ".join(listed[:most]) + (f" and {len(listed) - most} more" if listed[most:] else "")
