"""Which buildings a cohort studies, and how many of its schemes study each."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from criteria.schedules.precedents import Precedent
from reviews.models import Package, Row, Scheme, Studio

PRECEDENTS = Precedent.schedule.slug

FEWEST = 3
"""In a cohort of fewer schemes, to say how many is to say whose [no.]."""


@dataclass(frozen=True)
class Studied:
    """A building, the schemes that study it, and how many schemes the cohort has."""

    building: str
    schemes: tuple[Scheme, ...]
    cohort: int

    @property
    def count(self) -> int:
        """How many schemes study it."""
        return len(self.schemes)


def plain_name(building: str) -> str:
    """Return only the letters and figures of a name, in small letters.

    >>> plain_name("Two-storey club hut, Tarn") == plain_name("two storey club hut (tarn)")
    True
    """
    return "".join(c for c in building.casefold() if c.isalnum())


def cohort_precedents(studio: Studio) -> list[Studied]:
    """Return the buildings that a studio's schemes study, those studied by most first.

    A building is called as the first scheme by number calls it; withdrawn schemes don't count.
    """
    schemes = {s.pk: s for s in studio.schemes.standing()}
    rows = Row.objects.filter(package__scheme__in=schemes, schedule=PRECEDENTS)
    rows = rows.order_by("package__scheme__number", "position", "pk")
    called: dict[str, str] = {}
    by: dict[str, dict[int, Scheme]] = {}
    for pk, cells in rows.values_list("package__scheme_id", "cells"):
        building = cells.get("building", "").strip()
        if name := plain_name(building):
            called.setdefault(name, building)
            by.setdefault(name, {})[pk] = schemes[pk]
    found = [Studied(called[n], tuple(each.values()), len(schemes)) for n, each in by.items()]
    return sorted(found, key=lambda studied: (-studied.count, plain_name(studied.building)))


def own_precedents(package: Package) -> list[Studied]:
    """Return the buildings of a package as it calls them, with how many of the cohort study each.

    Nothing where the cohort is so small that the number would name a scheme.
    """
    found = cohort_precedents(package.scheme.studio)
    if not found or found[0].cohort < FEWEST:
        return []
    by_name = {plain_name(studied.building): studied for studied in found}
    own = {
        plain_name(building): building
        for cells in package.records().get(PRECEDENTS, ())
        if (building := cells.get("building", "").strip())
    }
    return [_called(by_name[name], own[name]) for name in own if name in by_name]


def _called(studied: Studied, building: str) -> Studied:
    return Studied(building, studied.schemes, studied.cohort)


def shared(studied: Iterable[Studied]) -> list[Studied]:
    """Return those that more than one scheme studies."""
    return [each for each in studied if each.count > 1]
