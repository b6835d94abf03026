"""Issued revisions: receipt, sheets, schedules and check sheet as they were handed in."""

from __future__ import annotations

from typing import Any

from django.contrib.auth.decorators import login_not_required
from django.http import Http404, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.views.decorators.http import require_safe

from criteria.schedules import BY_SLUG
from reviews import access
from reviews.access import HttpRequest
from reviews.models import Revision
from reviews.pages.check_drawing import way_at_issue
from reviews.pages.check_sheet_page import KeptPage
from reviews.pages.page_frame import frame
from reviews.pages.revising import letter_before, revision_table
from reviews.pages.revision_page import issued_schedule, revision_page
from reviews.reading.package_checking import issued, issued_package, todays, todays_sheet
from reviews.surroundings import system_of
from reviews.views.checks import drawing_in, page_of_check


def seen_revision(request: HttpRequest, revision_id: int, *, whole: bool = True) -> Revision:
    """Return a revision that the viewer may see; `whole` is more than its sheets."""
    held = access.revisions(request.viewer).select_related(
        "scheme__studio__brief", "issued_by", "crit"
    )
    revision = get_object_or_404(held, pk=revision_id)
    if whole:
        access.require(access.can_read_schedules(request.viewer, revision))
    return revision


def framed_revision(request: HttpRequest, revision: Revision, **context: Any) -> dict[str, Any]:
    """What a page of an issued revision is given."""
    viewer = request.viewer
    around = {
        "revision": revision,
        "can_read": access.can_read_schedules(viewer, revision),
        "can_take": access.can_take_revision(viewer, revision),
        **frame(request, revision=revision, page="schemes"),
    }
    if viewer.person is None and request.COOKIES.get("lamp") != "on":
        around["lamp"] = "off"  # a juror's room is dark
    return {**around, **context}


@login_not_required
@require_safe
def show_revision(request: HttpRequest, revision_id: int) -> HttpResponse:
    revision = seen_revision(request, revision_id, whole=False)
    context = framed_revision(request, revision, page=revision_page(revision, request.viewer))
    before = letter_before(revision)
    if context["can_read"] and before:
        context["table"] = revision_table(before, revision, system_of(request))
    return render(request, "revisions/show_revision.html", context)


@login_not_required
@require_safe
def show_issued_checks(request: HttpRequest, revision_id: int) -> HttpResponse:
    revision = seen_revision(request, revision_id)
    order, read = request.GET.get("order", ""), issued_package(revision)
    page = KeptPage(issued(revision), read, system_of(request), todays(revision), order)
    context = framed_revision(request, revision, page=page)
    return render(request, "revisions/show_issued_checks.html", context)


@login_not_required
@require_safe
def show_issued_check(request: HttpRequest, revision_id: int, key: str) -> HttpResponse:
    revision = seen_revision(request, revision_id)
    sheet = issued(revision)
    page = page_of_check(sheet.holds, key, request, todays_sheet(revision))
    drawing = drawing_in(request, issued_package(revision), sheet, page, way_at_issue(revision.pk))
    context = framed_revision(request, revision, page=page, drawing=drawing)
    return render(request, "revisions/show_issued_check.html", context)


@login_not_required
@require_safe
def show_issued_schedule(request: HttpRequest, revision_id: int, slug: str) -> HttpResponse:
    revision = seen_revision(request, revision_id)
    if slug not in BY_SLUG:
        raise Http404(f"No schedule {slug}.")
    page = issued_schedule(revision, BY_SLUG[slug], system_of(request))
    context = framed_revision(request, revision, page=page)
    return render(request, "revisions/show_issued_schedule.html", context)
