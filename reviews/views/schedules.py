"""Schedules in preparation: typed row by row, pasted as a block, taken out as a file."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from criteria.errors import Refused
from criteria.schedules import SCHEDULES
from criteria.typed.rows import Schedule
from criteria.typed.tables import write_csv
from reviews import access
from reviews.deeds import package_keeping
from reviews.deeds.package_pasting import Preview, preview
from reviews.forms.pasting import PasteForm
from reviews.forms.rows import read_cells, read_save
from reviews.models import Change, Package, Row
from reviews.pages.page_frame import frame
from reviews.pages.schedule_page import (
    Line,
    SchedulePage,
    Trouble,
    schedule_page,
    with_trouble,
)
from reviews.surroundings import system_of
from reviews.versions import Newer
from reviews.views.packages import package_of

REFUSED = 409


def _schedule(slug: str) -> Schedule:
    for schedule in SCHEDULES:
        if schedule.slug == slug:
            return schedule
    raise Http404(f"No schedule {slug}.")


def _row(package: Package, schedule: Schedule, row_id: int) -> Row | None:
    """Return a row, None where it was removed; one of another schedule isn't here."""
    row = Row.objects.filter(package=package, pk=row_id).first()
    if row and row.schedule != schedule.slug:
        raise Http404("A row of another schedule.")
    return row


def _page_of(request: HttpRequest, package: Package, schedule: Schedule) -> SchedulePage:
    return schedule_page(package, schedule, system_of(request))


def _show(request: HttpRequest, page: SchedulePage, status: int = 200) -> HttpResponse:
    scheme = page.package.scheme
    context = {
        "page": page,
        "can_edit": access.can_edit_package(request.viewer, scheme),
        **frame(request, scheme=scheme, page="schemes"),
    }
    return render(request, "schedules/show_schedule.html", context, status=status)


def _address(page: SchedulePage) -> str:
    return reverse("show-schedule", args=[page.package.scheme_id, page.schedule.slug])


def _answer_line(
    request: HttpRequest, page: SchedulePage, line: Line | None, status: int = 200
) -> HttpResponse:
    """Answer a save: its row and what follows from it, or the page."""
    if request.htmx:
        context: dict[str, Any] = {"page": page, "line": line, "can_edit": True}
        return render(request, "schedules/_kept.html", context, status=status)
    if status == REFUSED:
        return _show(request, page, status)
    return redirect(f"{_address(page)}#{line.id if line else 'editor'}")


def _answer_table(request: HttpRequest, page: SchedulePage, status: int = 200) -> HttpResponse:
    """Answer what changes several rows: the table, or the page."""
    if request.htmx:
        context = {"page": page, "can_edit": True}
        return render(request, "schedules/_editor.html", context, status=status)
    return _show(request, page, status) if status == REFUSED else redirect(_address(page))


def _trouble(package: Package, schedule: Schedule, row_id: int | None, newer: Newer) -> Trouble:
    """Say who changed or removed what a save met."""
    if newer.kept is not None:
        return Trouble(newer.kept, newer.kept.changed_by, newer.kept.changed_at)
    removed = package_keeping.removal_of(package, schedule.slug, row_id or 0)
    return Trouble(None, removed.by if removed else None, removed.at if removed else None)


@require_safe
def show_schedule(request: HttpRequest, scheme_id: int, slug: str) -> HttpResponse:
    package = package_of(request, scheme_id, to_edit=False)
    return _show(request, _page_of(request, package, _schedule(slug)))


@require_POST
def add_row(request: HttpRequest, scheme_id: int, slug: str) -> HttpResponse:
    package, schedule = package_of(request, scheme_id), _schedule(slug)
    sent = read_cells(schedule, request.POST, {}, system_of(request))
    try:
        row = package_keeping.add_row(
            package, slug, sent, request.viewer.person, key=read_save(request.POST).key
        )
    except Refused as refused:
        messages.error(request, f"Read {refused.read}. Expected {refused.expected}.")
        return _answer_table(request, _page_of(request, package, schedule), REFUSED)
    except Newer as newer:
        page = _page_of(request, package, schedule)
        trouble = _trouble(package, schedule, None, newer)
        page = with_trouble(page, newer.sent, trouble, system_of(request))
        return _answer_line(request, page, page.single, REFUSED)
    page = _page_of(request, package, schedule)
    return _answer_line(request, page, page.line(row.pk) if row else None)


@require_POST
def save_row(request: HttpRequest, scheme_id: int, slug: str, row_id: int) -> HttpResponse:
    package, schedule = package_of(request, scheme_id), _schedule(slug)
    row, save = _row(package, schedule, row_id), read_save(request.POST)
    sent = read_cells(schedule, request.POST, row.cells if row else {}, system_of(request))
    try:
        row = package_keeping.save_row(
            package, row_id, sent, save.seen, request.viewer.person, key=save.key
        )
    except Newer as newer:
        page = _page_of(request, package, schedule)
        trouble = _trouble(package, schedule, row_id, newer)
        page = with_trouble(page, newer.sent, trouble, system_of(request))
        line = page.line(row_id) if newer.kept else page.lines[-1]
        return _answer_line(request, page, line, REFUSED)
    page = _page_of(request, package, schedule)
    return _answer_line(request, page, page.line(row.pk) if row else None)


@require_POST
def remove_row(request: HttpRequest, scheme_id: int, slug: str, row_id: int) -> HttpResponse:
    package, schedule = package_of(request, scheme_id), _schedule(slug)
    _row(package, schedule, row_id)
    status = 200
    try:
        package_keeping.remove_row(
            package, row_id, read_save(request.POST).seen, request.viewer.person
        )
    except Newer as newer:
        status = REFUSED
        by = newer.kept.changed_by
        messages.error(request, f"{by} changed this row meanwhile. Nothing was removed.")
    return _answer_table(request, _page_of(request, package, schedule), status)


@require_POST
def undo_change(request: HttpRequest, scheme_id: int, slug: str) -> HttpResponse:
    package, schedule = package_of(request, scheme_id), _schedule(slug)
    number = request.POST.get("change", "")
    change_id = int(number) if number.isascii() and number.isdigit() else 0
    status = 200
    try:
        change = package_keeping.undo(package, slug, change_id, request.viewer.person)
        messages.success(request, f"Undone: {change.what}.")
    except (Newer, Change.DoesNotExist):
        status = REFUSED
        messages.error(
            request, "The schedule was changed meanwhile. Nothing was undone; the last change is "
            "named below.",
        )  # fmt: skip
    return _answer_table(request, _page_of(request, package, schedule), status)


@require_http_methods(["GET", "HEAD", "POST"])
def paste_rows(request: HttpRequest, scheme_id: int, slug: str) -> HttpResponse:
    package, schedule = package_of(request, scheme_id), _schedule(slug)
    form = PasteForm.of(request)
    if not form.is_valid():
        return _show_block(request, package, schedule, form)
    shown = preview(package, schedule, form.text, form.units)
    if form.is_confirmed and not shown.problems:
        return _bring_in(request, package, schedule, form, shown)
    return _show_block(request, package, schedule, form, shown)


def _bring_in(
    request: HttpRequest, package: Package, schedule: Schedule, form: PasteForm, shown: Preview
) -> HttpResponse:
    try:
        change = package_keeping.bring_in(
            package, schedule.slug, shown.records, request.viewer.person,
            is_replacing=form.is_replacing, seen=form.said_seen, key=form.said_key,
        )  # fmt: skip
    except Newer as newer:
        form.say_newer(newer.kept)
        return _show_block(request, package, schedule, form, shown, REFUSED)
    except Refused as refused:
        form.add_error("block", f"Read {refused.read}. Expected {refused.expected}.")
        return _show_block(request, package, schedule, form, shown)
    messages.success(request, f"Kept: {change.what if change else 'nothing new'}.")
    return redirect("show-schedule", package.scheme_id, schedule.slug)


def _show_block(
    request: HttpRequest,
    package: Package,
    schedule: Schedule,
    form: PasteForm,
    shown: Preview | None = None,
    status: int = 200,
) -> HttpResponse:
    context = {
        "package": package,
        "schedule": schedule,
        "form": form.again(shown) if shown else form,
        "preview": shown,
        **frame(request, scheme=package.scheme, page="schemes"),
    }
    return render(request, "schedules/paste_rows.html", context, status=status)


@require_safe
def export_schedule(request: HttpRequest, scheme_id: int, slug: str) -> HttpResponse:
    package, schedule = package_of(request, scheme_id, to_edit=False), _schedule(slug)
    records = package.records().get(slug, [])
    # the byte order mark tells spreadsheets that m² and ½ are UTF-8
    text = "\ufeff" + write_csv(schedule, records, units=True)
    name = f"{package.scheme.number}-{slug}.csv"
    return HttpResponse(
        text,
        content_type="text/csv; charset=utf-8",
        headers={"Content-Disposition": f'attachment; filename="{name}"'},
    )
