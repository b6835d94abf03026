"""An examiner's home as a plan chest: a drawer a year, in it what was issued and what was said."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import groupby

from reviews import access
from reviews.access import Role, Viewer
from reviews.models import Crit, Revision, Scheme, Slot, Studio
from reviews.pages.waiting import next_date
from reviews.reading.crit_waiting import nearest_crit

Key = tuple[int | None, int | None]
"""A crit and a scheme."""


@dataclass(frozen=True)
class Filed:
    """A scheme with the revision that it issued last for each released crit, in their order."""

    scheme: Scheme
    of_crits: tuple[tuple[Crit, Revision | None], ...]


@dataclass(frozen=True)
class Register:
    """A studio's released crits and the schemes that they saw."""

    studio: Studio
    next_date: str
    crits: tuple[Crit, ...]
    filed: tuple[Filed, ...]


@dataclass(frozen=True)
class Drawer:
    """The studios that were opened in one year."""

    year: int
    registers: tuple[Register, ...]


def plan_chest(viewer: Viewer) -> list[Drawer]:
    """Drawers of all that an examiner may see, the latest year first."""
    examined = Studio.objects.filter(pk__in=viewer.studios_as(Role.EXAMINER))
    studios = examined.order_by("-opened_at", "-pk").prefetch_related("crits")
    crits = [crit for studio in studios for crit in studio.crits.all() if crit.is_released]
    slots = Slot.objects.filter(crit__in=crits).exclude(scheme=None).select_related("scheme")
    shown: dict[Key, Scheme] = {
        (slot.crit_id, slot.scheme_id): slot.scheme for slot in slots if slot.scheme
    }
    revisions = access.revisions(viewer).filter(crit__in=crits).select_related("scheme")
    issued: dict[Key, Revision] = {
        (each.crit_id, each.scheme_id): each for each in revisions.order_by("pk")
    }
    shown |= {key: each.scheme for key, each in issued.items()}
    return [
        Drawer(year, tuple(_register(studio, shown, issued) for studio in held))
        for year, held in groupby(studios, key=lambda studio: studio.opened_at.year)
    ]


def _register(
    studio: Studio,
    shown: dict[Key, Scheme],
    issued: dict[Key, Revision],
) -> Register:
    crits = tuple(crit for crit in studio.crits.all() if crit.is_released)
    keys = {crit.pk for crit in crits}
    schemes = {scheme.pk: scheme for (crit, _), scheme in shown.items() if crit in keys}
    return Register(
        studio,
        next_date(nearest_crit(studio)),
        crits,
        tuple(
            Filed(scheme, tuple((crit, issued.get((crit.pk, scheme.pk))) for crit in crits))
            for scheme in sorted(schemes.values(), key=lambda each: each.number)
        ),
    )
