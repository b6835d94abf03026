"""An archive that was sent and looked at, until whoever sent it says what to do with it.

It lies in the store under a name of ours and its sender's number: nobody takes up another's.
What is never said goes with `clear_pictures`.
"""

from __future__ import annotations

import hashlib
import re
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from typing import Any

from django.core.files import File
from django.core.files.storage import default_storage
from django.core.files.uploadedfile import UploadedFile

from criteria.errors import InputError
from reviews.deeds.studio_archive_reading import StudioArchive
from reviews.models import Person

FOLDER = "brought"
_MARK = re.compile(r"[0-9a-f]{64}")


def lay_by(sent: UploadedFile[Any], by: Person) -> str:
    """Keep what was sent; return the mark by which its sender finds it again."""
    found = hashlib.sha256()
    for block in sent.chunks():
        found.update(block)
    mark = found.hexdigest()
    name = _name(mark, by)
    if not default_storage.exists(name):
        sent.seek(0)
        default_storage.save(name, File(sent))
    return mark


@contextmanager
def laid_by(mark: str, by: Person) -> Iterator[StudioArchive]:
    """Open it again. Raises InputError where there is none, or it can't be read."""
    try:
        stored = default_storage.open(_name(mark, by))
    except FileNotFoundError:
        raise InputError("The archive isn’t here any more. Choose the file again.") from None
    with stored:
        yield StudioArchive(stored)


def let_go(mark: str, by: Person) -> None:
    """Delete it."""
    with suppress(OSError):
        default_storage.delete(_name(mark, by))


def _name(mark: str, by: Person) -> str:
    if not _MARK.fullmatch(mark):
        raise InputError("Read no mark of an archive. Choose the file again.")
    return f"{FOLDER}/{by.pk}-{mark}.zip"
