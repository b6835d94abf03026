"""The quiet round of a pin-up: classmates leave a Keep and an Ask, their leader closes it."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_POST, require_safe

from reviews import access, access_studio
from reviews.access import HttpRequest
from reviews.deeds import quiet_round_keeping
from reviews.deeds.quiet_round_keeping import NoteSent
from reviews.forms.quiet_round import NoteForm
from reviews.forms.rows import read_save
from reviews.models import Crit, QuietNote, Scheme
from reviews.models.briefs import Frozen
from reviews.pages.page_frame import frame
from reviews.pages.quiet_round_page import quiet_round_page
from reviews.versions import Newer

REFUSED = 409


def _round(request: HttpRequest, crit_id: int) -> Crit:
    rounds = access_studio.quiet_rounds(request.viewer)
    found = rounds.select_related("studio__brief", "quiet_closed_by")
    crit = get_object_or_404(found, pk=crit_id)
    access.require(access_studio.can_see_round(request.viewer, crit))
    return crit


def _led(request: HttpRequest, crit_id: int) -> Crit:
    crit = _round(request, crit_id)
    access.require(access_studio.can_close_round(request.viewer, crit))
    return crit


def _show(
    request: HttpRequest,
    crit: Crit,
    sent: NoteForm | None = None,
    *,
    newer: Newer | None = None,
    frozen: str = "",
    status: int = 200,
) -> HttpResponse:
    """The page, or one note of it; a form that was sent and not kept stands as it was sent."""
    context: dict[str, Any] = {"crit": crit, "newer": newer, "frozen": frozen, "sent": sent}
    if request.htmx and sent:
        return render(request, "quiet_round/_note.html", context | {"form": sent}, status=status)

    def make(scheme: Scheme, kind: str, stands: QuietNote | None) -> NoteForm:
        form = NoteForm(scheme=scheme, kind=kind, stands=stands)
        return sent if sent and sent.unit == form.unit else form

    context |= {"page": quiet_round_page(request.viewer, crit, make)}
    context |= frame(request, studio=crit.studio, crit=crit, page="crits")
    return render(request, "quiet_round/show_quiet_round.html", context, status=status)


@require_safe
def show_quiet_round(request: HttpRequest, crit_id: int) -> HttpResponse:
    return _show(request, _round(request, crit_id))


@require_POST
def keep_quiet_note(request: HttpRequest, crit_id: int, scheme_id: int) -> HttpResponse:
    crit = _round(request, crit_id)
    access.require(access_studio.can_leave_notes(request.viewer, crit))
    scheme = get_object_or_404(crit.studio.schemes.standing(), pk=scheme_id)
    access.require(not access.is_own(request.viewer, scheme.pk))
    form = NoteForm(request.POST, scheme=scheme, kind=request.POST.get("kind", ""))
    if not form.is_valid():
        return _show(request, crit, form)
    data = form.cleaned_data
    words = "" if "off" in request.POST else data["words"]
    sent = NoteSent(data["note"], data["kind"], words)
    seen = read_save(request.POST).seen
    try:
        kept = quiet_round_keeping.keep_note(crit, scheme, request.user, sent, seen)
    except Newer as newer:
        form.stands = newer.kept
        return _show(request, crit, form, newer=newer, status=REFUSED)
    except Frozen as closed:
        return _show(request, crit, form, frozen=str(closed), status=REFUSED)
    if request.htmx:
        return _show(request, crit, NoteForm(scheme=scheme, kind=sent.kind, stands=kept))
    messages.success(request, f"{sent.kind} on {scheme}: {'kept' if kept else 'taken off'}.")
    return redirect("show-quiet-round", crit_id)


@require_POST
def take_quiet_note_off(request: HttpRequest, crit_id: int, note_id: int) -> HttpResponse:
    crit = _led(request, crit_id)
    notes = crit.quiet_notes.standing().select_related("scheme", "by")
    quiet_round_keeping.take_off(get_object_or_404(notes, pk=note_id), request.user)
    messages.success(request, "The note is taken off: its scheme doesn’t read it.")
    return redirect("show-quiet-round", crit_id)


@require_POST
def close_quiet_round(request: HttpRequest, crit_id: int) -> HttpResponse:
    quiet_round_keeping.close_round(_led(request, crit_id), request.user)
    messages.success(request, "The round is closed. Each scheme reads what was left on it.")
    return redirect("show-quiet-round", crit_id)


@require_POST
def open_quiet_round(request: HttpRequest, crit_id: int) -> HttpResponse:
    quiet_round_keeping.open_round(_led(request, crit_id), request.user)
    messages.success(request, "The round is open again. Until it is closed nobody reads the notes.")
    return redirect("show-quiet-round", crit_id)
