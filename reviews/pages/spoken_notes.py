"""What a scribe took down of a juror, on that juror's own sheet: to confirm, word or take off."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from django.db.models import prefetch_related_objects

from reviews import clock
from reviews.models import Comment, IssuedSheet, Scheme, Seat
from reviews.models.spoken import SpokenNote
from reviews.reading.crit_sheets import put_at_hand
from reviews.worked_out import fingerprint


@dataclass(frozen=True)
class NoteTrouble:
    """Why a note couldn't be confirmed or changed, and what stands."""

    why: str
    kept: str = ""


@dataclass(frozen=True)
class OwnNote:
    """A spoken note on the sheet of the juror who said it, or may have.

    form   takes place and words; None where nothing is open any more
    """

    note: SpokenNote
    form: Any = None
    trouble: NoteTrouble | None = None

    @property
    def id(self) -> str:
        """Of its element on the page."""
        return f"spoken-{self.note.key}"

    @property
    def is_unknown(self) -> bool:
        """Whether nobody knows who said it."""
        return self.note.seat_id is None

    @property
    def waits(self) -> bool:
        """Whether its juror hasn't decided."""
        return not (self.note.comment_id or self.note.removed_at)


@dataclass(frozen=True)
class OwnSpoken:
    """The spoken notes of one jury sheet.

    of         the key of the revision that the sheet shows
    is_live    whether more may come: the crit's day, before the release
    """

    seat: Seat
    scheme: Scheme
    of: int
    notes: list[SpokenNote]
    is_live: bool

    @property
    def waiting(self) -> int:
        """How many own notes wait for their juror."""
        own = (note for note in self.notes if note.seat_id and not note.comment_id)
        return sum(note.removed_at is None for note in own)

    @property
    def fingerprint(self) -> str:
        """Of all that is shown."""
        comments = [note.comment for note in self.notes if note.comment]
        return fingerprint(self.notes, comments, self.of, self.is_live)


def own_spoken(
    seat: Seat,
    scheme: Scheme,
    of: int,
    *,
    is_open: bool,
    said: Iterable[Comment] = (),
    hung: Iterable[IssuedSheet] = (),
) -> OwnSpoken:
    """What a scribe took down on a scheme that a juror said, or that nobody known did.

    Of what a scribe took off as a slip, and of what the juror never said, nothing.

    said, hung   the juror's comments and the sheets that they are on, where they are at hand
    """
    notes = list(SpokenNote.objects.for_juror(seat, scheme.pk).order_by("said_at", "pk"))
    put_at_hand("seat", notes, [seat])
    put_at_hand("comment", notes, said)
    put_at_hand("issued_sheet", notes, hung)
    worded = [note for note in notes if note.comment_id is not None]
    prefetch_related_objects(worded, "comment__issued_sheet")
    placed = [note for note in notes if note.issued_sheet_id is not None]
    prefetch_related_objects(placed, "issued_sheet")
    shown = [note for note in notes if not (note.removed_at and not note.removed_by_seat)]
    is_live = is_open and seat.crit.day == clock.today()
    return OwnSpoken(seat, scheme, of, [n for n in shown if not n.is_gap], is_live)
