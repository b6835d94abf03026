"""What was said aloud, as students and leaders read it: spoken, unconfirmed, and by whom."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime

from reviews.models import Crit, Scheme
from reviews.models.spoken import SpokenNote, SpokenNoteQuerySet
from reviews.pages.traced_sheets import Said
from reviews.reading.crit_results import spoken_place

UNKNOWN_SPEAKER = "Speaker unknown"
UNCONFIRMED = "Spoken, unconfirmed"
"""How a note is labelled wherever it is read."""


@dataclass(frozen=True)
class SpokenRead:
    """One spoken note as it is read; of one held since it went out, that it was there.

    number   S1, S2 …, on the page
    who      the juror as students know them, or that the speaker is unknown
    """

    note: SpokenNote
    number: str
    who: str

    @property
    def id(self) -> str:
        """Of its words on the page."""
        return f"spoken-{self.number}"

    @property
    def said(self) -> Said:
        """The same as it stands over a sheet."""
        return Said(self.note, self.number, self.who, self.id)

    @property
    def flag(self) -> str:
        """Where its flag stands on the sheet; blank where it has none."""
        return self.said.flag

    @property
    def words(self) -> str:
        """What was said, as it was typed or put right."""
        return self.note.words

    @property
    def instead(self) -> str:
        """What is said where there are no words."""
        return "The scribe missed something here." if self.note.is_gap else "No words were caught."

    @property
    def held_at(self) -> datetime | None:
        """When the leader held it, after students could read it."""
        return self.note.held_at


def moderated_spoken(crit: Crit, scheme: Scheme) -> SpokenNoteQuerySet:
    """All that was said of a scheme aloud, whatever became of it, as its leader reads it."""
    notes = SpokenNote.objects.of(crit.pk, scheme.pk).select_related("by", "held_by", "seat")
    on = "comment__issued_sheet", "revision", "issued_sheet__file", "issued_sheet__revision"
    return notes.select_related(*on)


def spoken_read(notes: Iterable[SpokenNote], names: Mapping[int, str]) -> list[SpokenRead]:
    """Notes numbered by sheet and square."""
    read = []
    for number, note in enumerate(sorted(notes, key=spoken_place), start=1):
        who = names[note.seat_id] if note.seat_id else UNKNOWN_SPEAKER
        read.append(SpokenRead(note, f"S{number}", who))
    return read
