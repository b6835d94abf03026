"""What a page says that was stopped: by a database or store away, a full disk, or a fault."""

from __future__ import annotations

import errno
import sys
from collections.abc import Iterator
from enum import Enum

from django.core.exceptions import BadRequest
from django.db import InterfaceError, OperationalError
from django.http import HttpRequest, HttpResponse
from django.template import loader
from django.views.defaults import bad_request

from criteria.units import System
from reviews import watch

AGAIN_AFTER_S = 5
"""When it is worth asking again [s]: that of the pages' own scripts."""


class StoreAway(ConnectionError):
    """The store of pictures doesn't answer. Whoever else isn't reached is no store."""


class Outage(Enum):
    """What is out: the status that says so (RFC 9110, 15.6.4; RFC 4918, 11.5), and the page."""

    AWAY = 503, "503.html"
    STORE = 503, "503_store.html"
    FULL = 507, "507.html"


NO_ROOM = {errno.ENOSPC, errno.EDQUOT, errno.EFBIG}

SQLITE_FULL = 13
SQLITE_AWAY = {5, 6, 8, 10, 11, 14, 15, 26}
"""Busy, locked, read only, input or output, damaged, can't open, protocol, not a database
(SQLite, Result and Error Codes). Others are faults of what was asked."""

POSTGRES_FULL = "53100"
POSTGRES_AWAY = ("08", "40", "53", "55", "57", "58", "XX")
"""Classes of connection, rollback, resources, not in state, operator, system, internal
(PostgreSQL, Appendix A). Without a code the server wasn't reached."""


def outage_behind(error: BaseException | None) -> Outage | None:
    """What is out where an error, or what it was raised from, says so; None for faults of ours."""
    return next(filter(None, map(_outage, _chain(error))), None)


def _chain(error: BaseException | None) -> Iterator[BaseException]:
    while error is not None:
        yield error
        error = error.__cause__ or error.__context__


def _outage(error: BaseException) -> Outage | None:
    if isinstance(error, OSError) and error.errno in NO_ROOM:
        return Outage.FULL
    if isinstance(error, StoreAway):
        return Outage.STORE
    if not isinstance(error, OperationalError | InterfaceError):
        return None
    said = error.__cause__
    if (code := getattr(said, "sqlite_errorcode", None)) is not None:
        primary = code & 0xFF
        if primary == SQLITE_FULL:
            return Outage.FULL
        return Outage.AWAY if primary in SQLITE_AWAY else None
    state = getattr(said, "sqlstate", None)
    if state == POSTGRES_FULL:
        return Outage.FULL
    return Outage.AWAY if state is None or state.startswith(POSTGRES_AWAY) else None


def answer_stopped(request: HttpRequest) -> HttpResponse:
    """Answer for whatever stopped a page: what is out, or that the fault is ours."""
    error = sys.exception()
    if error is not None:
        watch.count_fault(error)
    return _answer(request, outage_behind(error))


def answer_unread(request: HttpRequest, exception: BadRequest) -> HttpResponse:
    """Answer for what can't be read; a session that could not be kept is an outage, not that."""
    outage = outage_behind(exception)
    return _answer(request, outage) if outage else bad_request(request, exception)


def _answer(request: HttpRequest, outage: Outage | None) -> HttpResponse:
    """Ask neither database nor disk: whoever asks is not looked up."""
    watched = watch.now_answered.get()
    status, page = outage.value if outage else (500, "500.html")
    context = {
        "number": watched.number if watched else "",
        "was_sent": request.method not in ("GET", "HEAD"),
        "system": System.METRIC,  # of its paper: nobody is asked whose it is
    }
    headers = {"Retry-After": str(AGAIN_AFTER_S)} if outage else {}
    text = loader.get_template(page).render(context)
    return HttpResponse(text, status=status, headers=headers)
