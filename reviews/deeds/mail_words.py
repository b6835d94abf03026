"""What every letter is written with: whole addresses, lines of one line, numbers parted."""

from __future__ import annotations

from django.conf import settings
from django.urls import reverse


def one_line(words: str) -> str:
    """Words without line breaks, tabs and other signs that a name could smuggle into a letter."""
    return " ".join("".join(c if c.isprintable() else " " for c in words).split())


def in_eights(number: str) -> str:
    """A long number parted, so that it can be compared by eye and breaks on a telephone.

    >>> in_eights("9e844894594c4c57")
    '9e844894 594c4c57'
    """
    return " ".join(number[start : start + 8] for start in range(0, len(number), 8))


def whole_address(name: str, *args: object) -> str:
    """The whole address of a page, as it stands in a letter."""
    return f"{settings.SITE_ADDRESS}{reverse(name, args=args)}"


Written = tuple[str, list[str], str, list[tuple[str, str]], tuple[str, str]]
"""Subject, lines, why it came, facts, link."""
