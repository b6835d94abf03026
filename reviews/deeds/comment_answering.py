"""Students answer comments: one answer each, by the version seen; what it said before is kept."""

from __future__ import annotations

from datetime import datetime
from typing import NamedTuple

from django.db import transaction

from reviews import clock
from reviews.deeds.mail_queueing import tell_juror
from reviews.models import Answer, Closing, Comment, Crit, FormerAnswer, Person
from reviews.models.briefs import Frozen
from reviews.versions import is_new


class AnswerSent(NamedTuple):
    """An answer's contents."""

    kind: str
    words: str = ""
    place_now: str = ""


class Unanswerable(Exception):
    """An answer that this comment doesn't take, and why."""


def why_not(comment: Comment, sent: AnswerSent) -> str:
    """Return why a comment doesn't take an answer; nothing where it does.

    A reason is owed for what isn't taken, and a hazard can be answered but not declined.
    """
    if sent.kind != Answer.Kind.NOT_TAKEN:
        return ""
    if comment.kind == Comment.Kind.HAZARD:
        return "Read “Not taken, with reason” for a hazard. Expected what is done about it."
    return "" if sent.words.strip() else "Read no words. Expected the reason why it is not taken."


@transaction.atomic
def answer_comment(
    comment: Comment, by: Person, sent: AnswerSent, seen: int, *, at: datetime | None = None
) -> Answer:
    """Keep the answer to a released comment; what it said before stays beside it.

    Raises Newer where it changed since it was seen, Frozen where the comment isn't released, or is
    closed: its leader closed it over the answer that stood.
    """
    Crit.objects.hold(comment.jury_sheet.seat.crit_id)
    if not Comment.objects.released().not_held().filter(pk=comment.pk).exists():
        raise Frozen("The comment is not released.")
    if why := why_not(comment, sent):
        raise Unanswerable(why)
    answer = Answer.objects.filter(comment=comment).first() or Answer(comment=comment, version=0)
    now = AnswerSent(answer.kind, answer.words, answer.place_now)
    if is_new(answer, now, sent, stands_at=answer.version, seen=seen):
        if Closing.objects.standing().filter(comment=comment, is_closed=True).exists():
            raise Frozen("The comment is closed. Its answer stands as it was closed.")
        _keep_former(answer)
        answer.kind, answer.words, answer.place_now = sent
        answer.version += 1
        answer.answered_by, answer.answered_at = by, at or clock.now()
        answer.save()
        tell_juror(answer)
    return answer


def _keep_former(answer: Answer) -> None:
    if answer.version:
        FormerAnswer.objects.create(
            answer=answer,
            kind=answer.kind,
            words=answer.words,
            place_now=answer.place_now,
            version=answer.version,
            answered_by=answer.answered_by,
            answered_at=answer.answered_at,
        )
