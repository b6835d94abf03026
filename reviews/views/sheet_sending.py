"""Files that come in pieces, as the open tus protocol 1.0.0 has it (tus.io): core, creation,
termination. Whoever may hang sheets sends; what one person has begun is nobody else's."""

from __future__ import annotations

import binascii
from base64 import b64decode
from collections.abc import Callable
from functools import wraps
from uuid import UUID, uuid4

from django.conf import settings
from django.http import HttpResponse
from django.shortcuts import get_object_or_404
from django.urls import reverse
from django.views.decorators.http import require_http_methods

from criteria.errors import Refused
from reviews.access import HttpRequest
from reviews.deeds import sheet_sending
from reviews.deeds.sheet_line import said
from reviews.deeds.sheet_sending import Elsewhere
from reviews.models import Package, SentPicture
from reviews.views.packages import package_of

VERSION = "1.0.0"
PIECE = "application/offset+octet-stream"
WRONG_VERSION, TOO_LARGE, CONFLICT, WRONG_KIND = 412, 413, 409, 415

_View = Callable[..., HttpResponse]


def _in_pieces(view: _View) -> _View:
    """Let a view speak the protocol's version, and nothing else, with who may hang sheets."""

    @wraps(view)
    def spoken(request: HttpRequest, scheme_id: int, **more: UUID) -> HttpResponse:
        package = package_of(request, scheme_id)
        if request.method == "OPTIONS" or request.headers.get("Tus-Resumable") == VERSION:
            answer = view(request, package, **more)
        else:
            answer = _words(f"Expected version {VERSION} of the protocol.", WRONG_VERSION)
        answer["Tus-Resumable"], answer["Cache-Control"] = VERSION, "no-store"
        return answer

    return spoken


@require_http_methods(["OPTIONS", "POST"])
@_in_pieces
def begin_sending(request: HttpRequest, package: Package) -> HttpResponse:
    if request.method == "OPTIONS":
        answer = HttpResponse(status=204)
        answer["Tus-Version"], answer["Tus-Extension"] = VERSION, "creation,termination"
        answer["Tus-Max-Size"] = settings.MOST_UPLOAD_MB * 2**20
        return answer
    about, size = _about(request), _number(request, "Upload-Length")
    if about is None or size is None:
        return _words("Expected how long the file is, and what is said of it.", 400)
    try:
        sent = sheet_sending.begin_sending(
            package,
            request.user,
            _key(about.get("key", "")),
            about.get("filename", "") or "the file",
            size,
            about.get("drawn_by", "")[:120],
            about.get("is_replacing", "") == "on",
        )
    except Refused as refused:
        return _words(said(refused), TOO_LARGE)
    answer = _so_far(sent, 201)
    answer["Location"] = reverse("send-piece", args=[package.scheme_id, sent.key])
    return answer


@require_http_methods(["HEAD", "PATCH", "DELETE"])
@_in_pieces
def send_piece(request: HttpRequest, package: Package, key: UUID) -> HttpResponse:
    sent = get_object_or_404(package.sent_pictures, by=request.user, key=key)
    if request.method == "HEAD":
        return _so_far(sent)
    if request.method == "DELETE":
        sheet_sending.give_up(sent)
        return HttpResponse(status=204)
    if request.content_type != PIECE:
        return _words(f"Expected a piece as {PIECE}.", WRONG_KIND)
    if (offset := _number(request, "Upload-Offset")) is None:
        return _words("Expected where the piece begins.", 400)
    try:
        received = sheet_sending.take_piece(sent, offset, request.body)
    except Elsewhere as elsewhere:
        answer = _words("The piece begins where nothing is expected.", CONFLICT)
        answer["Upload-Offset"] = elsewhere.received
        return answer
    except Refused as refused:
        return _words(said(refused), TOO_LARGE)
    answer = HttpResponse(status=204)
    answer["Upload-Offset"] = received
    return answer


def _so_far(sent: SentPicture, status: int = 200) -> HttpResponse:
    """How much of a file has arrived: all of it, once it stands in line."""
    answer = HttpResponse(status=status)
    answer["Upload-Offset"] = sent.bytes if sent.received is None else sent.received
    answer["Upload-Length"] = sent.bytes
    return answer


def _words(text: str, status: int) -> HttpResponse:
    return HttpResponse(text, status=status, content_type="text/plain; charset=utf-8")


def _number(request: HttpRequest, name: str) -> int | None:
    text = request.headers.get(name, "")
    return int(text) if text.isascii() and text.isdigit() and len(text) < 16 else None


def _about(request: HttpRequest) -> dict[str, str] | None:
    """What is said of a file, name → text; None where it can't be read."""
    found = {}
    for each in request.headers.get("Upload-Metadata", "").split(","):
        name, _, value = each.strip().partition(" ")
        try:
            text = b64decode(value, validate=True).decode()
        except (binascii.Error, ValueError):
            return None
        found[name] = text.replace("\0", "")
    return found


def _key(text: str) -> UUID:
    """The key that the device has made; another where it made none."""
    try:
        return UUID(text)
    except ValueError:
        return uuid4()
