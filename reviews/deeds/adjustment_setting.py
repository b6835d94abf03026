"""Set how somebody presents, and end it: nothing is overwritten, what was set stays dated."""

from __future__ import annotations

from django.db import transaction

from reviews import clock
from reviews.deeds.crit_timekeeping import Press, press
from reviews.models import Adjustment, ClockEntry, Person, Scheme
from reviews.models.briefs import Frozen
from reviews.reading.own_pause import PAUSE_MIN, slots_to_pause

OWN_PAUSE = f"{PAUSE_MIN} minutes, asked for by whoever presents"
"""What the timekeeper reads of it: not who, where two present."""


@transaction.atomic
def set_adjustment(
    scheme: Scheme,
    person: Person,
    effect: str,
    by: Person,
    *,
    minutes: int | None = None,
    words: str = "",
) -> Adjustment:
    """Set an effect of somebody's; the same again is one, another ends the one before.

    minutes   of more time; of no other effect
    """
    Scheme.objects.select_for_update().get(pk=scheme.pk)
    held = scheme.adjustments.standing().filter(person=person, effect=effect).last()
    minutes = minutes if effect == Adjustment.Effect.MORE_TIME else None
    if held and (held.minutes, held.words) == (minutes, words):
        return held
    if held:
        _end(held, by)
    return Adjustment.objects.create(
        scheme=scheme,
        person=person,
        effect=effect,
        minutes=minutes,
        words=words,
        set_by=by,
        set_at=clock.now(),
    )


@transaction.atomic
def end_adjustment(adjustment: Adjustment, by: Person) -> Adjustment:
    """End it; once it is ended it stays as it was."""
    held = Adjustment.objects.select_for_update().get(pk=adjustment.pk)
    if held.ended_at is None:
        _end(held, by)
    return held


def _end(adjustment: Adjustment, by: Person) -> None:
    adjustment.ended_at, adjustment.ended_by = clock.now(), by
    adjustment.save(update_fields=["ended_at", "ended_by"])


def pause_own(scheme: Scheme, by: Person) -> ClockEntry:
    """Stop the clock of the own slot for five minutes, as the student who presents.

    Raises Frozen, in words, where nothing of theirs is on or no pause is set for them.
    """
    slot = next((slot for slot in slots_to_pause(by) if slot.scheme_id == scheme.pk), None)
    if slot is None:
        raise Frozen(f"{scheme} is not on now, or no pause is set for you. The clock goes on.")
    return press(slot, Press(ClockEntry.Deed.PAUSED, words=OWN_PAUSE), by)
