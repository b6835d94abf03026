"""Who sees that a scheme shows again: its own students and whoever holds the re-crit.

The class doesn't read who is in a re-crit: a verdict is a student's own. So a re-crit's running
order is read whole by leaders, coordinators, scribes, and whoever has a duty at it; its students
read their own slot. What hangs in the room or stands on its projector is seen by who is let in.
"""

from __future__ import annotations

from django.db.models import QuerySet

from reviews.access import Role, Viewer, is_own
from reviews.models import Consent, Crit, Scheme, Slot


def can_read_order(viewer: Viewer, crit: Crit) -> bool:
    """Whether somebody of the studio reads a crit's order whole."""
    if crit.kind != Crit.Kind.RECRIT or viewer.is_coordinator:
        return True
    if any(viewer.is_(role, crit.studio_id) for role in (Role.LEADER, Role.SCRIBE)):
        return True
    return viewer.person is not None and crit.duties.filter(person=viewer.person).exists()


def order_slots(viewer: Viewer, crit: Crit) -> QuerySet[Slot]:
    """The slots of a crit that somebody of the studio reads."""
    slots = crit.slots.select_related("scheme").prefetch_related("scheme__members")
    if can_read_order(viewer, crit):
        return slots
    return slots.filter(scheme__in=viewer.own_scheme_ids)


def can_consent(viewer: Viewer, crit: Crit, scheme: Scheme) -> bool:
    """The scheme's students, once the crit is released."""
    same = scheme.studio_id == crit.studio_id
    return same and crit.is_released and is_own(viewer, scheme.pk)


def own_consents(crit: Crit, scheme: Scheme) -> QuerySet[Consent]:
    """What stands allowed of a scheme, by any of its students, that jurors of a crit read."""
    return Consent.objects.filter(kind=Consent.Kind.LETTER, crit=crit, scheme=scheme, ended_at=None)
