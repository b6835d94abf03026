"""Results on paper: one scheme's for whoever reads them, all of a crit for its leaders."""

from __future__ import annotations

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.http.response import HttpResponseBase
from django.shortcuts import redirect
from django.utils.http import content_disposition_header
from django.utils.text import slugify
from django.views.decorators.http import require_POST, require_safe

from reviews import access, access_day
from reviews.access import HttpRequest
from reviews.deeds import audit_keeping, result_papers_making
from reviews.drawn.result_papers import draw_results
from reviews.reading.file_sending import Sent, send_file
from reviews.surroundings import system_of
from reviews.views.moderation import moderated_crit
from reviews.views.results import readable_results


@require_safe
def download_results(request: HttpRequest, crit_id: int, scheme_id: int) -> HttpResponse:
    crit, scheme = readable_results(request, crit_id, scheme_id)
    if not access.is_or_was_own(request.viewer, crit, scheme):
        audit_keeping.read_levels(crit, request.user, scheme)
    scheme.studio = crit.studio
    hears = access_day.can_read_spoken(request.viewer, crit, scheme)
    paper = result_papers_making.paper_of(crit, scheme, system_of(request), hears=hears)
    name = f"{slugify(f'{scheme} {crit.kind} results')}.pdf"
    return HttpResponse(
        draw_results(paper),
        content_type="application/pdf",
        headers={"Content-Disposition": content_disposition_header(True, name)},
    )


@require_POST
def ask_result_papers(request: HttpRequest, crit_id: int) -> HttpResponse:
    crit = moderated_crit(request, crit_id)
    access.require(access.can_lead(request.viewer, crit.studio_id))
    if result_papers_making.ask_for_papers(crit, request.user):
        messages.success(request, "They are being drawn. Open this page again in a minute.")
    else:
        messages.warning(request, "The crit is not released.")
    return redirect("release-crit", crit.pk)


@require_safe
def download_result_papers(request: HttpRequest, crit_id: int) -> HttpResponseBase:
    crit = moderated_crit(request, crit_id)
    access.require(access.can_lead(request.viewer, crit.studio_id))
    made = result_papers_making.current_papers(crit)
    if made is None:
        raise Http404("There is none of what stands. Have them drawn anew.")
    audit_keeping.export_table(crit, request.user, "results on paper")
    name = f"Results {crit.studio.title} {crit}.zip"
    sent = Sent(
        f"results-{made.pk}",
        made.made_at or made.asked_at,
        "application/zip",
        name,
        is_attachment=True,
    )
    try:
        return send_file(request, made.file, sent)
    except FileNotFoundError:
        raise Http404("The file is missing. Have them drawn anew.") from None
