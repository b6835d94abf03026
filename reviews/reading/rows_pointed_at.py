"""Rows of schedules whose mark a comment's point lies on, within its very letters, as issued.

A mark that is only near is none: which row its juror meant would be a guess.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from typing import NamedTuple

from reviews.models import Comment, IssuedSheet
from reviews.reading.sheet_lettering import PageText
from reviews.reading.sheet_marks import issued_marks


class RowPointedAt(NamedTuple):
    """A row of what a revision was issued with; `line` counts from 1."""

    revision: int
    schedule: str
    line: int


def rows_pointed_at(comments: Iterable[Comment]) -> dict[int, tuple[RowPointedAt, ...]]:
    """The rows of each comment, by its key; of most there is none."""
    pointed = [
        (each.pk, sheet, point)
        for each in comments
        if (sheet := each.issued_sheet) and (point := each.point)
    ]
    on = {sheet.pk for _, sheet, _ in pointed}
    lettered = IssuedSheet.objects.filter(pk__in=on).exclude(lettering={})
    letters = dict(lettered.values_list("pk", "lettering")) if on else {}
    found = {}
    for pk, sheet, point in pointed:
        text = PageText.of_record(letters.get(sheet.pk, {}))
        if words := tuple(word for word in text.words if word.holds(*point)):
            found[pk] = tuple(_rows(sheet, replace(text, words=words)))
    return found


def _rows(sheet: IssuedSheet, text: PageText) -> Iterator[RowPointedAt]:
    for found in issued_marks(sheet.number, text, sheet.revision.contents["schedules"]):
        if found.row is not None:
            yield RowPointedAt(sheet.revision_id, found.schedule, found.row)
