"""Plain files as one ZIP, written while it is sent: nothing is held whole, on disk or in memory."""

from __future__ import annotations

import io
import re
import zipfile
from collections.abc import Callable, Iterable, Iterator
from typing import NamedTuple

from django.utils import timezone

AT_ONCE = 64 * 1024
LONGEST_NAME = 100


class Filed(NamedTuple):
    """One file of a ZIP: where it lies there, what it is in words, and its bytes once asked for."""

    path: str
    words: str
    read: Callable[[], Iterator[bytes]]


class _Line(io.RawIOBase):
    """Bytes on their way: written behind, taken in front. It can't go back."""

    def __init__(self) -> None:
        self.parts: list[bytes] = []

    def writable(self) -> bool:
        return True

    def write(self, part: object) -> int:
        taken = bytes(part)  # type: ignore[call-overload]
        self.parts.append(taken)
        return len(taken)

    def take(self) -> bytes:
        taken, self.parts = b"".join(self.parts), []
        return taken


def zipped(
    files: Iterable[Filed], index: Callable[[list[Filed], list[Filed]], Filed]
) -> Iterator[bytes]:
    """Write files one after another, and last the index of what is there and what was missing.

    A file that can't be read is left out and named: what is whole is worth more than nothing.
    """
    line = _Line()
    there: list[Filed] = []
    missing: list[Filed] = []
    with zipfile.ZipFile(line, "w") as archive:
        for filed in files:
            try:
                parts = filed.read()
                first = next(parts, b"")
            except OSError:
                missing.append(filed)
                continue
            yield from _write(archive, line, filed.path, first, parts)
            there.append(filed)
        last = index(there, missing)
        yield from _write(archive, line, last.path, b"", last.read())
    yield line.take()


def _write(
    archive: zipfile.ZipFile, line: _Line, path: str, first: bytes, rest: Iterator[bytes]
) -> Iterator[bytes]:
    info = zipfile.ZipInfo(path, timezone.localtime().timetuple()[:6])
    is_text = path.endswith((".csv", ".txt", ".html"))
    info.compress_type = zipfile.ZIP_DEFLATED if is_text else zipfile.ZIP_STORED
    info.external_attr = 0o644 << 16
    with archive.open(info, "w", force_zip64=True) as written:
        written.write(first)
        for part in rest:
            written.write(part)
            yield line.take()


def plain_name(name: str) -> str:
    """A name that is a file's on every system, and no way to elsewhere.

    >>> plain_name("../a/b: Plan A–A?.pdf"), plain_name("..."), plain_name("con|x" * 40)[-4:]
    ('_a_b_ Plan A–A_.pdf', 'file', 'on_x')
    """
    kept = re.sub(r"[^\w .,()–-]+", "_", name).strip(". ")
    return kept[:LONGEST_NAME] or "file"
