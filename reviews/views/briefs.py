"""The brief: read it, write it part by part, issue it, add to it."""

from __future__ import annotations

from functools import partial
from typing import Any

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.text import slugify
from django.views.decorators.http import require_POST, require_safe

from criteria.schedules import CLIMATE
from criteria.targets.reading import TARGETS
from reviews import access, access_studio
from reviews.access import HttpRequest
from reviews.deeds import brief_asking, brief_issuing, brief_tables, record_changes
from reviews.deeds.brief_writing import PARTS
from reviews.deeds.record_changes import last_change
from reviews.deeds.record_versions import version_of
from reviews.forms.brief_use import UseForm
from reviews.forms.briefs import AddendumPage, BriefTextForm, ClimateForm, HandInForm, SiteForm
from reviews.models import Studio
from reviews.models.briefs import Frozen
from reviews.pages.brief_page import read_brief, warnings_for
from reviews.pages.brief_taken import brief_workbook
from reviews.pages.page_frame import frame
from reviews.pages.ways_on import own_ways
from reviews.surroundings import notation_of, system_of
from reviews.versions import Newer
from reviews.views.bringing import bring_in
from reviews.views.fetching import led_studio, require_form, seen_studio
from reviews.views.tables_out import csv_answer, workbook_answer
from reviews.views.undoing import is_undone

FROZEN = "The brief is issued, and frozen. It changes by addenda."
FORMS = {
    "text": BriefTextForm,
    "site": SiteForm,
    "climate": ClimateForm,
    "states": UseForm,
    "hand-in": HandInForm,
}
TABLES = {
    "climate": (CLIMATE, brief_tables.read_climate, brief_tables.bring_in_climate),
    "targets": (TARGETS, brief_tables.read_targets_table, brief_tables.bring_in_targets),
}
"""Of each part that is a table: its columns, and what reads and what keeps a text of them."""


@require_safe
def show_brief(request: HttpRequest, studio_id: int) -> HttpResponse:
    studio = seen_studio(request, studio_id)
    access.require(access.can_see_brief(request.viewer, studio))
    shown = read_brief(request.viewer, studio, system_of(request))
    if request.method == "GET" and access_studio.opens_addenda(request.viewer, studio):
        brief_asking.note_opened(shown["addenda"], request.user)
    context = frame(request, studio=studio, page="brief") | shown
    context["own"] = own_ways(request, studio)
    return render(request, "briefs/show_brief.html", context)


def frozen_brief(request: HttpRequest, studio: Studio) -> HttpResponse:
    messages.warning(request, FROZEN)
    return redirect("show-brief", studio.pk)


@require_form
def edit_part(request: HttpRequest, studio_id: int, part: str) -> HttpResponse:
    studio = led_studio(request, studio_id)
    brief, written = studio.brief, PARTS[part]
    if brief.is_issued and request.method != "POST":
        return frozen_brief(request, studio)
    notation = notation_of(request, brief.notation)
    form: Any = FORMS[part](notation, written.read(brief), request.POST or None)
    if request.method == "POST" and form.is_valid():
        try:
            record_changes.keep(brief, written, form.contents, form.seen_version, request.user)
        except Newer as newer:
            form.show_newer(newer, version_of(newer.kept))
        except Frozen as frozen:
            form.add_error(None, str(frozen))
        else:
            messages.success(request, f"The {written.name} is kept.")
            return redirect(f"edit-{part}", studio.pk)
    context: dict[str, Any] = {
        "form": form,
        "part": part,
        "last": last_change(brief, part),
        "warnings": warnings_for(request.viewer, studio),
    }
    shown = frame(request, studio=studio, page="brief") | context
    return render(request, f"briefs/edit_{part.replace('-', '_')}.html", shown, status=form.status)


@require_POST
def undo_part(request: HttpRequest, studio_id: int, part: str) -> HttpResponse:
    studio, written = led_studio(request, studio_id), PARTS[part]
    is_undone(request, partial(record_changes.undo_part, studio.brief, written), written.name)
    return redirect(f"edit-{part}", studio.pk)


@require_form
def paste_part(request: HttpRequest, studio_id: int, part: str) -> HttpResponse:
    studio = led_studio(request, studio_id)
    if studio.brief.is_issued and request.method != "POST":
        return frozen_brief(request, studio)
    schedule, read, keep = TABLES[part]
    brief, person = studio.brief, request.user
    return bring_in(
        request,
        schedule,
        read=lambda typed, system: read(brief, typed, system),
        keep=lambda form: keep(brief, form.table, person, form.units, seen=form.seen_change).what,
        page=f"briefs/paste_{part}.html",
        context=frame(request, studio=studio, page="brief"),
        done=reverse(f"edit-{part}", args=[studio.pk]),
    )


@require_safe
def export_part(request: HttpRequest, studio_id: int, part: str) -> HttpResponse:
    studio = seen_studio(request, studio_id)
    access.require(access.can_see_brief(request.viewer, studio))
    table = brief_tables.taken_out(studio.brief, part, system_of(request))
    return csv_answer(table, f"{part}-{studio.pk}")


@require_safe
def take_brief(request: HttpRequest, studio_id: int) -> HttpResponse:
    studio = seen_studio(request, studio_id)
    access.require(access.can_see_brief(request.viewer, studio))
    book = brief_workbook(studio, system_of(request))
    return workbook_answer(book, f"{slugify(studio.title)}-brief")


@require_form
def issue_brief(request: HttpRequest, studio_id: int) -> HttpResponse:
    studio = led_studio(request, studio_id)
    if request.method == "POST":
        brief_issuing.issue(studio.brief, request.user)
        messages.success(request, "The brief is issued. Everybody of the studio can read it.")
    if request.method == "POST" or studio.brief.is_issued:
        return redirect("show-brief", studio.pk)
    shown = read_brief(request.viewer, studio, system_of(request))
    context = frame(request, studio=studio, page="brief") | shown
    return render(request, "briefs/issue_brief.html", context)


@require_form
def add_addendum(request: HttpRequest, studio_id: int) -> HttpResponse:
    studio = led_studio(request, studio_id)
    if not studio.brief.is_issued:
        messages.warning(request, "The brief is in preparation: change it itself.")
        return redirect("show-brief", studio.pk)
    notation = notation_of(request, studio.brief.notation)
    page = AddendumPage(studio.brief, notation, request.POST or None)
    if page.is_sent and page.is_resent:
        return redirect("show-brief", studio.pk)
    if page.is_valid():
        words = page.words.cleaned_data
        try:
            addendum = brief_issuing.add_addendum(
                studio.brief,
                request.user,
                words["text"],
                number=words["number"],
                targets=page.changed_targets,
                site=page.changed_site,
                use=page.changed_use,
            )
        except Newer as newer:
            page.show_newer(newer)
        else:
            messages.success(request, f"{addendum} is issued.")
            return redirect("show-brief", studio.pk)
    context = frame(request, studio=studio, page="brief") | {"page": page}
    return render(request, "briefs/add_addendum.html", context, status=page.words.status)
