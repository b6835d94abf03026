"""Studios: open one, show it, say what it is called."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_safe

from reviews import access, access_studio
from reviews.access import HttpRequest
from reviews.deeds.record_versions import version_of
from reviews.deeds.studio_opening import AFTER_RETENTION, change_studio, studio_parts
from reviews.deeds.studio_opening import open_studio as opened
from reviews.forms.studios import NewStudioForm, StudioForm
from reviews.pages.page_frame import frame
from reviews.pages.scheme_table import scheme_table
from reviews.reading.cohort_precedents import cohort_precedents
from reviews.versions import Newer
from reviews.views.fetching import led_studio, require_form, seen_studio


@require_form
def open_studio(request: HttpRequest) -> HttpResponse:
    access.require(access.can_open_studios(request.viewer))
    form = NewStudioForm(request.POST or None, names_leaders=request.viewer.is_coordinator)
    if request.method == "POST" and form.is_valid():
        studio = opened(request.user, form.parts, form.leader)
        messages.success(request, "The studio is open. Next: its brief, its students, its crits.")
        return redirect("show-studio", studio.pk)
    return render(request, "studios/open_studio.html", frame(request) | {"form": form})


@require_safe
def show_studio(request: HttpRequest, studio_id: int) -> HttpResponse:
    studio = seen_studio(request, studio_id)
    viewer, leads = request.viewer, access.can_lead(request.viewer, studio.pk)
    context = {
        "table": scheme_table(viewer, studio),
        "crits": access.crits(viewer, studio),
        "can_lead": leads,
        "after_retention": AFTER_RETENTION,
        "precedents": cohort_precedents(studio) if leads else [],
        "can_see_people": access.can_see_people(viewer, studio.pk),
        "can_see_brief": access.can_see_brief(viewer, studio),
        "can_carry": access_studio.can_carry(viewer, studio),
        "can_see_examples": access_studio.can_see_examples(viewer, studio),
        "can_read_evidence": access_studio.can_read_evidence(viewer, studio),
    }
    shown = frame(request, studio=studio, page="schemes") | context
    return render(request, "studios/show_studio.html", shown)


@require_form
def edit_studio(request: HttpRequest, studio_id: int) -> HttpResponse:
    studio = led_studio(request, studio_id)
    parts = studio_parts(studio)
    form = StudioForm(request.POST or None, initial=parts | {"seen": version_of(parts)})
    if request.method == "POST" and form.is_valid():
        try:
            change_studio(studio, form.parts, form.seen_version, request.user)
        except Newer as newer:
            form.show_newer(newer, version_of(newer.kept))
        else:
            messages.success(request, "Kept.")
            return redirect("show-studio", studio.pk)
    context = frame(request, studio=studio, page="schemes") | {"form": form}
    return render(request, "studios/edit_studio.html", context, status=form.status)
