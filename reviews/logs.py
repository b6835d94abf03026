"""Lines of the log: for people, or an object of JSON each; of nobody, and without any address.

Names, e-mail addresses and the codes of personal links never get in: for a path stands the view's
name, and of an error its class and where it was raised. Its own words are told only where they are
the system's: they may else hold what somebody typed.
"""

from __future__ import annotations

import json
import logging
import re
import traceback
from datetime import UTC, datetime
from typing import Any

from django.db import InterfaceError, OperationalError

from reviews import watch

SERVED = re.compile(r"(?<=serving )/\S*")
"""How the server itself names what it was asked for."""


class WithoutAddresses(logging.Filter):
    """Says the view for each path; what was refused has no traceback: that is for what broke."""

    def filter(self, record: logging.LogRecord) -> bool:
        if getattr(record, "status_code", 500) < 500:
            record.exc_info = None
        if isinstance(record.args, tuple):
            view = watched.view if (watched := _watched(record)) else watch.NO_VIEW
            record.args = tuple(view if _is_path(part) else part for part in record.args)
        if record.name.startswith("waitress") and isinstance(record.msg, str):
            record.msg = SERVED.sub("a request", record.msg)
        return True


def _is_path(part: object) -> bool:
    return isinstance(part, str) and part.startswith("/")


def _watched(record: logging.LogRecord) -> watch.Request | None:
    return watch.watched_of(getattr(record, "request", None))


def told(error: BaseException | None) -> list[str]:
    """An error and those behind it: class, words where they are the system's, where it was."""
    lines = []
    while error is not None:
        is_ours = not isinstance(error, OSError | OperationalError | InterfaceError)
        words = "" if is_ours else f": {' '.join(str(error).split())}"
        lines.append(f"{type(error).__name__}{words}")
        for frame in traceback.extract_tb(error.__traceback__):
            lines.append(f"  {frame.filename}:{frame.lineno} {frame.name}")
        error = error.__cause__ or (None if error.__suppress_context__ else error.__context__)
    return lines


class Lines(logging.Formatter):
    """A line each for people to read, with the request's number."""

    def format(self, record: logging.LogRecord) -> str:
        watched = _watched(record)
        of = f" [{watched.number} {watched.view}]" if watched else ""
        line = f"{_moment(record)} {record.levelname} {record.name}{of}: {record.getMessage()}"
        return "\n".join([line, *_error(record)])


class JsonLines(logging.Formatter):
    """An object of JSON a line, for whatever gathers logs."""

    def format(self, record: logging.LogRecord) -> str:
        watched = _watched(record)
        line: dict[str, Any] = {
            "time": _moment(record),
            "level": record.levelname,
            "logger": record.name,
            "message": record.getMessage(),
            "view": watched.view if watched else None,
            "request": watched.number if watched else None,
            "status": getattr(record, "status", getattr(record, "status_code", None)),
            "ms": getattr(record, "ms", None),
            "error": _error(record) or None,
        }
        return json.dumps({k: v for k, v in line.items() if v is not None}, ensure_ascii=False)


def _moment(record: logging.LogRecord) -> str:
    return datetime.fromtimestamp(record.created, UTC).isoformat(timespec="milliseconds")


def _error(record: logging.LogRecord) -> list[str]:
    return told(record.exc_info[1]) if record.exc_info else []
