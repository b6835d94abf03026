"""The student's own pause: the slot that is on and that somebody may stop for five minutes."""

from __future__ import annotations

from reviews import clock
from reviews.models import Adjustment, Person, Slot
from reviews.reading.crit_day import timed

PAUSE_MIN = 5
"""Minutes of the pause. Common practice [min]."""


def slots_to_pause(person: Person) -> list[Slot]:
    """The slots that are on and not paused, at which somebody presents and may ask for a pause."""
    rows = person.adjustments.standing().of_members().filter(effect=Adjustment.Effect.PAUSE)
    today = Slot.objects.filter(scheme__in=rows.values("scheme"), crit__day=clock.today())
    return [slot for slot in today.select_related("scheme", "crit") if _runs(slot)]


def _runs(slot: Slot) -> bool:
    (own,) = timed(slot.crit, [slot], clock.now())
    return own.clock.runs and not own.clock.is_paused
