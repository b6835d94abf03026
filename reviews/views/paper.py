"""Jury sheets on paper: made, downloaded, and typed in again by a leader."""

from __future__ import annotations

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.http.response import HttpResponseBase
from django.shortcuts import get_object_or_404, redirect
from django.urls import reverse
from django.views.decorators.http import require_safe

from criteria.errors import Refused
from reviews import access, access_day
from reviews.access import HttpRequest
from reviews.deeds import (
    audit_keeping,
    crit_levels_bringing,
    crit_paper_typing,
    paper_making,
)
from reviews.deeds.crit_jury_keeping import Unfinished
from reviews.forms.fields import says
from reviews.forms.paper import PaperForm
from reviews.models import Crit, Scheme, Seat, Slot
from reviews.models.briefs import Frozen
from reviews.pages.page_frame import frame
from reviews.pages.paper_page import issued_for, paper_page
from reviews.reading.file_sending import Sent, send_file
from reviews.reading.recrit_scope import asked_of
from reviews.versions import Newer
from reviews.views.bringing import bring_in
from reviews.views.fetching import led_crit, require_form
from reviews.views.moderation import show_moderation


def _crit(request: HttpRequest, crit_id: int) -> Crit:
    crits = access.crits(request.viewer).select_related("studio__brief")
    crit = get_object_or_404(crits, pk=crit_id)
    access.require(access_day.can_take_paper(request.viewer, crit))
    return crit


@require_form
def show_paper(request: HttpRequest, crit_id: int) -> HttpResponse:
    crit = _crit(request, crit_id)
    if request.method == "POST":
        access.require(access.can_lead(request.viewer, crit.studio_id))
        paper_making.ask_for_paper(crit, request.user)
        messages.success(request, "The sheets are being made. Open this page again in a minute.")
        return redirect("show-paper", crit.pk)
    return show_moderation(request, "show_paper", crit, page=paper_page(request.viewer, crit))


@require_safe
def download_paper(request: HttpRequest, crit_id: int) -> HttpResponseBase:
    crit = _crit(request, crit_id)
    made = crit.paper.first()
    if made is None:
        raise Http404("No paper was made yet.")
    name = f"Jury sheets {crit.studio.title} {crit}.pdf"
    sent = Sent(f"paper-{made.pk}", made.made_at, "application/pdf", name, is_attachment=True)
    try:
        return send_file(request, made.file, sent)
    except FileNotFoundError:
        raise Http404("The file is missing. Have the sheets made again.") from None


@require_form
def type_sheet(request: HttpRequest, crit_id: int, seat_id: int, scheme_id: int) -> HttpResponse:
    crit = led_crit(request, crit_id)
    seat, scheme = _of_paper(crit, seat_id, scheme_id)
    access.require(access.can_moderate(request.viewer, crit, scheme.pk))
    sheet = seat.sheets.on(scheme.pk)
    if sheet:
        audit_keeping.read_levels(crit, request.user, scheme)
    shown = sheet if sheet and sheet.typed_by_id else None
    form = PaperForm(
        request.POST or None,
        sheet=shown,
        criteria=[] if seat.interest_in(scheme.pk) else asked_of(crit, scheme.pk),
        revisions=issued_for(crit, scheme),
    )
    if request.method == "POST" and form.is_valid() and _is_kept(request, seat, scheme, form):
        return redirect("type-sheet", crit.pk, seat.pk, scheme.pk)
    return show_moderation(
        request,
        "type_sheet",
        crit,
        of=scheme,
        seat=seat,
        sheet=shown,
        form=form,
        why_not=crit_paper_typing.why_not_typed(seat, scheme),
        status=409 if form.is_bound and form.is_valid() else 200,
    )


@require_form
def bring_levels_in(request: HttpRequest, crit_id: int) -> HttpResponse:
    """Take the levels of many sheets from one table; whoever looks at it is shown levels."""
    crit = led_crit(request, crit_id)
    closed = access.closed_schemes(request.viewer, crit)
    if request.method == "POST":
        audit_keeping.read_levels(crit, request.user)
    return bring_in(
        request,
        crit_levels_bringing.LEVELS,
        read=lambda typed, _: crit_levels_bringing.read_levels(crit, typed, closed),
        keep=lambda form: (
            crit_levels_bringing.bring_in_levels(
                crit, form.table, request.user, closed=closed, seen=form.seen_change
            ).what
        ),
        page="crits/bring_in_levels.html",
        context=frame(request, crit=crit, page="crits") | {"crit": crit},
        done=reverse("show-paper", args=[crit.pk]),
    )


def _of_paper(crit: Crit, seat_id: int, scheme_id: int) -> tuple[Seat, Scheme]:
    """A juror and a scheme that they see."""
    seat = get_object_or_404(crit.seats.named(), pk=seat_id)
    seen = Slot.objects.seen_by(seat).select_related("scheme__studio")
    return seat, get_object_or_404(seen, scheme_id=scheme_id).scheme


def _is_kept(request: HttpRequest, seat: Seat, scheme: Scheme, form: PaperForm) -> bool:
    """Keep what was typed; where it can't be, say why above it, and leave it typed."""
    try:
        kept = crit_paper_typing.type_in(seat, scheme, form.typed(), request.user)
    except Frozen as closed:
        form.trouble = str(closed)
    except Newer as newer:
        form.trouble = f"Kept by somebody else meanwhile: {newer.kept}. Open the page again to see."
    except Unfinished as left:
        form.trouble = f"It can't be locked yet: no level, and not “not mine”, for {left}."
    except Refused as refused:
        form.trouble = says(refused.read, refused.expected)
    else:
        state = "kept and locked" if kept.is_locked else "kept, not locked yet"
        messages.success(request, f"From paper: {kept}, {state}.")
        return True
    return False
