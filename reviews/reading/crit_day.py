"""A crit's day: whose turn it is in each room, by the leader's word or else by the clock."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import datetime

from django.utils import timezone

from criteria.drawing.running_order import Turn
from reviews.models import Crit, Slot


def turns_of(crit: Crit, slots: Sequence[Slot], now: datetime) -> dict[int, Turn]:
    """Whose turn it is, by slot: what the leader typed stands, and where that says nothing of what
    is on, the hour does, on the day alone.
    """
    found = {slot.pk: typed for slot in slots if (typed := _typed(slot.state))}
    here = timezone.localtime(now)
    if here.date() == crit.day and Turn.ON not in found.values():
        for of_room in by_room(slots).values():
            begun = [slot for slot in of_room if slot.starts_at and slot.starts_at <= here.time()]
            for slot in begun:
                found.setdefault(slot.pk, Turn.ON if slot == begun[-1] else Turn.DONE)
    otherwise = Turn.DONE if crit.day < here.date() else Turn.WAITING
    return {slot.pk: found.get(slot.pk, otherwise) for slot in slots}


def by_room(slots: Iterable[Slot]) -> dict[str, list[Slot]]:
    """What each room sees, in the order of the hour; what all jurors see is seen in each."""
    listed = list(slots)
    rooms = sorted({slot.room for slot in listed if slot.room}) or [""]
    return {room: [slot for slot in listed if slot.room in ("", room)] for room in rooms}


def _typed(state: str) -> Turn | None:
    """What a leader's word of a slot says; None where it says neither."""
    word = state.strip().casefold()
    return next(
        (turn for turn in Turn if word == turn or word.startswith((f"{turn} ", f"{turn},"))), None
    )
