"""What a juror keeps for themselves: a private note on a scheme, and phrases they say often."""

from __future__ import annotations

from uuid import UUID

from django.db import transaction

from reviews import clock
from reviews.models import Crit, Phrase, PrivateNote, Scheme, Seat
from reviews.models.briefs import Frozen
from reviews.versions import is_new

MOST_PHRASES = 40
"""More than anyone looks through while others wait."""


@transaction.atomic
def keep_private_note(seat: Seat, scheme: Scheme, words: str, seen: int) -> PrivateNote:
    """Keep what a juror notes for themselves; raise Newer where it was changed since it was seen.

    No release and no lock closes it: nobody else reads it.
    """
    Crit.objects.hold(seat.crit_id)
    kept = PrivateNote.objects.filter(seat=seat, scheme=scheme).first()
    note = kept or PrivateNote(seat=seat, scheme=scheme, version=0)
    if is_new(note, note.words, words, stands_at=note.version, seen=seen):
        note.words, note.version, note.kept_at = words, note.version + 1, clock.now()
        note.save()
    return note


@transaction.atomic
def keep_phrase(seat: Seat, key: UUID, words: str) -> Phrase:
    """Keep a phrase under the key that its page made; the same words again are the same phrase.

    Raises Frozen where a juror has as many as anyone can look through.
    """
    Crit.objects.hold(seat.crit_id)
    same = Phrase.objects.filter(seat=seat, words=words).first()
    if same or (same := Phrase.objects.filter(seat=seat, key=key).first()):
        return same
    if seat.phrases.count() >= MOST_PHRASES:
        raise Frozen(f"{MOST_PHRASES} phrases are kept. Remove one first.")
    return Phrase.objects.create(seat=seat, key=key, words=words, kept_at=clock.now())


def remove_phrase(seat: Seat, key: UUID) -> None:
    """Take a phrase off; one that is gone needs nothing."""
    Phrase.objects.filter(seat=seat, key=key).delete()
