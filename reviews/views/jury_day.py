"""What a juror decides beside levels: what they saw, which revision, an interest, a change."""

from __future__ import annotations

from dataclasses import replace

from django.contrib import messages
from django.http import HttpResponse, HttpResponseRedirect
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import require_POST

from criteria.errors import Refused
from reviews import access
from reviews.access import HttpRequest
from reviews.deeds import (
    crit_interest_declaring,
    crit_jury_keeping,
    crit_level_changing,
    crit_revision_choosing,
)
from reviews.forms.jury import InterestForm, Judged
from reviews.forms.jury_day import ChangeLevelForm, ChooseRevisionForm, SeenForm
from reviews.models import Seat
from reviews.models.briefs import Frozen
from reviews.pages import jury_lines
from reviews.pages.jury_frame import jury_frame
from reviews.pages.jury_lines import Trouble, level_id
from reviews.reading.crit_sheets import issued_for, revision_shown
from reviews.surroundings import keep_on_device
from reviews.versions import Newer
from reviews.views.fetching import require_form
from reviews.views.home import next_of
from reviews.views.jury import KEPT, REFUSED, for_jurors, of_page, show_sheet, slot_of


@for_jurors
@require_POST
def take_up_revision(request: HttpRequest, seat: Seat, scheme_id: int) -> HttpResponse:
    slot = slot_of(seat, scheme_id)
    try:
        of = of_page(Judged(request.POST), seat, scheme_id)
        sheet = crit_jury_keeping.take_up_revision(seat, slot.scheme, of)
    except Frozen as closed:
        messages.warning(request, str(closed))
    else:
        messages.success(request, f"This sheet goes on with {sheet.revision}.")
    return redirect("show-jury-sheet", scheme_id)


@for_jurors
@require_form
def declare_interest(request: HttpRequest, seat: Seat, scheme_id: int) -> HttpResponse:
    slot = slot_of(seat, scheme_id)
    form = InterestForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        may_comment = form.cleaned_data["how"] == InterestForm.COMMENTS
        try:
            kept = crit_interest_declaring.declare_interest(
                seat, slot.scheme, form.cleaned_data["words"], may_comment=may_comment
            )
        except Frozen as closed:
            messages.warning(request, str(closed))
        else:
            messages.success(request, f"Kept, for the leader to read: {kept}.")
            if not may_comment:
                return redirect("show-jury")
        return redirect("show-jury-sheet", scheme_id)
    sheet = seat.sheets.on(scheme_id)
    revision = sheet.revision if sheet else revision_shown(seat.crit, slot.scheme)
    frame = jury_frame(request, slot=slot, revision=revision)
    context = {"form": form, "slot": slot, "is_open": access.can_judge(request.viewer, slot)}
    return render(request, "jury/declare_interest.html", frame | context)


@for_jurors
@require_POST
def take_own_interest_back(request: HttpRequest, seat: Seat, scheme_id: int) -> HttpResponse:
    interest = get_object_or_404(seat.interests.standing(), scheme_id=scheme_id)
    try:
        crit_interest_declaring.take_back_interest(interest)
        messages.success(request, f"Taken back. {interest.scheme} is on your list as before.")
    except Frozen as closed:
        messages.warning(request, str(closed))
    return redirect("show-jury")


@for_jurors
@require_POST
def tell_seen(request: HttpRequest, seat: Seat, scheme_id: int) -> HttpResponse:
    slot = slot_of(seat, scheme_id)
    form, of = SeenForm(request.POST), of_page(Judged(request.POST), seat, scheme_id)
    in_part = form.is_valid() and form.cleaned_data["in_part"]
    try:
        crit_jury_keeping.tell_seen(seat, slot.scheme, in_part=in_part, of=of)
    except Frozen as closed:
        messages.warning(request, str(closed))
    return redirect("show-jury-sheet", scheme_id)


@for_jurors
@require_POST
def choose_revision(request: HttpRequest, seat: Seat, scheme_id: int) -> HttpResponse:
    slot = slot_of(seat, scheme_id)
    form = ChooseRevisionForm(request.POST, among=issued_for(seat.crit, slot.scheme))
    if form.is_valid():
        try:
            crit_revision_choosing.choose_revision(seat, slot, form.cleaned_data["revision"])
        except Frozen as closed:
            messages.warning(request, str(closed))
    else:
        messages.warning(request, form.errors_in_words)
    return redirect("show-jury-sheet", scheme_id)


@for_jurors
@require_POST
def change_level(
    request: HttpRequest, seat: Seat, scheme_id: int, criterion_id: int
) -> HttpResponse:
    slot = slot_of(seat, scheme_id)
    criterion = get_object_or_404(seat.crit.criteria, pk=criterion_id)
    form, status, trouble = ChangeLevelForm(request.POST), KEPT, None
    if form.is_valid():
        level, reason, seen = (form.cleaned_data[name] for name in ("level", "reason", "seen"))
        sent = f"{jury_lines.say_level(level)}: {reason}"
        try:
            crit_level_changing.change_level(seat, slot.scheme, criterion, level, reason, seen)
        except Refused as refused:
            trouble = Trouble(f"Read {refused.read}. Expected {refused.expected}.", sent)
        except (Newer, Frozen) as refusal:
            status, trouble = REFUSED, jury_lines.trouble_of(refusal, sent)
    else:
        trouble = Trouble(form.errors_in_words)
    if trouble:
        trouble = replace(trouble, words=form.data.get("reason", ""))
        troubles = {level_id(criterion): trouble}
        return show_sheet(request, seat, scheme_id, troubles=troubles, status=status)
    return redirect(reverse("show-jury-sheet", args=[scheme_id]) + f"#{level_id(criterion)}")


@for_jurors
@require_POST
def switch_hand(request: HttpRequest, seat: Seat) -> HttpResponse:
    hand = "left" if request.POST.get("hand") == "left" else "right"
    return keep_on_device(HttpResponseRedirect(next_of(request)), "hand", hand)
