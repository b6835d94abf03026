"""Set a check aside with a reason, take it back, and leave what is set aside out of a sheet.

What is set aside now counts for nothing on every check sheet, issued or not: a check that is
wrong was wrong before. Findings stored at an issue stay as they stood at that moment.
"""

from __future__ import annotations

from datetime import datetime

from django.db import transaction

from reviews import clock
from reviews.models import Person, Scheme, SetAside, Studio


class AsideAlready(Exception):
    """A check that is set aside already, for another reason; `standing` says which."""

    def __init__(self, standing: SetAside) -> None:
        super().__init__(str(standing))
        self.standing = standing


@transaction.atomic
def set_aside(
    scheme: Scheme,
    key: str,
    reason: str,
    by: Person,
    *,
    whole_studio: bool,
    at: datetime | None = None,
) -> SetAside:
    """Set a target or a check aside, for a scheme or its whole studio; sent twice, it is once.

    Raises AsideAlready where it is set aside for as much already, with other words.
    """
    studio = Studio.objects.select_for_update().get(pk=scheme.studio_id)
    asked = SetAside(
        studio=studio,
        scheme=None if whole_studio else scheme,
        key=key,
        reason=reason,
        by=by,
        at=at or clock.now(),
    )
    same = SetAside.objects.standing().filter(studio=studio, scheme=asked.scheme, key=key)
    if found := same.select_related("by").first():
        if (found.reason, found.by) == (reason, by):
            return found
        raise AsideAlready(found)
    asked.save()
    return asked


@transaction.atomic
def take_back(aside: SetAside, by: Person, *, at: datetime | None = None) -> SetAside:
    """Let a check count again; what is taken back stays so, with who took it back first."""
    held = SetAside.objects.select_for_update().get(pk=aside.pk)
    if held.taken_back_at is None:
        held.taken_back_by, held.taken_back_at = by, at or clock.now()
        held.save(update_fields=["taken_back_by", "taken_back_at"])
    return held
