"""Paper sheets of a crit: the last that were made, and which are typed in."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from reviews import access
from reviews.access import Viewer
from reviews.deeds.paper_making import paper_code
from reviews.models import Crit, JurySheet, PaperSheets, Revision, Scheme, Seat, Slot
from reviews.reading.paper_tries import given_up


@dataclass(frozen=True)
class PaperRow:
    """One juror's paper of one scheme.

    state     where its jury sheet stands, in words; blank where none is begun
    is_open   whether it may be typed in by whoever reads
    """

    seat: Seat
    scheme: Scheme
    code: str
    state: str
    is_open: bool


@dataclass(frozen=True)
class PaperPage:
    """What was made last, and every sheet of it.

    given_up   when the last try to make it failed, where none was made since
    """

    made: PaperSheets | None
    rows: list[PaperRow]
    given_up: datetime | None = None

    @property
    def megabytes(self) -> str:
        """How much a download takes [MB]."""
        return f"{self.made.bytes / 1e6:.1f}" if self.made else ""


def paper_page(viewer: Viewer, crit: Crit) -> PaperPage:
    """Read both, as far as their reader may."""
    leads = access.can_lead(viewer, crit.studio_id)
    closed = access.closed_schemes(viewer, crit)
    sheets = {
        (sheet.seat_id, sheet.scheme_id): sheet
        for sheet in JurySheet.objects.filter(seat__crit=crit).select_related("typed_by")
    }
    rows = []
    for seat in crit.seats.named().prefetch_related("interests"):
        for slot in Slot.objects.seen_by(seat).select_related("scheme"):
            sheet = sheets.get((seat.pk, slot.scheme_id))
            is_open = leads and slot.scheme_id not in closed
            code = paper_code(seat, slot.scheme)
            rows.append(PaperRow(seat, slot.scheme, code, _state(sheet), is_open))
    last_failed = given_up([crit.pk]).get(crit.pk)
    return PaperPage(crit.paper.select_related("by").first(), rows, last_failed)


def issued_for(crit: Crit, scheme: Scheme) -> list[Revision]:
    """The revisions that may hang on a crit's paper, as they were issued."""
    return list(scheme.revisions.filter(crit=crit).order_by("pk"))


def _state(sheet: JurySheet | None) -> str:
    if sheet is None:
        return ""
    where = f"from paper, typed by {sheet.typed_by}" if sheet.typed_by else "on a device"
    return f"{'locked' if sheet.is_locked else 'begun'}, {where}"
