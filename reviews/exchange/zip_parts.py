"""The parts of a ZIP from outside, looked at before any is unfolded."""

from __future__ import annotations

import lzma
import stat
import zipfile
import zlib
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import PurePosixPath

from criteria.errors import Refused

MOST_PARTS = 200
MOST_UNFOLDED_MB = 300
WHOLE = "a whole ZIP without a password, packed as any system packs one"
LOCKED = 0x1
"""Flag of a part that asks for a password."""
BROKEN = (zipfile.BadZipFile, zlib.error, lzma.LZMAError, NotImplementedError, EOFError)
"""What reading a part of a ZIP raises that is cut, or packed as no one here unpacks."""


@contextmanager
def parts_of(path: str, *, most_mb: int = MOST_UNFOLDED_MB) -> Iterator[zipfile.ZipFile]:
    """Open a ZIP of at most MOST_PARTS parts, of most_mb in all when unfolded.

    A part never gives more than it says that it holds. Raises Refused, also where a part that is
    read inside turns out to be broken.
    """
    try:
        with zipfile.ZipFile(path) as held:
            _hold_to_bounds(held.infolist(), most_mb)
            yield held
    except BROKEN as broken:
        raise Refused("a ZIP that can't be unpacked", WHOLE) from broken


def _hold_to_bounds(parts: list[zipfile.ZipInfo], most_mb: int) -> None:
    if len(parts) > MOST_PARTS:
        raise Refused(f"a ZIP of {len(parts):,} parts", f"at most {MOST_PARTS}")
    unfolded = sum(part.file_size for part in parts)
    if unfolded > most_mb * 2**20:
        read = f"a ZIP that unfolds to {unfolded / 2**20:,.0f} MB"
        raise Refused(read, f"at most {most_mb} MB in all")
    for part in parts:
        way = PurePosixPath(part.filename.replace("\\", "/"))
        if way.is_absolute() or ".." in way.parts:
            raise Refused(f"a ZIP with the part {part.filename[:80]}", "parts inside the ZIP alone")
        if part.flag_bits & LOCKED:
            raise Refused("a ZIP with a password", WHOLE)
        if stat.S_ISLNK(part.external_attr >> 16):
            raise Refused(f"a ZIP whose part {part.filename[:80]} is a link", "files alone")
