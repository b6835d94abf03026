"""Whether what the site stands on works: asked, not assumed."""

from __future__ import annotations

import logging
from collections.abc import Callable

from django.core.files.base import ContentFile
from django.core.files.storage import default_storage
from django.db import connection

LOG = logging.getLogger(__name__)


def database_answers() -> bool:
    """Whether the database answers a question."""
    return _works("The database", _ask_database)


def store_keeps() -> bool:
    """Whether the store keeps a byte: a full or unreachable one still answers questions."""
    return _works("The store", _keep_a_byte)


def _ask_database() -> None:
    with connection.cursor() as cursor:
        cursor.execute("SELECT 1")


def _keep_a_byte() -> None:
    default_storage.delete(default_storage.save("healthz", ContentFile(b".")))


def _works(part: str, ask: Callable[[], None]) -> bool:
    try:
        ask()
    except Exception:  # whatever it is, the site can't work without it
        LOG.exception("%s fails", part)
        return False
    return True
