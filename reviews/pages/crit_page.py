"""One crit as whoever looks may read it: its order, its jurors, its criteria sheet."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any

import segno
from django.http import HttpRequest
from django.urls import reverse
from django.utils.safestring import SafeString, mark_safe

from reviews import access, access_day
from reviews.access import Viewer
from reviews.access_again import can_read_order, order_slots
from reviews.access_studio import can_see_round
from reviews.deeds import juror_entering
from reviews.models import Crit, Scheme, Seat
from reviews.models.crits import LEVELS
from reviews.moments import moment_words
from reviews.reading.crit_panels import concerns
from reviews.reading.crit_sheets import credits_of
from reviews.reading.mail_deliveries import links_out


def crit_page(viewer: Viewer, crit: Crit) -> dict[str, Any]:
    credits = credits_of(crit)
    leads = access.can_lead(viewer, crit.studio_id)
    slots = list(order_slots(viewer, crit))
    return {
        "crit": crit,
        "order": [(slot, credits.get(slot.scheme_id, slot.scheme.by)) for slot in slots],
        "is_order_whole": can_read_order(viewer, crit),
        "seats": list(crit.seats.all()),
        "criteria": list(crit.criteria.all()),
        "others": list(access.crits(viewer, crit.studio).exclude(pk=crit.pk)),
        "results": _own_results(viewer, crit, slots),
        "level_words": LEVELS,
        "released_at": moment_words(crit.released_at) if crit.released_at else "",
        "issuing": issuing_words(crit),
        "can_lead": leads,
        "can_see_day": access_day.can_see_day(viewer, crit),
        "can_take_paper": access_day.can_take_paper(viewer, crit),
        "has_round": crit.kind == Crit.Kind.PIN_UP and can_see_round(viewer, crit),
        "can_scribe": access_day.can_scribe(viewer, crit),
        "can_see_table": leads or (viewer.is_coordinator and crit.is_released),
        "can_see_panels": access_day.can_see_panels(viewer, crit),
        "concerns": concerns(crit) if access_day.can_see_panels(viewer, crit) else [],
    }


def issuing_words(crit: Crit) -> str:
    """Say why nothing is issued for a crit any more; nothing where it is open to issues."""
    if crit.is_released:
        return "it is released, so nothing more is issued for it"
    if crit.issuing_closed_at is None:
        return ""
    closed = f"{crit.issuing_closed_by}, {moment_words(crit.issuing_closed_at)}"
    return f"issuing is closed ({closed}), so nothing more is issued for it"


def _own_results(viewer: Viewer, crit: Crit, slots: list[Any]) -> list[Scheme]:
    """Schemes of the crit whose results the viewer may open here: not the leader's table."""
    if access.can_lead(viewer, crit.studio_id):
        return []
    schemes = [slot.scheme for slot in slots]
    if not crit.is_released:
        return [scheme for scheme in schemes if access_day.can_read_comments(viewer, crit, scheme)]
    return [scheme for scheme in schemes if access.can_read_results(viewer, crit, scheme)]


@dataclass(frozen=True)
class Strip:
    """A juror's personal link, to print and cut.

    short    the short code in two halves, and where it is typed
    square   the link as a QR code (ISO/IEC 18004), drawn as SVG
    mailed   what became of it by e-mail; blank where it wasn't sent so
    hours    from when until when the juror sees schemes; blank where no hour is set
    """

    seat: Seat
    link: str
    ends_at: datetime
    short: str
    typed_at: str
    square: SafeString
    mailed: str
    hours: str


@dataclass(frozen=True)
class RoomStrip:
    """The address that a room's projector shows, to print and cut."""

    room: str
    link: str
    square: SafeString


def room_strips(request: HttpRequest, crit: Crit) -> list[RoomStrip]:
    """A strip for each room that has an address."""
    found = []
    for room in crit.room_links.all():
        link = request.build_absolute_uri(reverse("show-room", kwargs={"code": room.code}))
        found.append(RoomStrip(room.room, link, square_of(link)))
    return found


def _hours_of(crit: Crit, seat: Seat) -> str:
    """From the first start to the last end of what a juror sees: 09:15 to 13:17."""
    hours = [slot.starts_at for slot in access.seen_slots(seat) if slot.starts_at]
    if not hours:
        return ""
    last = datetime.combine(crit.day, max(hours)) + timedelta(minutes=crit.slot_parts.slot_min)
    return f"{min(hours):%H:%M} to {last:%H:%M}"


def strips(request: HttpRequest, crit: Crit) -> list[Strip]:
    mailed = {pk: mail.state_words for pk, mail in links_out(crit).items()}
    typed_at = request.build_absolute_uri(reverse("enter-code"))
    found = []
    for seat in crit.seats.select_related("crit"):
        link = request.build_absolute_uri(reverse("enter-jury", kwargs={"code": seat.code}))
        short = juror_entering.short_code(seat)
        halves = f"{short[:4]} {short[4:]}"
        state = mailed.get(seat.pk, "")
        hours = _hours_of(crit, seat)
        ends_at, square = seat.link_ends_at, square_of(link)
        found.append(Strip(seat, link, ends_at, halves, typed_at, square, state, hours))
    return found


def square_of(link: str) -> SafeString:
    """Draw a link as a QR code, dark on white whatever the lamp, with its quiet zone."""
    code = segno.make(link, error="m", micro=False)
    drawn = code.svg_inline(light="#fff", svgclass="strip-square", omitsize=True, border=4)
    return mark_safe(drawn)
