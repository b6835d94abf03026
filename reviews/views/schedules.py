"""Schedules in preparation: typed row by row, pasted as a block, taken out as a file."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_POST, require_safe

from criteria.errors import Refused
from criteria.schedules import BY_SLUG, SCHEDULES
from criteria.typed.rows import Schedule
from criteria.typed.tables import write_csv
from reviews import access
from reviews.access import HttpRequest
from reviews.deeds import file_bringing, package_keeping
from reviews.deeds.record_typed import taken_cells
from reviews.forms.bringing import BringInForm
from reviews.forms.fields import number_in
from reviews.forms.rows import read_cells, read_save
from reviews.models import Change, Package, Row
from reviews.pages.page_frame import frame
from reviews.pages.row_pages import LAST, Place
from reviews.pages.schedule_cells import heads_of
from reviews.pages.schedule_page import (
    Line,
    SchedulePage,
    Trouble,
    schedule_page,
    with_trouble,
)
from reviews.reading.earlier_rows import earlier_of, rows_as_issued
from reviews.surroundings import keep_on_device, notation_of, system_of
from reviews.versions import Newer
from reviews.views.bringing import REFUSED
from reviews.views.fetching import require_form
from reviews.views.packages import package_of, read_package
from reviews.views.tables_out import csv_answer
from reviews.views.undoing import is_undone

COLUMNS, ALL = "columns", "all"
"""Schedules whose columns a device shows all, by slug, parted by full stops."""
"""Which columns whoever reads wants to see: a cookie, for it is a matter of the screen."""


def _schedule(slug: str) -> Schedule:
    for schedule in SCHEDULES:
        if schedule.slug == slug:
            return schedule
    raise Http404(f"No schedule {slug}.")


def _row(package: Package, schedule: Schedule, row_id: int) -> Row | None:
    """Return a row, None where it was removed; one of another schedule isn't here."""
    row = package.rows.in_bulk([row_id]).get(row_id)
    if row and row.schedule != schedule.slug:
        raise Http404("A row of another schedule.")
    return row


def _page_of(
    request: HttpRequest, package: Package, schedule: Schedule, place: Place | None = None
) -> SchedulePage:
    """The page of a schedule at a place, or where the address says."""
    asked = request.GET
    at = Place(
        number_in(asked.get("row", "")),
        asked.get("mark", ""),
        asked.get("page", ""),
        tuple(asked.getlist("key")),
    )
    is_whole = schedule.slug in _shown_whole(request)
    return schedule_page(package, schedule, system_of(request), place or at, is_whole=is_whole)


def _show(request: HttpRequest, page: SchedulePage, status: int = 200) -> HttpResponse:
    scheme = page.package.scheme
    context = {
        "page": page,
        "fingerprint": page.fingerprint,
        "can_edit": access.can_edit_package(request.viewer, scheme),
        **frame(request, scheme=scheme, page="schemes"),
    }
    return render(request, "schedules/show_schedule.html", context, status=status)


def _answer_row(
    request: HttpRequest, package: Package, schedule: Schedule, row: Row | None
) -> HttpResponse:
    """Answer a save that is kept: its row and what follows from it, or the way to the page."""
    if not request.htmx:
        address = reverse("show-schedule", args=[package.scheme_id, schedule.slug])
        return redirect(f"{address}?row={row.pk}#row-{row.pk}" if row else f"{address}#editor")
    page = _page_of(request, package, schedule, Place(row.pk) if row else None)
    return _answer_line(request, page, page.line(row.pk) if row else None)


def _answer_line(
    request: HttpRequest, page: SchedulePage, line: Line | None, status: int = 200
) -> HttpResponse:
    if not request.htmx:
        return _show(request, page, status)
    context: dict[str, Any] = {"page": page, "line": line, "can_edit": True}
    return render(request, "schedules/_kept.html", context, status=status)


def _answer_table(
    request: HttpRequest, package: Package, schedule: Schedule, status: int = 200
) -> HttpResponse:
    """Answer what changes several rows: the table, or the way to the page."""
    if not request.htmx and status != REFUSED:
        address = reverse("show-schedule", args=[package.scheme_id, schedule.slug])
        at = number_in(request.GET.get("page", ""))
        return redirect(f"{address}?page={at}" if at > 1 else address)
    page = _page_of(request, package, schedule)
    if not request.htmx:
        return _show(request, page, status)
    context = {"page": page, "can_edit": True}
    return render(request, "schedules/_editor.html", context, status=status)


def _trouble(package: Package, schedule: Schedule, row_id: int | None, newer: Newer) -> Trouble:
    """Say who changed or removed what a save met."""
    if newer.kept is not None:
        return Trouble(newer.kept, newer.kept.changed_by, newer.kept.changed_at)
    removed = package_keeping.removal_of(package, schedule.slug, row_id or 0)
    return Trouble(None, removed.by if removed else None, removed.at if removed else None)


@require_safe
def show_schedule(request: HttpRequest, scheme_id: int, slug: str) -> HttpResponse:
    package = read_package(request, scheme_id)
    return _show(request, _page_of(request, package, _schedule(slug)))


@require_POST
def choose_columns(request: HttpRequest, scheme_id: int, slug: str) -> HttpResponse:
    read_package(request, scheme_id)
    here = {_schedule(slug).slug}
    whole = _shown_whole(request)
    wanted = whole | here if request.POST.get(COLUMNS) == ALL else whole - here
    answer = redirect("show-schedule", scheme_id, slug)
    return keep_on_device(answer, COLUMNS, ".".join(sorted(wanted)))


def _shown_whole(request: HttpRequest) -> set[str]:
    """The schedules of which this device shows all columns."""
    return {slug for slug in request.COOKIES.get(COLUMNS, "").split(".") if slug in BY_SLUG}


@require_POST
def add_row(request: HttpRequest, scheme_id: int, slug: str) -> HttpResponse:
    package, schedule = package_of(request, scheme_id), _schedule(slug)
    sent = read_cells(schedule, request.POST, {}, system_of(request))
    try:
        row = package_keeping.add_row(
            package, slug, sent, request.user, key=read_save(request.POST).key
        )
    except Refused as refused:
        messages.error(request, f"Read {refused.read}. Expected {refused.expected}.")
        return _answer_table(request, package, schedule, REFUSED)
    except Newer as newer:
        page = _page_of(request, package, schedule, LAST)
        trouble = _trouble(package, schedule, None, newer)
        page = with_trouble(page, newer.sent, trouble, system_of(request))
        return _answer_line(request, page, page.single, REFUSED)
    return _answer_row(request, package, schedule, row)


@require_POST
def save_row(request: HttpRequest, scheme_id: int, slug: str, row_id: int) -> HttpResponse:
    package, schedule = package_of(request, scheme_id), _schedule(slug)
    row, save = _row(package, schedule, row_id), read_save(request.POST)
    sent = read_cells(schedule, request.POST, row.cells if row else {}, system_of(request))
    try:
        row = package_keeping.save_row(package, row_id, sent, save.seen, request.user, key=save.key)
    except Newer as newer:
        page = _page_of(request, package, schedule, Place(row_id) if newer.kept else LAST)
        trouble = _trouble(package, schedule, row_id, newer)
        page = with_trouble(page, newer.sent, trouble, system_of(request))
        line = page.line(row_id) if newer.kept else page.lines[-1]
        return _answer_line(request, page, line, REFUSED)
    return _answer_row(request, package, schedule, row)


@require_POST
def remove_row(request: HttpRequest, scheme_id: int, slug: str, row_id: int) -> HttpResponse:
    package, schedule = package_of(request, scheme_id), _schedule(slug)
    _row(package, schedule, row_id)
    status = 200
    try:
        package_keeping.remove_row(package, row_id, read_save(request.POST).seen, request.user)
    except Newer as newer:
        status = REFUSED
        by = newer.kept.changed_by
        messages.error(request, f"{by} changed this row meanwhile. Nothing was removed.")
    return _answer_table(request, package, schedule, status)


@require_POST
def undo_change(request: HttpRequest, scheme_id: int, slug: str) -> HttpResponse:
    package, schedule = package_of(request, scheme_id), _schedule(slug)

    def undo(change_id: int) -> Change:
        return package_keeping.undo(package, slug, change_id, request.user)

    status = 200 if is_undone(request, undo, "schedule") else REFUSED
    return _answer_table(request, package, schedule, status)


@require_form
def paste_rows(request: HttpRequest, scheme_id: int, slug: str) -> HttpResponse:
    """Take a block or a CSV of one schedule, to be looked at beside what is there."""
    package, schedule = package_of(request, scheme_id), _schedule(slug)
    begun = rows_as_issued(package, schedule, number_in(request.GET.get("revision", "")))
    form, preview = BringInForm.of(request, schedule, begun), None
    if form.is_valid():
        preview = package_keeping.read_rows(package, schedule, form.table, form.units)
        if preview.records:
            name = form.file_name or f"a block for the {schedule.title.lower()}"
            brought = file_bringing.bring_table(package, name, preview, request.user)
            return redirect("show-file", scheme_id, brought.pk)
    context = {
        "form": form,
        "preview": preview,
        "schedule": schedule,
        "heads": heads_of(schedule, form.units if preview else system_of(request)),
        "earlier": earlier_of(package, schedule),
        **frame(request, scheme=package.scheme, page="schemes"),
    }
    return render(request, "schedules/paste_rows.html", context)


@require_safe
def export_schedule(request: HttpRequest, scheme_id: int, slug: str) -> HttpResponse:
    package, schedule = read_package(request, scheme_id), _schedule(slug)
    notation = notation_of(request, package.notation)
    records = (taken_cells(schedule, each, notation) for each in package.records().get(slug, []))
    table = write_csv(schedule, records, notation.system)
    return csv_answer(table, f"{package.scheme.number}-{slug}")
