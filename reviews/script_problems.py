"""Whatever stops an answer for scripts is told in JSON: RFC 9457.

What stops one before its view, or instead of it, is said in pages elsewhere: an address that isn't
there, a request too large, a fault. Under the addresses of scripts the page gives way.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from http import HTTPStatus
from typing import Any

from django.http import HttpRequest, HttpResponse

from reviews import watch

FOR_SCRIPTS = "/json/"
"""What the address of every answer for scripts begins with."""

PROBLEM = "application/problem+json"

DETAILS = {
    HTTPStatus.BAD_REQUEST: "What was sent can't be read.",
    HTTPStatus.NOT_FOUND: "Nothing is at this address. Scripts begin at /json/1/.",
    HTTPStatus.METHOD_NOT_ALLOWED: "This is only read: ask by GET.",
    HTTPStatus.LENGTH_REQUIRED: "Read a request that doesn't say its length. Ask by GET.",
    HTTPStatus.REQUEST_ENTITY_TOO_LARGE: "Read more than any question holds. Ask by GET.",
    HTTPStatus.INTERNAL_SERVER_ERROR: "The fault is in Muntin, not in what was asked.",
    HTTPStatus.SERVICE_UNAVAILABLE: "The site can't answer just now. Ask again in a while.",
    HTTPStatus.INSUFFICIENT_STORAGE: "The server has no room left. Tell the coordinator.",
}
"""What a script's writer reads of a status, where nothing nearer is known."""


def problem(status: int, detail: str, heads: Mapping[str, str] | None = None) -> HttpResponse:
    """What stopped an answer: its status, what a script's writer reads, and heads beside it."""
    title = HTTPStatus(status).phrase
    told = {"type": "about:blank", "title": title, "status": status, "detail": detail}
    return HttpResponse(as_text(told), content_type=PROBLEM, status=status, headers=heads)


def as_text(told: Mapping[str, Any]) -> str:
    """An answer for scripts as it is sent."""
    return json.dumps(told, ensure_ascii=False, allow_nan=False, indent=1)


class ProblemsInJson:
    """Puts a problem in the place of a page that says what stopped an answer for scripts."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        answer = self.get_response(request)
        is_page = answer.status_code >= 400 and answer.headers.get("Content-Type") != PROBLEM
        if not (is_page and request.path_info.startswith(FOR_SCRIPTS)):
            return answer
        heads = {head: answer[head] for head in ("Allow", "Retry-After") if head in answer}
        return problem(answer.status_code, _detail(answer.status_code), heads)


def _detail(status: int) -> str:
    said = DETAILS.get(HTTPStatus(status), f"{HTTPStatus(status).phrase}.")
    watched = watch.now_answered.get()
    if status != HTTPStatus.INTERNAL_SERVER_ERROR or watched is None:
        return said
    return f"{said} The log finds it by the number {watched.number}."
