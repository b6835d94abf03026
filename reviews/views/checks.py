"""The check sheet of a package in preparation, each check whole, and what a juror may ask."""

from __future__ import annotations

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_POST, require_safe

import criteria.package
from criteria.check_sheet.sheet import CheckSheet
from reviews import access
from reviews.access import HttpRequest
from reviews.deeds import check_setting_aside
from reviews.drawn.svg import Way
from reviews.forms.asides import SetAsideForm
from reviews.forms.fields import number_in
from reviews.models import Package
from reviews.pages.check_drawing import KeptDrawing, drawing_of, way_of
from reviews.pages.check_page import CheckPage, one_check
from reviews.pages.check_sheet_page import KeptPage
from reviews.pages.page_frame import frame
from reviews.pages.rehearsing import KeptCard
from reviews.reading import check_asides
from reviews.reading.package_checking import Checked, draft
from reviews.surroundings import system_of
from reviews.views.packages import package_of, read_package
from reviews.worked_out import Told


@require_safe
def show_checks(request: HttpRequest, scheme_id: int) -> HttpResponse:
    package = read_package(request, scheme_id)
    checked, order = draft(package), request.GET.get("order", "")
    context = {
        "package": package,
        "page": KeptPage(checked.told, checked.package, system_of(request), order=order),
        "can_read_questions": access.is_own_or_led(request.viewer, package.scheme),
        **frame(request, scheme=package.scheme, page="schemes"),
    }
    return render(request, "checks/show_checks.html", context)


@require_safe
def show_check(request: HttpRequest, scheme_id: int, key: str) -> HttpResponse:
    package = read_package(request, scheme_id)
    checked = draft(package)
    page = page_of_check(checked.sheet, key, request)
    return _show_check(request, package, checked, page)


def _show_check(
    request: HttpRequest,
    package: Package,
    checked: Checked,
    page: CheckPage,
    form: SetAsideForm | None = None,
) -> HttpResponse:
    scheme, line = package.scheme, page.line
    context = {
        "package": package,
        "page": page,
        "drawing": drawing_in(request, checked.package, checked.told, page, way_of(scheme.pk)),
        "asides": check_asides.asides_of(
            scheme, line.finding.ref, line.finding.check
        ).select_related("by", "taken_back_by"),
        "can_lead": access.can_lead(request.viewer, scheme.studio_id),
        "form": form or SetAsideForm(line),
        **frame(request, scheme=scheme, page="schemes"),
    }
    return render(request, "checks/show_check.html", context)


@require_POST
def set_check_aside(request: HttpRequest, scheme_id: int, key: str) -> HttpResponse:
    package = read_package(request, scheme_id)
    scheme = package.scheme
    access.require(access.can_lead(request.viewer, scheme.studio_id))
    checked = draft(package)
    page = page_of_check(checked.sheet, key, request)
    form = SetAsideForm(page.line, request.POST)
    if form.is_valid():
        try:
            check_setting_aside.set_aside(
                scheme,
                form.key,
                form.cleaned_data["reason"],
                request.user,
                whole_studio=form.whole_studio,
            )
        except check_setting_aside.AsideAlready as already:
            form.add_error(None, f"It is {str(already).rstrip('.')}. Take that back first.")
        else:
            messages.success(request, "Set aside. It counts for nothing until it is taken back.")
            return redirect("show-check", scheme.pk, key)
    return _show_check(request, package, checked, page, form)


@require_POST
def take_check_back(request: HttpRequest, scheme_id: int, aside_id: int) -> HttpResponse:
    scheme = package_of(request, scheme_id, to_edit=False).scheme
    access.require(access.can_lead(request.viewer, scheme.studio_id))
    aside = get_object_or_404(check_asides.asides_of(scheme), pk=aside_id)
    check_setting_aside.take_back(aside, request.user)
    messages.success(request, "Taken back. It counts again.")
    return redirect("show-check", scheme.pk, aside.key)


def page_of_check(
    sheet: CheckSheet, key: str, request: HttpRequest, today: CheckSheet | None = None
) -> CheckPage:
    """Return one check of a sheet by its target's reference or its own name."""
    page = one_check(sheet, key, system_of(request), today)
    if page is None:
        raise Http404(f"No check {key} on this sheet.")
    return page


def drawing_in(
    request: HttpRequest,
    package: criteria.package.Package,
    sheet: Told[CheckSheet],
    page: CheckPage,
    way: Way,
) -> KeptDrawing | None:
    """Return the drawing of a check, of the figure that the address names, or that decided."""
    chosen = number_in(request.GET.get("drawn", ""))
    return drawing_of(package, sheet, page.line.finding, system_of(request), chosen, way)


@require_safe
def show_questions(request: HttpRequest, scheme_id: int) -> HttpResponse:
    scheme = get_object_or_404(access.packages(request.viewer), pk=scheme_id)
    access.require(access.is_own_or_led(request.viewer, scheme))
    package = read_package(request, scheme_id)
    context = {
        "package": package,
        "card": KeptCard(package, system_of(request)),
        **frame(request, scheme=package.scheme, page="schemes"),
    }
    return render(request, "checks/show_questions.html", context)
