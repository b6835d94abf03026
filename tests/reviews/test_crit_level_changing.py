"""A level changed after the discussion: once, with a reason, and both are kept."""

import pytest

from criteria.errors import Refused
from criteria.scoring.levels import NOT_MINE
from reviews.deeds import crit_jury_keeping, crit_releasing
from reviews.deeds.crit_level_changing import change_level
from reviews.models import AuditLine, ChangedLevel, LevelGiven
from reviews.models.briefs import Frozen
from reviews.reading.crit_levels_csv import wide_csv
from reviews.reading.crit_moderation_table import moderation_table
from reviews.versions import Newer
from tests.reviews.jury_steps import lock

pytestmark = pytest.mark.django_db


def _change(cast, level=4, reason="I had missed sheet 04.", seen=1):
    return change_level(cast.seat, cast.scheme, cast.criterion, level, reason, seen)


def test_both_levels_are_kept_and_the_statistics_use_the_present_one(cast):
    lock(cast, cast.seat)
    at = LevelGiven.objects.get(criterion=cast.criterion).kept_at
    changed = _change(cast)
    given = LevelGiven.objects.get(criterion=cast.criterion)
    assert (given.level, given.version, given.kept_at) == (4, 2, at)
    assert (changed.was, changed.now, changed.reason) == ("3", "4", "I had missed sheet 04.")
    assert AuditLine.objects.filter(about__contains="F1").exists()
    table = moderation_table(cast.crit, cast.scheme)
    (row,) = table.rows
    assert row.levels[0] == [4]
    assert row.counted[0].given[0].changed == changed
    assert "F1 3 → 4" in wide_csv(table)


def test_the_same_change_sent_twice_is_one_and_a_second_is_refused(cast):
    lock(cast, cast.seat)
    assert _change(cast) == _change(cast)
    with pytest.raises(Frozen, match="Changed once already, 3 to 4"):
        _change(cast, level=5, seen=2)
    assert ChangedLevel.objects.get().now == "4"


def test_not_mine_is_a_level_to_change_to(cast):
    lock(cast, cast.seat)
    assert _change(cast, NOT_MINE).now == NOT_MINE.value
    assert LevelGiven.objects.get(criterion=cast.criterion).is_not_mine


def test_nothing_changes_before_the_lock_over_a_newer_one_or_to_what_is_set(cast):
    with pytest.raises(Frozen, match="isn't locked"):
        _change(cast)
    lock(cast, cast.seat)
    with pytest.raises(Newer):
        _change(cast, seen=0)
    with pytest.raises(Refused):
        _change(cast, level=3)
    assert not ChangedLevel.objects.exists()


def test_after_the_release_a_level_is_corrected_and_not_changed(cast):
    lock(cast, cast.seat)
    crit_releasing.release_crit(cast.crit, cast.leader, "Keeps first.")
    with pytest.raises(Frozen, match="released"):
        _change(cast)


def test_a_sheet_that_counts_for_nothing_has_no_level_to_change(cast):
    crit_jury_keeping.keep_level(cast.seat, cast.scheme, cast.criterion, 3, 0)
    crit_jury_keeping.tell_seen(cast.seat, cast.scheme, in_part=True)
    crit_jury_keeping.lock_sheet(cast.seat, cast.scheme)
    with pytest.raises(Frozen, match="No level"):
        _change(cast)
