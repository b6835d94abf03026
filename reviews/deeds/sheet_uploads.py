"""Take a picture in: looked at for its size, made plain by a process of its own, stored once.

This process never decodes what was sent; `reviews.plain_picture` does, bounded and apart.
"""

from __future__ import annotations

import io
import json
import logging
import os
import shutil
import subprocess
import sys
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import IO, Any, NamedTuple

from django.conf import settings
from django.core.files.base import File
from django.core.files.storage import default_storage

from criteria.errors import Refused
from reviews import plain_picture
from reviews.models import SheetFile

LONGEST_WAIT_S = 5 * plain_picture.MOST_SECONDS
"""When a process that makes a picture plain is ended, however little of its time it had [s]."""

KILLED = -9
"""What `subprocess` says of a process that was killed."""

WORK = "work"

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


def keep_picture(file: IO[bytes], name: str = "", within_s: float = LONGEST_WAIT_S) -> SheetFile:
    """Make a picture plain and store it with smaller ones, all under its fingerprint.

    The same picture is stored once. Raises Refused with what was read and what was expected,
    Unfinished where the time is up, CutOff where something ended the process that read it.
    """
    name = name or getattr(file, "name", "") or "the file"
    require_size(name, file)
    with TemporaryDirectory(dir=work_folder()) as folder:
        sent = Path(folder, "sent")
        with sent.open("wb") as copy:
            shutil.copyfileobj(file, copy)
        return keep_plain(_made_plain(name, sent, within_s))


def work_folder() -> Path:
    """A folder beside what is stored, so that a file takes its place whole, by its name alone."""
    work = Path(settings.MEDIA_ROOT, WORK)
    work.mkdir(parents=True, exist_ok=True)
    return work


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
    if not (is_new or kept.small):
        kept.small, kept.bytes = held["small"], held["bytes"]
        kept.save(update_fields=["small", "bytes"])
    return kept


def make_small(file: SheetFile) -> None:
    """Make the small picture that one of an earlier version lacks."""
    with TemporaryDirectory(dir=work_folder()) as folder:
        preview, small = Path(folder, "preview"), Path(folder, "small")
        with file.preview.open("rb") as kept, preview.open("wb") as copy:
            shutil.copyfileobj(kept, copy)
        _told([str(preview), str(small)], LONGEST_WAIT_S)
        size = small.stat().st_size
        file.small = _put(f"small/{file.sha256}.webp", str(small))
        file.bytes += size
        file.save(update_fields=["small", "bytes"])


class _Made(File):  # type: ignore[type-arg]
    """A file that a storage may take as it is, instead of copying it."""

    def temporary_file_path(self) -> str:
        return str(self.name)


def _put(name: str, path: str) -> str:
    if not default_storage.exists(name):
        with open(path, "rb") as file:
            put = default_storage.save(name, _Made(file, path))
        if put != name:  # another was faster, with the same
            default_storage.delete(put)
    return name


def require_size(name: str, file: IO[bytes]) -> int:
    """Return the bytes of a file; raise Refused where it is empty or larger than may be."""
    size = file.seek(0, io.SEEK_END)
    file.seek(0)
    if not size:
        raise Refused(f"{name}, an empty file", plain_picture.EXPECTED)
    if size > settings.MOST_UPLOAD_MB * 2**20:
        most = f"{plain_picture.EXPECTED} of at most {settings.MOST_UPLOAD_MB} MB"
        raise Refused(f"{name}, {size / 2**20:.1f} MB", most)
    return size


def _made_plain(name: str, sent: Path, within_s: float) -> PlainPicture:
    paths = [str(sent.with_name(each)) for each in ("sent", "image", "preview", "small")]
    told = _told(paths, within_s)
    if "read" in told:
        raise Refused(f"{name}, {told['read']}", told["expected"])
    return PlainPicture(**told)


def _told(paths: list[str], within_s: float) -> dict[str, Any]:
    """What the process that makes pictures plain says of one."""
    command = [sys.executable, "-P", plain_picture.__file__, *paths]
    # no secret goes where what was sent is read; one heap, so that its memory has an end
    kept = {k: v for k, v in os.environ.items() if not k.startswith(("MUNTIN_", "DATABASE_"))}
    end, line = os.pipe()  # which breaks when this process ends: so does the one that reads
    try:
        done = subprocess.run(
            command,
            env={**kept, "MALLOC_ARENA_MAX": "1"},
            stdin=end,
            capture_output=True,
            timeout=within_s,
        )
    except subprocess.TimeoutExpired:
        raise Unfinished(paths[0]) from None
    finally:
        os.close(end)
        os.close(line)
    if done.returncode == 0:
        told: dict[str, Any] = json.loads(done.stdout)
        return told
    if done.returncode == KILLED:
        raise CutOff(paths[0])
    log.warning("Reading a picture ended with %s: %s", done.returncode, done.stderr[-2000:])
    read = f"a picture that can't be read within {plain_picture.MOST_SECONDS} s"
    return {"read": read, "expected": plain_picture.PLAINER}
