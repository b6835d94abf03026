"""Whether the site can work, for whoever watches over the server: nothing about anybody."""

from __future__ import annotations

import logging
from collections.abc import Callable

from django.contrib.auth.decorators import login_not_required
from django.core.files.base import ContentFile
from django.core.files.storage import default_storage
from django.db import connection
from django.http import HttpRequest, HttpResponse
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_safe

logger = logging.getLogger(__name__)


def _database_answers() -> None:
    with connection.cursor() as cursor:
        cursor.execute("SELECT 1")


def _storage_keeps() -> None:
    """Keep a byte and let go of it: a full or unreachable store still answers questions."""
    default_storage.delete(default_storage.save("healthz", ContentFile(b".")))


def _works(part: Callable[[], None]) -> bool:
    try:
        part()
    except Exception:  # whatever it is, the site can't work without it
        logger.exception("%s fails", part.__name__)
        return False
    return True


@never_cache
@login_not_required
@require_safe
def show_health(request: HttpRequest) -> HttpResponse:
    parts = {"Database": _works(_database_answers), "Storage": _works(_storage_keeps)}
    lines = [f"{name}: {'works' if works else 'fails'}\n" for name, works in parts.items()]
    status = 200 if all(parts.values()) else 503
    return HttpResponse("".join(lines), status=status, content_type="text/plain; charset=utf-8")
