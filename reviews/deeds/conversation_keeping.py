"""Keep the record of a talk about results, by each who held it; asked for beforehand, or not."""

from __future__ import annotations

from datetime import date, datetime
from typing import NamedTuple
from uuid import UUID

from django.db import transaction

from reviews import clock
from reviews.models import Conversation, Crit, Person, Scheme
from reviews.models.briefs import Frozen

ASKED_ALREADY = "You asked already, and nobody has written of a talk since. It stands below."


class TalkSent(NamedTuple):
    """What somebody writes of a talk.

    held_on   None: it is asked for
    agreed    what was agreed, where anything was
    """

    words: str
    held_on: date | None = None
    minutes: int | None = None
    agreed: str = ""


@transaction.atomic
def keep_conversation(
    crit: Crit, scheme: Scheme, key: UUID, sent: TalkSent, by: Person, *, at: datetime | None = None
) -> Conversation:
    """Keep what somebody writes of a talk, or that they ask for one; it is not rewritten.

    Sent again with its key it is the same. Raises Frozen where the crit isn't released, or where
    the same person asks again while nobody has talked with them; Conversation.DoesNotExist where
    the key is another's.
    """
    crit = Crit.objects.hold(crit.pk)
    if before := Conversation.objects.filter(key=key).first():
        if (before.crit_id, before.scheme_id, before.by_id) != (crit.pk, scheme.pk, by.pk):
            raise Conversation.DoesNotExist(key)
        return before
    if not crit.is_released:
        raise Frozen("The crit is not released.")
    if sent.held_on is None and _waits(crit, scheme, by):
        raise Frozen(ASKED_ALREADY)
    moment = at or clock.now()
    return Conversation.objects.create(
        crit=crit, scheme=scheme, key=key, by=by, at=moment, **sent._asdict()
    )


def _waits(crit: Crit, scheme: Scheme, by: Person) -> bool:
    kept = Conversation.objects.filter(crit=crit, scheme=scheme)
    asked = kept.filter(by=by, held_on=None).last()
    return asked is not None and not kept.filter(pk__gt=asked.pk, held_on__isnull=False).exists()
