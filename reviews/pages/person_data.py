"""A person's data as one file: everything that is about them, as JSON, with their own pictures.

It holds what they may see and no more: levels and comments once released, in the words of the
results page; never another's draft, a password's hash or a personal link. A juror's own words come
by the address that a leader typed beside the seat, which proves nothing: so a person takes out for
themselves only what is released, in studios of theirs. The administrator, who has looked at who
asks, exports the rest too.
"""

from __future__ import annotations

import json
from collections.abc import Iterable
from contextlib import ExitStack
from dataclasses import dataclass, field
from io import BufferedIOBase
from pathlib import Path
from tempfile import SpooledTemporaryFile
from typing import Any, cast
from zipfile import ZIP_DEFLATED, ZIP_STORED, ZipFile

from django.db.models import QuerySet
from django.db.models.fields.files import FieldFile

from reviews import access, access_day, clock
from reviews.access import Viewer
from reviews.deeds import crit_releasing
from reviews.deeds.audit_keeping import Deed, record_of
from reviews.deeds.mail_choosing import wanted
from reviews.deeds.person_erasing import Somebody
from reviews.models import (
    Comment,
    Crit,
    IssuedSheet,
    LevelGiven,
    Person,
    Revision,
    Rewording,
    Scheme,
    Seat,
    Sheet,
    SheetFile,
)
from reviews.pages.person_days import at_the_desk
from reviews.pages.results_page import CommentRead, results_of
from reviews.pages.spoken_read import SpokenRead
from reviews.reading.crit_results import LevelRead
from reviews.reading.crit_sheets import level_of, level_text
from reviews.reading.person_relations import account_of, plain, rows_of
from reviews.reading.title_block import TitleBlock

IN_MEMORY = 8 * 2**20
"""Beyond so much [bytes] a file that is being made lies on the disk."""

Told = dict[str, Any]


@dataclass
class _Pictures:
    """The pictures that are told of and what they were made from, each once."""

    files: dict[str, FieldFile] = field(default_factory=dict)

    def of(self, sheet: Sheet | IssuedSheet) -> Told:
        """What the picture of a sheet is called in the file, and the file that was sent."""
        picture = f"pictures/{sheet.file.sha256}.jpg"
        self.files[picture] = sheet.file.image
        if (original := sheet.original) is None:
            return {"picture": picture}
        sent = f"sent/{original.sha256}{Path(sheet.original_name).suffix}"
        self.files[sent] = original.file
        return {"picture": picture, "sent": sent}

    def of_photo(self, photo: SheetFile | None) -> Told:
        """What the photo of an overlay is called in the file; nothing where none was taken."""
        if photo is None:
            return {}
        picture = f"pictures/{photo.sha256}.jpg"
        self.files[picture] = photo.image
        return {"picture": picture}


def export_person(
    person: Person | None, seats: QuerySet[Seat], by: Person | None = None
) -> SpooledTemporaryFile[bytes]:
    """Make the file of a person, of a juror's seats, or of both; the audit list tells of it.

    What it shows of a release is opened by it, as if its pages were. Whoever is given the file
    closes it.
    """
    pictures = _Pictures()
    told: Told = {"made_at": plain(clock.now()), "of": str(person or seats.first())}
    if person:
        told |= _of_person(person, pictures)
    told["jury"] = [_of_seat(seat) for seat in seats.select_related("crit__studio")]
    file = _zipped(told, pictures)
    of_seat = None if person else seats.first()
    told_in = Somebody(person, tuple(seats)).studios
    record_of(Deed.DATA_EXPORTED, told_in, by=by, of_person=person, of_seat=of_seat)
    return file


def own_seats(viewer: Viewer) -> QuerySet[Seat]:
    """The seats whose words a person takes out for themselves."""
    person = cast(Person, viewer.person)
    here = Seat.objects.filter(crit__studio__in=list(viewer.roles), email__iexact=person.email)
    return here.filter(crit__in=Crit.objects.released())


def _of_person(person: Person, pictures: _Pictures) -> Told:
    viewer = Viewer(person)
    own = Scheme.objects.filter(pk__in=viewer.own_scheme_ids).select_related("studio", "package")
    issued = Revision.objects.filter(pk__in=viewer.issued_ids)
    revisions = (issued | Revision.objects.filter(scheme__in=own)).distinct()
    return {
        "account": account_of(person),
        "letters_wanted": wanted(person.email),
        "schemes": [_scheme(scheme, pictures) for scheme in own],
        "revisions": [
            _revision(revision, pictures)
            for revision in revisions.order_by("pk").select_related("scheme__studio", "crit")
        ],
        "results": [_results(crit, scheme) for crit, scheme in _released_to(viewer)],
        "written": dict(rows_of(person)),
    }


def _scheme(scheme: Scheme, pictures: _Pictures) -> Told:
    package = scheme.package
    return {
        "studio": str(scheme.studio),
        "number": scheme.number,
        "name": scheme.name,
        "by": scheme.by,
        "withdrawn_at": plain(scheme.withdrawn_at),
        "statement": package.statement,
        "schedules": package.records(),
        "sheets": _sheets(package.sheets.select_related("file", "original"), pictures),
        **at_the_desk(scheme, pictures.of_photo),
    }


def _sheets(sheets: Iterable[Sheet | IssuedSheet], pictures: _Pictures) -> list[Told]:
    heads = (*TitleBlock._fields, "original_name", "page")
    return [{head: getattr(sheet, head) for head in heads} | pictures.of(sheet) for sheet in sheets]


def _revision(revision: Revision, pictures: _Pictures) -> Told:
    return {
        "studio": str(revision.scheme.studio),
        "scheme": str(revision.scheme),
        "letter": revision.letter,
        "issued_at": plain(revision.issued_at),
        "minutes_late": revision.minutes_late,
        "crit": str(revision.crit or ""),
        "receipt_number": revision.fingerprint,
        "lacks": revision.lacks,
        "by": revision.by,
        "contents": revision.contents,
        "sheets": _sheets(revision.sheets.select_related("file", "original"), pictures),
    }


def _released_to(viewer: Viewer) -> Iterable[tuple[Crit, Scheme]]:
    """The crits and schemes of which a person was given results as a student, each opened.

    Where comments were sent and levels are to come, those comments.
    """
    schemes = Scheme.objects.filter(pk__in=viewer.own_scheme_ids)
    schemes |= Scheme.objects.filter(revisions__in=viewer.issued_ids)
    for scheme in schemes.distinct().select_related("studio"):
        for crit in scheme.studio.crits.released():
            is_theirs = access.is_or_was_own(viewer, crit, scheme)
            if is_theirs and crit_releasing.open_results(crit, cast(Person, viewer.person)):
                yield crit, scheme
        for crit in scheme.studio.crits.sent():
            if access_day.can_read_comments(viewer, crit, scheme):
                yield crit, scheme


def _results(crit: Crit, scheme: Scheme) -> Told:
    results = results_of(crit, scheme, is_sent=crit.is_sent)
    return {
        "studio": str(crit.studio),
        "crit": str(crit),
        "scheme": str(scheme),
        "released_at": plain(crit.released_at),
        "comments_sent_at": plain(crit.comments_sent_at),
        "leaders_words": "" if crit.is_sent else crit.release_words,
        "levels": [
            {"criterion": str(read.criterion)} | _level(level)
            for read in results.criteria
            for level in read.levels
        ],
        "comments": [_comment(read) for read in results.comments],
        "spoken_unconfirmed": [_spoken(read) for read in results.spoken],
    }


def _spoken(read: SpokenRead) -> Told:
    note = read.note
    said = {"number": read.number, "juror": read.who, "place": note.place, "kind": note.kind}
    return said | {"words": read.words, "is_held": read.held_at is not None}


def _level(level: LevelRead) -> Told:
    put_right = [
        {"was": each.was, "now": each.now, "reason": each.reason, "at": plain(each.at)}
        for each in level.corrections
    ]
    said = {"juror": level.juror, "level": level.level, "word": level.word, "set_on": level.set_on}
    return said | {"corrections": put_right}


def _comment(read: CommentRead) -> Told:
    comment, answer = read.comment, read.answer
    return {
        "number": read.number,
        "place": read.place,
        "set_on": read.set_on,
        "juror": read.juror,
        "kind": comment.kind,
        "words": comment.words,
        "is_reworded": read.is_reworded,
        "is_held": read.held_at is not None,
        "answer": answer
        and {
            "kind": answer.kind,
            "words": answer.words,
            "place_now": answer.place_now,
            "by": str(answer.answered_by),
            "at": plain(answer.answered_at),
        },
    }


def _of_seat(seat: Seat) -> Told:
    """What a juror set and wrote; the personal link is nobody's to read."""
    sheets = seat.sheets.select_related("scheme").prefetch_related(
        "levels__criterion",
        "levels__changed",
        "comments__issued_sheet",
        "comments__rewordings",
        "formers",
    )
    heads = ("name", "kind", "email", "room", "opened_at")
    return {name: plain(getattr(seat, name)) for name in heads} | {
        "studio": str(seat.crit.studio),
        "crit": str(seat.crit),
        "interests": [
            {
                "scheme": str(interest.scheme),
                "state": interest.state,
                "words": interest.words,
                "declared_at": plain(interest.declared_at),
                "taken_back_at": plain(interest.taken_back_at),
            }
            for interest in seat.interests.select_related("scheme")
        ],
        "sheets": [
            {
                "scheme": str(sheet.scheme),
                "impression": sheet.impression,
                "locked_at": plain(sheet.locked_at),
                "levels": {
                    given.criterion.code: level_text(level_of(given))
                    for given in sheet.levels.all()
                },
                "comments": [_said(comment) for comment in sheet.comments.all()],
                "as_locked_before": [former.contents for former in sheet.formers.all()],
                "saw_in_part_at": plain(sheet.saw_in_part_at),
                "changed_after_discussion": [
                    _changed(given) for given in sheet.levels.all() if hasattr(given, "changed")
                ],
            }
            for sheet in sheets
        ],
        "said_aloud": [
            {
                "scheme": str(note.slot.scheme),
                "place": note.place,
                "kind": note.kind,
                "words": note.words,
                "said_at": plain(note.said_at),
                "is_confirmed": note.comment_id is not None,
                "removed_at": plain(note.removed_at),
                "held_at": plain(note.held_at),
            }
            for note in seat.spoken.with_places().select_related("slot__scheme")
        ],
        "private_notes": [
            {"scheme": str(note.scheme), "words": note.words, "kept_at": plain(note.kept_at)}
            for note in seat.private_notes.select_related("scheme")
        ],
        "phrases": [phrase.words for phrase in seat.phrases.all()],
    }


def _changed(given: LevelGiven) -> Told:
    changed = given.changed
    heads = ("was", "now", "reason", "at")
    told = {head: plain(getattr(changed, head)) for head in heads}
    return {"criterion": given.criterion.code} | told


def _said(comment: Comment) -> Told:
    heads = ("kind", "place", "words", "begun_at", "kept_at", "removed_at", "held_at")
    told = {head: plain(getattr(comment, head)) for head in heads}
    offered = [_offered(each) for each in comment.rewordings.all()]
    return told | {"point": comment.point, "strokes": comment.strokes, "other_words": offered}


def _offered(offer: Rewording) -> Told:
    heads = ("words", "offered_at", "reply", "own_words", "replied_at", "taken_back_at")
    return {head: plain(getattr(offer, head)) for head in heads}


def _zipped(told: Told, pictures: _Pictures) -> SpooledTemporaryFile[bytes]:
    """Write the file; a picture that is lost is named as lost, and keeps nothing else back."""
    missing = []
    unless_whole = ExitStack()
    file = unless_whole.enter_context(SpooledTemporaryFile[bytes](IN_MEMORY))
    with unless_whole, ZipFile(cast(BufferedIOBase, file), "w", ZIP_DEFLATED) as written:
        for name, picture in pictures.files.items():
            try:
                with picture.open("rb") as kept:
                    written.writestr(name, kept.read(), ZIP_STORED)
            except FileNotFoundError:
                missing.append(name)
        text = json.dumps(told | {"pictures_missing": missing}, ensure_ascii=False, indent=1)
        written.writestr("data.json", text)
        unless_whole.pop_all()
    file.seek(0)
    return file
