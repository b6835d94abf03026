"""A fault of SQLite's that can lose what was written: said when the site starts or is migrated."""

from collections.abc import Sequence
from sqlite3 import sqlite_version_info
from typing import Any

from django.core.checks import CheckMessage, Warning
from django.db import connections

FIRST, LAST = (3, 7, 0), (3, 51, 2)
MENDED_BEFORE = ((3, 44, 6), (3, 50, 7))
"""Older lines to which the correction was carried back."""


def has_fault(version: tuple[int, ...]) -> bool:
    """Whether a version has the WAL-reset fault: two checkpoints at once can spoil the file.

    Source: SQLite, Write-Ahead Logging, “The WAL-Reset Bug” (sqlite.org/wal.html#walresetbug).
    """
    mended = any(version[:2] == line[:2] and version >= line for line in MENDED_BEFORE)
    return FIRST <= version <= LAST and not mended


def warn_of_the_fault(
    *, databases: Sequence[str] | None = None, **kwargs: Any
) -> list[CheckMessage]:
    """Say so where a database in use is SQLite with the fault."""
    used = [name for name in databases or () if connections[name].vendor == "sqlite"]
    if not used or not has_fault(sqlite_version_info):
        return []
    read = ".".join(str(number) for number in sqlite_version_info)
    return [
        Warning(
            f"SQLite {read} has a rare fault: when two checkpoints of the write-ahead log overlap, "
            "what was written last can be lost or the file spoiled "
            "(sqlite.org/wal.html#walresetbug).",
            hint="Use SQLite 3.51.3 or later (or 3.50.7, 3.44.6), or PostgreSQL, and keep copies.",
            id="reviews.W001",
        )
    ]
