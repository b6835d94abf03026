"""Panels of a crit: who sits where, who could cross, and who does what on the day."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_POST, require_safe

from reviews import access, access_day
from reviews.access import HttpRequest
from reviews.deeds import crit_crossing, crit_duties
from reviews.deeds.record_versions import version_of
from reviews.forms.crossing import CrossingForm
from reviews.forms.duties import DutiesPage
from reviews.models.briefs import Frozen
from reviews.pages.page_frame import frame
from reviews.pages.panels_page import moves_of, panels_page
from reviews.reading.crit_panels import panels_of
from reviews.versions import Newer
from reviews.views.fetching import led_crit, require_form


@require_safe
def show_panels(request: HttpRequest, crit_id: int) -> HttpResponse:
    crits = access.crits(request.viewer).select_related("studio__brief")
    crit = get_object_or_404(crits, pk=crit_id)
    access.require(access_day.can_see_panels(request.viewer, crit))
    context = panels_page(request.viewer, crit) | {"form": CrossingForm(None, crit=crit)}
    shown = frame(request, crit=crit, page="crits") | context
    return render(request, "crits/show_panels.html", shown)


@require_POST
def keep_crossing(request: HttpRequest, crit_id: int) -> HttpResponse:
    crit = led_crit(request, crit_id)
    form = CrossingForm(request.POST, crit=crit)
    if not form.is_valid():
        context = panels_page(request.viewer, crit) | {"form": form}
        shown = frame(request, crit=crit, page="crits") | context
        return render(request, "crits/show_panels.html", shown)
    try:
        reason = form.cleaned_data["reason"]
        crit_crossing.keep_crossings(crit, [form.move], request.user, reason)
        messages.success(request, f"{form.move.seat}: kept.")
    except Frozen as frozen:
        messages.warning(request, str(frozen))
    return redirect("show-panels", crit.pk)


@require_POST
def take_up_proposal(request: HttpRequest, crit_id: int) -> HttpResponse:
    crit = led_crit(request, crit_id)
    moves = moves_of(crit, request.POST.get("proposal", ""))
    if not moves:
        messages.warning(request, "That proposal does not stand any more: look at the panel again.")
        return redirect("show-panels", crit.pk)
    try:
        crit_crossing.keep_crossings(crit, moves, request.user, "To fill a panel.")
        messages.success(request, "Kept. Jurors see it when their order is next loaded.")
    except Frozen as frozen:
        messages.warning(request, str(frozen))
    return redirect("show-panels", crit.pk)


@require_POST
def take_crossing_back(request: HttpRequest, crossing_id: int) -> HttpResponse:
    crossing = get_object_or_404(access_day.led_crossings(request.viewer), pk=crossing_id)
    try:
        crit_crossing.take_back(crossing, request.user)
        messages.success(request, "Taken back.")
    except Frozen as frozen:
        messages.warning(request, str(frozen))
    return redirect("show-panels", crossing.seat.crit_id)


@require_form
def edit_duties(request: HttpRequest, crit_id: int) -> HttpResponse:
    crit = led_crit(request, crit_id)
    page = DutiesPage(crit, request.POST or None)
    if page.is_to_keep():
        try:
            crit_duties.keep_duties(crit, page.lines, page.head.seen_version, request.user)
        except Newer as newer:
            stands_at = version_of(crit_duties.lines_of(crit))
            page.head.show_newer_rows(newer, stands_at, crit_duties.SHOWN)
        except Frozen as frozen:
            page.head.add_error(None, str(frozen))
        else:
            messages.success(request, "The duties are kept.")
            return redirect("edit-duties", crit.pk)
    warned = [each.words for each in panels_of(crit).warned if each.about == "duty"]
    context = {"crit": crit, "page": page, "concerns": warned}
    shown = frame(request, crit=crit, page="crits") | context
    return render(request, "crits/edit_duties.html", shown, status=page.head.status)
