"""What was said of an issued sheet, for whoever reads its words on another page, and no more."""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

from django.urls import reverse

from reviews import access, access_day
from reviews.access import Viewer
from reviews.models import Crit, IssuedSheet, Scheme, Seat
from reviews.pages.jury_pages import own_comments
from reviews.pages.moderation_comments import SchemeComments
from reviews.pages.results_page import results_of
from reviews.pages.spoken_read import moderated_spoken
from reviews.pages.traced_sheets import Said, TracedSheet, traced
from reviews.reading.crit_moderation_table import moderation_table
from reviews.reading.crit_results import foot_of


@dataclass(frozen=True)
class SaidOfSheet:
    """The comments on one sheet, each numbered as on the page that holds its words.

    at            the address of that page
    jury_sheet    the address of the jury sheet that a juror comes from
    is_released   whether it is read as what the crit released
    """

    said: tuple[Said, ...] = ()
    at: str = ""
    jury_sheet: str = ""
    is_released: bool = False

    def over(self, sheet: IssuedSheet) -> TracedSheet:
        """The sheet under its flags and strokes."""
        return traced(sheet, self.said, at=self.at)


NOTHING_SAID = SaidOfSheet()


class Remark(NamedTuple):
    """A comment in the list of squares, its flag, and the way to its words.

    zone   the square that its flag stands in; blank of the sheet as a whole
    """

    zone: str
    number: str
    flag: str
    href: str
    of: str
    kind: str
    words: str
    is_held: bool
    what: str


def remarks(heard: SaidOfSheet) -> list[Remark]:
    """The comments as a list says them."""
    return [_remark(each, heard.at) for each in heard.said]


def _remark(said: Said, at: str) -> Remark:
    comment, foot = said.comment, foot_of(said.comment)
    return Remark(
        zone=comment.zone or (foot.zone if foot else ""),
        number=said.number,
        flag=said.flag,
        href=f"{at}#{said.id}",
        of=said.of,
        kind=comment.kind,
        words=comment.words,
        is_held=comment.held_at is not None,
        what=f"{said.what} {said.number}",
    )


def said_of_sheet(viewer: Viewer, sheet: IssuedSheet) -> SaidOfSheet:
    """A juror's own; from the release on, and to its leaders before, what they read of the crit."""
    scheme, crit, seat = sheet.revision.scheme, sheet.revision.crit, viewer.seat
    jury_sheet = ""
    if seat and access.seen_slots(seat).filter(scheme=scheme).exists():
        jury_sheet = reverse("show-jury-sheet", args=[scheme.pk])
    is_read = crit is not None and access.can_read_results(viewer, crit, scheme)
    if seat and jury_sheet and not (crit and is_read and crit.is_released):
        return SaidOfSheet(_own(seat, sheet), jury_sheet, jury_sheet)
    if crit is not None and not is_read and access_day.can_read_comments(viewer, crit, scheme):
        at = reverse("show-results", args=[crit.pk, scheme.pk])
        sent = results_of(crit, scheme, is_sent=True)
        return SaidOfSheet(tuple(sent.said_of(sheet)), at, jury_sheet)
    if crit is None or not is_read:
        return SaidOfSheet(jury_sheet=jury_sheet)
    if access.can_lead(viewer, crit.studio_id):
        at = reverse("moderate-scheme", args=[crit.pk, scheme.pk])
        return SaidOfSheet(_moderated(viewer, crit, scheme, sheet), at, jury_sheet)
    at = reverse("show-results", args=[crit.pk, scheme.pk])
    hears = access_day.can_read_spoken(viewer, crit, scheme)
    said = tuple(results_of(crit, scheme, hears=hears).said_of(sheet))
    return SaidOfSheet(said, at, jury_sheet, is_released=bool(said))


def _own(seat: Seat, sheet: IssuedSheet) -> tuple[Said, ...]:
    own = own_comments(seat.sheets.on(sheet.revision.scheme_id))
    return tuple(
        Said(comment, str(n), seat.name, f"comment-{comment.key}")
        for n, comment in enumerate(own, start=1)
        if comment.issued_sheet_id == sheet.pk
    )


def _moderated(viewer: Viewer, crit: Crit, scheme: Scheme, sheet: IssuedSheet) -> tuple[Said, ...]:
    table = moderation_table(crit, scheme, closed=access.closed_schemes(viewer, crit))
    said = SchemeComments(next(iter(table.rows), None), moderated_spoken(crit, scheme)).said
    return tuple(each for each in said if each.comment.issued_sheet_id == sheet.pk)
