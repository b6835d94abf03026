"""Which revision a panel judges where one was issued late: one tap, once, before any entry."""

from __future__ import annotations

from django.db import transaction

from reviews import clock
from reviews.deeds.crit_sheet_in_hand import require_unreleased
from reviews.models import Crit, JudgedChoice, JurySheet, Revision, Seat, Slot
from reviews.models.briefs import Frozen


@transaction.atomic
def choose_revision(seat: Seat, slot: Slot, revision: Revision) -> JudgedChoice:
    """Keep which revision the panel of a slot judges; the same chosen again changes nothing.

    Raises Frozen where the other was chosen, or where a juror has begun: what was entered stands
    on what was shown.
    """
    crit = Crit.objects.hold(slot.crit_id)
    if before := JudgedChoice.objects.filter(slot=slot).select_related("revision", "seat").first():
        if before.revision_id == revision.pk:
            return before
        raise Frozen(f"{before.seat or 'The leader'} chose {before.revision} already.")
    require_unreleased(crit)
    begun = JurySheet.objects.of(crit.pk, slot.scheme_id).select_related("seat").first()
    if begun:
        raise Frozen(f"{begun.seat} has begun: each sheet stays with the revision it names.")
    return JudgedChoice.objects.create(slot=slot, revision=revision, seat=seat, at=clock.now())
