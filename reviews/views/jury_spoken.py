"""A juror's own spoken notes: confirmed, worded, taken off, or claimed."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any
from uuid import UUID

from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils.cache import get_conditional_response
from django.utils.http import quote_etag
from django.views.decorators.http import require_POST, require_safe

from criteria.errors import Refused
from reviews import access
from reviews.access import HttpRequest
from reviews.deeds import crit_spoken
from reviews.deeds.crit_sheet_in_hand import NOTHING_SHOWN
from reviews.forms.jury import Judged
from reviews.forms.spoken import SpokenForm, spoken_form
from reviews.models import Seat, Slot
from reviews.models.briefs import Frozen
from reviews.models.spoken import SpokenNote
from reviews.pages.jury_frame import jury_frame
from reviews.pages.jury_lines import say_contents
from reviews.pages.spoken_notes import NoteTrouble, OwnNote
from reviews.reading.crit_sheets import revision_shown
from reviews.versions import Newer
from reviews.views.jury import for_jurors
from reviews.views.spoken_section import own_note, spoken_of

KEPT, REFUSED = 200, 409


def _slot(seat: Seat, scheme_id: int) -> Slot:
    slots = access.seen_slots(seat).select_related("scheme", "crit")
    return get_object_or_404(slots, scheme_id=scheme_id)


def _of(seat: Seat, slot: Slot) -> int:
    sheet = seat.sheets.on(slot.scheme_id)
    if sheet:
        return sheet.revision_id or NOTHING_SHOWN
    shown = revision_shown(seat.crit, slot.scheme)
    return shown.pk if shown else NOTHING_SHOWN


@for_jurors
@require_safe
def show_spoken(request: HttpRequest, seat: Seat, scheme_id: int) -> HttpResponse:
    slot = _slot(seat, scheme_id)
    context = spoken_of(request, seat, slot, _of(seat, slot))
    if request.htmx:
        tag = quote_etag(context["spoken"].fingerprint[:32])
        answer = get_conditional_response(request, tag)
        return answer or _with_tag(render(request, "jury/_spoken.html", context), tag)
    around = jury_frame(request, slot=slot)
    return render(request, "jury/show_spoken.html", around | context)


def _with_tag(response: HttpResponse, tag: str) -> HttpResponse:
    response["ETag"] = tag
    return response


def _answer(
    request: HttpRequest, seat: Seat, slot: Slot, own: OwnNote, status: int
) -> HttpResponse:
    """One note for a device that asked for it; else the page of them, or the way to the sheet."""
    context = spoken_of(request, seat, slot, _of(seat, slot))
    if request.htmx:
        return render(request, "jury/_spoken_note.html", context | {"own": own}, status=status)
    if own.trouble:
        notes = [own if own.id == each.id else each for each in context["spoken_notes"]]
        around = jury_frame(request, slot=slot) | context | {"spoken_notes": notes}
        return render(request, "jury/show_spoken.html", around, status=status)
    return redirect(reverse("show-jury-sheet", args=[slot.scheme_id]) + f"#{own.id}")


def _note(seat: Seat, slot: Slot, key: UUID) -> SpokenNote:
    notes = SpokenNote.objects.for_juror(seat, slot.scheme_id).with_places()
    return get_object_or_404(notes.select_related("comment", "slot__scheme"), key=key)


def _do(
    request: HttpRequest,
    seat: Seat,
    slot: Slot,
    key: UUID,
    form_of: Callable[[SpokenNote, int], Judged],
    deed: Callable[[SpokenNote, Any], SpokenNote],
) -> HttpResponse:
    """Do one thing to a note; what is refused is shown beside it with all that was sent."""
    note, of = _note(seat, slot, key), _of(seat, slot)
    is_open = access.can_judge(request.viewer, slot)
    form = form_of(note, of)
    if not form.is_valid():
        own = OwnNote(note, _again(form, note, of), NoteTrouble(form.errors_in_words))
        return _answer(request, seat, slot, own, REFUSED)
    try:
        note = deed(note, form)
    except Refused as refused:
        form.add_error("place", f"Read “{refused.read}”. Expected {refused.expected}.")
        own = OwnNote(note, _again(form, note, of), NoteTrouble(form.errors_in_words))
        return _answer(request, seat, slot, own, REFUSED)
    except (Newer, Frozen) as refusal:
        own = _refused(note, of, form, refusal)
        return _answer(request, seat, slot, own, REFUSED)
    return _answer(request, seat, slot, own_note(note, of, is_open=is_open), KEPT)


def _again(form: Judged, note: SpokenNote, of: int) -> Judged:
    return form if isinstance(form, SpokenForm) else spoken_form(note, of)


def _refused(note: SpokenNote, of: int, form: Judged, refusal: Newer | Frozen) -> OwnNote:
    if isinstance(refusal, Frozen):
        return OwnNote(note, _again(form, note, of), NoteTrouble(str(refusal)))
    kept = refusal.kept if isinstance(refusal.kept, SpokenNote) else note
    stands = say_contents(crit_spoken.said_as(kept))
    trouble = NoteTrouble("The scribe put it right meanwhile.", stands)
    sent = {**form.data.dict(), "seen": kept.version} if isinstance(form, SpokenForm) else None
    return OwnNote(kept, spoken_form(kept, of, sent), trouble)


@for_jurors
@require_POST
def confirm_spoken(request: HttpRequest, seat: Seat, scheme_id: int, key: UUID) -> HttpResponse:
    def confirm(note: SpokenNote, form: SpokenForm) -> SpokenNote:
        sent = form.cleaned_data
        return crit_spoken.confirm(note, seat, form.sent(), sent["seen"], of=sent["of"])

    def form_of(note: SpokenNote, of: int) -> SpokenForm:
        return spoken_form(note, of, request.POST)

    return _do(request, seat, _slot(seat, scheme_id), key, form_of, confirm)


def _plain(request: HttpRequest) -> Callable[[SpokenNote, int], Judged]:
    return lambda note, of: Judged(request.POST)


@for_jurors
@require_POST
def take_spoken_off(request: HttpRequest, seat: Seat, scheme_id: int, key: UUID) -> HttpResponse:
    def take_off(note: SpokenNote, form: Judged) -> SpokenNote:
        access.require(note.seat_id == seat.pk)
        return crit_spoken.take_off(note, form.cleaned_data["seen"], by_juror=True)

    return _do(request, seat, _slot(seat, scheme_id), key, _plain(request), take_off)


@for_jurors
@require_POST
def put_spoken_back(request: HttpRequest, seat: Seat, scheme_id: int, key: UUID) -> HttpResponse:
    def put_back(note: SpokenNote, form: Judged) -> SpokenNote:
        return crit_spoken.put_back(note, form.cleaned_data["seen"], by_juror=True)

    return _do(request, seat, _slot(seat, scheme_id), key, _plain(request), put_back)


@for_jurors
@require_POST
def claim_spoken(request: HttpRequest, seat: Seat, scheme_id: int, key: UUID) -> HttpResponse:
    """That was me, of a note of nobody known; or that wasn't, of an own one."""

    def claim(note: SpokenNote, form: Judged) -> SpokenNote:
        whose = None if note.seat_id else seat
        return crit_spoken.say_whose(note, whose, form.cleaned_data["seen"])

    return _do(request, seat, _slot(seat, scheme_id), key, _plain(request), claim)
