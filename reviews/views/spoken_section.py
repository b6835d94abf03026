"""What a scribe took down of a juror, as a part of the jury sheet."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from reviews import access
from reviews.access import HttpRequest
from reviews.forms.spoken import spoken_form
from reviews.models import Comment, IssuedSheet, Seat, Slot
from reviews.models.spoken import SpokenNote
from reviews.pages.spoken_notes import OwnNote, own_spoken


def own_note(note: SpokenNote, of: int, *, is_open: bool) -> OwnNote:
    """One note, with its form while it may change."""
    takes = is_open and not (note.comment_id or note.removed_at or note.sent_at)
    return OwnNote(note, spoken_form(note, of) if takes else None)


def spoken_of(
    request: HttpRequest,
    seat: Seat,
    slot: Slot,
    of: int,
    *,
    said: Iterable[Comment] = (),
    hung: Iterable[IssuedSheet] = (),
) -> dict[str, Any]:
    """What the section is given, on a sheet that shows a revision; `own_spoken` tells the rest."""
    is_open = access.can_judge(request.viewer, slot)
    own = own_spoken(seat, slot.scheme, of, is_open=is_open, said=said, hung=hung)
    notes = [own_note(note, of, is_open=is_open) for note in own.notes]
    return {"spoken": own, "spoken_notes": notes, "slot": slot, "spoken_is_open": is_open}
