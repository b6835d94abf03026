"""A package's year, hour by hour: shown, taken out as a table, and what it assumed written down."""

from __future__ import annotations

from django.contrib import messages
from django.contrib.auth.decorators import login_not_required
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_POST, require_safe

from reviews import access
from reviews.access import HttpRequest
from reviews.deeds import assumed_writing
from reviews.models import Package, Revision
from reviews.pages.page_frame import frame
from reviews.pages.year_page import KeptYear, assumed_key
from reviews.reading.package_checking import draft, issued, issued_package
from reviews.reading.year_hours_csv import hours_csv
from reviews.surroundings import system_of
from reviews.versions import Newer
from reviews.views.packages import package_of, read_package
from reviews.views.revisions import framed_revision, seen_revision
from reviews.views.tables_out import csv_answer


def year_in(request: HttpRequest, package: Package) -> KeptYear:
    """Return the year of a package in preparation."""
    checked = draft(package)
    return KeptYear(checked.package, checked.told, system_of(request), package.typed().holds)


def issued_year(request: HttpRequest, revision: Revision) -> KeptYear:
    """Return the year of what was issued."""
    return KeptYear(issued_package(revision), issued(revision), system_of(request))


@require_safe
def show_year(request: HttpRequest, scheme_id: int) -> HttpResponse:
    package = read_package(request, scheme_id)
    context = {
        "package": package,
        "page": year_in(request, package),
        "can_edit": access.can_edit_package(request.viewer, package.scheme),
        **frame(request, scheme=package.scheme, page="schemes"),
    }
    return render(request, "year/show_year.html", context)


@require_safe
def export_year(request: HttpRequest, scheme_id: int) -> HttpResponse:
    package = read_package(request, scheme_id)
    return _hours(year_in(request, package), f"{package.scheme} hours", "show-year", scheme_id)


@require_POST
def write_assumed(request: HttpRequest, scheme_id: int) -> HttpResponse:
    """Write what was assumed into the cells that it was assumed for."""
    package = package_of(request, scheme_id)
    package.hold_typed()
    named = request.POST.get("assumed", "")
    assumed = (each for each in year_in(request, package).assumed if assumed_key(each) == named)
    found = next(assumed, None)
    try:
        row = assumed_writing.write(package, found, request.user) if found else None
    except Newer as newer:
        by = newer.kept.changed_by if newer.kept else "Somebody"
        messages.error(request, f"{by} changed the row meanwhile. Nothing was written.")
    else:
        if found and row:
            messages.success(request, f"Written: {found.write(system_of(request))}.")
        else:
            messages.error(request, "Nothing was written: that is no longer assumed.")
    return redirect("show-year", scheme_id)


@login_not_required
@require_safe
def show_issued_year(request: HttpRequest, revision_id: int) -> HttpResponse:
    revision = seen_revision(request, revision_id)
    context = framed_revision(request, revision, page=issued_year(request, revision))
    return render(request, "year/show_issued_year.html", context)


@login_not_required
@require_safe
def export_issued_year(request: HttpRequest, revision_id: int) -> HttpResponse:
    revision = seen_revision(request, revision_id)
    name = f"{revision.scheme} {revision.letter} hours"
    return _hours(issued_year(request, revision), name, "show-issued-year", revision_id)


def _hours(kept: KeptYear, name: str, page: str, key: int) -> HttpResponse:
    """Send the hours; where the rows give none, go to the page that says what they lack."""
    if kept.year is None:
        return redirect(page, key)
    return csv_answer(hours_csv(kept.year), name)
