"""What a brief says of site, climate, states and people, drawn over its tables."""

from __future__ import annotations

from collections.abc import Mapping

from criteria.drawing.catalogue import BY_SCHEDULE
from criteria.drawing.drawing import HALF_MM, NARROW_MM, Field
from criteria.drawing.picture import Asked, Seen
from criteria.findings import Measured
from criteria.package import Package
from criteria.units import System
from reviews.drawn.svg import as_svg
from reviews.pages.schedule_drawing import StatePlan
from reviews.reading.brief_reading import BriefReading

DRAWN = ("site", "climate", "states", "cases")
"""Schedules of a leader that have a drawing."""


def brief_drawings(read: BriefReading, system: System) -> Mapping[str, StatePlan]:
    """Return the drawing over each of a brief's tables, by its schedule's slug; none of blanks."""
    package = Package(site=read.site, climate=read.months, states=read.states, cases=read.cases)
    seen = Seen(package=package, check="", asked=Asked(title="", measured=Measured()))
    found = {}
    for slug in DRAWN:
        ready = BY_SCHEDULE[slug].ready(seen)
        if ready is None:
            continue
        half, narrow = (ready.of(Field(width_mm=w, system=system)) for w in (HALF_MM, NARROW_MM))
        found[slug] = StatePlan(
            half.title,
            as_svg(half, f"{slug}-half"),
            as_svg(narrow, f"{slug}-narrow"),
            half.key,
            half.gaps,
        )
    return found
