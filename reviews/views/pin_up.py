"""Pin-up: the issued sheets of all schemes in one look, and one after another for a room."""

from __future__ import annotations

from django.contrib.auth.decorators import login_not_required
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, render
from django.views.decorators.http import require_safe

from reviews.access import HttpRequest
from reviews.pages.page_frame import frame
from reviews.pages.quiet_round_page import rounds_of
from reviews.pages.slide import slide
from reviews.reading.pin_up import pin_up
from reviews.views.fetching import seen_studio
from reviews.views.revisions import framed_revision, seen_revision


@require_safe
def show_pin_up(request: HttpRequest, studio_id: int) -> HttpResponse:
    studio = seen_studio(request, studio_id)
    context = {
        "hung": pin_up(request.viewer, studio),
        "rounds": rounds_of(request.viewer, studio),
        **frame(request, studio=studio, page="schemes"),
    }
    return render(request, "pin_up/show_pin_up.html", context)


@login_not_required
@require_safe
def show_slide(request: HttpRequest, revision_id: int, number: str) -> HttpResponse:
    revision = seen_revision(request, revision_id, whole=False)
    sheet = get_object_or_404(revision.sheets, number=number)
    hung = pin_up(request.viewer, revision.scheme.studio, instead=revision)
    context = framed_revision(request, revision, page=slide(hung, sheet), lamp="off")
    part = request.htmx.target == "slide"
    return render(request, f"pin_up/{'_slide' if part else 'show_slide'}.html", context)
