"""A trial of a package's year: cells changed, both years shown, adopted and taken back."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_POST, require_safe

from criteria.package import Package as Schedules
from reviews import access
from reviews.access import HttpRequest
from reviews.deeds import year_trial_adopting
from reviews.forms.year_trial import YearTrialForm
from reviews.models import Change, Package
from reviews.pages.page_frame import frame
from reviews.pages.year_trial_page import KeptMoves, trial_page
from reviews.reading.package_checking import draft
from reviews.surroundings import notation_of, system_of
from reviews.versions import Newer
from reviews.views.packages import package_of, read_package
from reviews.views.undoing import is_undone

REFUSED = 409


def _trial(request: HttpRequest, package: Package) -> tuple[Schedules, YearTrialForm]:
    """Return a package's rows as they are kept, and the trial of them."""
    schedules = draft(package).package
    notation = notation_of(request, package.notation)
    data = request.POST if request.method == "POST" else None
    return schedules, YearTrialForm(schedules, package.records(), notation, data)


def _show(
    request: HttpRequest,
    package: Package,
    schedules: Schedules,
    form: YearTrialForm,
    status: int = 200,
) -> HttpResponse:
    texts = form.changes if form.is_bound and form.is_valid() else {}
    adopted = year_trial_adopting.last_adopted(package)
    context = {
        "package": package,
        "form": form,
        "page": trial_page(schedules, texts, package.notation, system_of(request)),
        "adopted": adopted,
        "adopted_words": year_trial_adopting.adopted_words(adopted),
        "can_edit": access.can_edit_package(request.viewer, package.scheme),
        **frame(request, scheme=package.scheme, page="schemes"),
    }
    return render(request, "year_trial/show_year_trial.html", context, status=status)


@require_safe
def show_year_trial(request: HttpRequest, scheme_id: int) -> HttpResponse:
    package = read_package(request, scheme_id)
    return _show(request, package, *_trial(request, package))


@require_POST
def try_year(request: HttpRequest, scheme_id: int) -> HttpResponse:
    """Answer a trial; nothing is kept."""
    package = read_package(request, scheme_id)
    return _show(request, package, *_trial(request, package))


@require_POST
def adopt_year_trial(request: HttpRequest, scheme_id: int) -> HttpResponse:
    package = package_of(request, scheme_id)
    schedules, form = _trial(request, package)
    if not form.is_valid():
        return _show(request, package, schedules, form)
    seen, key = form.seen_version, form.adoption
    try:
        made = year_trial_adopting.adopt(package, form.changes, request.user, seen=seen, key=key)
    except Newer:
        schedules, form = _trial(request, package_of(request, scheme_id))
        form.say_newer()
        return _show(request, package, schedules, form, REFUSED)
    said = year_trial_adopting.adopted_words(made)
    messages.success(request, f"Kept: {said or 'nothing new'}.")
    return redirect("show-year-trial", scheme_id)


@require_POST
def undo_year_trial(request: HttpRequest, scheme_id: int) -> HttpResponse:
    """Take the last adoption back, in all its schedules."""
    package = package_of(request, scheme_id)

    def undo(change_id: int) -> Change:
        return year_trial_adopting.undo_adopted(package, change_id, request.user)

    is_undone(request, undo, "schedules")
    return redirect("show-year-trial", scheme_id)


@require_safe
def show_year_moves(request: HttpRequest, scheme_id: int) -> HttpResponse:
    package = read_package(request, scheme_id)
    checked = draft(package)
    context = {
        "package": package,
        "page": KeptMoves(checked.package, checked.told, system_of(request)),
        **frame(request, scheme=package.scheme, page="schemes"),
    }
    return render(request, "year_trial/show_year_moves.html", context)
