"""Type a jury sheet in from paper: kept as if its juror had set it, and marked by whom it was."""

from __future__ import annotations

from dataclasses import dataclass
from uuid import UUID

from django.db import transaction

from criteria.scoring.levels import NotJudged
from reviews.deeds import crit_jury_keeping
from reviews.deeds.audit_keeping import Deed, about, record
from reviews.deeds.crit_jury_keeping import CommentSent
from reviews.models import Crit, Criterion, JurySheet, Person, Revision, Scheme, Seat
from reviews.models.briefs import Frozen
from reviews.reading.crit_sheets import level_of, revision_shown


@dataclass(frozen=True)
class Typed:
    """What stands on a paper sheet; each thing with the version that whoever types had seen.

    in_part   the juror came late or left: then no level is typed
    """

    impression: int | None
    impression_seen: int
    levels: list[tuple[Criterion, int | NotJudged, int]]
    comments: list[tuple[UUID, CommentSent, int]]
    of: int | None
    locks: bool
    in_part: bool = False


def why_not_typed(seat: Seat, scheme: Scheme) -> str:
    """Say why a sheet isn't typed in; nothing where it may be."""
    sheet = seat.sheets.on(scheme.pk)
    if sheet is None or sheet.typed_by_id:
        if sheet and sheet.is_locked:
            return "The sheet is locked. Open it again on the page of the scheme's moderation."
        return ""
    return (
        f"{seat.name} began this sheet on a device. It is theirs to finish: what is on paper and "
        "not on the device, they type there."
    )


@transaction.atomic
def type_in(seat: Seat, scheme: Scheme, typed: Typed, by: Person) -> JurySheet:
    """Keep what is on paper, all or nothing; the same sent twice changes nothing.

    Raises Frozen where the juror began on a device, or it is locked; Newer, Unfinished and Refused
    as keeping does.
    """
    crit = Crit.objects.hold(seat.crit_id)
    if why := why_not_typed(seat, scheme):
        if not _is_sent_again(seat, scheme, typed):
            raise Frozen(why)
        return JurySheet.objects.get(seat=seat, scheme=scheme)
    named = Revision.objects.filter(pk=typed.of or 0, crit=crit, scheme=scheme).first()
    revision = named or revision_shown(crit, scheme)
    JurySheet.objects.get_or_create(
        seat=seat, scheme=scheme, defaults={"revision": revision, "typed_by": by}
    )
    crit_jury_keeping.tell_seen(seat, scheme, in_part=typed.in_part, of=typed.of)
    if typed.impression is not None:
        crit_jury_keeping.keep_impression(
            seat, scheme, typed.impression, typed.impression_seen, of=typed.of
        )
    for criterion, level, seen in typed.levels:
        crit_jury_keeping.keep_level(seat, scheme, criterion, level, seen, of=typed.of)
    for key, sent, seen in typed.comments:
        crit_jury_keeping.keep_comment(seat, scheme, key, sent, seen, of=typed.of)
    if typed.locks:
        crit_jury_keeping.lock_sheet(seat, scheme)
    record(Deed.TYPED, crit.studio_id, by=by, about=about(crit, scheme), of_seat=seat)
    return JurySheet.objects.get(seat=seat, scheme=scheme)


def _is_sent_again(seat: Seat, scheme: Scheme, typed: Typed) -> bool:
    """Whether a locked sheet that was typed in holds just what is sent."""
    sheet = seat.sheets.filter(scheme=scheme, typed_by__isnull=False).first()
    if sheet is None or not typed.locks or sheet.is_in_part != typed.in_part:
        return False
    if not typed.in_part and sheet.impression != typed.impression:
        return False
    return all(
        (given := sheet.given_for(criterion)) is not None and level_of(given) == level
        for criterion, level, _ in typed.levels
    ) and all(
        sheet.comments.filter(key=key, words=sent.words).exists() for key, sent, _ in typed.comments
    )
