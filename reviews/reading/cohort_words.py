"""The words of what was said again and again: released comments of cohorts, as they went out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from django.db.models import Q

from reviews.models import Comment
from reviews.reading.cohort_records import Record, comments_of, refs_in
from reviews.reading.comment_rulings import as_they_go_out


@dataclass(frozen=True)
class Chosen:
    """Which comments are asked for: each as a line of counts names it, blank for any.

    alike   the heading under which leaders grouped them
    """

    criterion: str = ""
    of_kind: str = ""
    place: str = ""
    target: str = ""
    alike: str = ""


@dataclass(frozen=True)
class Remark:
    """A comment, of which cohort, and of which scheme; not by whom."""

    place: int
    scheme_id: int
    scheme: str
    comment: Comment


def remarks(records: Sequence[Record], chosen: Chosen) -> list[Remark]:
    """Read the comments of some cohorts that are released and held by nobody, cohort by cohort."""
    place_of = {record.crit_id: place for place, record in enumerate(records)}
    rows = (
        comments_of(place_of)
        .filter(_asked(chosen))
        .select_related("jury_sheet__seat", "criterion", "issued_sheet", "revision")
    )
    found = []
    for comment in as_they_go_out(rows.order_by("pk")):
        place = place_of[comment.jury_sheet.seat.crit_id]
        record = records[place]
        scheme = comment.jury_sheet.scheme_id
        if chosen.target and chosen.target not in _targets(record, comment.words):
            continue
        found.append(Remark(place, scheme, record.schemes.get(scheme, ""), comment))
    return sorted(found, key=lambda each: (each.place, each.scheme, each.comment.pk))


def _asked(chosen: Chosen) -> Q:
    asked = Q(kind=chosen.of_kind) if chosen.of_kind else Q()
    if chosen.criterion:
        code, _, name = chosen.criterion.partition(" ")
        asked &= Q(criterion__code=code, criterion__name=name)
    if chosen.place:
        number, _, zone = chosen.place.partition("·")
        asked &= Q(issued_sheet__number=number, zone=zone)
    return asked


def _targets(record: Record, words: str) -> set[str]:
    """The titles of a cohort's targets that words name by reference."""
    refs = refs_in(words)
    return {target.title for target in record.targets if target.ref in refs}
