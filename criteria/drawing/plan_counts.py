"""What each room or piece adds to a figure that is a sum, as typed, where it stands on a plan."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from typing import Any

from criteria.checks.decided import middle_of
from criteria.package import Package
from criteria.walking.bodies import Point
from criteria.walking.storeys import Storey

COUNTED: Mapping[str, tuple[str, Callable[[Any], int | None]]] = {
    "day_seats": ("furniture", lambda row: row.n and (row.day or 0) * row.n),
    "night_seats": ("furniture", lambda row: row.n and (row.seats_at_night or 0) * row.n),
    "step_free_beds": ("rooms", lambda row: row.sleepers if row.reached_by == "floor" else None),
    "place_alone": ("rooms", lambda row: row.is_private),
}
"""Checks of such figures: of which schedule, and what a row of it adds."""


def counts_of(package: Package, storey: Storey, check: str) -> Iterator[tuple[Point, int]]:
    """Give what each row adds, and where it stands on the storey [m]."""
    if check not in COUNTED:
        return
    slug, adds = COUNTED[check]
    places = {place.room: middle_of(place) for place in storey.places}
    places |= {body.mark: body.middle for body in storey.things}
    for row in getattr(package.leniently, slug):
        if row.mark in places and (number := adds(row)):
            yield places[row.mark], int(number)
