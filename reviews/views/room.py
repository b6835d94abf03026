"""The room on the day: projector, timekeeper, leader at the side, and what jurors see live."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from django.contrib import messages
from django.contrib.auth.decorators import login_not_required
from django.http import Http404, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.cache import get_conditional_response
from django.utils.http import quote_etag
from django.views.decorators.http import require_POST, require_safe

from reviews import access, access_day, clock
from reviews.access import HttpRequest
from reviews.deeds import crit_attending, crit_timekeeping
from reviews.forms.fields import number_in
from reviews.forms.room import AttendanceForm, PressForm, TakeBackForm
from reviews.models import Crit, RoomLink, Seat
from reviews.models.briefs import Frozen
from reviews.pages.page_frame import frame
from reviews.pages.room_keeping import keeping_page
from reviews.pages.room_now import jury_now, room_now
from reviews.pages.room_side import side_page
from reviews.reading import crit_live
from reviews.reading.crit_live import Live, Room
from reviews.views.jury import for_jurors
from reviews.worked_out import fingerprint

CLOCK = "Muntin-Clock"
"""The header in which every answer of the day says what time it is [ms since 1970]."""


def _timed(answer: HttpResponse) -> HttpResponse:
    answer.headers[CLOCK] = str(round(clock.now().timestamp() * 1000))
    return answer


def _live(
    request: HttpRequest, told: str, template: str, context: Callable[[], dict[str, Any]]
) -> HttpResponse:
    """Answer a poll: nothing where what the device has still stands, else the part anew."""
    etag = quote_etag(told)
    answer = get_conditional_response(request, etag=etag)
    if answer is None or answer.status_code != 304:
        answer = render(request, template, context())
    answer.headers["ETag"] = etag
    return _timed(answer)


def _page(request: HttpRequest, template: str, context: dict[str, Any]) -> HttpResponse:
    return _timed(render(request, template, context))


def _room(live: Live, name: str) -> Room:
    room = live.room(name) or (live.rooms[0] if not name else None)
    if room is None:
        raise Http404
    return room


# The projector


def _link(code: str) -> RoomLink:
    link = access_day.room_behind(code)
    if link is None:
        raise Http404
    return link


@login_not_required
@require_safe
def show_room(request: HttpRequest, code: str) -> HttpResponse:
    link = _link(code)
    live = crit_live.live_of(link.crit, clock.now())
    context = {"link": link, "told": live.fingerprint, "lamp": "off", "studio": link.crit.studio}
    context["now"] = room_now(_room(live, link.room))
    return _page(request, "room/show_room.html", context)


@login_not_required
@require_safe
def room_live(request: HttpRequest, code: str) -> HttpResponse:
    link = _link(code)
    live = crit_live.polled(link.crit_id)
    context = lambda: {"now": room_now(_room(live, link.room))}  # noqa: E731
    return _live(request, live.fingerprint, "room/_room.html", context)


# The timekeeper


def _kept_crit(request: HttpRequest, crit_id: int, room: str) -> Crit:
    crits = access_day.day_crits(request.viewer).select_related("studio__brief")
    crit = get_object_or_404(crits, pk=crit_id)
    if not crit_live.is_there(crit, room):
        raise Http404
    access.require(access_day.can_keep_room(request.viewer, crit, room))
    return crit


@require_safe
def keep_time(request: HttpRequest, crit_id: int, room: str) -> HttpResponse:
    crit = _kept_crit(request, crit_id, room)
    live = crit_live.live_of(crit, clock.now())
    context = {"crit": crit, "room": room, "told": live.fingerprint, "lamp": "off"}
    context["page"] = keeping_page(crit, _room(live, room))
    context["link"] = access_day.link_of_room(crit, room)
    return _page(request, "room/keep_time.html", frame(request, crit=crit, page="crits") | context)


@require_safe
def clock_live(request: HttpRequest, crit_id: int, room: str) -> HttpResponse:
    crit = _kept_crit(request, crit_id, room)
    live = crit_live.live_of(crit, clock.now())
    context = lambda: {"room": room, "page": keeping_page(crit, _room(live, room))}  # noqa: E731
    return _live(request, live.fingerprint, "room/_clock.html", context)


@require_POST
def press_clock(request: HttpRequest, crit_id: int, room: str) -> HttpResponse:
    crit = _kept_crit(request, crit_id, room)
    form = PressForm(request.POST)
    if not form.is_valid():
        messages.warning(request, form.in_words)
        return redirect("keep-time", crit.pk, room)
    slot = get_object_or_404(crit.slots.select_related("scheme"), pk=form.cleaned_data["slot"])
    access.require(access_day.can_keep_time(request.viewer, slot))
    try:
        crit_timekeeping.do(slot, form.press, request.user)
    except Frozen as refused:
        messages.warning(request, str(refused))
    return redirect("keep-time", crit.pk, room)


@require_POST
def take_press_back(request: HttpRequest, crit_id: int, room: str) -> HttpResponse:
    crit = _kept_crit(request, crit_id, room)
    form = TakeBackForm(request.POST)
    try:
        if form.is_valid():
            crit_timekeeping.take_back(crit, form.cleaned_data["key"], request.user)
    except Frozen as refused:
        messages.warning(request, str(refused))
    return redirect("keep-time", crit.pk, room)


@require_POST
def open_projector(request: HttpRequest, crit_id: int, room: str) -> HttpResponse:
    crit = _kept_crit(request, crit_id, room)
    return redirect("show-room", crit_timekeeping.link_room(crit, room).code)


# The scribe


@require_safe
def scribe_live(request: HttpRequest, crit_id: int, scheme_id: int) -> HttpResponse:
    crit = get_object_or_404(access.crits(request.viewer), pk=crit_id)
    slot = get_object_or_404(crit.slots, scheme_id=scheme_id)
    access.require(access_day.can_take_notes(request.viewer, slot))
    live = crit_live.polled(crit.pk)
    context = lambda: {"now": room_now(_room(live, slot.room))}  # noqa: E731
    return _live(request, live.fingerprint, "room/_scribe_now.html", context)


# The leader at the side


def _seen_day(request: HttpRequest, crit_id: int) -> Crit:
    crits = access_day.day_crits(request.viewer).select_related("studio__brief")
    crit = get_object_or_404(crits, pk=crit_id)
    access.require(access_day.can_see_day(request.viewer, crit))
    return crit


def _side(request: HttpRequest, crit: Crit, live: Live) -> dict[str, Any]:
    return {
        "crit": crit,
        "page": side_page(crit, live, clock.now()),
        "can_note": access_day.can_note_who_is_there(request.viewer, crit),
        "can_keep": [
            room.name
            for room in live.rooms
            if access_day.can_keep_room(request.viewer, crit, room.name)
        ],
    }


@require_safe
def show_day(request: HttpRequest, crit_id: int) -> HttpResponse:
    crit = _seen_day(request, crit_id)
    live = crit_live.live_of(crit, clock.now())
    context = _side(request, crit, live) | {"told": ""}
    return _page(request, "room/show_day.html", frame(request, crit=crit, page="crits") | context)


@require_safe
def day_live(request: HttpRequest, crit_id: int) -> HttpResponse:
    crit = _seen_day(request, crit_id)
    live = crit_live.polled(crit.pk)
    told = fingerprint(live.fingerprint, crit_live.side_told(crit))
    return _live(request, told, "room/_day.html", lambda: _side(request, crit, live))


@require_POST
def keep_attendance(request: HttpRequest, crit_id: int, seat_id: int) -> HttpResponse:
    crit = _seen_day(request, crit_id)
    access.require(access_day.can_note_who_is_there(request.viewer, crit))
    seat = get_object_or_404(crit.seats, pk=seat_id)
    form = AttendanceForm(request.POST)
    try:
        if form.is_valid():
            sent = form.cleaned_data
            crit_attending.keep_attendance(seat, sent["state"], request.user, words=sent["words"])
        else:
            messages.warning(request, "Read no state. Expected here, late, absent or gone.")
    except Frozen as refused:
        messages.warning(request, str(refused))
    return redirect("show-day", crit.pk)


# The jury


@for_jurors
@require_safe
def jury_live(request: HttpRequest, seat: Seat) -> HttpResponse:
    live = crit_live.polled(seat.crit_id)
    seen = set(access.seen_slots(seat).values_list("pk", flat=True))
    of = number_in(request.GET.get("of", ""))
    told = fingerprint(live.fingerprint, sorted(seen), of)
    context = lambda: {"now": jury_now(live, seat, seen, of)}  # noqa: E731
    return _live(request, told, "jury/_now_live.html", context)
