"""A JPEG without what was written beside its picture: camera, author, place, comments.

ISO/IEC 10918-1, annex B: segments stand before the scan; of those of applications the density
(APP0), the colour profile (APP2) and how colours are coded (APP14) are needed to show it.
"""

from __future__ import annotations

START, SCAN = 0xD8, 0xDA
KEPT_OF_APPLICATIONS = frozenset({0xE0, 0xE2, 0xEE})
APPLICATIONS = range(0xE0, 0xF0)
COMMENT = 0xFE


def without_words(jpeg: bytes) -> bytes:
    """The same picture; ValueError where it is no JPEG.

    >>> without_words(bytes.fromhex("ffd8 ffe1 0004 4d65 fffe 0003 41 ffda 0002 00 ffd9")).hex()
    'ffd8ffda000200ffd9'
    """
    if jpeg[:2] != bytes((0xFF, START)):
        raise ValueError("no JPEG")
    parts, at = [jpeg[:2]], 2
    while jpeg[at : at + 1] == b"\xff":
        kind, length = jpeg[at + 1], int.from_bytes(jpeg[at + 2 : at + 4], "big")
        if kind == SCAN:
            end = jpeg.rfind(b"\xff\xd9")
            return b"".join(parts) + jpeg[at : end + 2]
        is_left_out = kind == COMMENT or (kind in APPLICATIONS and kind not in KEPT_OF_APPLICATIONS)
        if length < 2 or at + 2 + length > len(jpeg):
            break
        if not is_left_out:
            parts.append(jpeg[at : at + 2 + length])
        at += 2 + length
    raise ValueError("a JPEG that breaks off")
