"""What a leader does between crit and release: open a sheet again, hold a comment, release."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from django.db import transaction
from django.utils import timezone

from reviews.deeds.crit_jury_keeping import contents_of
from reviews.models import Comment, Crit, FormerSheet, JurySheet, Person
from reviews.models.briefs import Frozen
from reviews.reading.crit_moderation_table import Table
from reviews.reading.crit_sheets import level_of


@transaction.atomic
def reopen_sheet(
    sheet: JurySheet, by: Person, reason: str, *, at: datetime | None = None
) -> FormerSheet:
    """Open a locked sheet to its juror; what was locked is kept as it was, with the reason."""
    sheet = JurySheet.objects.select_for_update().get(pk=sheet.pk)
    if Crit.objects.filter(seats=sheet.seat_id, released_at__isnull=False).exists():
        raise Frozen("The crit is released. Students have read this sheet.")
    if not sheet.is_locked:
        raise Frozen("The sheet is open already.")
    former = FormerSheet.objects.create(
        jury_sheet=sheet,
        contents=_as_locked(sheet),
        locked_at=sheet.locked_at,
        reopened_by=by,
        reopened_at=at or timezone.now(),
        reason=reason,
    )
    sheet.locked_at = None
    sheet.save(update_fields=["locked_at"])
    return former


def _as_locked(sheet: JurySheet) -> dict[str, Any]:
    levels = {}
    for given in sheet.levels.select_related("criterion"):
        level = level_of(given)
        levels[given.criterion.code] = level if isinstance(level, int | None) else level.value
    comments = []
    for comment in sheet.comments.filter(removed_at=None).select_related("criterion"):
        kind, place, criterion, words = contents_of(comment)
        code = criterion.code if criterion else ""
        comments.append(
            {"kind": kind, "place": str(place), "criterion": code, "words": words,
             "key": str(comment.key), "version": comment.version}
        )  # fmt: skip
    return {"impression": sheet.impression, "levels": levels, "comments": comments}


@transaction.atomic
def hold_comment(
    comment: Comment, by: Person, reason: str, *, at: datetime | None = None
) -> Comment:
    """Keep a comment from students; holding what is held changes nothing."""
    comment = Comment.objects.select_for_update().get(pk=comment.pk)
    if comment.held_at is None:
        comment.held_at, comment.held_by, comment.held_reason = at or timezone.now(), by, reason
        comment.save(update_fields=["held_at", "held_by", "held_reason"])
    return comment


@transaction.atomic
def let_go_comment(comment: Comment) -> Comment:
    """Let a held comment go to students; the reason for which it was held stays with it."""
    comment = Comment.objects.select_for_update().get(pk=comment.pk)
    if comment.held_at is not None:
        comment.held_at = comment.held_by = None
        comment.save(update_fields=["held_at", "held_by"])
    return comment


@dataclass(frozen=True)
class Lacks:
    """What a release would leave out, in words a leader can act on."""

    lines: tuple[str, ...]

    @property
    def seen(self) -> str:
        """A short fingerprint: a release goes through only while what was seen still holds."""
        return hashlib.sha256("\n".join(self.lines).encode()).hexdigest()[:16]


def lacks(table: Table) -> Lacks:
    """Unlocked sheets, schemes without a sheet, held comments, stubs, wide schemes' hazards."""
    lines = []
    for row in table.rows:
        open_ = [cell.seat.name for cell in row.cells if cell.state == "not locked"]
        if not row.counted:
            lines.append(f"{row.scheme}: no locked sheet, so its students read nothing")
        if open_:
            lines.append(f"{row.scheme}: not locked, so left out: {', '.join(open_)}")
        held = sum(comment.held_at is not None for comment in row.comments)
        if held:
            lines.append(f"{row.scheme}: {_counted(held, 'comment')} held, not released")
        bare = sum(not comment.words and not comment.kind for comment in row.comments)
        if bare:
            lines.append(f"{row.scheme}: {_counted(bare, 'stub')} without kind or words, left out")
        stubs = sum(not comment.words and bool(comment.kind) for comment in row.comments)
        if stubs:
            lines.append(f"{row.scheme}: {_counted(stubs, 'comment')} released without words")
    return Lacks(tuple(lines))


def _counted(number: int, what: str) -> str:
    return f"{number} {what}{'s' * (number != 1)}"


@transaction.atomic
def release_crit(crit: Crit, by: Person, words: str, *, at: datetime | None = None) -> Crit:
    """Send levels and comments to all students at once, the leader's words first. For good."""
    crit = Crit.objects.select_for_update().get(pk=crit.pk)
    if crit.is_released:
        raise Frozen("The crit is released already.")
    crit.released_at, crit.released_by = at or timezone.now(), by
    crit.release_words = words
    crit.save(update_fields=["released_at", "released_by", "release_words"])
    return crit
