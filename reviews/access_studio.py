"""Who may do what in a studio between crits: adjust how somebody presents, hand in for them."""

from __future__ import annotations

from django.db.models import QuerySet

from reviews.access import Viewer, can_lead
from reviews.models import Adjustment, Revision, Scheme

# How somebody presents


def can_adjust(viewer: Viewer, scheme: Scheme) -> bool:
    """Leaders of the studio, and coordinators."""
    return can_lead(viewer, scheme.studio_id) or viewer.is_coordinator


def adjustments(viewer: Viewer, scheme: Scheme) -> QuerySet[Adjustment]:
    """All of a scheme for whoever sets them; to a student the own alone, not a team mate's."""
    held = scheme.adjustments.select_related("person", "set_by", "ended_by")
    if can_adjust(viewer, scheme):
        return held
    return held.filter(person=viewer.person) if viewer.person else held.none()


# Handing in for somebody


def can_issue_for(viewer: Viewer, scheme: Scheme) -> bool:
    """Leaders of the studio, while the scheme isn't withdrawn."""
    return can_lead(viewer, scheme.studio_id) and scheme.withdrawn_at is None


def can_read_behalf(viewer: Viewer, revision: Revision) -> bool:
    """Why a revision was handed in for its students: they, leaders and coordinators."""
    is_theirs = revision.pk in viewer.issued_ids or revision.scheme_id in viewer.own_scheme_ids
    return is_theirs or can_lead(viewer, revision.scheme.studio_id) or viewer.is_coordinator
