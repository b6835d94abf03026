"""Ask about a brief and answer: everybody of the studio reads both at once, each with its hour.

An answer is never rewritten: what is added to it later stands below it, dated and signed. What
changes the brief itself is an addendum, which an answer can name.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime
from uuid import UUID

from django.db import transaction

from reviews import clock
from reviews.models import Addendum, AddendumOpened, Brief, BriefQuestion, Person
from reviews.moments import moment_words
from reviews.versions import Newer


@transaction.atomic
def ask(
    brief: Brief, key: UUID, words: str, by: Person, *, at: datetime | None = None
) -> BriefQuestion:
    """Keep a question; sent again with its key it is the same.

    Raises BriefQuestion.DoesNotExist where the key is another brief's or another person's.
    """
    held = Brief.objects.select_for_update().get(pk=brief.pk)
    kept = {"brief": held, "words": words, "asked_by": by, "asked_at": at or clock.now()}
    question, _ = BriefQuestion.objects.get_or_create(key=key, defaults=kept)
    if (question.brief_id, question.asked_by_id) != (held.pk, by.pk):
        raise BriefQuestion.DoesNotExist(key)
    return question


@transaction.atomic
def answer(
    question: BriefQuestion,
    words: str,
    seen: int,
    by: Person,
    *,
    addendum: Addendum | None = None,
    at: datetime | None = None,
) -> BriefQuestion:
    """Answer a question, or add to its answer; the same sent again changes nothing.

    Raises Newer where somebody answered since it was seen.
    """
    held = BriefQuestion.objects.select_for_update().get(pk=question.pk)
    led_to = addendum or held.addendum
    if (not words or held.answer.endswith(words)) and led_to == held.addendum:
        return held
    if held.version != seen:
        raise Newer(held, words)
    moment = at or clock.now()
    if not held.answer:
        held.answer, held.answered_by, held.answered_at = words, by, moment
    elif words:
        held.answer += f"\n\n{by}, {moment_words(moment)}: {words}"
    held.addendum = led_to
    held.version += 1
    held.save()
    return held


def note_opened(
    addenda: Iterable[Addendum], by: Person, *, at: datetime | None = None
) -> list[AddendumOpened]:
    """Keep that somebody opened addenda; of each the first time stands."""
    there = set(AddendumOpened.objects.filter(person=by).values_list("addendum_id", flat=True))
    moment = at or clock.now()
    fresh = [
        AddendumOpened(addendum=addendum, person=by, at=moment)
        for addendum in addenda
        if addendum.pk not in there
    ]
    return AddendumOpened.objects.bulk_create(fresh, ignore_conflicts=True)
