"""What a jury set on a student's own work and nobody has answered yet, as their home has it."""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from django.urls import reverse

from reviews.models import Crit, Scheme
from reviews.pages.results_page import results_of

MOST_FLAGS = 6
"""Flags that a home shows of one crit; the results have all."""


class NewFlag(NamedTuple):
    """A comment to answer: its number on the results, where it stands, and what it says."""

    number: int
    place: str
    kind: str
    words: str
    href: str


def new_flags(scheme: Scheme, released: Iterable[tuple[Crit, int]]) -> list[NewFlag]:
    """The comments that wait for an answer, of the crits that have some."""
    found = []
    for crit, due in released:
        if not due:
            continue
        address = reverse("show-results", args=[crit.pk, scheme.pk])
        waits = [
            NewFlag(
                read.number,
                read.place,
                read.comment.kind,
                read.comment.words,
                f"{address}#comment-{read.number}",
            )
            for read in results_of(crit, scheme).comments
            if not (read.answer or read.held_at)
        ]
        found += waits[:MOST_FLAGS]
    return found
