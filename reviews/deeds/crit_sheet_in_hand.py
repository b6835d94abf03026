"""A juror's sheet in hand: held with its crit, so that no two deeds on it cross."""

from __future__ import annotations

from datetime import datetime
from typing import NamedTuple

from django.utils import timezone

from reviews import clock
from reviews.deeds.audit_keeping import Deed, about, record
from reviews.models import Crit, Interest, JurySheet, Revision, Scheme, Seat
from reviews.models.briefs import Frozen
from reviews.reading.crit_sheets import revision_shown


class InHand(NamedTuple):
    """A juror's sheet with its crit, both held until the transaction ends.

    shown   the revision that the juror had before them
    """

    crit: Crit
    sheet: JurySheet
    interest: Interest | None
    shown: Revision | None

    @property
    def shown_id(self) -> int | None:
        """The key of what was shown."""
        return self.shown.pk if self.shown else None

    def waited_since(self, set_at: datetime | None) -> datetime | None:
        """When the juror set what waited on the device; None where no clock can have said that."""
        if set_at is None or set_at > clock.now() or timezone.localdate(set_at) < self.crit.day:
            return None
        return set_at

    @property
    def asks_levels(self) -> bool:
        """Whether its juror sets levels."""
        return asks_levels(self.crit, self.sheet, self.interest)

    def require_open(self) -> None:
        """Raise Frozen where the sheet is locked."""
        if self.sheet.is_locked:
            raise Frozen("The sheet is locked. The studio leader can open it again.")

    def require_levels(self) -> None:
        """Raise Frozen where no level may be set."""
        require_unreleased(self.crit)
        if not self.crit.asks_levels:
            raise Frozen("This crit is talked through first. No levels are asked.")
        if self.interest:
            raise Frozen("An interest is declared in this scheme. No level is set.")
        if self.sheet.is_in_part:
            raise Frozen("This scheme was seen in part. No level is set; take that back to go on.")
        self.require_open()

    def record_change(self, of: str, *, always: bool = False) -> None:
        """Write into the audit list that a level of a sheet that was locked before is changed."""
        if always or self.sheet.formers.exists():
            told = about(self.crit, self.sheet.scheme, of)
            record(Deed.CHANGED, self.crit.studio_id, link_of=self.sheet.seat, about=told)


def require_unreleased(crit: Crit) -> None:
    """Raise Frozen where students have read the crit."""
    if crit.is_released:
        raise Frozen("The crit is released. Levels stay as they were.")


NOTHING_SHOWN = 0
"""What a page sends on which no revision was shown."""


def take_in_hand(seat: Seat, scheme: Scheme, of: int | None = None) -> InHand:
    """Hold the crit, then the juror's sheet; begin a sheet where there is none.

    of   key of the revision that the page showed; None takes the sheet's own
    """
    crit = Crit.objects.hold(seat.crit_id)
    interest = seat.interests.standing().filter(scheme=scheme).first()
    if interest and not interest.may_comment:
        raise Frozen("You stepped aside for this scheme. Take that back to go on.")
    shown = _revision(crit, scheme, of)
    sheet, _ = JurySheet.objects.select_for_update(of=("self",)).get_or_create(
        seat=seat, scheme=scheme, defaults={"revision": shown}
    )
    return InHand(crit, sheet, interest, sheet.revision if of is None else shown)


def _revision(crit: Crit, scheme: Scheme, of: int | None) -> Revision | None:
    if of is None:
        return revision_shown(crit, scheme)
    return scheme.revisions.filter(crit=crit, pk=of).first()


def asks_levels(crit: Crit, sheet: JurySheet | None, interest: Interest | None) -> bool:
    """Whether a juror sets levels: no interest, the whole seen, and a crit that asks for them."""
    return crit.asks_levels and interest is None and not (sheet and sheet.is_in_part)
