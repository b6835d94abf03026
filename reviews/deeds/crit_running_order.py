"""The running order: who presents when and where, drawn by lot or written by hand, and breaks.

Whatever is told to people is remembered as it was kept (`KeptOrder`): calendars count by it.
"""

from __future__ import annotations

from datetime import time
from typing import Any

from django.db import transaction

from reviews import clock
from reviews.deeds.record_changes import has_entries
from reviews.deeds.record_versions import is_change
from reviews.models import (
    Crit,
    Crossing,
    Duty,
    KeptOrder,
    OrderBreak,
    Person,
    RoomLink,
    Scheme,
    Slot,
)
from reviews.models.briefs import Frozen
from reviews.reading.own_times import duty_lines

Line = dict[str, Any]
"""scheme (pk), position, room, starts_at; a scheme without a position isn't in the order."""

BREAK_PARTS = ("room", "starts_at", "minutes", "words")


def schemes_of(crit: Crit) -> list[Scheme]:
    """The schemes that can present: those not withdrawn, and those already in the order."""
    there = {slot.scheme_id for slot in crit.slots.all()}
    schemes = crit.studio.schemes.order_by("number")
    return [s for s in schemes if s.withdrawn_at is None or s.pk in there]


def order_before(crit: Crit) -> list[str]:
    """Numbers of schemes in the order of the studio's crit before this one; a re-crit's is none."""
    before = crit.studio.crits.filter(day__lt=crit.day, slots__isnull=False).distinct()
    before = before.exclude(kind=Crit.Kind.RECRIT)
    last = before.order_by("day", "pk").last()
    if last is None:
        return []
    return [slot.scheme.number for slot in last.slots.select_related("scheme")]


def copied_lines(crit: Crit, other: Crit) -> list[Line]:
    """Propose another crit's order. Nothing is kept."""
    can = {scheme.pk for scheme in schemes_of(crit)}
    return [line for line in lines_of(other) if line["scheme"] in can]


def lines_of(crit: Crit) -> list[Line]:
    """A running order as it is compared and kept."""
    lines = [
        {"scheme": s.scheme_id, "position": s.position, "room": s.room, "starts_at": s.starts_at}
        for s in crit.slots.all()
    ]
    return in_order(lines)


def breaks_of(crit: Crit) -> list[Line]:
    """The breaks as they are compared and kept."""
    return list(crit.breaks.values(*BREAK_PARTS))


def whole_of(crit: Crit) -> list[Line]:
    """Order and breaks: what a page has seen."""
    return [*lines_of(crit), *breaks_of(crit)]


def in_order(lines: list[Line]) -> list[Line]:
    """Sort lines by place; rooms that run side by side count their places apart."""
    return sorted(lines, key=lambda line: (line["position"], line["room"], line["scheme"]))


@transaction.atomic
def keep_order(
    crit: Crit,
    lines: list[Line],
    seen: int,
    *,
    by: Person | None = None,
    lot: int | None = None,
    breaks: list[Line] | None = None,
    plan: dict[str, Any] | None = None,
) -> None:
    """Keep the order; a scheme without a line leaves it.

    Raises Newer; Frozen once released, or where something was kept of a slot that would go.

    lot      the number the order was drawn by, if it was; kept so that the draw can be shown again
    breaks   those of the day; None leaves them as they are
    plan     how it was laid out
    """
    held = Crit.objects.hold(crit.pk)
    if held.drawn_seed != lot:
        held.drawn_seed = lot
        held.save(update_fields=["drawn_seed"])
    wanted = [*lines, *(breaks_of(held) if breaks is None else in_hours(breaks))]
    if not is_change(whole_of(held), wanted, seen):
        return
    if held.is_released:
        raise Frozen("The crit is released. Its order stays as it was.")
    _write(held, lines)
    if breaks is not None:
        held.breaks.all().delete()
        OrderBreak.objects.bulk_create(OrderBreak(crit=held, **each) for each in breaks)
    for room in {line["room"] for line in lines if line["room"]} or {""}:
        RoomLink.objects.get_or_create(crit=held, room=room)
    remember(held, by, lot=lot, plan=plan)


def _write(held: Crit, lines: list[Line]) -> None:
    slots = {slot.scheme_id: slot for slot in held.slots.all()}
    for slot in held.slots.exclude(scheme__in=[line["scheme"] for line in lines]):
        if has_entries(slot, besides=(Crossing, Duty)):
            raise Frozen(f"{slot.scheme} was called, noted or moved. It stays in the order.")
        slot.delete()
    for line in lines:
        slot = slots.get(line["scheme"]) or Slot(crit=held, scheme_id=line["scheme"])
        slot.position, slot.room = line["position"], line["room"]
        slot.starts_at = line["starts_at"]
        slot.save()


def in_hours(breaks: list[Line]) -> list[Line]:
    """Breaks in the order in which they are read again."""
    return sorted(breaks, key=lambda line: (line["starts_at"], line["room"]))


def remember(
    held: Crit, by: Person | None, *, lot: int | None = None, plan: dict[str, Any] | None = None
) -> KeptOrder:
    """Remember what is told to people as it is now kept: order, breaks, minutes, day, duties.

    Whatever moves a slot, a break or a duty, or the crit's day, calls it, so that calendars count.
    """
    parts = held.slot_parts
    last = held.orders.last()
    told = {
        "day": held.day.isoformat(),
        "pens_down": held.pens_down.isoformat(),
        "minutes": [parts.present_min, parts.discuss_min, parts.writing_min, parts.change_min],
        "laid": plan if plan is not None else last.plan.get("laid", {}) if last else {},
        "duties": duty_lines(held),
    }
    lines = [line | {"starts_at": _hour(line["starts_at"])} for line in whole_of(held)]
    return KeptOrder.objects.create(
        crit=held, kept_at=clock.now(), by=by, lot=lot, plan=told, lines=lines
    )


def _hour(at: time | None) -> str:
    return f"{at:%H:%M}" if at else ""


def last_laid(crit: Crit) -> dict[str, Any]:
    """How the order was last laid out, as it was kept; empty where none was."""
    last = crit.orders.last()
    return dict(last.plan.get("laid", {})) if last else {}
