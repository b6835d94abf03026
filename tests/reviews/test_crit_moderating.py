"""Reopening and correcting keep the former with a reason; holding keeps from students."""

import pytest

from criteria.scoring.levels import NOT_MINE
from reviews.deeds import crit_jury_keeping, crit_moderating, crit_releasing
from reviews.models import Correction, FormerSheet, LevelGiven
from reviews.models.briefs import Frozen
from reviews.reading.crit_moderation_table import moderation_table
from reviews.versions import Newer
from tests import factories


@pytest.fixture
def locked(cast):
    crit_jury_keeping.keep_impression(cast.seat, cast.scheme, 4, 0)
    for criterion, level in ((cast.criterion, 3), (cast.other_criterion, 5)):
        crit_jury_keeping.keep_level(cast.seat, cast.scheme, criterion, level, 0)
    sheet = crit_jury_keeping.lock_sheet(cast.seat, cast.scheme)
    factories.CommentFactory(jury_sheet=sheet, words="Weigh it wet.", criterion=cast.criterion)
    return sheet


def test_a_sheet_opened_again_keeps_what_was_locked(cast, locked):
    former = crit_moderating.reopen_sheet(locked, cast.leader, "Missed sheet 04.")
    crit_jury_keeping.keep_level(cast.seat, cast.scheme, cast.criterion, 1, 1)
    former.refresh_from_db()
    assert former.contents["levels"] == {"F1": 3, "F2": 5}
    assert former.contents["impression"] == 4
    assert former.contents["comments"][0]["words"] == "Weigh it wet."
    assert (former.locked_at, former.reason) == (locked.locked_at, "Missed sheet 04.")
    locked.refresh_from_db()
    assert not locked.is_locked


def test_a_sheet_that_is_open_is_not_opened_again(cast, locked):
    crit_moderating.reopen_sheet(locked, cast.leader, "Once.")
    with pytest.raises(Frozen, match="open already"):
        crit_moderating.reopen_sheet(locked, cast.leader, "Twice.")
    assert FormerSheet.objects.count() == 1


def test_a_released_sheet_is_not_opened_again(cast, locked):
    crit_releasing.release_crit(cast.crit, cast.leader, "Read the keeps first.")
    with pytest.raises(Frozen, match="Students have read this sheet"):
        crit_moderating.reopen_sheet(locked, cast.leader, "Too late.")


def test_holding_what_is_held_keeps_the_first_reason(cast, locked):
    comment = locked.comments.get()
    crit_moderating.hold_comment(comment, cast.leader, "About the person.")
    held = crit_moderating.hold_comment(comment, cast.leader, "Another reason.")
    assert (held.held_reason, held.held_by) == ("About the person.", cast.leader)
    gone = crit_moderating.let_go_comment(held, cast.leader)
    assert (gone.held_at, gone.held_reason) == (None, "About the person.")


def _correct(cast, level=2, seen=1, reason="Typed for the scheme before."):
    given = LevelGiven.objects.get(criterion=cast.criterion)
    return crit_moderating.correct_level(given, cast.leader, level, reason, seen)


def test_a_released_level_is_put_right_with_both_levels_and_the_reason_kept(cast, locked):
    crit_releasing.release_crit(cast.crit, cast.leader, "Read the keeps first.")
    correction = _correct(cast)
    assert (correction.was, correction.now) == ("3", "2")
    assert (correction.by, correction.reason) == (cast.leader, "Typed for the scheme before.")
    given = LevelGiven.objects.get(criterion=cast.criterion)
    assert (given.level, given.version) == (2, 2)
    row = moderation_table(cast.crit, cast.scheme).rows[0]
    assert row.mean == "3.5"  # (50 × 2 + 50 × 5) ÷ 100


def test_a_level_is_corrected_to_not_mine_and_back(cast, locked):
    crit_releasing.release_crit(cast.crit, cast.leader, "Read the keeps first.")
    _correct(cast, NOT_MINE)
    _correct(cast, 4, seen=2)
    said = [(c.was, c.now) for c in Correction.objects.all()]
    assert said == [("3", "not mine to judge"), ("not mine to judge", "4")]
    given = LevelGiven.objects.get(criterion=cast.criterion)
    assert (given.level, given.is_not_mine) == (4, False)


def test_a_correction_over_a_newer_one_is_refused_and_the_same_again_is_none(cast, locked):
    crit_releasing.release_crit(cast.crit, cast.leader, "Read the keeps first.")
    _correct(cast)
    assert _correct(cast) is None
    with pytest.raises(Newer, match="sent: 5"):
        _correct(cast, 5)
    assert Correction.objects.count() == 1


def test_what_is_not_released_is_opened_again_and_not_corrected(cast, locked):
    with pytest.raises(Frozen, match="Open the sheet again"):
        _correct(cast)
    crit_moderating.reopen_sheet(locked, cast.leader, "Missed sheet 04.")
    crit_releasing.release_crit(cast.crit, cast.leader, "Read the keeps first.")
    with pytest.raises(Frozen, match="not released"):
        _correct(cast)
    assert not Correction.objects.exists()
