"""Crits: the day, the criteria sheet, the jurors, the running order."""

from __future__ import annotations

from functools import partial

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import require_POST, require_safe

from reviews import access
from reviews.access import HttpRequest
from reviews.deeds import (
    crit_criteria_keeping,
    crit_planning,
    crit_seating,
    mail_queueing,
)
from reviews.deeds.crit_seating import SEATS
from reviews.deeds.record_changes import last_change, undo_part
from reviews.deeds.record_versions import version_of
from reviews.forms.crits import CriteriaFormSet, CritForm, SeatFormSet, StartSheetForm
from reviews.forms.fields import SeenForm, number_in
from reviews.models import Crit, Studio
from reviews.models.briefs import Frozen
from reviews.models.crits import LEVELS
from reviews.pages.brief_warnings import criteria_warnings
from reviews.pages.crit_page import crit_page, room_strips, strips
from reviews.pages.page_frame import frame
from reviews.reading.crit_criteria_sheets import SHEETS
from reviews.reading.mail_deliveries import undelivered_to_jurors
from reviews.versions import Newer
from reviews.views.bringing import bring_in
from reviews.views.fetching import led_crit, led_studio, require_form
from reviews.views.undoing import is_undone


def _crit_form(request: HttpRequest, studio: Studio, crit: Crit | None, page: str) -> HttpResponse:
    earlier = crit_planning.followed(studio, crit)
    asked = number_in(request.GET.get("follows", ""))
    parts = crit_planning.parts_of(crit) if crit else crit_planning.parts_after(earlier, asked)
    initial = parts | {"seen": version_of(parts)}
    form = CritForm(request.POST or None, initial=initial, earlier=earlier)
    if request.method == "POST" and form.is_valid():
        try:
            kept = (
                crit_planning.change_crit(crit, form.parts, form.seen_version, request.user)
                if crit
                else crit_planning.open_crit(studio, form.parts, request.user)
            )
        except Newer as newer:
            form.show_newer(newer, version_of(newer.kept))
        except Frozen as frozen:
            form.add_error(None, str(frozen))
        else:
            return redirect("show-crit", kept.pk)
    context = frame(request, studio=studio, crit=crit, page="crits") | {"form": form, "crit": crit}
    return render(request, f"crits/{page}.html", context, status=form.status)


@require_form
def open_crit(request: HttpRequest, studio_id: int) -> HttpResponse:
    return _crit_form(request, led_studio(request, studio_id), None, "open_crit")


@require_safe
def show_crit(request: HttpRequest, crit_id: int) -> HttpResponse:
    crits = access.crits(request.viewer).select_related("studio__brief")
    crit = get_object_or_404(crits, pk=crit_id)
    context = frame(request, crit=crit, page="crits") | crit_page(request.viewer, crit)
    return render(request, "crits/show_crit.html", context)


@require_POST
def close_issuing(request: HttpRequest, crit_id: int) -> HttpResponse:
    crit = led_crit(request, crit_id)
    try:
        crit_planning.close_issuing(crit, request.user)
        messages.success(request, "Issuing is closed. What is issued now is not for this crit.")
    except Frozen as frozen:
        messages.warning(request, str(frozen))
    return redirect("show-crit", crit.pk)


@require_POST
def open_issuing(request: HttpRequest, crit_id: int) -> HttpResponse:
    crit = led_crit(request, crit_id)
    try:
        crit_planning.open_issuing(crit)
        messages.success(request, "Issuing is open again.")
    except Frozen as frozen:
        messages.warning(request, str(frozen))
    return redirect("show-crit", crit.pk)


@require_form
def edit_crit(request: HttpRequest, crit_id: int) -> HttpResponse:
    crit = led_crit(request, crit_id)
    return _crit_form(request, crit.studio, crit, "edit_crit")


@require_form
def edit_criteria(request: HttpRequest, crit_id: int) -> HttpResponse:
    crit = led_crit(request, crit_id)
    now = crit_criteria_keeping.lines_of(crit)
    page = SeenForm(request.POST or None, initial={"seen": version_of(now)})
    placed = [line | {"position": n} for n, line in enumerate(now, start=1)]
    rows = CriteriaFormSet(request.POST or None, initial=placed, prefix="rows")
    refs = [record.get("id", "") for record in crit.studio.brief.target_records()]
    if request.method == "POST" and rows.is_valid() and page.is_valid():
        if request.htmx:  # weights and evidence as typed, nothing kept
            typed = {"warnings": criteria_warnings(rows.lines, refs)}
            return render(request, "crits/_criteria_warnings.html", typed)
        try:
            crit_criteria_keeping.keep_criteria(crit, rows.lines, page.seen_version)
        except Newer as newer:
            parts = ("code", "name", "weight", "evidence")
            page.show_newer_rows(newer, version_of(newer.kept), parts)
        except Frozen as frozen:
            page.add_error(None, str(frozen))
        else:
            messages.success(request, "The criteria sheet is kept.")
            return redirect("edit-criteria", crit.pk)
    elif request.htmx:
        return HttpResponse(status=204)
    context = frame(request, crit=crit, page="crits") | {
        "crit": crit,
        "page": page,
        "rows": rows,
        "ready": SHEETS.values(),
        "criteria": crit.criteria.all(),
        "level_words": LEVELS,
        "is_fixed": crit.is_filed,
        "warnings": criteria_warnings(now, refs),
    }
    return render(request, "crits/edit_criteria.html", context, status=page.status)


@require_POST
def start_criteria(request: HttpRequest, crit_id: int) -> HttpResponse:
    crit = led_crit(request, crit_id)
    form = StartSheetForm(request.POST)
    if not form.is_valid():
        messages.error(request, " ".join(map(str, form.errors["sheet"])))
        return redirect("edit-criteria", crit.pk)
    try:
        crit_criteria_keeping.start_from(crit, form.cleaned_data["sheet"])
    except Frozen as frozen:
        messages.error(request, str(frozen))
    return redirect("edit-criteria", crit.pk)


@require_form
def edit_jurors(request: HttpRequest, crit_id: int) -> HttpResponse:
    crit = led_crit(request, crit_id)
    now = crit_seating.lines_of(crit)
    page = SeenForm(request.POST or None, initial={"seen": version_of(now)})
    rows = SeatFormSet(request.POST or None, initial=now, prefix="rows")
    if request.method == "POST" and rows.is_valid() and page.is_valid():
        try:
            crit_seating.keep_seats(crit, rows.lines, page.seen_version, request.user)
        except Newer as newer:
            page.show_newer_rows(newer, version_of(newer.kept), crit_seating.PARTS)
        except Frozen as frozen:
            page.add_error(None, str(frozen))
        else:
            messages.success(request, "The jurors are kept.")
            return redirect("edit-jurors", crit.pk)
    context = frame(request, crit=crit, page="crits") | {
        "crit": crit,
        "page": page,
        "rows": rows,
        "last": last_change(crit, SEATS.slug),
        "undelivered": undelivered_to_jurors(crit),
    }
    return render(request, "crits/edit_jurors.html", context, status=page.status)


@require_POST
def undo_jurors(request: HttpRequest, crit_id: int) -> HttpResponse:
    crit = led_crit(request, crit_id)
    is_undone(request, partial(undo_part, crit, SEATS), SEATS.name)
    return redirect("edit-jurors", crit.pk)


@require_form
def bring_in_jurors(request: HttpRequest, crit_id: int) -> HttpResponse:
    crit = led_crit(request, crit_id)
    return bring_in(
        request,
        crit_seating.JURORS,
        read=lambda typed, _: crit_seating.read_jurors(crit, typed),
        keep=lambda form: (
            crit_seating.bring_in_jurors(crit, form.table, request.user, seen=form.seen_change).what
        ),
        page="crits/bring_in_jurors.html",
        context=frame(request, crit=crit, page="crits") | {"crit": crit},
        done=reverse("edit-jurors", args=[crit.pk]),
    )


@require_safe
def print_links(request: HttpRequest, crit_id: int) -> HttpResponse:
    crit = led_crit(request, crit_id)
    context = {
        "crit": crit,
        "strips": strips(request, crit),
        "rooms": room_strips(request, crit),
        "undelivered": undelivered_to_jurors(crit),
    }
    return render(request, "crits/print_links.html", frame(request, crit=crit) | context)


@require_POST
def send_links(request: HttpRequest, crit_id: int) -> HttpResponse:
    crit = led_crit(request, crit_id)
    number = mail_queueing.hand_links(crit)
    messages.success(
        request,
        f"The links of {number} juror{'s' * (number != 1)} with an e-mail address are on their "
        "way. What was sent before is not sent again.",
    )
    return redirect("print-links", crit.pk)


@require_POST
def renew_code(request: HttpRequest, crit_id: int, seat_id: int) -> HttpResponse:
    crit = led_crit(request, crit_id)
    seat = crit_seating.renew_code(get_object_or_404(crit.seats, pk=seat_id))
    messages.success(request, f"{seat} has a new link. The one before has ended.")
    return redirect("print-links", crit.pk)
