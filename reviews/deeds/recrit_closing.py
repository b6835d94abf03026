"""At a re-crit jurors say of each open comment whether it is closed, and its leader closes it.

What a leader closes is told to students once the re-crit is released (`Closing.objects.told`).
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from typing import NamedTuple

from django.db import transaction
from django.http import Http404

from reviews import clock
from reviews.deeds.audit_keeping import Deed, about, record
from reviews.deeds.crit_sheet_in_hand import take_in_hand
from reviews.models import Closing, Crit, Person, Scheme, Seat, SecondLook
from reviews.models.briefs import Frozen
from reviews.reading.recrit_scope import shown_comments
from reviews.versions import Newer, is_new


class Decided(NamedTuple):
    """What a leader decides of an open comment.

    seen   key of the decision that its page showed; 0: none
    """

    is_closed: bool
    words: str = ""
    seen: int = 0


@transaction.atomic
def keep_second_look(
    seat: Seat,
    scheme: Scheme,
    comment_id: int,
    is_closed: bool,
    seen: int,
    *,
    of: int | None = None,
    set_at: datetime | None = None,
) -> SecondLook:
    """Keep what a juror says of an open comment; the same sent twice changes nothing.

    set_at   by the site's clock, where it waited on the device
    Raises Newer, and Frozen where the sheet is locked or the re-crit released.
    """
    held = take_in_hand(seat, scheme, of)
    comment = next((c for c in shown_comments(held.crit, scheme.pk) if c.pk == comment_id), None)
    if comment is None:
        raise Http404("Not a comment that is open here.")
    look = held.sheet.second_looks.filter(comment=comment).first()
    if look is None:
        look = SecondLook(jury_sheet=held.sheet, comment=comment, version=0)
    now = (look.is_closed, look.revision_id) if look.pk else None
    if is_new(look, now, (is_closed, held.shown_id), stands_at=look.version, seen=seen):
        if held.crit.is_released:
            raise Frozen("The re-crit is released. What was said of this comment stays.")
        held.require_open()
        look.is_closed, look.revision = is_closed, held.shown
        look.version += 1
        look.kept_at, look.set_at = clock.now(), held.waited_since(set_at)
        look.save()
    return look


@transaction.atomic
def decide_comments(crit: Crit, scheme: Scheme, decided: Mapping[int, Decided], by: Person) -> int:
    """Close comments at a re-crit, or say that one more answer is needed; return how many changed.

    decided   by the comment's key
    Each decision is a row of its own; what stands so already gets none. Raises Newer where
    another decision was made since, Frozen once it is released: then nothing is kept.
    """
    held = Crit.objects.hold(crit.pk)
    if held.is_released:
        raise Frozen("The re-crit is released. Close what is still open on the list of answers.")
    asked = {each.pk for each in shown_comments(held, scheme.pk)}
    stand = {each.comment_id: each for each in Closing.objects.proposed(held)}
    changed = []
    for pk, each in decided.items():
        last = stand.get(pk)
        now = (last.is_closed, last.words) if last else None
        if pk not in asked or now == (each.is_closed, each.words):
            continue
        if (last.pk if last else 0) != each.seen:
            raise Newer(last, each)
        closing = Closing(comment_id=pk, is_closed=each.is_closed, words=each.words)
        closing.crit, closing.by, closing.at = held, by, clock.now()
        changed.append(closing)
    Closing.objects.bulk_create(changed)
    if changed:
        closed = sum(each.is_closed for each in changed)
        told = about(held, scheme, f"{closed} of {len(changed)} comments closed")
        record(Deed.MODERATED, held.studio_id, by=by, about=told)
    return len(changed)
