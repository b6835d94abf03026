"""The check sheet of a package in preparation, each check whole, and what a juror may ask."""

from __future__ import annotations

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.views.decorators.http import require_safe

from criteria.check_sheet import CheckSheet
from reviews import access
from reviews.check_page import CheckPage, one_check, sheet_page
from reviews.checking import draft_sheet
from reviews.page_frame import frame
from reviews.rehearsing import rehearsal_card
from reviews.surroundings import system_of
from reviews.views.packages import package_of


@require_safe
def show_checks(request: HttpRequest, scheme_id: int) -> HttpResponse:
    package = package_of(request, scheme_id, to_edit=False)
    context = {
        "package": package,
        "page": sheet_page(draft_sheet(package), system_of(request)),
        "can_read_questions": access.can_read_questions(request.viewer, package.scheme),
        **frame(request, scheme=package.scheme, page="schemes"),
    }
    return render(request, "checks/show_checks.html", context)


@require_safe
def show_check(request: HttpRequest, scheme_id: int, key: str) -> HttpResponse:
    package = package_of(request, scheme_id, to_edit=False)
    context = {
        "package": package,
        "page": page_of_check(draft_sheet(package), key, request),
        "can_read_questions": access.can_read_questions(request.viewer, package.scheme),
        **frame(request, scheme=package.scheme, page="schemes"),
    }
    return render(request, "checks/show_check.html", context)


def page_of_check(sheet: CheckSheet, key: str, request: HttpRequest) -> CheckPage:
    """Return one check of a sheet by its target's reference or its own name."""
    page = one_check(sheet, key, system_of(request))
    if page is None:
        raise Http404(f"No check {key} on this sheet.")
    return page


@require_safe
def show_questions(request: HttpRequest, scheme_id: int) -> HttpResponse:
    scheme = get_object_or_404(access.packages(request.viewer), pk=scheme_id)
    access.require(access.can_read_questions(request.viewer, scheme))
    package = package_of(request, scheme_id, to_edit=False)
    context = {
        "package": package,
        "card": rehearsal_card(package, system_of(request)),
        **frame(request, scheme=package.scheme, page="schemes"),
    }
    return render(request, "checks/show_questions.html", context)
