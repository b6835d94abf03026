"""A room's daylight: the plan, its figures, a trial of its windows, and adopting it."""

from __future__ import annotations

from django.contrib import messages
from django.contrib.auth.decorators import login_not_required
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_POST, require_safe

from criteria.errors import Refused
from criteria.package import Package as Schedules
from criteria.schedules.openings import Window
from reviews import access
from reviews.access import HttpRequest
from reviews.deeds.package_keeping import undo
from reviews.deeds.record_changes import last_change, last_seen
from reviews.deeds.windows_adopting import WINDOWS, adopt
from reviews.forms.daylight import TrialForm
from reviews.models import Package
from reviews.models.weather import read_tables
from reviews.pages.daylight_pages import (
    RoomPage,
    Shown,
    room_page,
    room_pages,
    shown_trial,
)
from reviews.pages.page_frame import frame
from reviews.pages.schedule_cells import next_mark
from reviews.reading.package_checking import asked_by
from reviews.surroundings import notation_of, system_of
from reviews.versions import Newer
from reviews.views.packages import package_of
from reviews.views.revisions import framed_revision, seen_revision
from reviews.views.undoing import is_undone

REFUSED = 409


def _package(request: HttpRequest, scheme_id: int, *, to_edit: bool = False) -> Package:
    package = package_of(request, scheme_id, to_edit=to_edit)
    package.hold_typed()
    return package


def _read(package: Package) -> Schedules:
    tables = package.tables(asked_by(package.scheme.studio.brief).tables)
    return read_tables(tables, package.notation).package


def _room(package: Package, mark: str, request: HttpRequest) -> RoomPage:
    try:
        return room_page(_read(package), mark, system_of(request), is_moved=True)
    except KeyError:
        raise Http404(f"No room {mark}.") from None


def _form(request: HttpRequest, package: Package, page: RoomPage) -> TrialForm | None:
    """The trial's form; there is none where no plan can be drawn."""
    if page.plan is None:
        return None
    return TrialForm(
        page.plan,
        notation_of(request, package.notation),
        seen=last_seen(package, WINDOWS),
        new_mark=next_mark(Window.schedule, package.records().get(WINDOWS, [])),
        data=request.POST if request.method == "POST" else None,
    )


def _show(
    request: HttpRequest,
    package: Package,
    page: RoomPage,
    form: TrialForm | None,
    status: int = 200,
    shown: Shown | None = None,
) -> HttpResponse:
    context = {
        "page": page,
        "form": form,
        "shown": shown or page.shown,
        "package": package,
        "last": last_change(package, WINDOWS),
        "can_edit": access.can_edit_package(request.viewer, package.scheme),
        **frame(request, scheme=package.scheme, page="schemes"),
    }
    return render(request, "daylight/show_daylight.html", context, status=status)


@require_safe
def list_daylight(request: HttpRequest, scheme_id: int) -> HttpResponse:
    package = _package(request, scheme_id)
    context = {
        "package": package,
        "pages": room_pages(_read(package), system_of(request)),
        **frame(request, scheme=package.scheme, page="schemes"),
    }
    return render(request, "daylight/list_daylight.html", context)


@require_safe
def show_daylight(request: HttpRequest, scheme_id: int, mark: str) -> HttpResponse:
    package = _package(request, scheme_id)
    page = _room(package, mark, request)
    return _show(request, package, page, _form(request, package, page))


@require_POST
def try_daylight(request: HttpRequest, scheme_id: int, mark: str) -> HttpResponse:
    """Answer a trial; nothing is kept."""
    package = _package(request, scheme_id)
    page = _room(package, mark, request)
    form = _form(request, package, page)
    if form is None:
        return redirect("show-daylight", scheme_id, mark)
    is_built = form.is_valid()
    shown = shown_trial(page, form.trial) if is_built else page.shown
    if request.htmx:
        context = {"page": page, "form": form, "shown": shown, "package": package}
        return render(request, "daylight/_answer.html", context)
    return _show(request, package, page, form, shown=shown)


@require_POST
def adopt_daylight(request: HttpRequest, scheme_id: int, mark: str) -> HttpResponse:
    package = _package(request, scheme_id, to_edit=True)
    page = _room(package, mark, request)
    form = _form(request, package, page)
    if form is None:
        return redirect("show-daylight", scheme_id, mark)
    if not form.is_valid():
        return _show(request, package, page, form)
    try:
        change = adopt(package, form.plan, form.trial, request.user, seen=form.seen, key=form.key)
    except (Newer, Refused) as refused:
        form.say_refused(refused, last_change(package, WINDOWS))
        trial = shown_trial(page, form.trial)
        return _show(request, package, page, form, REFUSED, shown=trial)
    messages.success(request, f"Kept: {change.what if change else 'nothing new'}.")
    return redirect("show-daylight", scheme_id, mark)


@require_POST
def undo_daylight(request: HttpRequest, scheme_id: int, mark: str) -> HttpResponse:
    """Take the window schedule's last change back, and stay with the room."""
    package = _package(request, scheme_id, to_edit=True)
    is_undone(request, lambda pk: undo(package, WINDOWS, pk, request.user), "window schedule")
    return redirect("show-daylight", scheme_id, mark)


@login_not_required
@require_safe
def list_issued_daylight(request: HttpRequest, revision_id: int) -> HttpResponse:
    revision = seen_revision(request, revision_id)
    pages = room_pages(revision.reading.package, system_of(request))
    context = framed_revision(request, revision, pages=pages)
    return render(request, "daylight/list_issued_daylight.html", context)


@login_not_required
@require_safe
def show_issued_daylight(request: HttpRequest, revision_id: int, mark: str) -> HttpResponse:
    revision = seen_revision(request, revision_id)
    try:
        page = room_page(revision.reading.package, mark, system_of(request))
    except KeyError:
        raise Http404(f"No room {mark}.") from None
    context = framed_revision(request, revision, page=page, shown=page.shown)
    return render(request, "daylight/show_issued_daylight.html", context)
