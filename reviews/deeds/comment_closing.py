"""A leader closes comments once they are answered, and opens one again; each a row of its own."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime

from django.db import transaction

from criteria.errors import Refused
from reviews import clock
from reviews.deeds.audit_keeping import Deed, about, record
from reviews.models import Answer, Closing, Comment, Crit, Person
from reviews.reading.crit_answers import released_answers, standing_closing


@dataclass(frozen=True)
class Closed:
    """What became of the comments that were to be closed, or opened again.

    left   those that were answered otherwise since they were seen, or are held by now
    """

    done: list[Comment]
    left: list[Comment]


@transaction.atomic
def close_comments(
    crit: Crit,
    by: Person,
    seen: Mapping[int, int],
    words: str = "",
    *,
    is_closed: bool = True,
    at: datetime | None = None,
) -> Closed:
    """Close comments of a crit, or open them again; one that is so already changes nothing.

    seen   by the comment's key, the version of its answer that the leader saw; 0: none
    Raises Refused where words are owed, or a hazard has no answer yet: then nothing is kept.
    """
    crit = Crit.objects.hold(crit.pk)
    done, left = [], []
    for comment in released_answers([crit]).filter(pk__in=seen):
        stands = standing_closing(comment)
        if (stands is not None and stands.is_closed) is is_closed:
            continue
        answer = getattr(comment, "answer", None)
        if (answer.version if answer else 0) != seen[comment.pk]:
            left.append(comment)
            continue
        if why := why_not(comment, answer, words, is_closed=is_closed):
            raise Refused(words, why)
        done.append(comment)
    moment = at or clock.now()
    Closing.objects.bulk_create(
        Closing(comment=each, is_closed=is_closed, words=words, by=by, at=moment) for each in done
    )
    for each in done:
        what = "a comment closed" if is_closed else "a comment opened again"
        told, seat = about(crit, each.jury_sheet.scheme, what), each.jury_sheet.seat
        record(Deed.MODERATED, crit.studio_id, by=by, about=told, of_seat=seat, at=at)
    return Closed(done, left)


def why_not(comment: Comment, answer: Answer | None, words: str, *, is_closed: bool) -> str:
    """What was expected before a comment can be closed, or opened again; nothing where it can."""
    if not is_closed:
        return "" if words.strip() else "why it is open again"
    if answer is None and comment.kind == Comment.Kind.HAZARD:
        return "an answer first: a hazard is not closed without one"
    if (answer is None or answer.kind != Answer.Kind.TAKEN_UP) and not words.strip():
        return "words: it is not taken up, and its students read why it is closed"
    return ""
