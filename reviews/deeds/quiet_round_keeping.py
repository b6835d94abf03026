"""Keep what classmates leave in a quiet round, and close it: then its schemes read it.

Every deed holds the crit. A blank text is no note: one that is blanked is taken off.
"""

from __future__ import annotations

from datetime import datetime
from typing import NamedTuple
from uuid import UUID

from django.db import transaction

from reviews import clock
from reviews.deeds.audit_keeping import Deed, about, record
from reviews.models import Crit, Person, QuietNote, Scheme
from reviews.models.briefs import Frozen
from reviews.reading.quiet_round import is_open
from reviews.versions import Newer, is_new


class NoteSent(NamedTuple):
    """A note as typed, with the key that its page was made with."""

    key: UUID
    kind: str
    words: str


@transaction.atomic
def keep_note(
    crit: Crit,
    scheme: Scheme,
    by: Person,
    sent: NoteSent,
    seen: int,
    *,
    at: datetime | None = None,
) -> QuietNote | None:
    """Keep a note, change it, or take it off where it is blank; return what stands.

    seen   the version that the page showed; 0 where there was none

    Raises Newer where another stands by now or was taken off (kept is then None), Frozen where the
    round isn't open.
    """
    held = Crit.objects.hold(crit.pk)
    if not is_open(held):
        raise Frozen("The quiet round is closed." if held.quiet_closed_at else "It isn’t open yet.")
    of_kind = held.quiet_notes.filter(scheme=scheme, by=by, kind=sent.kind)
    note = of_kind.standing().first()
    stands, version = (note.words, note.version) if note else ("", 0)
    words = sent.words if sent.words.strip() else ""
    if not is_new(note, stands, words, stands_at=version, seen=seen):
        return note
    moment = at or clock.now()
    if note is None:
        return _leave(held, scheme, by, sent, moment)
    note.version += 1
    note.kept_at = moment
    if words:
        note.words = words
    else:
        note.removed_at = moment
    note.save()
    return note if words else None


def _leave(crit: Crit, scheme: Scheme, by: Person, sent: NoteSent, at: datetime) -> QuietNote:
    if QuietNote.objects.filter(key=sent.key).exists():
        raise Newer(None, sent.words)  # it was taken off since: an old save brings nothing back
    return QuietNote.objects.create(
        key=sent.key,
        crit=crit,
        scheme=scheme,
        by=by,
        kind=sent.kind,
        words=sent.words,
        kept_at=at,
    )


@transaction.atomic
def take_off(note: QuietNote, by: Person) -> None:
    """Take a note off as a leader, before or after its scheme has read it; it stays kept."""
    held = Crit.objects.hold(note.crit_id)
    standing = held.quiet_notes.standing().filter(pk=note.pk)
    if standing.update(removed_at=clock.now()):
        told = about(held, note.scheme, "a quiet note taken off")
        record(Deed.MODERATED, held.studio_id, by=by, about=told, of_person=note.by)


@transaction.atomic
def close_round(crit: Crit, by: Person) -> None:
    """Close a round: nothing more is left, and schemes read what was. Closed twice is once."""
    held = Crit.objects.hold(crit.pk)
    if held.quiet_closed_at is None:
        held.quiet_closed_at, held.quiet_closed_by = clock.now(), by
        held.save(update_fields=["quiet_closed_at", "quiet_closed_by"])
        record(Deed.RELEASED, held.studio_id, by=by, about=about(held, what="quiet round closed"))


@transaction.atomic
def open_round(crit: Crit, by: Person) -> None:
    """Open a round again; until it is closed, schemes read nothing."""
    held = Crit.objects.hold(crit.pk)
    if held.quiet_closed_at is not None:
        held.quiet_closed_at = held.quiet_closed_by = None
        held.save(update_fields=["quiet_closed_at", "quiet_closed_by"])
        told = about(held, what="quiet round opened again")
        record(Deed.CALLED_BACK, held.studio_id, by=by, about=told)
