"""The map from a studio's criteria to published standards."""

from __future__ import annotations

from functools import partial

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.text import slugify
from django.views.decorators.http import require_POST, require_safe

from reviews import access, access_studio
from reviews.access import HttpRequest
from reviews.deeds import standards_mapping
from reviews.deeds.record_changes import last_change, undo_part
from reviews.deeds.record_versions import version_of
from reviews.deeds.standards_mapping import PARTS, STANDARDS, STANDARDS_TABLE
from reviews.forms.fields import SeenForm
from reviews.forms.standards import StandardFormSet
from reviews.models import Studio
from reviews.pages.page_frame import frame
from reviews.reading.standards_map import standards_map
from reviews.versions import Newer
from reviews.views.bringing import bring_in
from reviews.views.fetching import require_form, seen_studio
from reviews.views.tables_out import csv_answer
from reviews.views.undoing import is_undone


def _kept_studio(request: HttpRequest, studio_id: int) -> Studio:
    studio = seen_studio(request, studio_id)
    access.require(access_studio.can_keep_evidence(request.viewer, studio))
    return studio


def _read_studio(request: HttpRequest, studio_id: int) -> Studio:
    studio = seen_studio(request, studio_id)
    access.require(access_studio.can_read_evidence(request.viewer, studio))
    return studio


@require_safe
def show_standards(request: HttpRequest, studio_id: int) -> HttpResponse:
    studio = _read_studio(request, studio_id)
    can_keep = access_studio.can_keep_evidence(request.viewer, studio)
    context = frame(request, studio=studio, page="schemes") | {
        "map": standards_map(studio),
        "can_keep": can_keep,
        "last": last_change(studio, STANDARDS.slug) if can_keep else None,
    }
    return render(request, "standards/show_standards.html", context)


@require_safe
def export_standards(request: HttpRequest, studio_id: int) -> HttpResponse:
    studio = _read_studio(request, studio_id)
    table = standards_mapping.standards_csv(standards_mapping.lines_of(studio))
    return csv_answer(table, f"{slugify(studio.title)}-standards")


@require_POST
def start_standards(request: HttpRequest, studio_id: int) -> HttpResponse:
    studio = _kept_studio(request, studio_id)
    if number := standards_mapping.start_standards(studio, request.user):
        messages.success(request, f"{number} standards to start from. Check them, then edit.")
    else:
        messages.warning(request, "There is a map already: nothing was put over it.")
    return redirect("show-standards", studio.pk)


@require_form
def edit_standards(request: HttpRequest, studio_id: int) -> HttpResponse:
    studio = _kept_studio(request, studio_id)
    now = standards_mapping.lines_of(studio)
    page = SeenForm(request.POST or None, initial={"seen": version_of(now)})
    rows = StandardFormSet(request.POST or None, initial=now, prefix="rows")
    if request.method == "POST" and rows.is_valid() and page.is_valid():
        try:
            standards_mapping.keep_standards(studio, rows.lines, page.seen_version, request.user)
        except Newer as newer:
            page.show_newer_rows(newer, version_of(newer.kept), PARTS)
        else:
            messages.success(request, "The map is kept.")
            return redirect("show-standards", studio.pk)
    context = frame(request, studio=studio, page="schemes") | {"page": page, "rows": rows}
    return render(request, "standards/edit_standards.html", context, status=page.status)


@require_form
def bring_in_standards(request: HttpRequest, studio_id: int) -> HttpResponse:
    studio, deed = _kept_studio(request, studio_id), standards_mapping.bring_in_standards
    return bring_in(
        request,
        STANDARDS_TABLE,
        read=lambda typed, _: standards_mapping.read_standards(studio, typed),
        keep=lambda form: deed(studio, form.table, request.user, seen=form.seen_change).what,
        page="standards/bring_in_standards.html",
        context=frame(request, studio=studio, page="schemes"),
        done=reverse("show-standards", args=[studio.pk]),
    )


@require_POST
def undo_standards(request: HttpRequest, studio_id: int) -> HttpResponse:
    studio = _kept_studio(request, studio_id)
    is_undone(request, partial(undo_part, studio, STANDARDS), STANDARDS.name)
    return redirect("show-standards", studio.pk)
