"""Somebody's own times for their calendar: as a file, and under a secret address."""

from __future__ import annotations

from django.contrib import messages
from django.contrib.auth.decorators import login_not_required
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_safe

from reviews import access_day
from reviews.access import HttpRequest
from reviews.access_day import SeatTakenOut
from reviews.deeds import calendar_following
from reviews.models import Person, Seat
from reviews.pages.calendar_page import calendar_of, calendar_page
from reviews.pages.jury_frame import jury_frame
from reviews.pages.page_frame import frame
from reviews.views.fetching import require_form
from reviews.views.jury import for_jurors

MEDIA_TYPE = "text/calendar; charset=utf-8"


def _file(whose: Person | Seat | SeatTakenOut) -> HttpResponse:
    answer = HttpResponse(calendar_of(whose), content_type=MEDIA_TYPE)
    answer["Content-Disposition"] = 'attachment; filename="crit-days.ics"'
    return answer


def _change(request: HttpRequest, whose: Person | Seat) -> None:
    if request.POST.get("deed") == "end":
        calendar_following.end_link(whose)
        messages.success(request, "The address has ended.")
    else:
        calendar_following.make_link(whose)
        messages.success(request, "The address stands. One that stood before has ended.")


@require_form
def own_calendar(request: HttpRequest) -> HttpResponse:
    if request.method == "POST":
        _change(request, request.user)
        return redirect("own-calendar")
    context = calendar_page(request, request.user)
    return render(request, "home/own_calendar.html", frame(request) | context)


@require_safe
def take_own_calendar(request: HttpRequest) -> HttpResponse:
    return _file(request.user)


@for_jurors
@require_form
def jury_calendar(request: HttpRequest, seat: Seat) -> HttpResponse:
    if request.method == "POST":
        _change(request, seat)
        return redirect("jury-calendar")
    context = calendar_page(request, seat)
    return render(request, "jury/jury_calendar.html", jury_frame(request) | context)


@for_jurors
@require_safe
def take_jury_calendar(request: HttpRequest, seat: Seat) -> HttpResponse:
    return _file(seat)


@login_not_required
@require_safe
def follow_calendar(request: HttpRequest, code: str) -> HttpResponse:
    whose = access_day.calendar_behind(code)
    if whose is None:
        raise Http404
    return _file(whose)
