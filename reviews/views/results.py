"""After release: what the jury said, and what the students answer."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django.db.models import Prefetch
from django.http import Http404, HttpResponse, JsonResponse
from django.shortcuts import get_object_or_404, render
from django.utils.http import content_disposition_header
from django.utils.text import slugify
from django.views.decorators.http import require_safe

from reviews import access, access_again, access_answers, access_day, clock
from reviews.access import HttpRequest
from reviews.deeds import audit_keeping
from reviews.exchange.annotations import MEDIA_TYPE
from reviews.forms.answers import AnswerForm, answer_form
from reviews.models import Comment, Crit, Scheme
from reviews.pages.again_page import result_again
from reviews.pages.page_frame import frame
from reviews.pages.results_annotations import results_annotations
from reviews.pages.results_page import results_of
from reviews.pages.room_side import given_to
from reviews.pages.ways_on import ways_on
from reviews.views.fetching import open_released


@require_safe
def show_results(request: HttpRequest, crit_id: int, scheme_id: int) -> HttpResponse:
    crit, scheme = _found(crit_id, scheme_id)
    if access_day.can_read_comments(request.viewer, crit, scheme) and not access.can_moderate(
        request.viewer, crit, scheme.pk
    ):
        return show_page(request, crit, scheme, is_sent=True)
    _require_readable(request, crit, scheme)
    if not access.is_or_was_own(request.viewer, crit, scheme):
        audit_keeping.read_levels(crit, request.user, scheme)
    return show_page(request, crit, scheme)


def _found(crit_id: int, scheme_id: int) -> tuple[Crit, Scheme]:
    """The crit and the scheme, with all crits of its studio: the page leads to each."""
    crits = Prefetch("studio__crits", Crit.objects.select_related("released_by"))
    schemes = Scheme.objects.select_related("studio__brief").prefetch_related(crits)
    scheme = get_object_or_404(schemes, pk=scheme_id)
    crit = next((each for each in scheme.studio.crits.all() if each.pk == crit_id), None)
    if crit is None:
        raise Http404
    return crit, scheme


def _require_readable(request: HttpRequest, crit: Crit, scheme: Scheme) -> None:
    if not access.can_read_results(request.viewer, crit, scheme):
        raise Http404
    open_released(request, crit)


def readable_results(request: HttpRequest, crit_id: int, scheme_id: int) -> tuple[Crit, Scheme]:
    """Results that the viewer may read; 404 else, as if they weren't there."""
    crit, scheme = _found(crit_id, scheme_id)
    _require_readable(request, crit, scheme)
    return crit, scheme


@require_safe
def export_annotations(request: HttpRequest, crit_id: int, scheme_id: int) -> HttpResponse:
    crit, scheme = _found(crit_id, scheme_id)
    _require_readable(request, crit, scheme)
    access.require(access.can_take_results(request.viewer, crit, scheme))
    name = slugify(f"{scheme} {crit.kind} comments")
    return JsonResponse(
        results_annotations(results_of(crit, scheme), request.build_absolute_uri),
        content_type=MEDIA_TYPE,
        json_dumps_params={"ensure_ascii": False, "indent": 1},
        headers={"Content-Disposition": content_disposition_header(True, f"{name}.jsonld")},
    )


def show_page(
    request: HttpRequest,
    crit: Crit,
    scheme: Scheme,
    *,
    form: AnswerForm | None = None,
    is_sent: bool = False,
    status: int = 200,
    proof: Mapping[str, Any] | None = None,
) -> HttpResponse:
    """The page; a form that was sent and not kept stands in it as it was sent.

    proof   what a leader reads beside it before the release
    """

    def form_of(comment: Comment) -> AnswerForm:
        return form if form and form.comment == comment else answer_form(comment)

    can_answer = access.can_answer(request.viewer, crit, scheme)
    hears = access_day.can_read_spoken(request.viewer, crit, scheme)
    form_for = form_of if can_answer else None
    results = results_of(crit, scheme, form_for, is_sent=is_sent, hears=hears)
    around = frame(
        request,
        studio=crit.studio,
        scheme=scheme,
        crit=crit,
        revisions=results.revisions,
        page="crits",
    )
    context = {
        "ways": ways_on(request, scheme),
        "results": results,
        "again": result_again(crit, scheme, is_sent=is_sent),
        "can_consent": access_again.can_consent(request.viewer, crit, scheme),
        "consents": access_again.own_consents(crit, scheme),
        "minutes": given_to(crit, results.timed, clock.now()),
        "crit": crit,
        "is_proof": not (is_sent or crit.is_released),
        "proof": proof,
        "can_take": access.can_take_results(request.viewer, crit, scheme),
        "can_see_answers": access_answers.can_read_answers(request.viewer, crit, scheme),
        "fingerprint": "" if form else results.fingerprint,
    }
    return render(request, "results/show_results.html", around | context, status=status)


def show_proof(
    request: HttpRequest, crit_id: int, scheme_id: int, proof: Mapping[str, Any], *, status: int
) -> HttpResponse:
    """The page as a scheme's students will read it, for a leader to tick."""
    return show_page(request, *_found(crit_id, scheme_id), proof=proof, status=status)
