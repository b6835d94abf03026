"""What waits for whoever signs in: of each studio they lead, of each scheme they draw."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from django.db.models import Count
from django.urls import reverse
from django.utils import timezone

from reviews import access
from reviews.access import Role, Viewer
from reviews.deeds.revision_issuing import lacks
from reviews.models import Crit, Package, Revision, Scheme, Seat, Studio
from reviews.moments import day_words, moment_words
from reviews.reading.crit_waiting import Waits, nearest_crit, what_waits


@dataclass(frozen=True)
class LedStudio:
    """A studio that the viewer leads.

    not_issued   schemes that have not issued for the nearest crit
    not_locked   jurors with sheets of the nearest crit that are not locked, and how many
    """

    studio: Studio
    crit: Crit | None
    next_date: str
    to_do: list[tuple[str, str]]
    not_issued: Sequence[Scheme] = ()
    not_locked: Sequence[tuple[Seat, int]] = ()
    schemes: int = 0


@dataclass(frozen=True)
class OwnScheme:
    """A scheme of which the viewer is a student."""

    scheme: Scheme
    state: str
    pens_down: str
    lacks: list[str]
    released: list[Crit]
    is_brief_out: bool


@dataclass(frozen=True)
class PastWork:
    """What a former student of a scheme issued, and the results of the crits it was issued for."""

    scheme: Scheme
    revisions: list[Revision]
    released: list[Crit]


@dataclass(frozen=True)
class SeenStudio:
    """A studio that the viewer attends as scribe or examiner, or coordinates."""

    studio: Studio
    next_date: str
    crits: list[Crit]


def next_date(crit: Crit | None) -> str:
    """Say the next date of a studio: pens down, then the day of the crit, then its release."""
    if crit is None:
        return "No crit is set"
    if timezone.now() <= crit.pens_down:
        return f"Pens down {moment_words(crit.pens_down)}"
    if crit.is_released:
        return f"{crit} is released"
    if crit.day >= timezone.localdate():
        return f"{crit.get_kind_display()} {day_words(crit.day)}"
    return f"{crit} is not released"


def led(viewer: Viewer) -> list[LedStudio]:
    """Studios the viewer leads, with who has not issued and who has not locked."""
    studios = access.led_studios(viewer).select_related("brief").prefetch_related("crits")
    studios = studios.defer("brief__text", "brief__site", "brief__climate")
    by_studio = (
        Scheme.objects.standing().filter(studio__in=studios).order_by().values_list("studio")
    )
    counted = dict(by_studio.annotate(Count("pk")))
    nearest = {studio: nearest_crit(studio) for studio in studios}
    waits = what_waits(nearest.values())
    return [
        _led(studio, crit, counted.get(studio.pk, 0), waits.get(crit.pk) if crit else None)
        for studio, crit in nearest.items()
    ]


def _led(studio: Studio, crit: Crit | None, count: int, waits: Waits | None) -> LedStudio:
    """One of them; with what waits where its nearest crit is open."""
    return LedStudio(
        studio,
        crit,
        next_date(crit),
        _to_do(studio, crit, count, waits),
        waits.not_issued if waits else (),
        waits.not_locked if waits else (),
        count,
    )


def _to_do(
    studio: Studio, crit: Crit | None, schemes: int, waits: Waits | None
) -> list[tuple[str, str]]:
    """What the leader has still to set up, each with the page where it is done."""
    here = {"studio_id": studio.pk}
    steps = []
    if not studio.brief.is_issued:
        steps.append(("Write and issue the brief", reverse("show-brief", kwargs=here)))
    if not schemes:
        steps.append(("Bring in the students", reverse("bring-in-people", kwargs=here)))
    if crit is None:
        return [*steps, ("Set the first crit", reverse("open-crit", kwargs=here))]
    there = {"crit_id": crit.pk}
    if waits:
        if not waits.has_criteria:
            steps.append(("Write the criteria sheet", reverse("edit-criteria", kwargs=there)))
        if not waits.has_jurors:
            steps.append(("Invite the jurors", reverse("edit-jurors", kwargs=there)))
        if not waits.has_order and schemes:
            steps.append(("Make the running order", reverse("edit-order", kwargs=there)))
    return steps


def own(viewer: Viewer) -> list[OwnScheme]:
    """The viewer's own schemes, with what each still lacks."""
    schemes = Scheme.objects.filter(pk__in=viewer.own_scheme_ids)
    schemes = schemes.select_related("studio__brief").prefetch_related(
        "revisions", "studio__crits", "members"
    )
    return [_own(scheme) for scheme in schemes.order_by("-studio__opened_at", "number")]


def _own(scheme: Scheme) -> OwnScheme:
    crit = nearest_crit(scheme.studio)
    package = Package.objects.filter(scheme=scheme).select_related("scheme__studio__brief").first()
    is_ahead = crit is not None and not crit.is_released and scheme.withdrawn_at is None
    brief_is_out = scheme.studio.brief.is_issued
    return OwnScheme(
        scheme,
        scheme_state(scheme),
        next_date(crit),
        lacks(package) if package and is_ahead and brief_is_out else [],
        [c for c in scheme.studio.crits.all() if c.is_released],
        brief_is_out,
    )


def past(viewer: Viewer) -> list[PastWork]:
    """The viewer's own work on schemes that others draw now, or nobody."""
    issued = Revision.objects.filter(pk__in=viewer.issued_ids).order_by("pk")
    left = issued.exclude(scheme__in=viewer.own_scheme_ids)
    by_scheme: dict[Scheme, list[Revision]] = {}
    for revision in left.select_related("scheme__studio", "crit"):
        by_scheme.setdefault(revision.scheme, []).append(revision)
    return [
        PastWork(
            scheme,
            revisions,
            list(dict.fromkeys(r.crit for r in revisions if r.crit and r.crit.is_released)),
        )
        for scheme, revisions in by_scheme.items()
    ]


def scheme_state(scheme: Scheme) -> str:
    """Say a scheme's state: Withdrawn, Issued rev B, In preparation."""
    if scheme.withdrawn_at:
        return "Withdrawn"
    issued = list(scheme.revisions.all())
    return f"Issued rev {issued[-1].letter}" if issued else "In preparation"


def attended(viewer: Viewer, role: str) -> list[SeenStudio]:
    """Studios in which the viewer is scribe or examiner."""
    studios = Studio.objects.filter(pk__in=viewer.studios_as(role)).prefetch_related("crits")
    return [_seen(studio, released_only=role == Role.EXAMINER) for studio in studios]


def coordinated(viewer: Viewer) -> list[SeenStudio]:
    if not viewer.is_coordinator:
        return []
    return [_seen(studio) for studio in Studio.objects.prefetch_related("crits")]


def _seen(studio: Studio, *, released_only: bool = False) -> SeenStudio:
    crits = [c for c in studio.crits.all() if c.is_released or not released_only]
    return SeenStudio(studio, next_date(nearest_crit(studio)), crits)
