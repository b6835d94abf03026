"""What stands around every page: the sheet list at its head and the title block at its foot."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from django.urls import reverse

from reviews import access, access_studio
from reviews.access import HttpRequest, Viewer
from reviews.models import Crit, Revision, Scheme, Studio
from reviews.moments import day_words, moment_words
from reviews.reading.crit_waiting import nearest_crit

Entry = dict[str, Any]

PAGES = ("brief", "site", "schemes", "crits", "moderation", "compare")
"""The sheet list, in the order of the journey; a page stands under one of these."""
MOST_STUDIOS = 3
"""Other studios that a page leads to."""


def frame(
    request: HttpRequest,
    *,
    studio: Studio | None = None,
    scheme: Scheme | None = None,
    crit: Crit | None = None,
    page: str = "",
    revision: Revision | None = None,
    revisions: Sequence[Revision] = (),
) -> dict[str, Any]:
    """Return what base.html reads: sheet list, brief link, title block, studio and scheme.

    `page` names the entry of the sheet list that is now open: one of PAGES, or nothing.
    """
    viewer: Viewer = request.viewer
    if revision is not None:
        scheme, revisions = scheme or revision.scheme, (revision,)
    holder = scheme or crit
    if studio is None and holder is not None:
        studio = holder.studio
    entries = _entries(viewer, studio, crit) if studio else {}
    return {
        "studio": studio,
        "scheme": scheme,
        "other_studios": other_studios(viewer, studio),
        "brief_url": entries.get("brief", ""),
        "sheet_list": [
            {"number": f"{n:02}", "name": name.capitalize(), "url": url, "current": name == page}
            for n, name in enumerate(PAGES, start=1)
            if (url := entries.get(name))
        ],
        "title_block": [*_title_block(scheme, crit, revisions), *kept_until(studio)],
    }


def other_studios(viewer: Viewer, here: Studio | None) -> list[Studio]:
    """The latest of the viewer's studios but the one that is open; the rest stand on their home."""
    held = dict.fromkeys(place.studio for place in viewer.places)
    return [studio for studio in held if studio != here][:MOST_STUDIOS]


def _entries(viewer: Viewer, studio: Studio, crit: Crit | None) -> dict[str, str]:
    """The address of each entry that the viewer may open."""
    if studio.pk not in viewer.roles and not viewer.is_coordinator:
        return _juror_entries(viewer, studio)
    here = {"studio_id": studio.pk}
    found = {"schemes": reverse("show-studio", kwargs=here)}
    if access.can_see_brief(viewer, studio):
        found["brief"] = reverse("show-brief", kwargs=here)
        found["site"] = f"{found['brief']}#site"
    if crit := crit or nearest_crit(studio):
        found["crits"] = reverse("show-crit", kwargs={"crit_id": crit.pk})
        if access.can_lead(viewer, studio.pk) or (viewer.is_coordinator and crit.is_released):
            found["moderation"] = reverse("show-table", kwargs={"crit_id": crit.pk})
    if access_studio.can_compare(viewer, studio.pk):
        found["compare"] = reverse("compare-cohorts", kwargs=here)
    return found


def _juror_entries(viewer: Viewer, studio: Studio) -> dict[str, str]:
    if viewer.seat is None or viewer.seat.crit.studio_id != studio.pk:
        return {}
    return {"brief": reverse("show-jury-brief"), "schemes": reverse("show-jury")}


def kept_until(studio: Studio | None) -> list[tuple[str, str]]:
    """Label and value of a studio's day of retention, on every page of it that has one."""
    day = studio.kept_until if studio else None
    return [("Kept until", day_words(day))] if day else []


def _title_block(
    scheme: Scheme | None, crit: Crit | None, revisions: Sequence[Revision]
) -> list[tuple[str, str]]:
    """Label and value of each small cell; each fits one line of the strip on paper."""
    pairs = []
    if scheme:
        pairs.append(("Drawn", revisions[-1].by if revisions else scheme.by))
    if revisions:
        pairs.append(("Revision", ", ".join(revision.letter for revision in revisions)))
        if len(revisions) == 1:
            pairs.append(("Issued", moment_words(revisions[0].issued_at)))
    elif scheme and not crit:
        pairs.append(("Revision", "In preparation"))
    if crit:
        pairs += [("Crit", str(crit)), ("Pens down", moment_words(crit.pens_down))]
    return pairs
