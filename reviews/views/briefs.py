"""The brief: read it, write it, issue it, add to it."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_safe

from criteria.schedules import CLIMATE
from criteria.typed.tables import write_csv
from reviews import access
from reviews.deeds import brief_writing
from reviews.deeds.record_versions import version_of
from reviews.forms.briefs import AddendumPage, BriefTextForm, ClimateForm, HandInForm, SiteForm
from reviews.forms.bringing import BringInForm
from reviews.forms.fields import SeenForm
from reviews.models import Studio
from reviews.models.briefs import Frozen
from reviews.pages.brief_page import (
    climate_table,
    hand_in_names,
    read_brief,
    site_entries,
    target_entries,
    warnings_for,
)
from reviews.pages.page_frame import frame
from reviews.surroundings import notation_of, system_of
from reviews.versions import Newer
from reviews.views.fetching import led_studio, require_form, seen_studio

FROZEN = "The brief is issued, and frozen. It changes by addenda."


@require_safe
def show_brief(request: HttpRequest, studio_id: int) -> HttpResponse:
    studio = seen_studio(request, studio_id)
    access.require(access.can_see_brief(request.viewer, studio))
    shown = read_brief(request.viewer, studio, system_of(request))
    context = frame(request, studio=studio, page="brief") | shown
    return render(request, "briefs/show_brief.html", context)


def _shown(
    request: HttpRequest, studio: Studio, page: str, form: SeenForm, **more: Any
) -> HttpResponse:
    context = {"form": form, "warnings": warnings_for(request.viewer, studio)} | more
    shown = frame(request, studio=studio, page="brief") | context
    return render(request, f"briefs/{page}.html", shown, status=form.status)


def frozen_brief(request: HttpRequest, studio: Studio) -> HttpResponse:
    messages.warning(request, FROZEN)
    return redirect("show-brief", studio.pk)


@require_form
def edit_brief(request: HttpRequest, studio_id: int) -> HttpResponse:
    studio = led_studio(request, studio_id)
    if studio.brief.is_issued and request.method != "POST":
        return frozen_brief(request, studio)
    parts = brief_writing.text_parts(studio.brief)
    form = BriefTextForm(request.POST or None, initial=parts | {"seen": version_of(parts)})
    if request.method == "POST" and form.is_valid():
        try:
            brief_writing.write_text(studio.brief, form.parts, form.seen_version)
        except Newer as newer:
            form.show_newer(newer, version_of(newer.kept))
        except Frozen as frozen:
            form.add_error(None, str(frozen))
        else:
            messages.success(request, "The text is kept.")
            return redirect("show-brief", studio.pk)
    return _shown(request, studio, "edit_brief", form)


@require_form
def edit_site(request: HttpRequest, studio_id: int) -> HttpResponse:
    studio = led_studio(request, studio_id)
    if studio.brief.is_issued and request.method != "POST":
        return frozen_brief(request, studio)
    cells = brief_writing.site_cells(studio.brief)
    form = SiteForm(notation_of(request, studio.brief.notation), cells, request.POST or None)
    if request.method == "POST" and form.is_valid():
        try:
            brief_writing.write_site(studio.brief, form.cells, form.seen_version)
        except Newer as newer:
            form.show_newer(newer, version_of(newer.kept))
        except Frozen as frozen:
            form.add_error(None, str(frozen))
        else:
            messages.success(request, "The site sheet is kept.")
            return redirect("edit-site", studio.pk)
    return _shown(request, studio, "edit_site", form)


@require_form
def edit_climate(request: HttpRequest, studio_id: int) -> HttpResponse:
    studio = led_studio(request, studio_id)
    if studio.brief.is_issued and request.method != "POST":
        return frozen_brief(request, studio)
    cells = brief_writing.climate_cells(studio.brief)
    form = ClimateForm(notation_of(request, studio.brief.notation), cells, request.POST or None)
    if request.method == "POST" and form.is_valid():
        try:
            brief_writing.write_climate(studio.brief, form.cells, form.seen_version)
        except Newer as newer:
            form.show_newer(newer, version_of(newer.kept))
        except Frozen as frozen:
            form.add_error(None, str(frozen))
        else:
            messages.success(request, "The climate is kept.")
            return redirect("edit-climate", studio.pk)
    return _shown(request, studio, "edit_climate", form)


@require_form
def paste_climate(request: HttpRequest, studio_id: int) -> HttpResponse:
    studio = led_studio(request, studio_id)
    if studio.brief.is_issued and request.method != "POST":
        return frozen_brief(request, studio)
    form = BringInForm(request.POST or None, request.FILES or None)
    preview = None
    if request.method == "POST" and form.is_valid():
        preview = brief_writing.read_climate_table(studio.brief, form.cleaned_data["text"])
        if "keep" in request.POST and preview.is_clean:
            try:
                brief_writing.bring_in_climate(studio.brief, form.cleaned_data["text"])
            except Frozen as frozen:
                form.add_error(None, str(frozen))
            else:
                messages.success(request, f"{len(preview.records)} months are in.")
                return redirect("edit-climate", studio.pk)
    context = {"form": form, "preview": preview, "columns": CLIMATE.columns}
    shown = frame(request, studio=studio, page="brief") | context
    return render(request, "briefs/paste_climate.html", shown)


@require_safe
def export_climate(request: HttpRequest, studio_id: int) -> HttpResponse:
    studio = seen_studio(request, studio_id)
    access.require(access.can_see_brief(request.viewer, studio))
    table = write_csv(CLIMATE, studio.brief.climate)
    answer = HttpResponse(table, content_type="text/csv; charset=utf-8")
    answer["Content-Disposition"] = f'attachment; filename="climate-{studio.pk}.csv"'
    return answer


@require_form
def edit_hand_in(request: HttpRequest, studio_id: int) -> HttpResponse:
    studio = led_studio(request, studio_id)
    if studio.brief.is_issued and request.method != "POST":
        return frozen_brief(request, studio)
    items = brief_writing.hand_in_items(studio.brief)
    form = HandInForm(request.POST or None, items=items)
    if request.method == "POST" and form.is_valid():
        try:
            brief_writing.ask_for(studio.brief, form.items, form.seen_version)
        except Newer as newer:
            form.show_newer_rows(newer, version_of(newer.kept), (0, 1, 2))
        except Frozen as frozen:
            form.add_error(None, str(frozen))
        else:
            messages.success(request, "The hand-in list is kept.")
            return redirect("show-brief", studio.pk)
    return _shown(request, studio, "edit_hand_in", form)


@require_form
def issue_brief(request: HttpRequest, studio_id: int) -> HttpResponse:
    studio = led_studio(request, studio_id)
    if request.method == "POST":
        brief_writing.issue(studio.brief, request.viewer.person)
        messages.success(request, "The brief is issued. Everybody of the studio can read it.")
    if request.method == "POST" or studio.brief.is_issued:
        return redirect("show-brief", studio.pk)
    system = system_of(request)
    context = {
        "warnings": warnings_for(request.viewer, studio),
        "targets": target_entries(studio.brief, system),
        "site": site_entries(studio.brief, system),
        "climate": climate_table(studio.brief, system),
        "hand_in": hand_in_names(studio.brief),
    }
    shown = frame(request, studio=studio, page="brief") | context
    return render(request, "briefs/issue_brief.html", shown)


@require_form
def add_addendum(request: HttpRequest, studio_id: int) -> HttpResponse:
    studio = led_studio(request, studio_id)
    if not studio.brief.is_issued:
        messages.warning(request, "The brief is in preparation: change it itself.")
        return redirect("show-brief", studio.pk)
    page = AddendumPage(
        studio.brief, notation_of(request, studio.brief.notation), request.POST or None
    )
    if page.is_sent and page.is_resent:
        return redirect("show-brief", studio.pk)
    if page.is_valid():
        words = page.words.cleaned_data
        try:
            addendum = brief_writing.add_addendum(
                studio.brief, request.viewer.person, words["text"], number=words["number"],
                targets=page.changed_targets, site=page.changed_site,
            )  # fmt: skip
        except Newer as newer:
            page.show_newer(newer)
        else:
            messages.success(request, f"{addendum} is issued.")
            return redirect("show-brief", studio.pk)
    context = frame(request, studio=studio, page="brief") | {"page": page}
    return render(request, "briefs/add_addendum.html", context, status=page.words.status)
