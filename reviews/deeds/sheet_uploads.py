"""Take in what was sent: looked at for its size, made plain by a process of its own, stored once.

This process never decodes what was sent; `reviews.plain_picture` and `reviews.plain_pdf` do,
bounded and apart.
"""

from __future__ import annotations

import hashlib
import io
import json
import logging
import os
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import IO, Any, NamedTuple

from django.conf import settings
from django.core.files.base import File
from django.core.files.storage import default_storage
from django.db.models.fields.files import FieldFile
from filelock import FileLock

from criteria.errors import Refused
from reviews import picture_limits as limits
from reviews.deeds.processes_apart import KILLED, ROOT, run_apart
from reviews.models import Original, SheetFile
from reviews.picture_limits import NotTaken
from reviews.reading.sheet_lettering import PageText, Word
from reviews.tiles import TilePack

LONGEST_WAIT_S = 5 * limits.MOST_SECONDS
"""When a process that makes a picture plain is ended, however little of its time it had [s]."""

WORK = "work"

PICTURE, PDF = "plain_picture.py", "plain_pdf.py"
READERS = ROOT / "reviews"
"""Where the programs lie that read pictures and PDFs."""

log = logging.getLogger(__name__)


class Unfinished(Exception):
    """A picture that wasn't made plain in the time that it was given."""


class CutOff(Unfinished):
    """A picture whose reading something outside ended: the system, where memory runs short."""


class PlainPicture(NamedTuple):
    """A picture that nothing but a drawing is left of: its files, not stored yet."""

    sha256: str
    width: int
    height: int
    image: str
    preview: str
    small: str


class AtHand(NamedTuple):
    """A file that was sent, as it lies on this machine for as long as it is worked on."""

    name: str
    path: Path
    sha256: str
    bytes: int

    @property
    def kind(self) -> str:
        """What it is, by its first bytes; raises NotTaken where it is nothing that is read."""
        return limits.require_kind(str(self.path))

    @property
    def reader(self) -> str:
        """The program that reads it."""
        return PDF if self.kind == limits.PDF else PICTURE


@contextmanager
def at_hand(file: IO[bytes], name: str) -> Iterator[AtHand]:
    """Copy a file to this machine; nothing of it is left here afterwards."""
    with TemporaryDirectory(dir=work_folder()) as folder:
        path, sha256 = Path(folder, "sent"), hashlib.sha256()
        with path.open("wb") as copy:
            while some := file.read(2**20):
                sha256.update(some)
                copy.write(some)
            size = copy.tell()
        yield AtHand(name, path, sha256.hexdigest(), size)


def pages_of(sent: AtHand, within_s: float = LONGEST_WAIT_S) -> list[str]:
    """What each page of a PDF, or of a TIFF of several, is called; nothing of a single picture.

    Raises Refused with what was read and what was expected, Unfinished where the time is up,
    CutOff where something ended the process that read it.
    """
    try:
        if sent.kind not in (limits.PDF, limits.TIFF):
            return []
    except NotTaken as refused:
        read, expected = refused.args
        raise Refused(f"{sent.name}, {read}", expected) from None
    asked = ["pages", str(sent.path)]
    labels: list[str] = read_apart(sent.name, sent.reader, asked, within_s)["labels"]
    return labels


def keep_picture(
    sent: AtHand, page: int = 0, within_s: float = LONGEST_WAIT_S
) -> tuple[SheetFile, PageText]:
    """Make a picture, or a page of a file, plain and store it; return what its letters say too.

    The same picture is stored once. Raises as `pages_of` does.
    """
    name = f"{sent.name}, page {page}" if page else sent.name
    made = [str(sent.path.with_name(each)) for each in ("image", "preview", "small")]
    asked = ["page", str(sent.path), str(page)] if page else ["plain", str(sent.path)]
    told = read_apart(name, sent.reader, [*asked, *made], within_s)
    plain = PlainPicture(**{name: told.pop(name) for name in PlainPicture._fields})
    words = tuple(Word(*word) for word in told.pop("words", ()))
    return keep_plain(plain), PageText(words, **told)


def keep_original(sent: AtHand) -> Original:
    """Store what was sent as it is, once."""
    name = f"originals/{sent.sha256}"
    with sent.path.open("rb") as file:
        _put_once(name, File(file))
    held = {"file": name, "bytes": sent.bytes}
    return Original.objects.get_or_create(sha256=sent.sha256, defaults=held)[0]


def work_folder() -> Path:
    """A folder beside what is stored, so that a file takes its place whole, by its name alone."""
    work = Path(settings.MEDIA_ROOT, WORK)
    work.mkdir(parents=True, exist_ok=True)
    return work


def the_line(wait_s: float = -1) -> FileLock:
    """What only one on this machine holds at once; raises Timeout where another does."""
    return FileLock(work_folder() / "line.lock", timeout=wait_s)


def keep_plain(plain: PlainPicture) -> SheetFile:
    """Store a plain picture: its files first, then what names them.

    A file that is missing though it is named is there again afterwards.
    """
    made = (plain.image, plain.preview, plain.small)
    held: dict[str, Any] = {
        "bytes": sum(map(os.path.getsize, made)),
        "image": _put(f"sheets/{plain.sha256}.jpg", plain.image),
        "preview": _put(f"previews/{plain.sha256}.jpg", plain.preview),
        "small": _put(f"small/{plain.sha256}.webp", plain.small),
        "width": plain.width,
        "height": plain.height,
    }
    kept, is_new = SheetFile.objects.get_or_create(sha256=plain.sha256, defaults=held)
    if not is_new and not (kept.small and _is_there(kept.tiles)):
        # its tiles are made again by whoever looks for what lacks
        kept.small, kept.tiles, kept.bytes = held["small"], "", held["bytes"]
        kept.save(update_fields=["small", "tiles", "bytes"])
    return kept


def _is_there(file: FieldFile) -> bool:
    return not file or file.storage.exists(str(file))


def make_lacking(file: SheetFile) -> None:
    """Make the small picture that one of an earlier version lacks, and the tiles of a large one."""
    pack = TilePack(file.width, file.height)
    for name, made_of, stored_as, is_lacking in (
        ("small", file.preview, f"small/{file.sha256}.webp", not file.small),
        ("tiles", file.image, f"tiles/{file.sha256}", pack.is_worth_it and not file.tiles),
    ):
        if is_lacking:
            with made_of.open("rb") as kept, at_hand(kept, str(made_of)) as plain:
                made = plain.path.with_name(name)
                read_apart(plain.name, PICTURE, [name, str(plain.path), str(made)], LONGEST_WAIT_S)
                file.bytes += made.stat().st_size
                setattr(file, name, _put(stored_as, str(made)))
            file.save(update_fields=[name, "bytes"])


class _Made(File):  # type: ignore[type-arg]
    """A file that a storage may take as it is, instead of copying it."""

    def temporary_file_path(self) -> str:
        return str(self.name)


def _put(name: str, path: str) -> str:
    with open(path, "rb") as file:
        return _put_once(name, _Made(file, path))


def _put_once(name: str, file: File[bytes]) -> str:
    if not default_storage.exists(name):
        put = default_storage.save(name, file)
        if put != name:  # another was faster, with the same
            default_storage.delete(put)
    return name


def require_size(name: str, file: IO[bytes]) -> int:
    """Return the bytes of a file; raise Refused where it is empty or larger than may be."""
    size = file.seek(0, io.SEEK_END)
    file.seek(0)
    require_bytes(name, size)
    return size


def require_bytes(name: str, size: int) -> None:
    """Raise Refused where a file of so many bytes is empty or larger than may be."""
    if not size:
        raise Refused(f"{name}, an empty file", limits.EXPECTED)
    if size > settings.MOST_UPLOAD_MB * 2**20:
        most = f"{limits.EXPECTED} of at most {settings.MOST_UPLOAD_MB} MB"
        raise Refused(f"{name}, {size / 2**20:.1f} MB", most)


def read_apart(name: str, reader: str, asked: list[str], within_s: float) -> dict[str, Any]:
    """What a process that reads pictures says of one; raises Refused, Unfinished, CutOff."""
    try:
        done = run_apart([sys.executable, "-P", str(READERS / reader), *asked], within_s)
    except subprocess.TimeoutExpired:
        raise Unfinished(name) from None
    if done.returncode == KILLED:
        raise CutOff(name)
    if done.returncode:
        log.warning("Reading a picture ended with %s: %s", done.returncode, done.stderr[-2000:])
        most = f"{limits.MOST_SECONDS} s and {limits.MOST_MEMORY_MB} MB"
        raise Refused(f"{name}, which can't be read within {most}", limits.PLAINER)
    told: dict[str, Any] = json.loads(done.stdout)
    if "read" in told:
        raise Refused(f"{name}, {told['read']}", told["expected"])
    return told
