"""Keep what jurors say aloud: a scribe's lines, and what their jurors make of them."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import NamedTuple
from uuid import UUID, uuid5

from django.db import transaction
from django.http import Http404
from django.utils import timezone

from criteria.errors import Refused
from reviews import clock
from reviews.deeds.audit_keeping import Deed, about, record
from reviews.deeds.crit_jury_keeping import CommentSent, keep_comment
from reviews.models import Crit, IssuedSheet, Person, Revision, Scheme, Seat, Slot
from reviews.models.briefs import Frozen
from reviews.models.spoken import SpokenNote
from reviews.places import Place
from reviews.reading.crit_sheets import revision_shown
from reviews.reading.spoken_lines import LineRead, initials_of_jurors, read_line
from reviews.versions import Newer, is_new

LONGEST_LINE = 500
"""Most characters of a line."""

DOTS = "…. "
"""A line of these alone says that something was missed."""

_AHEAD = timedelta(seconds=2)
"""How far a device's clock may be ahead of the site's."""


class Heard(NamedTuple):
    """What a line says: who, kind, sheet and square, words."""

    seat: Seat | None
    kind: str
    place: Place
    words: str


def named_seats(crit: Crit) -> list[Seat]:
    """The jurors whom a line may name, in the order in which their initials are made."""
    return list(crit.seats.named().order_by("pk"))


def initials_at(crit: Crit) -> dict[int, str]:
    """What a scribe calls each juror of a crit, by seat."""
    seats = named_seats(crit)
    short = initials_of_jurors([seat.name for seat in seats])
    return {seat.pk: each for seat, each in zip(seats, short, strict=True)}


def _require_unreleased(crit: Crit) -> None:
    if crit.is_released:
        raise Frozen("The crit is released. What was said stays as it was read.")


def _require_unsent(crit: Crit, note: SpokenNote) -> None:
    _require_unreleased(crit)
    if note.sent_at:
        raise Frozen("Its students were given it in the evening, as it was spoken. It stays so.")


def _said_at(crit: Crit, told: datetime | None) -> datetime:
    """When it was said, as the device tells; the site's own time where that can't be."""
    now = clock.now()
    if told is None or told > now + _AHEAD or timezone.localdate(told) < crit.day:
        return now
    return min(told, now)


@transaction.atomic
def keep_line(
    slot: Slot,
    by: Person,
    key: UUID,
    typed: str,
    *,
    of: int | None = None,
    is_gap: bool = False,
    said_at: datetime | None = None,
) -> SpokenNote:
    """Keep a line under the key that the device made, with what is read of it; sent again, once.

    of   key of the revision that the page showed; None takes what is shown now
    """
    crit = Crit.objects.hold(slot.crit_id)
    if note := SpokenNote.objects.with_places().filter(key=key).first():
        if (note.slot_id, note.by_id) != (slot.pk, by.pk):
            raise Http404("A line of another slot.")
        return note
    _require_unreleased(crit)
    revision = _revision(crit, slot.scheme, of)
    sheets = list(revision.sheets.all()) if revision else []
    seats = named_seats(crit)
    line = read_line(typed, [seat.name for seat in seats], [sheet.number for sheet in sheets])
    return SpokenNote.objects.create(
        key=key,
        slot=slot,
        by=by,
        typed=typed,
        seat=_seat(line, seats),
        kind=line.kind,
        revision=revision,
        issued_sheet=next((sheet for sheet in sheets if sheet.number == line.sheet), None),
        zone=line.zone,
        words=line.words.strip(DOTS) if is_gap else line.words,
        is_gap=is_gap,
        said_at=_said_at(crit, said_at),
        kept_at=clock.now(),
    )


def _revision(crit: Crit, scheme: Scheme, of: int | None) -> Revision | None:
    if of is None:
        return revision_shown(crit, scheme)
    return scheme.revisions.filter(crit=crit, pk=of).first()


def _seat(line: LineRead, seats: list[Seat]) -> Seat | None:
    short = initials_of_jurors([seat.name for seat in seats])
    return next((s for s, each in zip(seats, short, strict=True) if each == line.who), None)


def read_again(note: SpokenNote) -> LineRead:
    """What was read of a line as it was typed, and what couldn't be."""
    sheets = [sheet.number for sheet in note.revision.sheets.all()] if note.revision else []
    return read_line(note.typed, [seat.name for seat in named_seats(note.slot.crit)], sheets)


def heard(note: SpokenNote) -> Heard:
    """What a line says as it stands."""
    number = note.issued_sheet.number if note.issued_sheet else ""
    return Heard(note.seat, note.kind, Place(number, note.zone), note.words)


def _hold(note: SpokenNote) -> tuple[Crit, SpokenNote]:
    crit = Crit.objects.hold(note.slot.crit_id)
    held = SpokenNote.objects.select_for_update(of=("self",)).with_places()
    return crit, held.select_related("slot__scheme", "slot__crit", "comment").get(pk=note.pk)


def _open(note: SpokenNote) -> SpokenNote:
    """A note held, that may still change; raise Frozen where it may not."""
    crit, note = _hold(note)
    _require_unsent(crit, note)
    if note.comment_id:
        raise Frozen("Its juror made a comment of it. That is what stands.")
    return note


def _changed(note: SpokenNote, *fields: str) -> SpokenNote:
    note.version += 1
    note.kept_at = clock.now()
    note.save(update_fields=[*fields, "version", "kept_at"])
    return note


@transaction.atomic
def put_right(note: SpokenNote, sent: Heard, seen: int) -> SpokenNote:
    """Put right what was read of a line; the line as it was typed stays.

    Raises Newer over a later change, Refused where the place names no sheet that was shown.
    """
    note = _open(note)
    if is_new(note, heard(note), sent, stands_at=note.version, seen=seen):
        note.seat, note.kind, note.words = sent.seat, sent.kind, sent.words
        note.issued_sheet, note.zone = _sheet_for(note, sent.place), sent.place.zone
        _changed(note, "seat", "kind", "words", "issued_sheet", "zone")
    return note


def _sheet_for(note: SpokenNote, place: Place) -> IssuedSheet | None:
    sheets = list(note.revision.sheets.all()) if note.revision else []
    found = next((sheet for sheet in sheets if sheet.is_called(place.sheet)), None)
    if found or not place.sheet:
        return found
    numbers = ", ".join(sheet.number for sheet in sheets) or "none"
    raise Refused(str(place), f"one of the sheets that were shown: {numbers}")


@transaction.atomic
def take_off(note: SpokenNote, seen: int, *, by_juror: bool = False) -> SpokenNote:
    """Take a line off: a slip of its scribe, or what its juror doesn't stand by. It is kept."""
    note = _open(note)
    if is_new(note, note.removed_at is not None, True, stands_at=note.version, seen=seen):
        note.removed_at, note.removed_by_seat = clock.now(), by_juror
        _changed(note, "removed_at", "removed_by_seat")
    return note


@transaction.atomic
def put_back(note: SpokenNote, seen: int, *, by_juror: bool = False) -> SpokenNote:
    """Take up again what was taken off, by the same side that took it off."""
    note = _open(note)
    if is_new(note, note.removed_at is None, True, stands_at=note.version, seen=seen):
        if note.removed_by_seat != by_juror:
            raise Frozen("Its juror took it off." if note.removed_by_seat else "A scribe did.")
        note.removed_at, note.removed_by_seat = None, False
        _changed(note, "removed_at", "removed_by_seat")
    return note


@transaction.atomic
def say_whose(note: SpokenNote, seat: Seat | None, seen: int) -> SpokenNote:
    """Let a juror say that it was them, or that it wasn't: it is then of nobody known."""
    note = _open(note)
    if is_new(note, note.seat, seat, stands_at=note.version, seen=seen):
        note.seat = seat
        _changed(note, "seat")
    return note


def comment_key(note: SpokenNote) -> UUID:
    """The key of the comment that a note becomes: the same on whichever device it is confirmed."""
    return uuid5(note.key, "comment")


@transaction.atomic
def confirm(
    note: SpokenNote, seat: Seat, sent: CommentSent, seen: int, *, of: int | None = None
) -> SpokenNote:
    """Make a juror's comment of what they said, in their words; confirmed twice, it is one.

    What the leader held stays held. Raises Newer over a later change, Frozen where the jury sheet
    takes no comment any more, Refused where the place names no sheet.
    """
    crit, note = _hold(note)
    if note.comment_id:
        if note.seat_id != seat.pk:
            raise Frozen("Another juror made a comment of it.")
        return note
    _require_unsent(crit, note)
    if note.version != seen:
        raise Newer(note, sent)
    if note.seat_id not in (None, seat.pk) or note.removed_at:
        raise Frozen("It was taken off, or is another juror's.")
    comment = keep_comment(seat, note.slot.scheme, comment_key(note), sent, 0, of=of)
    if note.held_at:
        held = "held_at", "held_by", "held_reason"
        comment.held_at, comment.held_by = note.held_at, note.held_by
        comment.held_reason = note.held_reason
        comment.save(update_fields=held)
    note.seat, note.comment = seat, comment
    return _changed(note, "seat", "comment")


@transaction.atomic
def hold_note(note: SpokenNote, by: Person, reason: str) -> SpokenNote:
    """Keep what was said from students, as it was typed; holding what is held changes nothing."""
    crit, note = _hold(note)
    if note.held_at is None:
        note.held_at, note.held_by, note.held_reason = clock.now(), by, reason
        note.save(update_fields=["held_at", "held_by", "held_reason"])
        _tell(crit, note, by, "a spoken note held")
    return note


@transaction.atomic
def let_go_note(note: SpokenNote, by: Person) -> SpokenNote:
    """Let what was held go to students; the reason stays with it."""
    crit, note = _hold(note)
    if note.held_at is not None:
        note.held_at = note.held_by = None
        note.save(update_fields=["held_at", "held_by"])
        _tell(crit, note, by, "a spoken note let go")
    return note


def _tell(crit: Crit, note: SpokenNote, by: Person, what: str) -> None:
    told = about(crit, note.slot.scheme, what)
    record(Deed.MODERATED, crit.studio_id, by=by, about=told, of_seat=note.seat)


def said_as(note: SpokenNote) -> CommentSent:
    """A note as the comment that it is if it is confirmed as it stands."""
    number = note.issued_sheet.number if note.issued_sheet else ""
    return CommentSent(note.kind, Place(number, note.zone), None, note.words)
