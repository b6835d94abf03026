"""Packages of earlier years as examples: allowed by their students, looked at by those after."""

from __future__ import annotations

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.http.response import HttpResponseBase
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_safe

from reviews import access, access_studio
from reviews.access import HttpRequest
from reviews.deeds import example_allowing
from reviews.models import Revision, Studio
from reviews.pages.example_page import consent_page, examples_page, shown_package
from reviews.pages.page_frame import frame
from reviews.reading.examples import shown_example
from reviews.reading.sheet_pictures import PREVIEW, SMALL, send_picture
from reviews.surroundings import system_of
from reviews.views.fetching import require_form, seen_studio


def _reading_studio(request: HttpRequest, studio_id: int) -> Studio:
    studio = seen_studio(request, studio_id)
    access.require(access_studio.can_see_examples(request.viewer, studio))
    return studio


def _shown(studio: Studio, scheme_id: int) -> Revision:
    """What is shown of an earlier year's scheme; 404 once anybody allows it no more."""
    example = shown_example(access_studio.earlier_studios(studio), scheme_id)
    if example is None or example.revision is None:
        raise Http404("It isn't shown, or isn't shown any more.")
    return example.revision


@require_safe
def show_examples(request: HttpRequest, studio_id: int) -> HttpResponse:
    studio = _reading_studio(request, studio_id)
    context = {"page": examples_page(request.viewer, studio)}
    around = frame(request, studio=studio, page="schemes")
    return render(request, "examples/show_examples.html", around | context)


@require_safe
def show_example(request: HttpRequest, studio_id: int, scheme_id: int) -> HttpResponse:
    studio = _reading_studio(request, studio_id)
    revision = _shown(studio, scheme_id)
    shown = shown_package(revision, system_of(request), studio)
    context = {"shown": shown, "example": revision.scheme}
    around = frame(request, studio=studio, page="schemes")
    return render(request, "examples/show_example.html", around | context)


@require_safe
def example_image(
    request: HttpRequest, studio_id: int, scheme_id: int, number: str, size: str
) -> HttpResponseBase:
    revision = _shown(_reading_studio(request, studio_id), scheme_id)
    if size not in (PREVIEW, SMALL):
        raise Http404("An example is shown in the sizes of its page alone.")
    sheet = get_object_or_404(revision.sheets.select_related("file"), number=number)
    return send_picture(request, sheet.file, size, f"example-{sheet.number}")


@require_form
def allow_example(request: HttpRequest, scheme_id: int) -> HttpResponse:
    found = access_studio.portfolios(request.viewer).select_related("studio__brief")
    scheme = get_object_or_404(found, pk=scheme_id)
    if request.method == "POST":
        access.require(access_studio.can_allow_example(request.viewer, scheme))
        is_allowed = request.POST.get("allowed") == "yes"
        if example_allowing.allow_example(scheme, request.user, is_allowed=is_allowed):
            said = "You allow it." if is_allowed else "You allow it no more: it isn’t shown."
            messages.success(request, said)
        return redirect("allow-example", scheme.pk)
    page = consent_page(request.viewer, scheme, system_of(request))
    context = {"page": page, **frame(request, scheme=scheme, page="schemes")}
    return render(request, "examples/allow_example.html", context)
