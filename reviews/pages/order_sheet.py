"""A running order as a sheet for the wall: rooms side by side, breaks, who takes notes."""

from __future__ import annotations

from collections import defaultdict
from typing import Any

from reviews import access
from reviews.access import Viewer
from reviews.access_again import can_read_order, order_slots
from reviews.models import Crit, Duty
from reviews.pages.day_grid import Cell, Pause, day_grid
from reviews.reading.crit_sheets import credits_of


def order_sheet(viewer: Viewer, crit: Crit) -> dict[str, Any]:
    """What the sheet shows: names of schemes and people, no warning, nothing of an interest."""
    credits = credits_of(crit)
    notes: dict[int | None, list[str]] = defaultdict(list)
    whole_day: dict[str, list[str]] = defaultdict(list)
    for duty in crit.duties.select_related("person"):
        if duty.kind == Duty.Kind.SCRIBE and duty.slot_id:
            notes[duty.slot_id].append(duty.person.name)
        elif not duty.slot_id:
            where = f", room {duty.room}" if duty.room else ""
            whole_day[f"{duty.get_kind_display()}{where}"].append(duty.person.name)
    cells = [
        Cell(
            slot.scheme.number,
            slot.scheme.marked_name,
            slot.starts_at,
            slot.room,
            credits.get(slot.scheme_id, slot.scheme.by),
            slot.position,
            ", ".join(notes[slot.pk]),
            slot.scheme_id in viewer.own_scheme_ids,
        )
        for slot in order_slots(viewer, crit)
    ]
    pauses = [
        Pause(each.starts_at, each.minutes, each.words or "break", each.room)
        for each in crit.breaks.all()
    ]
    seats: dict[str, list[str]] = defaultdict(list)
    for seat in crit.seats.all():
        seats[seat.room].append(seat.name)
    return {
        "crit": crit,
        "grid": day_grid(cells, pauses),
        "jurors": sorted((room, ", ".join(names)) for room, names in seats.items()),
        "whole_day": [(what, ", ".join(names)) for what, names in whole_day.items()],
        "parts": crit.slot_parts,
        "is_order_whole": can_read_order(viewer, crit),
        "can_lead": access.can_lead(viewer, crit.studio_id),
    }
