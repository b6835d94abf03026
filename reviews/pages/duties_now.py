"""What somebody keeps at crits that aren't over: the clock of a room, the notes of a slot."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import timedelta

from django.urls import reverse

from reviews import clock
from reviews.access import Viewer
from reviews.models import Crit, Duty

SHOWN_FOR = timedelta(days=1)
"""Notes are put right on the day after, too."""


@dataclass(frozen=True)
class DutyLine:
    """One duty with its page."""

    duty: Duty
    where: str
    url: str


def duties_of(viewer: Viewer) -> list[DutyLine]:
    """The duties of a person from yesterday on, the nearest first."""
    if viewer.person is None:
        return []
    kept = viewer.person.duties.filter(
        crit__day__gte=clock.today() - SHOWN_FOR, crit__in=Crit.objects.to_come()
    ).select_related("crit__studio", "slot__scheme")
    return [_line(duty) for duty in kept.order_by("crit__day", "slot__starts_at", "room", "pk")]


def _line(duty: Duty) -> DutyLine:
    room = duty.slot.room if duty.slot else duty.room
    where = f"room {room}" if room else "all rooms"
    if duty.slot:
        at = f"{duty.slot.starts_at:%H:%M} " if duty.slot.starts_at else ""
        where = f"{at}{duty.slot.scheme}, {where}"
    return DutyLine(duty, where, _url(duty, room))


def _url(duty: Duty, room: str) -> str:
    if duty.kind == Duty.Kind.TIMEKEEPER:
        return reverse("keep-time", args=[duty.crit_id, room])
    if duty.slot:
        return reverse("scribe-slot", args=[duty.crit_id, duty.slot.scheme_id])
    return reverse("show-scribe", args=[duty.crit_id])
