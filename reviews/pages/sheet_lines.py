"""Sheets of a package or a revision as lines of a list."""

from __future__ import annotations

from collections.abc import Iterable

from criteria.drawing.sheet_list import Listed
from reviews.models import IssuedSheet, Sheet


def listed_sheets(sheets: Iterable[Sheet | IssuedSheet], letter: str) -> list[Listed]:
    """Each sheet as a list says it, with the revision that it is of."""
    return [
        Listed(
            number=sheet.number,
            title=sheet.title,
            kind=sheet.get_kind_display(),
            state=sheet.state,
            scale=sheet.scale,
            drawn_by=sheet.drawn_by,
            checked_by=sheet.checked_by,
            revision=letter,
        )
        for sheet in sheets
    ]
