"""A revision issued late, beside the one before pens down, and which of them the panel judges."""

from __future__ import annotations

from dataclasses import dataclass

from reviews.models import Crit, JudgedChoice, JurySheet, Revision, Slot
from reviews.reading.crit_sheets import Issued


@dataclass(frozen=True)
class LateIssue:
    """Two revisions of which a panel judges one.

    choice    what it chose; None before, and then the late one is shown
    is_open   whether it can choose: nobody has begun
    """

    in_time: Revision
    late: Revision
    choice: JudgedChoice | None
    is_open: bool

    @property
    def both(self) -> tuple[Revision, Revision]:
        """The two, as they were issued."""
        return self.in_time, self.late


def late_issue(crit: Crit, slot: Slot, issued: Issued, own: JurySheet | None) -> LateIssue | None:
    """The late revision of a slot's scheme and the one before it; None where there aren't two."""
    shown = issued.shown
    if shown is None or not (shown.minutes_late or issued.chosen):
        return None
    last_first = issued.revisions[::-1]
    in_time = next((each for each in last_first if not each.minutes_late), None)
    late = next((each for each in last_first if each.minutes_late), None)
    if in_time is None or late is None:
        return None
    choice = JudgedChoice.objects.filter(slot=slot).select_related("seat", "revision").first()
    begun = own is not None or JurySheet.objects.of(crit.pk, slot.scheme_id).exists()
    return LateIssue(in_time, late, choice, not (begun or choice or crit.is_released))
