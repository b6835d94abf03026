"""How somebody presents: what the room is told of it is the effect alone, never whose or why."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from functools import cache

from django.db.models import QuerySet

from criteria.crit_day.timetable import USUAL
from reviews.models import Adjustment, Crit, Slot

Effect = Adjustment.Effect

TOLD = {
    Effect.SEATED: "seated",
    Effect.NOTES: "from notes",
    Effect.RECORDED: "by a recording, answers live",
    Effect.WRITTEN: "questions in writing",
    Effect.SECOND_VOICE: "a second voice",
    Effect.PAUSE: "may ask for a pause of five minutes",
}
"""What the jury and the timekeeper read of each effect."""


def effects_of(crit: Crit, slots: Iterable[Slot]) -> dict[int, list[str]]:
    """What a room is told of some slots, by their keys: 10 minutes, seated; asked for once."""
    return {pk: told_at(crit, rows) for pk, rows in _by_slot(slots).items()}


def extra_minutes_of(slots: Iterable[Slot]) -> dict[int, int]:
    """Minutes that slots have to present beyond the usual, by their keys; of two the greater."""
    return {pk: _extra(rows) for pk, rows in _by_slot(slots).items()}


def _by_slot(slots: Iterable[Slot]) -> dict[int, list[Adjustment]]:
    of_scheme = {slot.scheme_id: slot.pk for slot in slots}
    found: dict[int, list[Adjustment]] = defaultdict(list)
    for row in _standing().filter(scheme__in=of_scheme):
        found[of_scheme[row.scheme_id]].append(row)
    return found


@cache
def _standing() -> QuerySet[Adjustment]:
    """Those that stand, of people who still draw; built once, and filtered by whoever asks."""
    return Adjustment.objects.standing().of_members().order_by()


def _extra(rows: Sequence[Adjustment]) -> int:
    return max((row.minutes or 0 for row in rows if row.effect == Effect.MORE_TIME), default=0)


def told_at(crit: Crit, rows: Sequence[Adjustment]) -> list[str]:
    """Effects in one order, each once, so that nothing can be read of who has which."""
    usual = USUAL[crit.kind].present_min if crit.present_min is None else crit.present_min
    extra = _extra(rows)
    there = {row.effect for row in rows}
    return [
        *([f"{usual + extra} minutes"] if extra else []),
        *(words for effect, words in TOLD.items() if effect in there),
    ]
