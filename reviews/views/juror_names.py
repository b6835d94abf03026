"""Whether portfolios may name a juror: by their own link, or recorded from what they wrote."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_POST, require_safe

from reviews.access import HttpRequest
from reviews.deeds import juror_naming
from reviews.forms.juror_names import NamesForm
from reviews.models import Seat
from reviews.models.briefs import Frozen
from reviews.pages.jury_frame import jury_frame
from reviews.pages.page_frame import frame
from reviews.views.fetching import led_crit, require_form
from reviews.views.jury import for_jurors


@for_jurors
@require_form
def say_own_name(request: HttpRequest, seat: Seat) -> HttpResponse:
    form = NamesForm(request.POST if request.method == "POST" else None, seat=seat)
    if form.is_valid() and _is_kept(request, seat, form.allowed):
        return redirect("say-own-name")
    context = {"form": form, "not_named": juror_naming.NOT_NAMED}
    return render(request, "jury/say_own_name.html", jury_frame(request) | context)


def _is_kept(request: HttpRequest, seat: Seat, allowed: set[int]) -> bool:
    try:
        juror_naming.allow_name(seat, allowed)
    except Frozen as closed:
        messages.warning(request, str(closed))
        return False
    messages.success(request, "Kept. You can change it while your link stands.")
    return True


@require_safe
def show_juror_names(request: HttpRequest, crit_id: int) -> HttpResponse:
    crit = led_crit(request, crit_id)
    seats = crit.seats.named()
    context = frame(request, crit=crit, page="crits") | {
        "crit": crit,
        "forms": [NamesForm(seat=seat, label=seat.name) for seat in seats],
        "not_named": juror_naming.NOT_NAMED,
    }
    return render(request, "crits/show_juror_names.html", context)


@require_POST
def record_juror_names(request: HttpRequest, crit_id: int, seat_id: int) -> HttpResponse:
    crit = led_crit(request, crit_id)
    seat = get_object_or_404(crit.seats.named(), pk=seat_id)
    form = NamesForm(request.POST, seat=seat)
    try:
        if form.is_valid():
            juror_naming.allow_name(seat, form.allowed, request.user)
            messages.success(request, f"Recorded, as {seat} wrote it.")
        else:
            messages.warning(request, " ".join(map(str, form.errors["schemes"])))
    except Frozen as closed:
        messages.warning(request, str(closed))
    return redirect("show-juror-names", crit.pk)
