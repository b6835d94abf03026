"""Offer other words for a held comment; its juror alone decides what goes out in their name.

The comment keeps its own words. Nothing is offered for what students could read already.
"""

from __future__ import annotations

from datetime import datetime

from django.db import transaction

from reviews import clock
from reviews.deeds.audit_keeping import Deed, about, record
from reviews.deeds.mail_queueing import offer_words
from reviews.models import Comment, Crit, Person, Rewording, Seat
from reviews.models.briefs import Frozen

Reply = Rewording.Reply


def why_not_reworded(comment: Comment, crit: Crit) -> str:
    """Say why no other words can be offered for a comment; nothing where they can."""
    if comment.sent_at:
        return "It was sent in the evening. What students have read changes no more."
    if comment.held_at is None:
        return "It isn't held. Hold it first, with the reason, then offer other words."
    if crit.released_at and comment.held_at >= crit.released_at:
        return "It was released before it was held. What students could read changes no more."
    return "" if comment.words.strip() else "It has no words yet that others could stand for."


def _hold(comment: Comment) -> tuple[Crit, Comment]:
    crit = Crit.objects.hold(comment.jury_sheet.seat.crit_id)
    return crit, Comment.objects.select_for_update(of=("self",)).get(pk=comment.pk)


def _told(
    comment: Comment, what: str, at: datetime, by: Person | None = None, link_of: Seat | None = None
) -> None:
    sheet = comment.jury_sheet
    crit = sheet.seat.crit
    told = about(crit, sheet.scheme, what)
    seat = sheet.seat
    record(Deed.MODERATED, crit.studio_id, by=by, link_of=link_of, about=told, of_seat=seat, at=at)


@transaction.atomic
def offer_rewording(
    comment: Comment, by: Person, words: str, *, at: datetime | None = None
) -> Rewording:
    """Offer a comment's juror other words, in place of an offer that waits; the same is once."""
    crit, comment = _hold(comment)
    if why := why_not_reworded(comment, crit):
        raise Frozen(why)
    waits = comment.rewordings.open()
    if same := waits.filter(words=words).first():
        return same
    at = at or clock.now()
    waits.update(taken_back_at=at)
    offer = Rewording(comment=comment, was=comment.words, words=words)
    offer.offered_by, offer.offered_at = by, at
    offer.save()
    offer_words(offer)
    _told(comment, "other words offered for a comment", at, by)
    return offer


@transaction.atomic
def take_back_offer(offer: Rewording, by: Person) -> None:
    """Offer words no longer; Frozen where their juror has answered."""
    _, comment = _hold(offer.comment)
    offer = Rewording.objects.select_for_update(of=("self",)).get(pk=offer.pk)
    if offer.reply:
        raise Frozen("Its juror has answered since the page was made.")
    if offer.taken_back_at is None:
        offer.taken_back_at = clock.now()
        offer.save(update_fields=["taken_back_at"])
        _told(comment, "other words taken back", offer.taken_back_at, by)


@transaction.atomic
def answer_offer(
    offer: Rewording, reply: Reply, own_words: str = "", *, at: datetime | None = None
) -> Rewording:
    """Keep what a juror answers to offered words; answered once.

    Words taken as they were offered go out with the release. Words of the juror's own are read by
    a leader first, and so is everything once the crit is released: the comment stays held.
    """
    crit, comment = _hold(offer.comment)
    offer = Rewording.objects.select_for_update(of=("self",)).get(pk=offer.pk)
    own_words = own_words if reply == Reply.OWN else ""
    if offer.reply:
        if (offer.reply, offer.own_words) == (reply, own_words):
            return offer
        raise Frozen("It is answered already. Ask the studio leader to offer the words again.")
    if offer.taken_back_at:
        raise Frozen("The studio leader has taken the offer back.")
    if offer.was != comment.words:
        raise Frozen("You have worded the comment anew since, so the offer holds no more.")
    at = at or clock.now()
    offer.reply, offer.own_words, offer.replied_at = reply, own_words, at
    offer.save(update_fields=["reply", "own_words", "replied_at"])
    if reply == Reply.TAKEN and not crit.is_released:
        comment.held_at = comment.held_by = None
        comment.save(update_fields=["held_at", "held_by"])
    said = {Reply.TAKEN: "taken", Reply.OWN: "answered by others", Reply.REFUSED: "not taken"}
    _told(comment, f"offered words {said[reply]}", at, link_of=comment.jury_sheet.seat)
    return offer
