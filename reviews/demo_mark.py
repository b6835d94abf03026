"""The demo's mark: the same in its folder and in its database, so that neither is ever a school's.

The demo's command alone sets it, where nothing was before. No migration makes its table.
"""

from pathlib import Path

from django.conf import settings
from django.db import connection

FILE, TABLE = "made-by-the-demo", "made_by_the_demo"
STILL = "still-coming"
"""Stands in the folder while the demo is being filled, and says what is still to come."""


def of_folder(folder: Path) -> str:
    """Return the mark that a folder has, or nothing."""
    try:
        return (folder / FILE).read_text(encoding="ascii").strip()
    except (OSError, UnicodeDecodeError):
        return ""


def of_database() -> str:
    """Return the mark that the database has, or nothing."""
    with connection.cursor() as cursor:
        if TABLE not in connection.introspection.table_names(cursor):
            return ""
        cursor.execute(f"SELECT mark FROM {TABLE}")
        row = cursor.fetchone()
    return str(row[0]) if row else ""


def still_coming() -> str:
    """What of the demo is still to come, in words; nothing once it is whole, nor of a school's."""
    if not settings.DEMO_MARK:
        return ""
    try:
        told = (settings.DATA_DIR / STILL).read_text(encoding="utf-8")
    except OSError:
        return ""
    return told.strip() or "the rest"


def is_demo() -> bool:
    """Whether what is served is the demo's: its mark stands in the folder and in the database."""
    return settings.DEMO_MARK != "" and of_database() == settings.DEMO_MARK
