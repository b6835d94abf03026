"""Keep what jurors set: each thing as it is set, once however often it is sent, until locked."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import UTC, datetime, timedelta
from typing import Any, NamedTuple
from uuid import UUID

from django.db import transaction
from django.http import Http404

from criteria.errors import Refused
from criteria.scoring.levels import NOT_MINE, NotJudged
from reviews import clock
from reviews.deeds.crit_sheet_in_hand import (
    NOTHING_SHOWN,
    InHand,
    asks_levels,
    require_unreleased,
    take_in_hand,
)
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
from reviews.reading.recrit_scope import asked_of
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


@transaction.atomic
def keep_impression(
    seat: Seat,
    scheme: Scheme,
    level: int,
    seen: int,
    *,
    of: int | None = None,
    set_at: datetime | None = None,
) -> JurySheet:
    """Keep the overall impression, set on the revision that was shown.

    set_at   by the site's clock, where it waited on the device
    """
    held = take_in_hand(seat, scheme, of)
    sheet = held.sheet
    now, sent = (sheet.impression, sheet.impression_revision_id), (level, held.shown_id)
    if is_new(sheet, now, sent, stands_at=sheet.impression_version, seen=seen):
        held.require_levels()
        sheet.impression, sheet.impression_revision = level, held.shown
        sheet.impression_version += 1
        sheet.impression_kept_at = clock.now()
        sheet.impression_set_at = held.waited_since(set_at)
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
    set_at: datetime | None = None,
) -> LevelGiven:
    """Keep one criterion's level, or that it isn't this juror's, set on what was shown.

    set_at   by the site's clock, where it waited on the device
    """
    held = take_in_hand(seat, scheme, of)
    sheet = held.sheet
    given = sheet.given_for(criterion)
    if given is None:
        given = LevelGiven(jury_sheet=sheet, criterion=criterion, version=0)
    now, sent = (level_of(given), given.revision_id), (level, held.shown_id)
    if is_new(given, now, sent, stands_at=given.version, seen=seen):
        held.require_levels()
        _require_asked(held.crit, scheme, criterion)
        given.revision = held.shown
        given.is_not_mine = level is NOT_MINE
        given.level = None if isinstance(level, NotJudged) else level
        given.version += 1
        given.kept_at = clock.now()
        given.set_at = held.waited_since(set_at)
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


def _put(held: InHand, comment: Comment, sent: CommentSent) -> _Put:
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


def _sheet_for(held: InHand, comment: Comment, sent: CommentSent) -> _Put:
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


def _change_comment(held: InHand, comment: Comment, sent: Any, seen: int | None) -> bool:
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
    set_at: datetime | None = None,
) -> Comment:
    """Keep a comment under the key that the device made; the first save begins it.

    A release stops nobody in mid-sentence: words that come after it are kept, and held, so that
    the leader reads them before students do. It belongs to the issued sheet that was shown;
    raises Refused where its place names none.
    """
    held = take_in_hand(seat, scheme, of)
    sheet = held.sheet
    comment = _comment_of(sheet, key) or Comment(jury_sheet=sheet, key=key, version=0)
    put = _put(held, comment, sent)
    sent = sent._replace(place=put.place)
    if _change_comment(held, comment, sent, seen):
        if held.crit.is_released and sheet.is_locked and comment.held_at is None:
            comment.held_at, comment.held_reason = comment.kept_at, AFTER_RELEASE
        comment.set_at = held.waited_since(set_at)
        if not comment.pk:
            comment.begun_at = comment.set_at or comment.kept_at
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
    held = take_in_hand(seat, scheme)
    comment = _comment_of(held.sheet, key)
    if comment and _change_comment(held, comment, LEFT_OFF, seen):
        if held.sheet.is_locked:
            require_unreleased(held.crit)
        comment.removed_at = comment.kept_at
        comment.save(update_fields=["removed_at", "version", "kept_at"])
    return comment


def _require_asked(crit: Crit, scheme: Scheme, criterion: Criterion) -> None:
    """Raise Frozen for a criterion that a re-crit doesn't ask of a scheme."""
    if crit.follows_id and criterion not in asked_of(crit, scheme.pk):
        raise Frozen("This criterion isn't open. What isn't shown again keeps its level.")


def not_yet_judged(
    crit: Crit,
    sheet: JurySheet | None,
    interest: Interest | None = None,
    *,
    asked: Iterable[Criterion] | None = None,
) -> list[Criterion]:
    """Weighted criteria with neither a level nor not mine; none where no level is asked.

    asked   those that are asked of the scheme; None: every criterion of the crit
    """
    if not asks_levels(crit, sheet, interest):
        return []
    given = {g.criterion_id: level_of(g) for g in sheet.levels.all()} if sheet else {}
    criteria = crit.criteria.all() if asked is None else asked
    return [c for c in criteria if c.weight and given.get(c.pk) is None]


@transaction.atomic
def lock_sheet(seat: Seat, scheme: Scheme) -> JurySheet:
    """Fix a juror's levels for a scheme; raise Unfinished where a weighted criterion is open.

    Locking what is locked changes nothing.
    """
    held = take_in_hand(seat, scheme)
    sheet = held.sheet
    if sheet.is_locked:
        return sheet
    require_unreleased(held.crit)
    if missing := not_yet_judged(
        held.crit, sheet, held.interest, asked=asked_of(held.crit, scheme.pk)
    ):
        raise Unfinished(missing)
    # nothing that was kept before stands as kept later, although the clock was set back
    kept = (comment.kept_at for comment in sheet.comments.all())
    sheet.locked_at = max(clock.now(), *kept, LONG_AGO)
    sheet.save(update_fields=["locked_at"])
    return sheet


@transaction.atomic
def tell_seen(seat: Seat, scheme: Scheme, *, in_part: bool, of: int | None = None) -> JurySheet:
    """Keep that a juror came late or left, or that they saw the whole after all.

    What was seen in part takes comments and no level; levels set before stand on the sheet and
    count for nothing. Until the lock it can be taken back. What stands already changes nothing.
    """
    held = take_in_hand(seat, scheme, of)
    sheet = held.sheet
    if sheet.is_in_part != in_part:
        require_unreleased(held.crit)
        held.require_open()
        sheet.saw_in_part_at = clock.now() if in_part else None
        sheet.save(update_fields=["saw_in_part_at"])
    return sheet


@transaction.atomic
def take_up_revision(seat: Seat, scheme: Scheme, of: int) -> JurySheet:
    """Go on with a newer revision, or the one that the panel chose; nothing set is set anew."""
    held = take_in_hand(seat, scheme, of)
    held.require_open()
    require_unreleased(held.crit)
    is_newer = held.shown and held.shown.pk > (held.sheet.revision_id or NOTHING_SHOWN)
    if is_newer or (held.shown and held.shown == revision_shown(held.crit, scheme)):
        held.sheet.revision = held.shown
        held.sheet.save(update_fields=["revision"])
    return held.sheet
