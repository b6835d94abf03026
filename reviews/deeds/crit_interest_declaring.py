"""Declare an interest in a scheme, step aside or only comment, and take that back."""

from __future__ import annotations

from django.db import transaction

from reviews import clock
from reviews.deeds.audit_keeping import Deed, about, record
from reviews.models import Crit, Interest, Person, Scheme, Seat
from reviews.models.briefs import Frozen


def _hold_unreleased(crit_id: int) -> None:
    if Crit.objects.hold(crit_id).is_released:
        raise Frozen("The crit is released. Interests stay as they were declared.")


@transaction.atomic
def declare_interest(
    seat: Seat, scheme: Scheme, words: str = "", *, may_comment: bool = False
) -> Interest:
    """Let a juror step aside for a scheme, or comment without a level; the sheet is kept.

    The same declared again changes nothing; the other takes the first back, which is kept too.
    """
    _hold_unreleased(seat.crit_id)
    before = seat.interests.standing().filter(scheme=scheme).first()
    if before and before.may_comment == may_comment:
        return before
    if before:
        _take_back(before, None)
    return Interest.objects.create(
        seat=seat, scheme=scheme, words=words.strip(), may_comment=may_comment
    )


@transaction.atomic
def take_back_interest(interest: Interest, by: Person | None = None) -> Interest:
    """Let a juror, or a leader by name, take an interest back: the sheet is as it was before."""
    _hold_unreleased(interest.seat.crit_id)
    interest.refresh_from_db()
    if interest.taken_back_at is None:
        _take_back(interest, by)
        if by:
            crit, told = interest.seat.crit, "an interest taken back"
            told = about(crit, interest.scheme, told)
            record(Deed.MODERATED, crit.studio_id, by=by, about=told, of_seat=interest.seat)
    return interest


def _take_back(interest: Interest, by: Person | None) -> None:
    interest.taken_back_at, interest.taken_back_by = clock.now(), by
    interest.save(update_fields=["taken_back_at", "taken_back_by"])
