"""Somebody's own times: as a calendar, and the address under which one is followed."""

from __future__ import annotations

from typing import Any

from django.urls import reverse

from reviews import clock
from reviews.access import HttpRequest
from reviews.access_day import SeatTakenOut
from reviews.deeds import calendar_following
from reviews.exchange.calendar import as_calendar
from reviews.models import Person, Seat
from reviews.reading.own_times import times_of_person, times_of_seat, times_of_seat_taken_out


def calendar_of(whose: Person | Seat | SeatTakenOut) -> bytes:
    """The times of a person or a juror as a calendar."""
    if isinstance(whose, Person):
        return as_calendar(f"Crit days of {whose}", times_of_person(whose), clock.now())
    if isinstance(whose, SeatTakenOut):
        return as_calendar(f"{whose.crit}", times_of_seat_taken_out(whose), clock.now())
    return as_calendar(f"{whose.crit}: {whose}", times_of_seat(whose), clock.now())


def calendar_page(request: HttpRequest, whose: Person | Seat) -> dict[str, Any]:
    """The secret address of somebody's times, where they made one."""
    link = calendar_following.link_of(whose)
    address = reverse("follow-calendar", kwargs={"code": link.code}) if link else ""
    return {
        "address": request.build_absolute_uri(address) if link else "",
        "made_at": link.made_at if link else None,
    }
