"""Files brought to a package: read apart, proposed cell by cell, taken over, set aside, undone."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_POST, require_safe

from criteria.errors import Refused
from criteria.schedules import SCHEDULES
from reviews import access_studio
from reviews.access import HttpRequest
from reviews.deeds import file_bringing, file_taking
from reviews.forms.fields import number_in, says
from reviews.forms.files_in import FileForm, read_answers, read_choices
from reviews.models import BroughtFile, Change, Package
from reviews.pages.file_page import FilePage, page_again
from reviews.pages.files_page import files_page
from reviews.pages.page_frame import frame
from reviews.pages.row_origins import origins_of
from reviews.request_size import takes_pictures
from reviews.surroundings import system_of
from reviews.versions import Newer
from reviews.views.packages import package_of, read_package

REFUSED = 409


def _file(package: Package, file_id: int) -> BroughtFile:
    brought: BroughtFile = get_object_or_404(package.brought_files, pk=file_id)
    brought.package = package
    return brought


def _show_list(
    request: HttpRequest, package: Package, form: FileForm, status: int = 200
) -> HttpResponse:
    context: dict[str, Any] = {
        "page": files_page(package, request.viewer),
        "form": form,
        **frame(request, scheme=package.scheme, page="schemes"),
    }
    return render(request, "files_in/show_files.html", context, status=status)


def _show(request: HttpRequest, page: FilePage, status: int = 200) -> HttpResponse:
    context = {"page": page, **frame(request, scheme=page.package.scheme, page="schemes")}
    return render(request, "files_in/show_file.html", context, status=status)


@require_safe
def show_files(request: HttpRequest, scheme_id: int) -> HttpResponse:
    return _show_list(request, package_of(request, scheme_id), FileForm())


@takes_pictures
@require_POST
def bring_file(request: HttpRequest, scheme_id: int) -> HttpResponse:
    package = package_of(request, scheme_id)
    form = FileForm(request.POST, request.FILES)
    if form.is_valid():
        sent = form.cleaned_data["file"]
        try:
            brought = file_bringing.bring_file(package, sent.name, sent.file, request.user)
        except Refused as refused:
            form.add_error("file", says(refused.read, refused.expected))
        else:
            return redirect("show-file", scheme_id, brought.pk)
    return _show_list(request, package, form, REFUSED)


@require_POST
def bring_revision(request: HttpRequest, scheme_id: int, revision_id: int) -> HttpResponse:
    package = package_of(request, scheme_id)
    issued = access_studio.revisions_to_copy(request.viewer, package.scheme)
    revision = get_object_or_404(issued, pk=revision_id)
    brought = file_bringing.bring_revision(package, revision, request.user)
    return redirect("show-file", scheme_id, brought.pk)


@require_safe
def show_file(request: HttpRequest, scheme_id: int, file_id: int) -> HttpResponse:
    package = package_of(request, scheme_id)
    brought, tick = _file(package, file_id), request.GET.get("tick", "")
    page = FilePage(brought, package, system_of(request), tick=tick)
    return _show(request, page)


@require_POST
def answer_file(request: HttpRequest, scheme_id: int, file_id: int) -> HttpResponse:
    brought = _file(package_of(request, scheme_id), file_id)
    try:
        file_bringing.answer(brought, read_answers(request.POST))
    except Refused as refused:
        messages.error(request, says(refused.read, refused.expected))
    return redirect("show-file", scheme_id, brought.pk)


@require_POST
def take_file(request: HttpRequest, scheme_id: int, file_id: int) -> HttpResponse:
    package = package_of(request, scheme_id)
    brought, choices = _file(package, file_id), read_choices(request.POST)
    seen, read = (number_in(request.POST.get(name, ""), -1) for name in ("seen", "read"))
    try:
        changes = file_taking.take_over(brought, choices, request.user, seen=seen, read=read)
    except Newer as newer:
        now = (
            "Nothing was kept; this is how file and package look now. Look at the ticks once more."
        )
        messages.error(request, f"{_newer_words(newer)} {now}")
    except Refused as refused:
        messages.error(request, says(refused.read, refused.expected))
    else:
        said = "; ".join(f"{each.schedule}: {each.what}" for each in changes)
        messages.success(request, f"Kept: {said}." if said else "Nothing was to be kept.")
        return redirect("show-file", scheme_id, brought.pk)
    brought = _file(package, file_id)
    page = page_again(brought, package, system_of(request), choices, read)
    return _show(request, page, REFUSED)


def _newer_words(newer: Newer) -> str:
    what = f"{newer.kept.what}, by {newer.kept.by}" if newer.kept else "a change was undone"
    return f"Changed meanwhile: {what}."


@require_POST
def set_file_aside(request: HttpRequest, scheme_id: int, file_id: int) -> HttpResponse:
    file_taking.set_aside(_file(package_of(request, scheme_id), file_id))
    return redirect("show-files", scheme_id)


@require_POST
def undo_file(request: HttpRequest, scheme_id: int, file_id: int) -> HttpResponse:
    brought = _file(package_of(request, scheme_id), file_id)
    try:
        file_taking.undo_taking(brought, request.user)
    except Newer as newer:
        messages.error(request, f"{_newer_words(newer)} Nothing was undone.")
    except Change.DoesNotExist:
        messages.error(request, "Nothing of this file is here that could be undone.")
    else:
        messages.success(request, f"Undone: what {brought.name} brought in.")
    return redirect("show-file", scheme_id, brought.pk)


@require_safe
def show_origins(request: HttpRequest, scheme_id: int, slug: str) -> HttpResponse:
    package = read_package(request, scheme_id)
    schedule = next((each for each in SCHEDULES if each.slug == slug), None)
    if schedule is None:
        raise Http404(f"No schedule {slug}.")
    rows = origins_of(package, schedule, system_of(request))
    context = {
        "schedule": schedule,
        "rows": rows,
        "typed": [row.name for row in rows if not row.cells],
        **frame(request, scheme=package.scheme, page="schemes"),
    }
    return render(request, "files_in/show_origins.html", context)
