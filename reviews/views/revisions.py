"""Issued revisions: receipt, sheets, schedules and check sheet as they were handed in."""

from __future__ import annotations

from typing import Any

from django.contrib.auth.decorators import login_not_required
from django.http import Http404, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.views.decorators.http import require_safe

from criteria.schedules import BY_SLUG
from reviews import access, access_studio
from reviews.access import HttpRequest
from reviews.deeds.picture_comparing import await_changes
from reviews.models import Revision
from reviews.pages.check_drawing import way_at_issue
from reviews.pages.check_sheet_page import KeptPage
from reviews.pages.page_frame import frame
from reviews.pages.revising import earlier_revisions, revision_table
from reviews.pages.revision_page import issued_schedule, revision_page
from reviews.pages.row_origins import issued_origins
from reviews.pages.what_changed import WhatChanged, look_at, sheet_changes
from reviews.reading.package_checking import issued, issued_package, todays, todays_sheet
from reviews.reading.sheet_changes import SheetPair, sheet_pairs
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
        "can_read_behalf": access_studio.can_read_behalf(viewer, revision),
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
    if earlier := earlier_revisions(revision, request.viewer):
        context |= _changes(request, revision, earlier[0])
    return render(request, "revisions/show_revision.html", context)


def _changes(request: HttpRequest, revision: Revision, before: Revision) -> dict[str, Any]:
    """What changed since an earlier revision, as far as the viewer may read both."""
    pairs = sheet_pairs(before, revision)
    sheets = sheet_changes(pairs, revision.letter)
    found: dict[str, Any] = {"before": before, "pairs": pairs, "sheets": sheets}
    if all(access.can_read_schedules(request.viewer, each) for each in (before, revision)):
        found["table"] = revision_table(before, revision, system_of(request), sheets)
    return found


def _since(request: HttpRequest, earlier: list[Revision]) -> Revision | None:
    """The earlier revision that an address names, or the last."""
    named = [each for each in earlier if each.letter == request.GET.get("since")]
    return next(iter([*named, *earlier]), None)


@login_not_required
@require_safe
def show_changes(request: HttpRequest, revision_id: int) -> HttpResponse:
    revision = seen_revision(request, revision_id, whole=False)
    earlier = earlier_revisions(revision, request.viewer)
    before = _since(request, earlier)
    changes = _changes(request, revision, before) if before else {}
    await_changes(changes.get("pairs", ()))
    page = WhatChanged(before, revision, changes.get("sheets", ()), earlier)
    context = framed_revision(request, revision, **{"before": None, **changes}, page=page)
    return render(request, "revisions/show_changes.html", context)


@login_not_required
@require_safe
def show_sheet_change(request: HttpRequest, revision_id: int, number: str) -> HttpResponse:
    revision = seen_revision(request, revision_id, whole=False)
    sheet = get_object_or_404(revision.sheets.select_related("file"), number=number)
    before = _since(request, earlier_revisions(revision, request.viewer))
    pairs = sheet_pairs(before, revision) if before else [SheetPair(None, sheet)]
    pair = next(each for each in pairs if each.after == sheet)
    await_changes([pair])
    change = sheet_changes([pair], revision.letter)[0]
    asked = request.GET
    look = look_at(change, asked.get("as", ""), asked.get("cloud", "")) if pair.pictures else None
    context = framed_revision(request, revision, before=before, change=change, look=look)
    return render(request, "revisions/show_sheet_change.html", context)


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
    schedule, system = BY_SLUG[slug], system_of(request)
    page = issued_schedule(revision, schedule, system)
    origins = issued_origins(revision, schedule, system)
    context = framed_revision(request, revision, page=page, origins=origins)
    return render(request, "revisions/show_issued_schedule.html", context)
