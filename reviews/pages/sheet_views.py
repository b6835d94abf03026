"""Issued sheets as small pictures beside what is said of them."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from django.urls import reverse

from reviews.models import Crit, IssuedSheet, Revision


@dataclass(frozen=True)
class SheetView:
    """An issued sheet as it is pictured beside the levels, with flags on what was said of it."""

    number: str
    title: str
    caption: str
    src: str
    alt: str
    width: int
    height: int
    comments: list[dict[str, Any]] = field(default_factory=list)


def sheet_views(revision: Revision | None) -> list[SheetView]:
    """The sheets of a revision, as small pictures."""
    if revision is None:
        return []
    return [sheet_view(sheet) for sheet in revision.sheets.select_related("file")]


def sheet_view(sheet: IssuedSheet) -> SheetView:
    """An issued sheet, as a small picture."""
    return SheetView(
        number=sheet.number,
        title=sheet.title,
        caption=" ".join(part for part in (sheet.number, sheet.title, sheet.scale) if part),
        src=reverse("issued-sheet-image", args=[sheet.revision_id, sheet.number, "preview"]),
        alt=f"Sheet {sheet.number}, {sheet.title}",
        width=sheet.file.width,
        height=sheet.file.height,
    )


def in_time(crit: Crit, revision: Revision | None) -> Revision | None:
    """The last revision issued for a crit before pens down, where the one shown is late."""
    if revision is None or not revision.minutes_late:
        return None
    return revision.scheme.revisions.filter(crit=crit, minutes_late=0).last()
