"""Drawings as a PDF, where scale and border must be sure: who may see the page may have it."""

from __future__ import annotations

from collections.abc import Sequence

from django.contrib.auth.decorators import login_not_required
from django.http import Http404, HttpResponse
from django.utils.http import content_disposition_header
from django.views.decorators.http import require_safe

from criteria.drawing.drawing import Drawing
from criteria.drawing.sheet_list import draw_sheet_list
from criteria.schedules import BY_SLUG
from reviews.access import HttpRequest
from reviews.drawn.pdf import as_pdf
from reviews.models import Scheme
from reviews.pages.check_drawing import drawing_above, way_at_issue, way_of
from reviews.pages.page_frame import frame
from reviews.pages.schedule_drawing import states_over
from reviews.pages.sheet_lines import listed_sheets
from reviews.reading.package_checking import draft, issued, issued_package
from reviews.surroundings import system_of
from reviews.views.checks import drawing_in, page_of_check
from reviews.views.packages import read_package
from reviews.views.revisions import seen_revision
from reviews.views.year import issued_year, year_in


@require_safe
def print_schedule_drawing(request: HttpRequest, scheme_id: int, slug: str) -> HttpResponse:
    package = read_package(request, scheme_id)
    if slug not in BY_SLUG:
        raise Http404(f"No schedule {slug}.")
    checked, system = draft(package), system_of(request)
    above = drawing_above(checked, slug, system, scheme_id)
    states = states_over(checked, slug, system, scheme_id)
    drawings = [each for found in (states, above) if found for each in found.on_paper]
    return _sheets(request, drawings, BY_SLUG[slug].title, package.scheme)


@require_safe
def print_check_drawing(request: HttpRequest, scheme_id: int, key: str) -> HttpResponse:
    package = read_package(request, scheme_id)
    checked = draft(package)
    page = page_of_check(checked.sheet, key, request)
    drawing = drawing_in(request, checked.package, checked.told, page, way_of(scheme_id))
    drawings = drawing.on_paper if drawing else []
    return _sheets(request, drawings, page.line.finding.title, package.scheme)


@login_not_required
@require_safe
def print_issued_check_drawing(request: HttpRequest, revision_id: int, key: str) -> HttpResponse:
    revision = seen_revision(request, revision_id)
    sheet = issued(revision)
    page = page_of_check(sheet.holds, key, request)
    drawing = drawing_in(request, issued_package(revision), sheet, page, way_at_issue(revision.pk))
    drawings = drawing.on_paper if drawing else []
    around = frame(request, revision=revision)["title_block"]
    return _sheets(request, drawings, page.line.finding.title, revision.scheme, around)


@require_safe
def print_year(request: HttpRequest, scheme_id: int) -> HttpResponse:
    package = read_package(request, scheme_id)
    return _sheets(request, year_in(request, package).on_paper, "The year", package.scheme)


@login_not_required
@require_safe
def print_issued_year(request: HttpRequest, revision_id: int) -> HttpResponse:
    revision = seen_revision(request, revision_id)
    around = frame(request, revision=revision)["title_block"]
    drawings = issued_year(request, revision).on_paper
    return _sheets(request, drawings, "The year", revision.scheme, around)


@require_safe
def print_sheet_list(request: HttpRequest, scheme_id: int) -> HttpResponse:
    package = read_package(request, scheme_id)
    drawings = draw_sheet_list(listed_sheets(package.sheets.all(), package.letter))
    return _sheets(request, drawings, "Sheet list", package.scheme)


@login_not_required
@require_safe
def print_issued_sheet_list(request: HttpRequest, revision_id: int) -> HttpResponse:
    revision = seen_revision(request, revision_id, whole=False)
    drawings = draw_sheet_list(listed_sheets(revision.sheets.all(), revision.letter))
    around = frame(request, revision=revision)["title_block"]
    return _sheets(request, drawings, "Sheet list", revision.scheme, around)


def _sheets(
    request: HttpRequest,
    drawings: Sequence[Drawing],
    title: str,
    scheme: Scheme,
    around: Sequence[tuple[str, str]] | None = None,
) -> HttpResponse:
    """Send the sheets; a browser shows them."""
    small = frame(request, scheme=scheme)["title_block"] if around is None else around
    cells = [("Studio", str(scheme.studio)), ("Scheme", str(scheme)), *small]
    return HttpResponse(
        as_pdf(drawings, title, cells, system_of(request)),
        content_type="application/pdf",
        headers={"Content-Disposition": content_disposition_header(False, f"{scheme} {title}.pdf")},
    )
