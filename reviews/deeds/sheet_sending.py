"""Take a file in small pieces, so that a connection that is lost costs one of them.

What has arrived lies in the store, a piece a file, until all is there: then it is one file, and
stands in line like any other. The sending device makes the key, of the file and of who sends it:
the same file sent again goes on where it was.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import suppress
from datetime import timedelta
from tempfile import SpooledTemporaryFile
from uuid import UUID, uuid4

from django.core.files.base import ContentFile, File
from django.core.files.storage import default_storage
from django.db import IntegrityError, transaction
from django.utils import timezone

from criteria.errors import Refused
from reviews.deeds.sheet_line import ring
from reviews.deeds.sheet_uploads import require_bytes
from reviews.models import Package, Person, SentPicture
from reviews.reading.sheet_room import sheet_room

MOST_PIECE = 2**20
"""Largest piece [bytes]: a slow line fills it in seconds, and no thread waits for it."""

GIVEN_UP_AFTER = timedelta(days=1)
"""When a file of which no piece comes any more is let go."""


class Elsewhere(Exception):
    """A piece that doesn't begin where what has arrived ends; says where that is [bytes]."""

    def __init__(self, received: int) -> None:
        super().__init__(received)
        self.received = received


def begin_sending(
    package: Package, by: Person, key: UUID, name: str, size: int, drawn_by: str, is_replacing: bool
) -> SentPicture:
    """Take a file up that comes in pieces, or find it as far as it has come.

    Raises Refused where it is empty, too large or finds no room.
    """
    for known in package.sent_pictures.filter(by=by, key=key):
        if known.ended_at:
            known.delete()
        elif known.bytes == size:
            return known
    require_bytes(name, size)
    sheet_room(package.scheme.studio).require(name, size)
    try:
        with transaction.atomic():
            return SentPicture.objects.create(
                package=package,
                by=by,
                key=key,
                name=name[:255],
                bytes=size,
                received=0,
                begun_at=timezone.now(),
                drawn_by=drawn_by,
                is_replacing=is_replacing,
            )
    except IntegrityError:
        raise Refused(name, "a file whose key no other has that is on its way") from None


def take_piece(sent: SentPicture, offset: int, piece: bytes) -> int:
    """Keep a piece; return how much has arrived by then. The last one puts the file in line.

    Raises Elsewhere where it doesn't begin there, Refused where it is too large.
    """
    received = sent.bytes if sent.received is None else sent.received
    if offset != received:
        raise Elsewhere(received)
    ends = offset + len(piece)
    if ends > sent.bytes or len(piece) > MOST_PIECE:
        most = min(MOST_PIECE, sent.bytes - offset)
        raise Refused(f"a piece of {len(piece):,} bytes", f"at most {most:,} here")
    if not piece:
        return received
    _keep(_piece(sent, offset), piece)
    here = SentPicture.objects.arriving().filter(pk=sent.pk, received=offset)
    if ends < sent.bytes:
        is_taken = bool(here.update(received=ends, begun_at=timezone.now()))
    else:
        whole = _joined(sent)
        is_taken = bool(here.update(received=None, begun_at=None, file=whole))
        _let_go(_pieces(sent) if is_taken else [whole])
        ring()
    if not is_taken:  # the same piece came twice at once
        sent.refresh_from_db()
        raise Elsewhere(sent.bytes if sent.received is None else sent.received)
    return ends


def give_up(sent: SentPicture) -> None:
    """Forget a file of which a part is still to come."""
    pieces = list(_pieces(sent))
    if SentPicture.objects.arriving().filter(pk=sent.pk).delete()[0]:
        _let_go(pieces)


def give_up_old() -> None:
    """Forget those of which nothing has come for long."""
    before = timezone.now() - GIVEN_UP_AFTER
    for sent in SentPicture.objects.arriving().filter(begun_at__lt=before):
        give_up(sent)


def _piece(sent: SentPicture, offset: int) -> str:
    return f"{sent.stem}-{offset}"


def _keep(name: str, piece: bytes) -> None:
    if default_storage.exists(name):  # left by one that was cut off before it was told
        default_storage.delete(name)
    default_storage.save(name, ContentFile(piece))


def _pieces(sent: SentPicture) -> Iterator[str]:
    """The names of all that has arrived, in order."""
    at = 0
    while at < sent.bytes and default_storage.exists(_piece(sent, at)):
        size = default_storage.size(_piece(sent, at))
        yield _piece(sent, at)
        at += size


def _joined(sent: SentPicture) -> str:
    """The name of one file made of all pieces."""
    with SpooledTemporaryFile(max_size=2 * MOST_PIECE) as whole:
        for name in _pieces(sent):
            with default_storage.open(name) as piece:
                whole.write(piece.read())
        whole.seek(0)
        return default_storage.save(f"sent/{uuid4().hex}", File(whole))


def _let_go(names: Iterator[str] | list[str]) -> None:
    for name in list(names):
        with suppress(OSError):  # what nothing names is cleared another day
            default_storage.delete(name)
