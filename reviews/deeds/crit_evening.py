"""The evening after a crit: comments go out without levels, by the leader's hand alone."""

from __future__ import annotations

from collections.abc import Collection
from datetime import datetime

from django.db import transaction

from reviews import clock
from reviews.deeds.audit_keeping import Deed, about, record
from reviews.deeds.crit_releasing import Changed
from reviews.deeds.mail_queueing import announce_comments, ask_for_words
from reviews.models import Comment, Crit, Person, Seat, SpokenNote
from reviews.models.briefs import Frozen
from reviews.reading.crit_evening import evening_list, stubs_of, why_not_now


class Undecided(Exception):
    """A list over what its leader hasn't decided yet, in words."""


@transaction.atomic
def send_comments(
    crit: Crit,
    by: Person,
    *,
    seen: str,
    closed: Collection[int] = (),
    at: datetime | None = None,
) -> Crit:
    """Give all students what was said, without levels; sent is sent once and for good.

    seen     the fingerprint of the list that the leader read; Changed where it no longer holds
    closed   schemes of which the leader may read nothing yet
    Raises Undecided where a hazard waits, Frozen after the release and outside the hours.
    """
    crit = Crit.objects.hold(crit.pk)
    if crit.comments_sent_at:
        return crit
    at = at or clock.now()
    if crit.is_released:
        raise Frozen("The crit is released. Students read every comment with its levels.")
    if why := why_not_now(crit, at):
        raise Frozen(why)
    told = evening_list(crit, closed=closed)
    if told.asks:
        raise Undecided("; ".join(told.asks))
    if seen != told.seen:
        raise Changed("Something was said, worded or locked since this page was opened.")
    goes = [remark.said for each in told.schemes for remark in each.goes]
    for kind in (Comment, SpokenNote):
        keys = [said.pk for said in goes if isinstance(said, kind)]
        kind._default_manager.filter(pk__in=keys).update(sent_at=at)
    crit.comments_sent_at, crit.comments_sent_by = at, by
    crit.save(update_fields=["comments_sent_at", "comments_sent_by"])
    announce_comments(crit, at)
    record(Deed.SENT, crit.studio_id, by=by, about=about(crit), at=at)
    return crit


@transaction.atomic
def decide_hazard(said: Comment | SpokenNote, by: Person, seen: int) -> bool:
    """Let a hazard go out as it was read; False where it was changed since."""
    sheet = said.jury_sheet if isinstance(said, Comment) else None
    crit, scheme = (
        (sheet.seat.crit, sheet.scheme) if sheet else (said.slot.crit, said.slot.scheme)  # type: ignore[union-attr]
    )
    Crit.objects.hold(crit.pk)
    said.refresh_from_db()
    if said.version != seen:
        return False
    if said.decided_at is None or said.decided_at < said.kept_at:
        said.decided_at, said.decided_by = max(clock.now(), said.kept_at), by
        said.save(update_fields=["decided_at", "decided_by"])
        told = about(crit, scheme, "a hazard read and let go")
        of = sheet.seat if sheet else said.seat  # type: ignore[union-attr]
        record(Deed.MODERATED, crit.studio_id, by=by, about=told, of_seat=of)
    return True


@transaction.atomic
def ask_jurors(crit: Crit, by: Person, *, at: datetime | None = None) -> tuple[int, list[Seat]]:
    """Send each juror whose comments lack words one letter with the list, once a crit.

    Returns how many have an address, and those who have none. Raises Frozen outside the hours.
    """
    crit = Crit.objects.hold(crit.pk)
    if crit.is_released:
        raise Frozen("The crit is released. Jurors are asked before it.")
    if why := why_not_now(crit, at or clock.now()):
        raise Frozen(why)
    seats = {stub.jury_sheet.seat_id: stub.jury_sheet.seat for stub in stubs_of(crit)}
    reached = [seat for seat in seats.values() if seat.email]
    if ask_for_words(crit, reached):
        told = about(crit, what="jurors asked for the words of their comments")
        record(Deed.MODERATED, crit.studio_id, by=by, about=told)
    return len(reached), [seat for seat in seats.values() if not seat.email]
