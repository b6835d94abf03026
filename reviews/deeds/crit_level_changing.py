"""A level changed after the discussion: once, by its juror, with a reason, and both are kept."""

from __future__ import annotations

from django.db import transaction

from criteria.errors import Refused
from criteria.scoring.levels import NOT_MINE, NotJudged
from reviews import clock
from reviews.deeds.crit_sheet_in_hand import require_unreleased, take_in_hand
from reviews.models import ChangedLevel, Criterion, LevelGiven, Scheme, Seat
from reviews.models.briefs import Frozen
from reviews.reading.crit_sheets import level_of, level_text
from reviews.versions import is_new


@transaction.atomic
def change_level(
    seat: Seat,
    scheme: Scheme,
    criterion: Criterion,
    level: int | NotJudged,
    reason: str,
    seen: int,
) -> ChangedLevel:
    """Change a level of a locked sheet that counts; what it was stands beside it.

    Sent twice it is one change. Raises Frozen where no level of the sheet may change or this one
    was changed already, Refused where the level sent is the one that is set, Newer where the level
    isn't the one that was seen.
    """
    held = take_in_hand(seat, scheme)
    given = LevelGiven.objects.filter(jury_sheet=held.sheet, criterion=criterion).first()
    if given and (before := ChangedLevel.objects.filter(given=given).first()):
        if (before.now, before.reason) == (level_text(level), reason):
            return before
        raise Frozen(f"Changed once already, {before.was} to {before.now}. It stands.")
    require_unreleased(held.crit)
    if not held.sheet.is_locked:
        raise Frozen("The sheet isn't locked: set the level itself.")
    if given is None or not held.asks_levels:
        raise Frozen("No level was set here that could change.")
    was = level_of(given)
    if not is_new(given, was, level, stands_at=given.version, seen=seen):
        raise Refused(level_text(level), "another level than the one that is set")
    given.is_not_mine = level is NOT_MINE
    given.level = None if isinstance(level, NotJudged) else level
    given.version += 1
    given.save(update_fields=["is_not_mine", "level", "version"])
    held.record_change(criterion.code, always=True)
    return ChangedLevel.objects.create(
        given=given,
        was=level_text(was),
        now=level_text(level),
        reason=reason,
        revision=held.sheet.revision,
        at=clock.now(),
    )
