"""Read-only JSON for scripts: by a personal token (RFC 6750), or in a browser that is signed in."""

from __future__ import annotations

import hashlib
from collections.abc import Callable
from functools import wraps
from http import HTTPStatus
from typing import Any

from django.contrib.auth.decorators import login_not_required
from django.core.exceptions import PermissionDenied
from django.db.models import QuerySet
from django.http import Http404, HttpResponse
from django.shortcuts import get_object_or_404
from django.urls import reverse
from django.utils.cache import get_conditional_response, patch_vary_headers
from django.utils.http import quote_etag
from django.views.decorators.csrf import csrf_exempt
from django.views.decorators.http import require_safe

from criteria.command.schema import package_schema
from reviews import access, access_day, access_scripts
from reviews.access import HttpRequest, Viewer
from reviews.deeds import audit_keeping, token_keeping
from reviews.forms.fields import number_in
from reviews.models import Package, Revision, Scheme, ScriptToken, Slot
from reviews.pages.results_page import results_of
from reviews.pages.script_answers import (
    Json,
    Told,
    checks_told,
    issued_checks_told,
    issued_told,
    package_told,
)
from reviews.pages.script_results import results_told
from reviews.script_problems import as_text, problem
from reviews.views.fetching import open_released
from reviews.views.packages import package_of
from reviews.views.revisions import seen_revision

SCHEMA = "application/schema+json"
CHALLENGE = 'Bearer realm="scripts"'
WAIT_S = 900


class Problem(Exception):
    """What stops an answer, as `script_problems.problem` takes it."""


def for_scripts(part: str) -> Callable[[Callable[..., Json]], Callable[..., HttpResponse]]:
    """Let a view be read by a token or a session, and answer what it returns as JSON.

    part   of the schema, which describes the answer
    """

    def read_only(view: Callable[..., Json]) -> Callable[..., HttpResponse]:
        @login_not_required
        @csrf_exempt  # nothing is ever changed here: another method is told so in JSON
        @wraps(view)
        def answered(request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
            try:
                told = _told(request, view, *args, **kwargs)
            except Problem as stopped:
                answer = problem(*stopped.args)
            else:
                schema = request.build_absolute_uri(reverse("tell-schema"))
                answer = _json(told)
                answer["Link"] = f'<{schema}#/$defs/{part}>; rel="describedby"'
            return _unless_known(request, answer)

        return answered

    return read_only


def _told(request: HttpRequest, view: Callable[..., Json], *args: Any, **kwargs: Any) -> Json:
    if request.method not in ("GET", "HEAD"):
        raise Problem(405, "This is only read: ask by GET.", {"Allow": "GET, HEAD"})
    token = _token_of(request)
    person = token.person if token else request.user
    if not person.is_authenticated:
        said = "Send a token of yours as “Authorization: Bearer …”, or sign in."
        raise Problem(401, said, {"WWW-Authenticate": CHALLENGE})
    request.viewer = Viewer(person)  # without the juror's link that a browser may hold
    request.user = person
    try:
        return view(request, *args, **kwargs)
    except PermissionDenied:
        raise Problem(403, "You may see this, and not read the whole of it.") from None
    except Http404 as missing:
        said = "There is nothing here that you may read."
        raise Problem(404, f"{missing}" if "pages" in f"{missing}" else said) from None


def _token_of(request: HttpRequest) -> ScriptToken | None:
    """Whose token was sent; a wrong one never falls back on a session."""
    kind, _, sent = request.headers.get("Authorization", "").partition(" ")
    if kind.lower() != "bearer":
        return None
    try:
        token = token_keeping.token_of(request, sent.strip())
    except token_keeping.Slowed:
        said = "Too many wrong tokens came from where you are. Ask again in 15 minutes."
        raise Problem(429, said, {"Retry-After": str(WAIT_S)}) from None
    if token is None:
        said = "This token reads nothing: it was ended, or mistyped, or its account is closed."
        wrong = f'{CHALLENGE}, error="invalid_token"'
        raise Problem(401, said, {"WWW-Authenticate": wrong})
    request.token = token  # type: ignore[attr-defined]
    return token


def _json(told: Json, media_type: str = "application/json") -> HttpResponse:
    return HttpResponse(as_text(told), content_type=media_type)


def _unless_known(request: HttpRequest, answer: HttpResponse) -> HttpResponse:
    """The answer, or that whoever asks has it already."""
    if answer.status_code == HTTPStatus.OK:
        tag = quote_etag(hashlib.sha256(answer.content).hexdigest()[:32])
        answer["ETag"] = tag
        answer = get_conditional_response(request, etag=tag, response=answer) or answer
    answer["Cache-Control"] = "private, no-cache"
    patch_vary_headers(answer, ("Authorization", "Cookie"))
    return answer


@login_not_required
@csrf_exempt
@require_safe
def tell_schema(request: HttpRequest) -> HttpResponse:
    return _json(package_schema(), SCHEMA)


@for_scripts("start")
def tell_start(request: HttpRequest) -> Json:
    token: ScriptToken | None = getattr(request, "token", None)
    return Told(request).start(token.name if token else None)


def _listed(request: HttpRequest, rows: QuerySet[Any], about: Callable[[Any], Json]) -> Json:
    return Told(request).page(rows, about, number_in(request.GET.get("page", ""), 1))


@for_scripts("list")
def tell_packages(request: HttpRequest) -> Json:
    rows = access.packages(request.viewer).select_related("studio")
    return _listed(request, rows.order_by("studio", "number"), Told(request).of_scheme)


@for_scripts("list")
def tell_revisions(request: HttpRequest) -> Json:
    rows = access_scripts.whole_revisions(request.viewer).select_related("scheme__studio", "crit")
    order = ("scheme__studio", "scheme__number", "pk")
    return _listed(request, rows.order_by(*order), Told(request).of_revision)


@for_scripts("list")
def tell_all_results(request: HttpRequest) -> Json:
    rows = access_scripts.released_slots(request.viewer).select_related("crit", "scheme__studio")
    order = ("scheme__studio", "scheme__number", "crit__day", "pk")
    return _listed(request, rows.order_by(*order), Told(request).of_results)


def _draft(request: HttpRequest, scheme_id: int) -> tuple[Json, Package]:
    package = package_of(request, scheme_id, to_edit=False)
    package.hold_typed()
    return Told(request).of_scheme(package.scheme), package


@for_scripts("package")
def tell_package(request: HttpRequest, scheme_id: int) -> Json:
    return package_told(*_draft(request, scheme_id))


@for_scripts("check_sheet")
def tell_checks(request: HttpRequest, scheme_id: int) -> Json:
    about, package = _draft(request, scheme_id)
    return checks_told(about, package, asks=_asks(request, package.scheme))


def _asks(request: HttpRequest, scheme: Scheme) -> bool:
    return access.is_own_or_led(request.viewer, scheme)


def _issued(request: HttpRequest, revision_id: int) -> tuple[Json, Revision]:
    revision = seen_revision(request, revision_id)
    return Told(request).of_revision(revision), revision


@for_scripts("package")
def tell_issued_package(request: HttpRequest, revision_id: int) -> Json:
    return issued_told(*_issued(request, revision_id))


@for_scripts("check_sheet")
def tell_issued_checks(request: HttpRequest, revision_id: int) -> Json:
    about, revision = _issued(request, revision_id)
    return issued_checks_told(about, revision, asks=_asks(request, revision.scheme))


@for_scripts("results")
def tell_results(request: HttpRequest, crit_id: int, scheme_id: int) -> Json:
    viewer = request.viewer
    slots = Slot.objects.select_related(
        "crit__studio__brief", "crit__released_by", "scheme__studio"
    )
    slot = get_object_or_404(slots, crit=crit_id, scheme=scheme_id)
    crit, scheme = slot.crit, slot.scheme
    if not access_scripts.can_tell_results(viewer, crit, scheme):
        raise Http404
    open_released(request, crit)
    if not access.is_or_was_own(viewer, crit, scheme):
        audit_keeping.read_levels(crit, request.user, scheme)
    hears = access_day.can_read_spoken(viewer, crit, scheme)
    results = results_of(crit, scheme, hears=hears)
    return results_told(Told(request).of_results(slot), results, hears=hears)
