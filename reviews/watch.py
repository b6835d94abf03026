"""What is noted of each request: its number, its view, how long it took, what stopped it.

Nothing of whoever asks: a view is known by its name, never by its address, which may hold the code
of a personal link. What is counted lies in memory until the round of `reviews.background` takes it.
"""

from __future__ import annotations

import logging
import secrets
from collections.abc import Callable
from contextvars import ContextVar
from dataclasses import dataclass
from datetime import datetime
from threading import Lock
from time import perf_counter
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.utils import timezone

Answer = Callable[[HttpRequest], HttpResponse]

HEADER = "X-Request-ID"
"""Common practice for the head in which a request's number goes back."""

NO_VIEW = "none"
"""Where no address of ours was asked for: files of the look, what isn't there."""

CLASSES_MS = (100, 300, 1000, 3000)
"""Answers are counted by the first of these that they took no longer than [ms]."""

LONGER = "longer"

LOG = logging.getLogger(__name__)


@dataclass
class Request:
    """A request while it is answered."""

    number: str
    view: str = NO_VIEW


@dataclass
class Count:
    """How often, and the longest of them [ms]."""

    times: int = 0
    most_ms: int = 0


Key = tuple[datetime, str, str]
"""The hour, the view, and a class of time or what stopped it."""

now_answered: ContextVar[Request | None] = ContextVar("now_answered", default=None)

_counted: dict[Key, Count] = {}
_counting = Lock()


class WatchMiddleware:
    """Gives each request its number, and notes what became of it."""

    def __init__(self, get_response: Answer) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        watched = Request(secrets.token_hex(6))
        request.watched = watched  # type: ignore[attr-defined]  # for what is logged afterwards
        before, begun = now_answered.set(watched), perf_counter()
        try:
            response = self.get_response(request)
            took_ms = round((perf_counter() - begun) * 1000)
            response.headers[HEADER] = watched.number
            if watched.view != NO_VIEW:
                count(watched.view, class_of(took_ms), took_ms)
            told = {"status": response.status_code, "ms": took_ms}
            LOG.info("%s answered %d in %d ms", watched.view, *told.values(), extra=told)
            return response
        finally:
            now_answered.reset(before)

    def process_view(self, request: HttpRequest, view: Any, args: Any, kwargs: Any) -> None:
        """Note which view was found behind the address."""
        watched, found = now_answered.get(), request.resolver_match
        if watched and found:
            watched.view = found.view_name


def watched_of(request: object) -> Request | None:
    """What is noted of a request; without one, of that which is being answered."""
    found: Request | None = getattr(request, "watched", None)
    return found or now_answered.get()


def class_of(took_ms: int) -> str:
    """The class of time that an answer is counted in."""
    return next((str(most) for most in CLASSES_MS if took_ms <= most), LONGER)


def count(view: str, what: str, took_ms: int = 0) -> None:
    """Count something of a view in the hour that runs."""
    hour = timezone.now().replace(minute=0, second=0, microsecond=0)
    with _counting:
        counted = _counted.setdefault((hour, view, what), Count())
        counted.times += 1
        counted.most_ms = max(counted.most_ms, took_ms)


def count_fault(error: BaseException) -> None:
    """Count what stopped the page that is being answered, by its class."""
    watched = now_answered.get()
    count(watched.view if watched else NO_VIEW, type(error).__name__)


def take() -> dict[Key, Count]:
    """Take what was counted, and begin again."""
    with _counting:
        taken = dict(_counted)
        _counted.clear()
    return taken


def give_back(taken: dict[Key, Count]) -> None:
    """Put back what could not be kept, beside what was counted since."""
    with _counting:
        for key, held in taken.items():
            counted = _counted.setdefault(key, Count())
            counted.times += held.times
            counted.most_ms = max(counted.most_ms, held.most_ms)
