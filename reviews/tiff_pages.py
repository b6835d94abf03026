"""Which directories of a TIFF are pages: TIFF 6.0, sections 2 and 8, and its form of 64 bits.

A file may hold a smaller picture or a mask beside each page (tag 254, NewSubfileType); those are
no pages. Read apart from the site, as pictures are.
"""

from __future__ import annotations

import struct
from collections.abc import Iterator
from typing import IO, NamedTuple

from reviews.picture_limits import MOST_PAGES, WHOLE, NotTaken

SUBFILE, SMALLER, MASK = 254, 0b001, 0b100
"""The tag, and its bits that say a directory is no page."""

SHORT = 3
"""The type of a number of two bytes."""

MOST_DIRECTORIES = 4 * MOST_PAGES


class _Form(NamedTuple):
    """How the numbers of a file are written: where the first directory is named, and the widths."""

    first_at: int
    counts: str
    entry: str
    place: str


def tiff_pages(path: str) -> list[int]:
    """The directories that are pages, counted from 0; where none is, the first.

    Raises NotTaken where one lies outside the file, and where there are too many.
    """
    pages, n = [], -1
    with open(path, "rb") as file:
        try:
            for n, kind in enumerate(_kinds(file)):
                if not kind & (SMALLER | MASK):
                    pages.append(n)
                if len(pages) > MOST_PAGES or n > MOST_DIRECTORIES:
                    raise NotTaken(
                        f"a TIFF of over {len(pages) - 1} pages",
                        f"at most {MOST_PAGES} in one file",
                    )
        except (struct.error, OSError, OverflowError):
            what = f"a TIFF whose page {n + 2} breaks off or is damaged"
            raise NotTaken(what, WHOLE) from None
    return pages or [0]


def _kinds(file: IO[bytes]) -> Iterator[int]:
    """What each directory says that it is; one that was read already ends them."""
    head = file.read(4)
    is_little = head.startswith(b"II")
    order = "<" if is_little else ">"
    is_long = 43 in head[2:4]
    form = _Form(8, "Q", "HHQ", "Q") if is_long else _Form(4, "H", "HHI", "I")
    file.seek(form.first_at)
    (at,) = _read(file, order + form.place)
    seen: set[int] = set()
    while at and at not in seen:
        seen.add(at)
        file.seek(at)
        (count,) = _read(file, order + form.counts)
        kind = 0
        for _ in range(min(count, 2**16)):
            tag, width, _n = _read(file, order + form.entry)
            value = file.read(8 if is_long else 4)
            if tag == SUBFILE:
                kind = int.from_bytes(
                    value[: 2 if width == SHORT else 4], "little" if is_little else "big"
                )
        yield kind
        (at,) = _read(file, order + form.place)


def _read(file: IO[bytes], form: str) -> tuple[int, ...]:
    return struct.unpack(form, file.read(struct.calcsize(form)))
