"""Sheets seen close, and what is sent of them: pictures, tiles, originals, and all of a package."""

from __future__ import annotations

from collections.abc import Iterator

from django.contrib.auth.decorators import login_not_required
from django.http import HttpResponse, StreamingHttpResponse
from django.http.response import HttpResponseBase
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.http import content_disposition_header
from django.views.decorators.http import require_safe

from reviews import access
from reviews.access import HttpRequest
from reviews.models import IssuedSheet, Sheet
from reviews.pages.close_view import asked_square, close_page
from reviews.pages.package_taken import taken_package, taken_revision
from reviews.pages.page_frame import frame
from reviews.pages.said_of_sheet import said_of_sheet
from reviews.reading.sheet_pictures import send_original, send_picture, send_tile
from reviews.surroundings import system_of
from reviews.views.fetching import open_released
from reviews.views.packages import package_of
from reviews.views.revisions import framed_revision, seen_revision


def _hung(request: HttpRequest, scheme_id: int, sheet_id: int) -> Sheet:
    package = package_of(request, scheme_id, to_edit=False)
    found = package.sheets.select_related("file", "original", "changed_by")
    sheet = get_object_or_404(found, pk=sheet_id)
    sheet.package = package
    return sheet


def _issued(request: HttpRequest, revision_id: int, number: str) -> IssuedSheet:
    revision = seen_revision(request, revision_id, whole=False)
    sheet = get_object_or_404(revision.sheets.select_related("file", "original"), number=number)
    sheet.revision = revision
    return sheet


def _hung_name(sheet: Sheet) -> str:
    return f"{sheet.package.scheme.number}-{sheet.number}"


def _issued_name(sheet: IssuedSheet) -> str:
    return f"{sheet.revision.scheme.number}-{sheet.revision.letter}-{sheet.number}"


@require_safe
def show_sheet(request: HttpRequest, scheme_id: int, sheet_id: int) -> HttpResponse:
    sheet, at = _hung(request, scheme_id, sheet_id), asked_square(request.GET)
    if at.zone:
        return redirect(f"{request.path}#{at.zone}")
    context = {
        "page": close_page(sheet, at, system_of(request)),
        "can_edit": access.can_edit_package(request.viewer, sheet.package.scheme),
        "can_take": access.is_own_or_led(request.viewer, sheet.package.scheme),
        **frame(request, scheme=sheet.package.scheme, page="schemes"),
    }
    return render(request, "sheets/show_sheet.html", context)


@require_safe
def sheet_image(request: HttpRequest, scheme_id: int, sheet_id: int, size: str) -> HttpResponseBase:
    sheet = _hung(request, scheme_id, sheet_id)
    return send_picture(request, sheet.file, size, _hung_name(sheet))


@require_safe
def sheet_tile(
    request: HttpRequest, scheme_id: int, sheet_id: int, level: int, column: int, row: int
) -> HttpResponseBase:
    return send_tile(request, _hung(request, scheme_id, sheet_id).file, level, column, row)


@require_safe
def sheet_original(request: HttpRequest, scheme_id: int, sheet_id: int) -> HttpResponseBase:
    sheet = _hung(request, scheme_id, sheet_id)
    access.require(access.is_own_or_led(request.viewer, sheet.package.scheme))
    return send_original(request, sheet.original, sheet.original_name)


@login_not_required
@require_safe
def show_issued_sheet(request: HttpRequest, revision_id: int, number: str) -> HttpResponse:
    sheet, at = _issued(request, revision_id, number), asked_square(request.GET)
    if at.zone:
        return redirect(f"{request.path}#{at.zone}")
    reads = access.can_read_schedules(request.viewer, sheet.revision)
    heard = said_of_sheet(request.viewer, sheet)
    if heard.is_released and sheet.revision.crit:
        open_released(request, sheet.revision.crit)
    page = close_page(sheet, at, system_of(request), reads_rows=reads, heard=heard)
    context = framed_revision(request, sheet.revision, page=page)
    return render(request, "revisions/show_issued_sheet.html", context)


@login_not_required
@require_safe
def issued_sheet_image(
    request: HttpRequest, revision_id: int, number: str, size: str
) -> HttpResponseBase:
    sheet = _issued(request, revision_id, number)
    return send_picture(request, sheet.file, size, _issued_name(sheet), is_fixed=True)


@login_not_required
@require_safe
def issued_sheet_tile(
    request: HttpRequest, revision_id: int, number: str, level: int, column: int, row: int
) -> HttpResponseBase:
    sheet = _issued(request, revision_id, number)
    return send_tile(request, sheet.file, level, column, row, is_fixed=True)


@login_not_required
@require_safe
def issued_sheet_original(request: HttpRequest, revision_id: int, number: str) -> HttpResponseBase:
    sheet = _issued(request, revision_id, number)
    access.require(access.can_take_revision(request.viewer, sheet.revision))
    return send_original(request, sheet.original, sheet.original_name)


def _as_zip(files: Iterator[bytes], name: str) -> StreamingHttpResponse:
    head = {"Content-Disposition": content_disposition_header(True, f"{name}.zip") or ""}
    return StreamingHttpResponse(files, content_type="application/zip", headers=head)


@require_safe
def download_package(request: HttpRequest, scheme_id: int) -> HttpResponseBase:
    package = package_of(request, scheme_id, to_edit=False)
    access.require(access.is_own_or_led(request.viewer, package.scheme))
    return _as_zip(taken_package(package, system_of(request)), package.scheme.number)


@login_not_required
@require_safe
def download_revision(request: HttpRequest, revision_id: int) -> HttpResponseBase:
    revision = seen_revision(request, revision_id, whole=False)
    access.require(access.can_take_revision(request.viewer, revision))
    name = f"{revision.scheme.number}-{revision.letter}"
    return _as_zip(taken_revision(revision, system_of(request)), name)
