"""What a leader puts right: a sheet opened again, a comment held, a released level corrected."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from django.db import transaction

from criteria.scoring.levels import NOT_MINE, NotJudged
from reviews import clock
from reviews.deeds.audit_keeping import Deed, about, record
from reviews.models import (
    Appeal,
    Comment,
    Correction,
    Crit,
    FormerSheet,
    JurySheet,
    LevelGiven,
    Person,
    Rewording,
)
from reviews.models.briefs import Frozen
from reviews.reading.crit_sheets import letters_of, level_of, level_text
from reviews.versions import is_new


@transaction.atomic
def reopen_sheet(sheet: JurySheet, by: Person, reason: str) -> FormerSheet:
    """Open a locked sheet to its juror; what was locked is kept as it was, with the reason."""
    crit = Crit.objects.hold(sheet.seat.crit_id)
    sheet = JurySheet.objects.select_for_update(of=("self",)).get(pk=sheet.pk)
    if crit.is_released:
        raise Frozen("The crit is released. Students have read this sheet.")
    if sheet.locked_at is None:
        raise Frozen("The sheet is open already.")
    former = FormerSheet.objects.create(
        jury_sheet=sheet,
        contents=_as_locked(sheet),
        locked_at=sheet.locked_at,
        reopened_by=by,
        reopened_at=clock.now(),
        reason=reason,
    )
    sheet.locked_at = None
    sheet.save(update_fields=["locked_at"])
    told = about(crit, sheet.scheme)
    record(Deed.REOPENED, crit.studio_id, by=by, about=told, of_seat=sheet.seat)
    return former


def _as_locked(sheet: JurySheet) -> dict[str, Any]:
    levels, set_on = {}, [sheet.impression_revision]
    for given in sheet.levels.select_related("criterion", "revision"):
        level = level_of(given)
        levels[given.criterion.code] = level.value if isinstance(level, NotJudged) else level
        set_on.append(given.revision)
    comments = []
    for comment in sheet.comments.kept().with_places().select_related("criterion"):
        said = {
            "kind": comment.kind,
            "place": comment.place,
            "point": comment.point,
            "strokes": comment.strokes,
            "criterion": comment.criterion.code if comment.criterion else "",
            "words": comment.words,
            "revision": comment.revision.letter if comment.revision else "",
        }
        comments.append(said | {"key": str(comment.key), "version": comment.version})
    held = {"impression": sheet.impression, "levels": levels, "comments": comments}
    return held | {"set_on": letters_of(set_on), "in_part": sheet.is_in_part}


def _hold(comment: Comment) -> Comment:
    Crit.objects.hold(comment.jury_sheet.seat.crit_id)
    return Comment.objects.select_for_update(of=("self",)).get(pk=comment.pk)


def _moderated(comment: Comment, by: Person, what: str, at: datetime | None = None) -> None:
    sheet = comment.jury_sheet
    crit, told = sheet.seat.crit, about(sheet.seat.crit, sheet.scheme, what)
    record(Deed.MODERATED, crit.studio_id, by=by, about=told, of_seat=sheet.seat, at=at)


@transaction.atomic
def hold_comment(
    comment: Comment, by: Person, reason: str, *, at: datetime | None = None
) -> Comment:
    """Keep a comment from students; holding what is held changes nothing."""
    comment = _hold(comment)
    if comment.held_at is None:
        comment.held_at, comment.held_by, comment.held_reason = at or clock.now(), by, reason
        comment.save(update_fields=["held_at", "held_by", "held_reason"])
        _moderated(comment, by, "a comment held", at)
    return comment


@transaction.atomic
def let_go_comment(comment: Comment, by: Person) -> Comment:
    """Let a held comment go to students; the reason for which it was held stays with it.

    Other words that wait for its juror are taken back: it goes as it was.
    """
    comment = _hold(comment)
    if comment.held_at is not None:
        Rewording.objects.open().filter(comment=comment).update(taken_back_at=clock.now())
        comment.held_at = comment.held_by = None
        comment.save(update_fields=["held_at", "held_by"])
        _moderated(comment, by, "a comment let go")
    return comment


@transaction.atomic
def correct_level(
    given: LevelGiven,
    by: Person,
    level: int | NotJudged,
    reason: str,
    seen: int,
    *,
    appeal: Appeal | None = None,
    at: datetime | None = None,
) -> Correction | None:
    """Put a released level right. Both levels are kept, with the reason; what stands changes none.

    appeal   the one that it answers, where there is one
    Raises Newer where it was corrected since it was seen, Frozen where it was never released.
    """
    crit = Crit.objects.hold(given.jury_sheet.seat.crit_id)
    given = LevelGiven.objects.select_for_update(of=("self",)).get(pk=given.pk)
    sheets = JurySheet.objects.counting()
    if not crit.is_released or not sheets.filter(pk=given.jury_sheet_id).exists():
        raise Frozen("The level is not released. Open the sheet again instead.")
    was = level_of(given)
    if not is_new(given, was, level, stands_at=given.version, seen=seen):
        return None
    given.is_not_mine = level is NOT_MINE
    given.level = None if isinstance(level, NotJudged) else level
    given.version += 1
    given.save(update_fields=["is_not_mine", "level", "version"])
    kept = Correction(given=given, was=level_text(was), now=level_text(level), by=by)
    kept.reason, kept.at, kept.appeal = reason, at or clock.now(), appeal
    kept.save()
    told = about(crit, given.jury_sheet.scheme, given.criterion.code)
    record(Deed.CHANGED, crit.studio_id, by=by, about=told, of_seat=given.jury_sheet.seat)
    return kept
