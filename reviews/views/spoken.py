"""The scribe's pages, and the leader's hand on what was said aloud."""

from __future__ import annotations

from uuid import UUID

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import require_POST, require_safe

from criteria.errors import Refused
from reviews import access, access_day
from reviews.access import HttpRequest
from reviews.deeds import crit_spoken
from reviews.deeds.crit_spoken import heard
from reviews.forms.jury import Saved
from reviews.forms.moderation import ReasonForm
from reviews.forms.spoken import LineForm, RightForm, right_form
from reviews.models import Comment, Crit, Slot
from reviews.models.briefs import Frozen
from reviews.models.spoken import SpokenNote
from reviews.pages.page_frame import frame
from reviews.pages.scribe_page import (
    Jurors,
    LineShown,
    Trouble,
    jurors_of,
    line_shown,
    say_heard,
    scribe_page,
    slot_lines,
)
from reviews.versions import Newer
from reviews.views.fetching import require_form
from reviews.views.home import next_of
from reviews.views.moderation import show_moderation

KEPT, REFUSED = 200, 409


def _crit(request: HttpRequest, crit_id: int) -> Crit:
    crits = access.crits(request.viewer).select_related("studio__brief")
    crit = get_object_or_404(crits, pk=crit_id)
    access.require(access_day.can_scribe(request.viewer, crit))
    return crit


def _slot(request: HttpRequest, crit_id: int, scheme_id: int) -> Slot:
    crit = _crit(request, crit_id)
    slot = get_object_or_404(crit.slots.select_related("scheme"), scheme_id=scheme_id)
    slot.crit = crit
    access.require(access_day.can_take_notes(request.viewer, slot))
    return slot


def _line(request: HttpRequest, slot: Slot, key: UUID) -> SpokenNote:
    lines = access_day.lines_of(request.viewer, slot).with_places()
    note = get_object_or_404(lines, key=key)
    note.slot = slot
    return note


@require_safe
def show_scribe(request: HttpRequest, crit_id: int) -> HttpResponse:
    crit = _crit(request, crit_id)
    slots = slot_lines(request.viewer, crit)
    context = {"slots": slots, "on": [each for each in slots if each.is_on], "crit": crit}
    around = frame(request, studio=crit.studio, crit=crit, page="crits")
    return render(request, "spoken/show_scribe.html", around | context)


@require_safe
def scribe_slot(request: HttpRequest, crit_id: int, scheme_id: int) -> HttpResponse:
    return _show(request, _slot(request, crit_id, scheme_id))


def _show(
    request: HttpRequest,
    slot: Slot,
    *,
    line: LineShown | None = None,
    form: LineForm | None = None,
    status: int = KEPT,
) -> HttpResponse:
    """The page; a line that wasn't kept stands in it with everything that was sent."""
    page = scribe_page(
        request.viewer,
        slot,
        _form,
        can_see=access.revisions(request.viewer).contains,
        shown=[line] if line else [],
    )
    around = frame(request, studio=slot.crit.studio, crit=slot.crit, page="crits")
    context = {"page": page, "crit": slot.crit, "slot": slot, "form": form or LineForm()}
    context["kinds"] = Comment.Kind.values
    return render(request, "spoken/scribe_slot.html", around | context, status=status)


def _form(note: SpokenNote, jurors: Jurors) -> RightForm:
    return right_form(note, jurors.all)


def _answer(request: HttpRequest, slot: Slot, line: LineShown, status: int) -> HttpResponse:
    """One line for a device that asked for it; else the page, or the way back to it."""
    if request.htmx:
        context = {"line": line, "crit": slot.crit, "slot": slot}
        return render(request, "spoken/_line.html", context, status=status)
    if line.trouble:
        return _show(request, slot, line=line, status=status)
    here = reverse("scribe-slot", args=[slot.crit_id, slot.scheme_id])
    return redirect(f"{here}#{line.id}")


@require_POST
def keep_line(request: HttpRequest, crit_id: int, scheme_id: int) -> HttpResponse:
    slot = _slot(request, crit_id, scheme_id)
    form = LineForm(request.POST)
    if not form.is_valid():
        return _show(request, slot, form=form, status=REFUSED)
    sent = form.cleaned_data
    try:
        note = crit_spoken.keep_line(
            slot,
            request.user,
            sent["key"],
            sent["typed"],
            of=sent["of"],
            is_gap=sent["gap"],
            said_at=sent["said_at"],
        )
    except Frozen as closed:
        form.add_error("line", str(closed))
        return _show(request, slot, form=form, status=REFUSED)
    note.slot = slot
    jurors = jurors_of(slot.crit, slot)
    return _answer(request, slot, line_shown(note, jurors, _form(note, jurors)), KEPT)


@require_POST
def put_line_right(request: HttpRequest, crit_id: int, scheme_id: int, key: UUID) -> HttpResponse:
    slot = _slot(request, crit_id, scheme_id)
    note, jurors = _line(request, slot, key), jurors_of(slot.crit, slot)
    form = right_form(note, jurors.all, request.POST)
    trouble, status = None, KEPT
    if not form.is_valid():
        trouble, status = Trouble(form.errors_in_words), REFUSED
    else:
        try:
            note = crit_spoken.put_right(note, form.sent(), form.cleaned_data["seen"])
        except Refused as refused:
            form.add_error("place", f"Read “{refused.read}”. Expected {refused.expected}.")
            trouble, status = Trouble(form.errors_in_words), REFUSED
        except Newer as newer:
            stands, sent = say_heard(heard(newer.kept), jurors), say_heard(newer.sent, jurors)
            trouble, status = Trouble("It was put right meanwhile.", stands, sent), REFUSED
            note = newer.kept
            form = right_form(note, jurors.all, {**request.POST.dict(), "seen": note.version})
        except Frozen as closed:
            trouble, status = Trouble(str(closed)), REFUSED
    note.slot = slot
    shown = line_shown(note, jurors, form if trouble else _form(note, jurors), trouble)
    return _answer(request, slot, shown, status)


@require_POST
def take_line_off(request: HttpRequest, crit_id: int, scheme_id: int, key: UUID) -> HttpResponse:
    return _change(request, _slot(request, crit_id, scheme_id), key, is_off=True)


@require_POST
def put_line_back(request: HttpRequest, crit_id: int, scheme_id: int, key: UUID) -> HttpResponse:
    return _change(request, _slot(request, crit_id, scheme_id), key, is_off=False)


def _change(request: HttpRequest, slot: Slot, key: UUID, *, is_off: bool) -> HttpResponse:
    note, form = _line(request, slot, key), Saved(request.POST)
    deed = crit_spoken.take_off if is_off else crit_spoken.put_back
    trouble, status = None, KEPT
    if not form.is_valid():
        trouble, status = Trouble(form.errors_in_words), REFUSED
    else:
        try:
            note = deed(note, form.cleaned_data["seen"])
        except Newer as newer:
            trouble, status, note = Trouble("It was changed meanwhile."), REFUSED, newer.kept
        except Frozen as closed:
            trouble, status = Trouble(str(closed)), REFUSED
    note.slot = slot
    jurors = jurors_of(slot.crit, slot)
    return _answer(request, slot, line_shown(note, jurors, _form(note, jurors), trouble), status)


@require_form
def hold_spoken(request: HttpRequest, note_id: int) -> HttpResponse:
    note = _led(request, note_id)
    crit, scheme = note.slot.crit, note.slot.scheme
    back = next_of(request, reverse("moderate-scheme", args=[crit.pk, scheme.pk]))
    form = ReasonForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        crit_spoken.hold_note(note, request.user, form.cleaned_data["reason"])
        messages.success(request, "Held. Students do not read it.")
        return redirect(back)
    return show_moderation(request, "hold_spoken", crit, of=scheme, note=note, form=form, back=back)


@require_POST
def let_go_spoken(request: HttpRequest, note_id: int) -> HttpResponse:
    note = _led(request, note_id)
    crit_spoken.let_go_note(note, request.user)
    when = "now" if note.slot.crit.is_released else "once comments go out"
    messages.success(request, f"Held no more. Students read it {when}.")
    return redirect("moderate-scheme", note.slot.crit_id, note.slot.scheme_id)


def _led(request: HttpRequest, note_id: int) -> SpokenNote:
    notes = access_day.led_spoken(request.viewer).with_places()
    notes = notes.select_related("slot__crit__studio", "slot__scheme__studio")
    note = get_object_or_404(notes, pk=note_id)
    access.require(access.can_moderate(request.viewer, note.slot.crit, note.slot.scheme_id))
    return note
