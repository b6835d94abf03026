"""What is taken as a picture, and what the process that reads one may take itself.

Knows no library that reads one: pages ask this, and never what decodes.
"""

from __future__ import annotations

from reviews.exchange import bounds

NICE = 5
MOST_MEMORY_MB = 600
"""All that the process may ask for: what is held of a picture, and the libraries beside it."""
MOST_SECONDS = 20
MOST_PIXELS = 150_000_000
"""Largest picture that is read [px]: A0 at 300 px an inch is 139 million."""
MOST_HELD_MB = 400
"""Most that is held at once of a picture that can't be read strip by strip."""
LONGEST_SIDE_PX = 20_000
MOST_PAGES = 60
"""Most pages of one file."""
PREVIEW_PX, SMALL_PX = 1600, 800
"""Longest sides of the pictures that stand on a page [px]: of one, and on a telephone."""

JPEG, PNG, TIFF, WEBP, PDF = "JPEG", "PNG", "TIFF", "WebP", "PDF"
HEIC = "HEIC"
ACCEPT = ".pdf,.jpg,.jpeg,.png,.tif,.tiff,.webp"
"""What a choice of files offers first."""
EXPECTED = "a JPEG, PNG, TIFF or WebP picture or a PDF"
WHOLE = f"{EXPECTED} that is whole; export it once more"
PLAINER = f"{EXPECTED} of fewer pixels and lines"
AS_JPEG = (
    f"{EXPECTED}. A telephone sends JPEG where its camera is set to JPEG (or to what most devices "
    "read), or where the picture is exported as JPEG before it is sent"
)

HEAD = 1024
"""So many bytes of a file say what it is."""
_MARKS = {
    b"\xff\xd8\xff": JPEG,
    b"\x89PNG\r\n\x1a\n": PNG,
    b"II*\0": TIFF,
    b"MM\0*": TIFF,
    b"II+\0": TIFF,
    b"MM\0+": TIFF,
}
_OF_TELEPHONES = (b"heic", b"heix", b"heim", b"heis", b"hevc", b"hevx", b"mif1", b"msf1")


class NotTaken(Exception):
    """A picture that isn't taken: what was read, and what was expected."""


def kind_of(head: bytes) -> str:
    """What a file is, by its first bytes, whatever its name says; nothing of ours is blank.

    >>> kind_of(b"\\xff\\xd8\\xff\\xe0"), kind_of(b"\\n%PDF-1.7"), kind_of(b"<svg/>")
    ('JPEG', 'PDF', '')
    """
    for mark, kind in _MARKS.items():
        if head.startswith(mark):
            return kind
    if head[:4] == b"RIFF" and head[8:12] == b"WEBP":
        return WEBP
    if head[4:8] == b"ftyp" and any(brand in head[8:32] for brand in _OF_TELEPHONES):
        return HEIC
    return PDF if b"%PDF-" in head[:HEAD] else ""


def require_kind(path: str) -> str:
    """What a file is; raises NotTaken where it is nothing that is read."""
    with open(path, "rb") as file:
        kind = kind_of(file.read(HEAD))
    if kind == HEIC:
        raise NotTaken("which is HEIC inside, as telephones keep pictures", AS_JPEG)
    if not kind:
        raise NotTaken("which is neither a picture that is read nor a PDF inside", EXPECTED)
    return kind


def bound() -> None:
    """Bound what a process that reads a picture may take."""
    bounds.bound(MOST_MEMORY_MB, MOST_SECONDS, NICE)
