"""The drawing that a jury sheet begins with: under its juror's own flags and strokes, and ahead."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from reviews.models import DrawingKind, IssuedSheet
from reviews.pages.jury_lines import CommentLine
from reviews.pages.sheet_views import sheet_view
from reviews.pages.traced_sheets import Said, TracedSheet, traced

OWN = "own"
"""A juror's own tracing paper."""


def drawn_first(sheets: Iterable[IssuedSheet]) -> list[IssuedSheet]:
    """The sheets, a plan first where there is one: it says most of a scheme."""
    hung = list(sheets)
    plan = next((sheet for sheet in hung if sheet.kind == DrawingKind.PLAN), None)
    return sorted(hung, key=lambda sheet: sheet is not plan) if plan else hung


def under_own_trace(
    sheets: Sequence[IssuedSheet], comments: Sequence[CommentLine]
) -> list[TracedSheet]:
    """Each sheet under the flags and strokes of a juror's own comments on it."""
    said = [Said(line.comment, str(n), OWN, line.id) for n, line in enumerate(comments, start=1)]
    return [
        traced(sheet, [each for each in said if each.comment.issued_sheet_id == sheet.pk])
        for sheet in sheets
    ]


def addresses_ahead(hung: Iterable[IssuedSheet]) -> list[str]:
    """Where the next scheme's sheets are had: a browser fetches them while this one is judged."""
    return [sheet_view(sheet).sizes.src for sheet in hung]
