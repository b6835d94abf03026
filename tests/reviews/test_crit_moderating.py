"""Reopening keeps the former, holding keeps from students, releasing is once and for all."""

import pytest

from reviews.deeds import crit_jury_keeping, crit_moderating
from reviews.models import Crit, FormerSheet
from reviews.models.briefs import Frozen
from reviews.reading.crit_moderation_table import moderation_table
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
    crit_moderating.release_crit(cast.crit, cast.leader, "Read the keeps first.")
    with pytest.raises(Frozen, match="Students have read this sheet"):
        crit_moderating.reopen_sheet(locked, cast.leader, "Too late.")


def test_holding_what_is_held_keeps_the_first_reason(cast, locked):
    comment = locked.comments.get()
    crit_moderating.hold_comment(comment, cast.leader, "About the person.")
    held = crit_moderating.hold_comment(comment, cast.leader, "Another reason.")
    assert (held.held_reason, held.held_by) == ("About the person.", cast.leader)
    gone = crit_moderating.let_go_comment(held)
    assert (gone.held_at, gone.held_reason) == (None, "About the person.")


def test_a_release_names_all_that_it_leaves_out(cast, locked):
    other = factories.SeatFactory(crit=cast.crit, name="Zoe")
    crit_jury_keeping.keep_level(other, cast.scheme, cast.criterion, 2, 0)
    crit_moderating.hold_comment(locked.comments.get(), cast.leader, "About the person.")
    factories.CommentFactory(jury_sheet=locked, kind="", words="")
    factories.CommentFactory(jury_sheet=locked, kind="Keep", words="")
    assert crit_moderating.lacks(moderation_table(cast.crit)).lines == (
        "R01 Lee: not locked, so left out: Zoe",
        "R01 Lee: 1 comment held, not released",
        "R01 Lee: 1 stub without kind or words, left out",
        "R01 Lee: 1 comment released without words",
        "R02 Keel: no locked sheet, so its students read nothing",
    )


def test_a_crit_is_released_once(cast):
    crit_moderating.release_crit(cast.crit, cast.leader, "Read the keeps first.")
    crit = Crit.objects.get(pk=cast.crit.pk)
    assert (crit.release_words, crit.released_by) == ("Read the keeps first.", cast.leader)
    with pytest.raises(Frozen, match="released already"):
        crit_moderating.release_crit(cast.crit, cast.leader, "Again.")
    assert Crit.objects.get(pk=cast.crit.pk).release_words == "Read the keeps first."
