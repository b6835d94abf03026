"""Take in the photo of an overlay: made plain apart and bounded, like every picture of a sheet.

What was sent isn't kept beside it: of the photo nothing is left but what it shows, no place and no
device.
"""

from __future__ import annotations

from typing import Any
from uuid import UUID

from django.core.files.base import File
from filelock import Timeout

from criteria.errors import Refused
from reviews.deeds.desk_crit_keeping import hang_photo
from reviews.deeds.sheet_clearing import let_go
from reviews.deeds.sheet_uploads import (
    AtHand,
    Unfinished,
    at_hand,
    keep_picture,
    pages_of,
    require_size,
    the_line,
)
from reviews.models import DeskCrit, Person, Scheme, SheetFile
from reviews.reading.sheet_room import sheet_room

PATIENCE_S = 8.0
"""How long whoever sends waits for another picture that is being read [s]."""

ONE_PHOTO = "one photo: JPEG, PNG, TIFF or WebP"


def keep_photo(scheme: Scheme, key: UUID, file: File[Any], by: Person) -> None:
    """Store a photo and put it to the note of a key, begun where there is none.

    Raises Refused with what was read and what was expected; nothing is changed then.
    """
    name = file.name or "the photo"
    sheet_room(scheme.studio).require(name, require_size(name, file))
    try:
        # the line is held until a note names the picture: whoever clears asks for it first
        with the_line(PATIENCE_S), at_hand(file, name) as sent:
            _hang(scheme, key, _read(sent), by)
    except Timeout:
        raise Refused(f"{name} while other pictures are read", "it again in a minute") from None
    except Unfinished:
        raise Refused(f"{name}, which took too long to read", "it once more") from None


def _read(sent: AtHand) -> SheetFile:
    if pages := pages_of(sent):
        raise Refused(f"{sent.name}, a {sent.kind} of {len(pages)} pages", ONE_PHOTO)
    return keep_picture(sent)[0]


def _hang(scheme: Scheme, key: UUID, photo: SheetFile, by: Person) -> None:
    left: int | None = photo.pk
    try:
        left = hang_photo(scheme, key, photo, by)
    except DeskCrit.DoesNotExist:
        raise Refused("a note of somebody else’s", "your own") from None
    finally:
        let_go([(left, None)] if left else [])
