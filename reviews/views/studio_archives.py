"""A whole studio out as an archive, and in from one."""

from __future__ import annotations

from tempfile import TemporaryFile

from django.contrib import messages
from django.http import FileResponse, HttpResponse
from django.http.response import HttpResponseBase
from django.shortcuts import redirect, render
from django.utils.text import slugify

from criteria.errors import InputError
from reviews import access, access_studio, clock
from reviews.access import HttpRequest
from reviews.deeds import studio_archive_waiting as waiting
from reviews.deeds.studio_archive_bringing import Told, bring_studio, look_at
from reviews.deeds.studio_archive_writing import write_studio
from reviews.forms.studio_archives import StudioInForm, StudioOutForm
from reviews.pages.page_frame import frame
from reviews.request_size import takes_pictures
from reviews.views.fetching import require_form, seen_studio


@require_form
def take_studio_out(request: HttpRequest, studio_id: int) -> HttpResponseBase:
    studio = seen_studio(request, studio_id)
    access.require(access_studio.can_take_studio_out(request.viewer, studio))
    form = StudioOutForm(request.POST or None)
    at_work = list(access_studio.crits_at_work(studio))
    if request.method == "POST" and not at_work:
        is_told = bool(request.POST.get("with_addresses"))
        out = TemporaryFile()  # noqa: SIM115 (the answer closes it)
        write_studio(studio, out, request.user, with_addresses=is_told)
        out.seek(0)
        name = f"{slugify(studio.title) or 'studio'}-{clock.today():%Y-%m-%d}.zip"
        return FileResponse(out, as_attachment=True, filename=name, content_type="application/zip")
    context = frame(request, studio=studio, page="schemes") | {"form": form, "at_work": at_work}
    return render(request, "studio_archives/take_studio_out.html", context)


@takes_pictures
@require_form
def bring_studio_in(request: HttpRequest) -> HttpResponse:
    access.require(request.viewer.is_coordinator)
    form = StudioInForm(request.POST or None, request.FILES or None)
    told, mark = None, ""
    if request.method == "POST" and form.is_valid():
        mark = form.cleaned_data["receipt"]
        try:
            if mark and not form.cleaned_data["file"]:
                return _brought(request, mark, is_copy=form.cleaned_data["is_copy"])
            mark, told = _looked_at(request, form)
        except InputError as refused:
            form.add_error("file", str(refused))
    context = frame(request) | {"form": form, "told": told, "mark": mark}
    return render(request, "studio_archives/bring_studio_in.html", context)


def _looked_at(request: HttpRequest, form: StudioInForm) -> tuple[str, Told]:
    """Keep what was sent by, and say what it would do."""
    if not form.cleaned_data["file"]:
        raise InputError("Read nothing. Expected a ZIP that a studio’s evidence page made.")
    mark = waiting.lay_by(form.cleaned_data["file"], request.user)
    try:
        with waiting.laid_by(mark, request.user) as archive:
            return mark, look_at(archive, request.user)
    except InputError:
        waiting.let_go(mark, request.user)
        raise


def _brought(request: HttpRequest, mark: str, *, is_copy: bool) -> HttpResponse:
    with waiting.laid_by(mark, request.user) as archive:
        told = bring_studio(archive, request.user, is_copy=is_copy)
    waiting.let_go(mark, request.user)
    assert told.brought is not None
    messages.success(request, f"{told.brought} is brought in. Whoever has an account is invited.")
    return redirect("show-studio", told.brought.pk)
