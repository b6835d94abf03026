"""What hangs together at a pin-up: of each scheme the last sheets issued, as its viewer may see."""

from __future__ import annotations

from typing import NamedTuple

from reviews import access
from reviews.access import Viewer
from reviews.models import IssuedSheet, Revision, Studio


class Hung(NamedTuple):
    """One scheme's sheets, as issued last."""

    revision: Revision
    sheets: list[IssuedSheet]


def pin_up(viewer: Viewer, studio: Studio, instead: Revision | None = None) -> list[Hung]:
    """The schemes of a studio by number, less those that are withdrawn or hang nothing yet.

    instead   a revision that stands for its scheme, be it withdrawn or superseded
    """
    seen = access.revisions(viewer).filter(scheme__studio=studio).order_by("pk")
    standing = studio.schemes.standing()
    issued = seen.filter(scheme__in=standing, sheets__isnull=False).distinct()
    last = {revision.scheme_id: revision for revision in issued.select_related("scheme")}
    if instead is not None:
        last[instead.scheme_id] = instead
    sheets: dict[int, list[IssuedSheet]] = {revision.pk: [] for revision in last.values()}
    for sheet in (
        IssuedSheet.objects.filter(revision__in=sheets).select_related("file").defer("lettering")
    ):
        sheets[sheet.revision_id].append(sheet)
    by_number = sorted(last.values(), key=lambda revision: revision.scheme.number)
    return [Hung(revision, sheets[revision.pk]) for revision in by_number]
