"""The evening list: read by the leader, decided, sent without levels; jurors asked for words."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.urls import reverse
from django.views.decorators.http import require_POST

from reviews import access, access_day
from reviews.access import HttpRequest
from reviews.deeds import crit_evening
from reviews.deeds.crit_releasing import Changed
from reviews.forms.evening import EveningForm
from reviews.forms.fields import number_in
from reviews.models import Comment, Crit, SpokenNote
from reviews.models.briefs import Frozen
from reviews.pages.evening_page import evening_page
from reviews.reading.crit_evening import Remark
from reviews.views.fetching import led_crit, require_form
from reviews.views.moderation import led_comment, show_moderation


@require_form
def show_evening(request: HttpRequest, crit_id: int) -> HttpResponse:
    crit = led_crit(request, crit_id)
    page = evening_page(request.viewer, crit)
    form = EveningForm(request.POST or None, told=page.told)
    if request.method == "POST" and (crit.comments_sent_at or form.is_valid()):
        return _sent(request, crit, form)
    form = form.again() if form.is_bound else form
    return show_moderation(request, "show_evening", crit, page=page, form=form)


def _sent(request: HttpRequest, crit: Crit, form: EveningForm) -> HttpResponse:
    closed = access.closed_schemes(request.viewer, crit)
    try:
        crit_evening.send_comments(crit, request.user, seen=form.told.seen, closed=closed)
        messages.success(request, "Sent to all students. They read comments, and no level.")
    except (Changed, Frozen, crit_evening.Undecided) as why:
        messages.warning(request, str(why))
    return redirect("show-evening", crit.pk)


@require_POST
def ask_jurors(request: HttpRequest, crit_id: int) -> HttpResponse:
    crit = led_crit(request, crit_id)
    try:
        reached, without = crit_evening.ask_jurors(crit, request.user)
        names = ", ".join(seat.name for seat in without)
        more = f" Without an address, so tell them yourself: {names}." if names else ""
        messages.success(request, f"Asked by e-mail, each once: {reached}.{more}")
    except Frozen as closed:
        messages.warning(request, str(closed))
    return redirect("show-evening", crit.pk)


@require_POST
def decide_comment(request: HttpRequest, comment_id: int) -> HttpResponse:
    comment = led_comment(request, comment_id)
    return _decided(request, comment, comment.jury_sheet.seat.crit)


@require_POST
def decide_spoken(request: HttpRequest, note_id: int) -> HttpResponse:
    notes = access_day.led_spoken(request.viewer).select_related("slot__crit__studio", "seat")
    note = get_object_or_404(notes, pk=note_id)
    crit = note.slot.crit
    access.require(access.can_moderate(request.viewer, crit, note.slot.scheme_id))
    return _decided(request, note, crit)


def _decided(request: HttpRequest, said: Comment | SpokenNote, crit: Crit) -> HttpResponse:
    seen = number_in(request.POST.get("seen", ""))
    if crit_evening.decide_hazard(said, request.user, seen):
        messages.success(request, "Read, and let go as it stands.")
    else:
        messages.warning(request, "It was changed since this page was opened. Read it again below.")
    at = reverse("show-evening", args=[crit.pk])
    if scheme_id := number_in(request.POST.get("of", "")):
        at = reverse("moderate-scheme", args=[crit.pk, scheme_id])
    return redirect(f"{at}#{Remark(said).id}")
