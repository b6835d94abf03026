"""Desk crits of a scheme: read, noted by its leader, and their steps ticked."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.http.response import HttpResponseBase
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_POST, require_safe

from criteria.errors import Refused
from reviews import access, access_studio
from reviews.access import HttpRequest
from reviews.deeds.desk_crit_keeping import keep_desk_crit as keep
from reviews.deeds.desk_crit_keeping import says
from reviews.deeds.desk_crit_keeping import tick_step as tick
from reviews.deeds.desk_photo_keeping import keep_photo
from reviews.deeds.sheet_line import said
from reviews.forms.desk import DeskForm, PhotoForm
from reviews.forms.rows import read_save
from reviews.models import DeskCrit, NextStep, Scheme
from reviews.models.briefs import Frozen
from reviews.pages.desk_page import desk_page, note_in_hand
from reviews.pages.page_frame import frame
from reviews.pages.ways_on import ways_on
from reviews.reading.sheet_pictures import send_picture
from reviews.request_size import takes_pictures
from reviews.versions import Newer

REFUSED = 409


def _scheme(request: HttpRequest, scheme_id: int) -> Scheme:
    held = access.packages(request.viewer).select_related("studio__brief")
    return get_object_or_404(held, pk=scheme_id)


def _led(request: HttpRequest, scheme_id: int) -> Scheme:
    scheme = _scheme(request, scheme_id)
    access.require(access_studio.can_note_desk_crit(request.viewer, scheme))
    return scheme


def _sent_of(request: HttpRequest, scheme: Scheme) -> DeskCrit | None:
    """The note that is sent, where it is kept already."""
    note: DeskCrit | None = scheme.desk_crits.of_key(request.POST.get("note", ""), request.user)
    return note


def _show(
    request: HttpRequest,
    scheme: Scheme,
    note: DeskCrit | None,
    *,
    form: DeskForm | None = None,
    photo: PhotoForm | None = None,
    status: int = 200,
    **trouble: Any,
) -> HttpResponse:
    form = form or DeskForm(note=note)
    context = {
        "scheme": scheme,
        "note": note,
        "form": form,
        "photo": photo or PhotoForm(key=form["note"].value()),
        "version": note.version if note else 0,
        **{"newer": None, "frozen": "", **trouble},
    }
    if request.htmx:
        return render(request, "desk/_note.html", context, status=status)
    context |= {"page": desk_page(request.viewer, scheme, note), "ways": ways_on(request, scheme)}
    context |= frame(request, scheme=scheme, page="schemes")
    return render(request, "desk/show_desk.html", context, status=status)


@require_safe
def show_desk(request: HttpRequest, scheme_id: int) -> HttpResponse:
    scheme = _scheme(request, scheme_id)
    note = note_in_hand(request.viewer, scheme, request.GET.get("note", ""))
    return _show(request, scheme, note)


@takes_pictures
@require_POST
def keep_desk_crit(request: HttpRequest, scheme_id: int) -> HttpResponse:
    scheme = _led(request, scheme_id)
    note = _sent_of(request, scheme)
    form = DeskForm(request.POST, request.FILES, note=note)
    if not form.is_valid():
        return _show(request, scheme, note, form=form)
    key, seen = form.cleaned_data["note"], read_save(request.POST).seen
    try:
        note = keep(scheme, key, form.sent, seen, request.user)
    except Newer as newer:
        return _show(request, scheme, newer.kept, form=form, newer=says(newer.kept), status=REFUSED)
    except Frozen as frozen:
        return _show(request, scheme, note, form=form, frozen=str(frozen), status=REFUSED)
    except DeskCrit.DoesNotExist:
        access.require(False)
    if "photo" in request.FILES:
        return _take_photo(request, scheme, PhotoForm(request.POST, request.FILES))
    if request.htmx:
        return _show(request, scheme, note)
    messages.success(request, "The desk crit is kept.")
    return redirect("show-desk", scheme_id)


@takes_pictures
@require_POST
def keep_desk_photo(request: HttpRequest, scheme_id: int) -> HttpResponse:
    scheme = _led(request, scheme_id)
    return _take_photo(request, scheme, PhotoForm(request.POST, request.FILES))


def _take_photo(request: HttpRequest, scheme: Scheme, form: PhotoForm) -> HttpResponse:
    if form.is_valid():
        try:
            keep_photo(scheme, form.cleaned_data["note"], form.cleaned_data["photo"], request.user)
        except Refused as refused:
            form.add_error("photo", said(refused))
        else:
            messages.success(request, "The photo is kept.")
            return redirect("show-desk", scheme.pk)
    note = _sent_of(request, scheme)
    return _show(request, scheme, note, photo=form)


@require_POST
def tick_step(request: HttpRequest, scheme_id: int, step_id: int) -> HttpResponse:
    scheme = _scheme(request, scheme_id)
    access.require(access_studio.can_tick_step(request.viewer, scheme))
    steps = NextStep.objects.select_related("desk_crit__scheme")
    step = get_object_or_404(steps, pk=step_id, desk_crit__scheme=scheme)
    tick(step, request.user, is_done=request.POST.get("done") != "no")
    return redirect("show-desk", scheme_id)


@require_safe
def show_desk_photo(
    request: HttpRequest, scheme_id: int, desk_id: int, size: str
) -> HttpResponseBase:
    scheme = _scheme(request, scheme_id)
    note = get_object_or_404(scheme.desk_crits.select_related("photo"), pk=desk_id)
    if note.photo is None:
        raise Http404("No photo was taken.")
    return send_picture(request, note.photo, size, f"{scheme.number}-desk-{note.pk}")
