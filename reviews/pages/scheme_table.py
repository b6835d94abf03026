"""The schemes of a studio in a table, with the columns that whoever looks may read."""

from __future__ import annotations

from dataclasses import dataclass

from django.db.models import Count, Exists, OuterRef, Q

from criteria.findings import State
from reviews import access
from reviews.access import Viewer
from reviews.models import Revision, Scheme, SetAside, StoredFinding, Studio
from reviews.moments import moment_words
from reviews.pages.waiting import scheme_state


@dataclass(frozen=True)
class SchemeLine:
    """One scheme. What the viewer may not read is blank."""

    scheme: Scheme
    by: str
    state: str
    issued: str = ""
    late: str = ""
    missed: str = ""
    lacks: tuple[str, ...] = ()
    sheets: Revision | None = None
    opens_package: bool = False


@dataclass(frozen=True)
class SchemeTable:
    """All schemes by number, and whether checks stand beside them."""

    lines: list[SchemeLine]
    shows_checks: bool


def scheme_table(viewer: Viewer, studio: Studio) -> SchemeTable:
    """Return the schemes of a studio in the order of their numbers: never ranked."""
    shows_checks = viewer.is_coordinator or access.can_lead(viewer, studio.pk)
    revisions = access.revisions(viewer).filter(scheme__studio=studio).order_by("pk")
    seen = {revision.scheme_id: revision for revision in revisions}
    schemes = access.schemes(viewer).filter(studio=studio)
    schemes = schemes.prefetch_related("members", "revisions").order_by("number")
    counts = _missed(studio) if shows_checks else {}
    own = viewer.own_scheme_ids
    return SchemeTable(
        [
            _line(s, seen.get(s.pk), counts, shows_checks, opens=shows_checks or s.pk in own)
            for s in schemes
        ],
        shows_checks,
    )


def _line(
    scheme: Scheme,
    seen: Revision | None,
    counts: dict[int, tuple[int, int]],
    shows_checks: bool,
    *,
    opens: bool,
) -> SchemeLine:
    last = list(scheme.revisions.all())[-1:]
    if not shows_checks or not last:
        return SchemeLine(
            scheme,
            scheme.by,
            scheme_state(scheme),
            sheets=seen,
            opens_package=opens,
            issued=moment_words(seen.issued_at) if seen else "",
        )
    missed, asked = counts.get(last[0].pk, (0, 0))
    return SchemeLine(
        scheme,
        scheme.by,
        scheme_state(scheme),
        moment_words(last[0].issued_at),
        f"{last[0].late_words} late" if last[0].minutes_late else "",
        f"{missed} of {asked}" if asked else "",
        tuple(last[0].lacks),
        seen,
        opens,
    )


def _missed(studio: Studio) -> dict[int, tuple[int, int]]:
    """Targets short or over and not set aside since, and targets asked, by revision."""
    aside = SetAside.objects.standing().filter(
        Q(scheme=None) | Q(scheme=OuterRef("revision__scheme")),
        Q(key=OuterRef("ref")) | Q(key=OuterRef("check_slug")),
        studio=studio,
    )
    missed = Count("pk", filter=Q(~Exists(aside), state__in=(State.SHORT, State.OVER)))
    rows = StoredFinding.objects.filter(revision__scheme__studio=studio)
    counted = rows.values("revision").annotate(missed=missed, asked=Count("pk")).order_by()
    return {row["revision"]: (row["missed"], row["asked"]) for row in counted}
