"""Keep what jurors set: each thing as it is set, once however often it is sent, until locked."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from typing import Any, NamedTuple
from uuid import UUID

from django.db import transaction
from django.http import Http404

from criteria.errors import Refused
from criteria.scoring.levels import NOT_MINE, NotJudged
from reviews import clock
from reviews.deeds.audit_keeping import Deed, about, record
from reviews.models import (
    Comment,
    Crit,
    Criterion,
    Interest,
    IssuedSheet,
    JurySheet,
    LevelGiven,
    Revision,
    Scheme,
    Seat,
)
from reviews.models.briefs import Frozen
from reviews.places import Place, Point
from reviews.reading.crit_sheets import level_of, revision_shown
from reviews.strokes import Strokes
from reviews.versions import is_new

LEFT_OFF = "Left off"
"""What stands, or was sent, where a comment is taken off the sheet."""

AFTER_RELEASE = "Worded after the release."
"""Why such a comment is held, until the leader lets it go."""


TICK = timedelta(microseconds=1)
LONG_AGO = datetime.min.replace(tzinfo=UTC)


class Unfinished(Exception):
    """A sheet that can't be locked yet: which criteria have neither a level nor not mine."""

    def __init__(self, missing: list[Criterion]) -> None:
        super().__init__(", ".join(str(criterion) for criterion in missing))
        self.missing = missing


class CommentSent(NamedTuple):
    """A comment's contents."""

    kind: str = ""
    place: Place = Place()
    criterion: Criterion | None = None
    words: str = ""
    point: Point | None = None
    strokes: Strokes = ()


class _InHand(NamedTuple):
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

    def require_open(self) -> None:
        """Raise Frozen where the sheet is locked."""
        if self.sheet.is_locked:
            raise Frozen("The sheet is locked. The studio leader can open it again.")

    def require_levels(self) -> None:
        """Raise Frozen where no level may be set."""
        _require_unreleased(self.crit)
        if self.interest:
            raise Frozen("An interest is declared in this scheme. No level is set.")
        self.require_open()

    def record_change(self, of: str) -> None:
        """Write into the audit list that a level of a sheet that was locked before is changed."""
        if self.sheet.formers.exists():
            told = about(self.crit, self.sheet.scheme, of)
            record(Deed.CHANGED, self.crit.studio_id, link_of=self.sheet.seat, about=told)


def _require_unreleased(crit: Crit) -> None:
    if crit.is_released:
        raise Frozen("The crit is released. Levels stay as they were.")


NOTHING_SHOWN = 0
"""What a page sends on which no revision was shown."""


def _take_in_hand(seat: Seat, scheme: Scheme, of: int | None = None) -> _InHand:
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
    return _InHand(crit, sheet, interest, sheet.revision if of is None else shown)


def _revision(crit: Crit, scheme: Scheme, of: int | None) -> Revision | None:
    if of is None:
        return revision_shown(crit, scheme)
    return scheme.revisions.filter(crit=crit, pk=of).first()


@transaction.atomic
def keep_impression(
    seat: Seat,
    scheme: Scheme,
    level: int,
    seen: int,
    *,
    of: int | None = None,
) -> JurySheet:
    """Keep the overall impression, set on the revision that was shown."""
    held = _take_in_hand(seat, scheme, of)
    sheet = held.sheet
    now, sent = (sheet.impression, sheet.impression_revision_id), (level, held.shown_id)
    if is_new(sheet, now, sent, stands_at=sheet.impression_version, seen=seen):
        held.require_levels()
        sheet.impression, sheet.impression_revision = level, held.shown
        sheet.impression_version += 1
        sheet.impression_kept_at = clock.now()
        sheet.save()
        held.record_change("overall impression")
    return sheet


@transaction.atomic
def keep_level(
    seat: Seat,
    scheme: Scheme,
    criterion: Criterion,
    level: int | NotJudged,
    seen: int,
    *,
    of: int | None = None,
) -> LevelGiven:
    """Keep one criterion's level, or that it isn't this juror's, set on what was shown."""
    held = _take_in_hand(seat, scheme, of)
    sheet = held.sheet
    given = sheet.given_for(criterion)
    if given is None:
        given = LevelGiven(jury_sheet=sheet, criterion=criterion, version=0)
    now, sent = (level_of(given), given.revision_id), (level, held.shown_id)
    if is_new(given, now, sent, stands_at=given.version, seen=seen):
        held.require_levels()
        given.revision = held.shown
        given.is_not_mine = level is NOT_MINE
        given.level = None if isinstance(level, NotJudged) else level
        given.version += 1
        given.kept_at = clock.now()
        given.save()
        held.record_change(criterion.code)
    return given


def is_open_to_words(sheet: JurySheet, comment: Comment) -> bool:
    """Whether a comment may still change: before the lock, or a stub that the lock left unworded.

    A stub is a promise of words; locking fixes levels and what was said, not what is still owed.
    """
    if sheet.locked_at is None:
        return True
    return comment.is_stub or comment.kept_at > sheet.locked_at


def _comment_of(sheet: JurySheet, key: UUID) -> Comment | None:
    comment = Comment.objects.with_places().filter(key=key).first()
    if comment and comment.jury_sheet_id != sheet.pk:
        raise Http404("A comment of another sheet.")
    return comment


def contents_of(comment: Comment) -> CommentSent | str:
    """A comment's contents, or that it was left off."""
    if comment.removed_at:
        return LEFT_OFF
    number = comment.issued_sheet.number if comment.issued_sheet else ""
    return CommentSent(
        comment.kind,
        Place(number, comment.zone),
        comment.criterion,
        comment.words,
        comment.point,
        comment.drawn,
    )


class _Put(NamedTuple):
    """Where a comment is put: a sheet of the revision that was shown, or the scheme as a whole."""

    revision: Revision | None
    sheet: IssuedSheet | None
    place: Place


def _put(held: _InHand, comment: Comment, sent: CommentSent) -> _Put:
    """Find the sheet that a place names; a comment whose place isn't changed stays where it is.

    Raises Refused where no such sheet was shown, or strokes would lie on a sheet that they were
    not drawn on.
    """
    put = _sheet_for(held, comment, sent)
    if not sent.strokes:
        return put
    if comment.strokes and put.sheet != comment.issued_sheet:
        drawn_on = f"sheet {comment.issued_sheet.number}" if comment.issued_sheet else "its sheet"
        raise Refused(
            str(sent.place) or "nothing",
            f"{drawn_on} of revision {comment.revision.letter if comment.revision else ''}, which "
            "the strokes lie on; take them off before the comment is put elsewhere",
        )
    if put.sheet is None or (
        sent.strokes != comment.drawn and put.sheet.revision_id != held.shown_id
    ):
        raise Refused("strokes", "a comment on the sheet that they are drawn over; begin one there")
    return put


def _sheet_for(held: _InHand, comment: Comment, sent: CommentSent) -> _Put:
    now, place = comment.issued_sheet, sent.place
    number_stays = now.is_called(place.sheet) if now else not place.sheet
    if comment.pk and number_stays and (comment.zone, comment.point) == (place.zone, sent.point):
        return _Put(comment.revision, now, Place(now.number if now else "", comment.zone))
    if not place.sheet and not place.zone:
        return _Put(held.shown, None, place)
    sheets = list(held.shown.sheets.all()) if held.shown else []
    sheet = next((sheet for sheet in sheets if sheet.is_called(place.sheet)), None)
    if sheet is None:
        numbers = ", ".join(each.number for each in sheets)
        shown = held.shown if sheets else None
        known = f"a sheet of revision {shown.letter}: {numbers}" if shown else "no sheet"
        raise Refused(str(place), f"{known}; or nothing, for the scheme as a whole")
    return _Put(held.shown, sheet, Place(sheet.number, place.zone))


def _change_comment(held: _InHand, comment: Comment, sent: Any, seen: int | None) -> bool:
    now = contents_of(comment) if comment.pk else None
    if not is_new(comment, now, sent, stands_at=comment.version, seen=seen):
        return False
    if comment.sent_at:
        raise Frozen("Students were given this comment already. It stays as they read it.")
    if not (comment.pk and is_open_to_words(held.sheet, comment)):
        held.require_open()
    comment.version += 1
    # what is kept after the lock is so by its time too, although the clock is set back meanwhile
    comment.kept_at = max(clock.now(), (held.sheet.locked_at or LONG_AGO) + TICK)
    return True


@transaction.atomic
def keep_comment(
    seat: Seat,
    scheme: Scheme,
    key: UUID,
    sent: CommentSent,
    seen: int,
    *,
    of: int | None = None,
) -> Comment:
    """Keep a comment under the key that the device made; the first save begins it.

    A release stops nobody in mid-sentence: words that come after it are kept, and held, so that
    the leader reads them before students do. It belongs to the issued sheet that was shown;
    raises Refused where its place names none.
    """
    held = _take_in_hand(seat, scheme, of)
    sheet = held.sheet
    comment = _comment_of(sheet, key) or Comment(jury_sheet=sheet, key=key, version=0)
    put = _put(held, comment, sent)
    sent = sent._replace(place=put.place)
    if _change_comment(held, comment, sent, seen):
        if held.crit.is_released and sheet.is_locked and comment.held_at is None:
            comment.held_at, comment.held_reason = comment.kept_at, AFTER_RELEASE
        comment.begun_at = comment.begun_at if comment.pk else comment.kept_at
        comment.kind, comment.criterion, comment.words = sent.kind, sent.criterion, sent.words
        comment.revision, comment.issued_sheet = put.revision, put.sheet
        comment.zone = put.place.zone
        comment.x, comment.y = sent.point or (None, None)
        comment.strokes = sent.strokes
        comment.removed_at = None
        comment.save()
    return comment


@transaction.atomic
def remove_comment(seat: Seat, scheme: Scheme, key: UUID, seen: int | None) -> Comment | None:
    """Leave a comment off the sheet; one that was never kept needs nothing."""
    held = _take_in_hand(seat, scheme)
    comment = _comment_of(held.sheet, key)
    if comment and _change_comment(held, comment, LEFT_OFF, seen):
        if held.sheet.is_locked:
            _require_unreleased(held.crit)
        comment.removed_at = comment.kept_at
        comment.save(update_fields=["removed_at", "version", "kept_at"])
    return comment


def not_yet_judged(
    sheet: JurySheet | None, criteria: list[Criterion], interest: Interest | None = None
) -> list[Criterion]:
    """Weighted criteria with neither a level nor not mine; none where an interest is declared."""
    if interest:
        return []
    given = {g.criterion_id: level_of(g) for g in sheet.levels.all()} if sheet else {}
    return [c for c in criteria if c.weight and given.get(c.pk) is None]


@transaction.atomic
def lock_sheet(seat: Seat, scheme: Scheme) -> JurySheet:
    """Fix a juror's levels for a scheme; raise Unfinished where a weighted criterion is open.

    Locking what is locked changes nothing.
    """
    held = _take_in_hand(seat, scheme)
    sheet = held.sheet
    if sheet.is_locked:
        return sheet
    _require_unreleased(held.crit)
    if missing := not_yet_judged(sheet, list(held.crit.criteria.all()), held.interest):
        raise Unfinished(missing)
    # nothing that was kept before stands as kept later, although the clock was set back
    kept = (comment.kept_at for comment in sheet.comments.all())
    sheet.locked_at = max(clock.now(), *kept, LONG_AGO)
    sheet.save(update_fields=["locked_at"])
    return sheet


@transaction.atomic
def take_up_revision(seat: Seat, scheme: Scheme, of: int) -> JurySheet:
    """Go on with a newer revision; what is set already stays set on the one it was set on."""
    held = _take_in_hand(seat, scheme, of)
    held.require_open()
    _require_unreleased(held.crit)
    if held.shown and held.shown.pk > (held.sheet.revision_id or NOTHING_SHOWN):
        held.sheet.revision = held.shown
        held.sheet.save(update_fields=["revision"])
    return held.sheet
