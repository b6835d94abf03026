"""Refuse a request that is too large before any of it is read, in words."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, TypeVar

from django.conf import settings
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

MB = 2**20
_View = TypeVar("_View", bound=Callable[..., HttpResponse])


def takes_pictures(view: _View) -> _View:
    """Mark a view to which whoever is signed in may send as much as several pictures."""
    view.takes_pictures = True  # type: ignore[attr-defined]
    return view


class RequestSizeMiddleware:
    """Looks at what a request says of its length; stands before whatever reads its body."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        return self.get_response(request)

    def process_view(
        self, request: HttpRequest, view: Callable[..., HttpResponse], *_: Any
    ) -> HttpResponse | None:
        """Answer 413 where too much is to come, 411 where it isn't said how much."""
        most = settings.DATA_UPLOAD_MAX_MEMORY_SIZE or 0
        if getattr(view, "takes_pictures", False) and request.user.is_authenticated:
            most = settings.MOST_REQUEST_MB * MB
        told = request.META.get("CONTENT_LENGTH") or ""
        if not told and request.headers.get("Transfer-Encoding"):
            return _refused(request, "a request that doesn't say its length", most, 411)
        if told.isdigit() and int(told) > most:
            return _refused(request, f"{int(told) / MB:,.1f} MB in one request", most, 413)
        return None


def _refused(request: HttpRequest, read: str, most: int, status: int) -> HttpResponse:
    context = {"read": read, "most": f"{most / MB:,.0f} MB"}
    return render(request, "413.html", context, status=status)
