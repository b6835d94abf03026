"""What is done with every request, whatever it asks: odd input ends here, no page is stored."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from django.conf import settings
from django.contrib.sessions.middleware import SessionMiddleware
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render

from reviews import demo_mark

Answer = Callable[[HttpRequest], HttpResponse]

LARGEST_KEY = 2**63 - 1
"""The largest whole number that a database holds as a key."""

NUL = "\0"


def unstored(get_response: Answer) -> Answer:
    """Let no browser or proxy store a page, so that after signing out none is shown again.

    What says itself how it may be stored is left as it is.
    """

    def answer(request: HttpRequest) -> HttpResponse:
        response = get_response(request)
        response.headers.setdefault("Cache-Control", "private, no-store")
        return response

    return answer


ASKED_BEHIND = frozenset({"cors", "no-cors"})
"""What a page or its worker asks for, by Fetch Metadata (W3C): a navigation says otherwise."""


def tokens_of_pages(get_response: Answer) -> Answer:
    """Give a device its token for forms once, with a page that is opened.

    An answer that was under way when another person came may come last: it must not put back the
    token before, nor bring one of its own, for the forms of the page that is open hold the newer.
    """

    def answer(request: HttpRequest) -> HttpResponse:
        response = get_response(request)
        if given := response.cookies.get(settings.CSRF_COOKIE_NAME):
            held = request.COOKIES.get(settings.CSRF_COOKIE_NAME)
            is_behind = request.headers.get("Sec-Fetch-Mode") in ASKED_BEHIND
            if given.value == held or (held is None and is_behind):
                del response.cookies[settings.CSRF_COOKIE_NAME]
        return response

    return answer


class Sessions(SessionMiddleware):
    """Leaves a device the cookie that it has, unless the request itself signed out.

    A request that was under way when another juror's link was opened still names the session
    before. Its answer comes last, and must not take the new one off the device.
    """

    def process_response(self, request: HttpRequest, response: HttpResponse) -> HttpResponse:
        """Keep the session, and the cookie as it is where the session is gone already."""
        was_gone = request.session.is_empty() and not request.session.modified
        answer = super().process_response(request, response)
        if was_gone:
            answer.cookies.pop(settings.SESSION_COOKIE_NAME, None)
        return answer


class OddInput:
    """Refuses what no page can have sent and no database keeps: NUL signs, keys beyond any."""

    def __init__(self, get_response: Answer) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        if NUL in request.path_info:
            raise Http404("No address has a NUL sign.")
        return self.get_response(request)

    def process_view(
        self, request: HttpRequest, view: Any, args: Any, kwargs: dict[str, Any]
    ) -> HttpResponse | None:
        """Look at what the address and the form hold, once both are read."""
        if any(isinstance(value, int) and value > LARGEST_KEY for value in kwargs.values()):
            raise Http404("No key is as large.")
        for sent in (request.GET, request.POST):
            for name, values in sent.lists():
                if any(NUL in text for text in (name, *values)):
                    return render(request, "400.html", {"name": name}, status=400)
        return None


class StillComing:
    """Takes nothing while the demo is being filled, so that nobody's words meet its own.

    A device sends later what the site didn't take.
    """

    OPEN = frozenset({"sign-in", "sign-out", "demo-sign-in", "lamp", "units", "enter-code"})

    def __init__(self, get_response: Answer) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        return self.get_response(request)

    def process_view(
        self, request: HttpRequest, view: Any, args: Any, kwargs: dict[str, Any]
    ) -> HttpResponse | None:
        """Answer that it is to be sent again, where it would change something."""
        match = request.resolver_match
        if request.method in ("GET", "HEAD", "OPTIONS") or (match and match.url_name in self.OPEN):
            return None
        if not demo_mark.still_coming():
            return None
        answer = render(request, "still_coming.html", status=503)
        answer.headers["Retry-After"] = "10"
        return answer
