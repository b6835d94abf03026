"""Which crit comes next, who has not issued for it, and which jurors have sheets to lock."""

from __future__ import annotations

from collections.abc import Iterable

from django.db.models import Prefetch, prefetch_related_objects
from django.utils import timezone

from reviews.models import Crit, JurySheet, Scheme, Seat, Slot, Studio


def nearest_crit(studio: Studio) -> Crit | None:
    """The next crit of a studio, or the last where none is to come."""
    crits = list(studio.crits.all())
    today = timezone.localdate()
    return next((crit for crit in crits if crit.day >= today), crits[-1] if crits else None)


def read_what_waits(crits: Iterable[Crit]) -> None:
    """Fetch at once what is asked below of crits that are open; of those released, nothing."""
    prefetch_related_objects(
        [crit for crit in crits if not crit.is_released],
        # joined: SQLite refuses to look up more than a thousand schemes by their keys
        Prefetch("slots", Slot.objects.select_related("scheme")),
        Prefetch("seats__sheets", JurySheet.objects.only("seat_id", "scheme_id", "locked_at")),
        "seats__interests",
        "criteria",
    )


def not_issued(crit: Crit, schemes: list[Scheme]) -> list[Scheme]:
    """Schemes that stand and have not issued for a crit that is open."""
    if crit.is_released:
        return []
    return [
        scheme
        for scheme in schemes
        if all(revision.crit_id != crit.pk for revision in scheme.revisions.all())
    ]


def not_locked(crit: Crit) -> list[tuple[Seat, int]]:
    """Jurors who have sheets to lock yet, and how many; where an interest is declared, none.

    Nobody before the day or after the release.
    """
    if crit.is_released or crit.day > timezone.localdate():
        return []
    found = []
    for seat in crit.seats.all():
        locked = {sheet.scheme_id: sheet.is_locked for sheet in seat.sheets.all()}
        waits = [
            slot
            for slot in crit.slots.all()
            if slot.is_asked_of(seat, begun=slot.scheme_id in locked)
            and not locked.get(slot.scheme_id)
            and not seat.interest_in(slot.scheme_id)
        ]
        if waits:
            found.append((seat, len(waits)))
    return found
