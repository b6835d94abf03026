"""What jurors set is kept once, by the version they saw, until it is locked."""

from datetime import timedelta
from uuid import uuid4

import pytest
from django.http import Http404
from django.utils import timezone

from criteria.scoring.levels import NOT_MINE
from reviews.deeds import crit_jury_keeping
from reviews.deeds.crit_jury_keeping import CommentSent, Unfinished
from reviews.models import Comment, JurySheet, LevelGiven
from reviews.models.briefs import Frozen
from reviews.places import Place
from reviews.reading.crit_sheets import revision_shown
from reviews.versions import Newer
from tests import factories
from tests.factories import PENS_DOWN

HOUR = timedelta(hours=1)

PROVE = CommentSent("Prove", Place("02", "C4"), None, "Show the number.")


def _set_all(cast, level=3):
    for criterion in (cast.criterion, cast.other_criterion):
        crit_jury_keeping.keep_level(cast.seat, cast.scheme, criterion, level, 0)


def test_a_level_is_kept_and_changed(cast):
    given = crit_jury_keeping.keep_level(cast.seat, cast.scheme, cast.criterion, 3, 0)
    assert (given.level, given.version) == (3, 1)
    given = crit_jury_keeping.keep_level(cast.seat, cast.scheme, cast.criterion, 4, 1)
    assert (given.level, given.version) == (4, 2)
    assert LevelGiven.objects.count() == 1


def test_the_same_level_sent_again_changes_nothing(cast):
    first = crit_jury_keeping.keep_level(cast.seat, cast.scheme, cast.criterion, 3, 0)
    again = crit_jury_keeping.keep_level(cast.seat, cast.scheme, cast.criterion, 3, 0)
    assert (again.pk, again.version, again.kept_at) == (first.pk, 1, first.kept_at)


def test_a_level_over_a_newer_one_is_refused_and_nothing_changes(cast):
    crit_jury_keeping.keep_level(cast.seat, cast.scheme, cast.criterion, 3, 0)
    crit_jury_keeping.keep_level(cast.seat, cast.scheme, cast.criterion, 4, 1)
    with pytest.raises(Newer, match="sent: 2") as refusal:
        crit_jury_keeping.keep_level(cast.seat, cast.scheme, cast.criterion, 2, 1)
    assert refusal.value.kept.level == 4
    assert LevelGiven.objects.get().level == 4


def test_not_mine_is_neither_a_level_nor_nothing(cast):
    given = crit_jury_keeping.keep_level(cast.seat, cast.scheme, cast.criterion, NOT_MINE, 0)
    assert (given.level, given.is_not_mine) == (None, True)
    given = crit_jury_keeping.keep_level(cast.seat, cast.scheme, cast.criterion, 2, 1)
    assert (given.level, given.is_not_mine) == (2, False)


def test_an_impression_is_kept_by_version_too(cast):
    sheet = crit_jury_keeping.keep_impression(cast.seat, cast.scheme, 4, 0)
    assert (sheet.impression, sheet.impression_version) == (4, 1)
    assert crit_jury_keeping.keep_impression(cast.seat, cast.scheme, 4, 0).impression_version == 1
    with pytest.raises(Newer, match="sent: 5"):
        crit_jury_keeping.keep_impression(cast.seat, cast.scheme, 5, 0)


def test_a_comment_is_one_however_often_its_key_is_sent(cast):
    key = uuid4()
    for _ in range(3):
        crit_jury_keeping.keep_comment(cast.seat, cast.scheme, key, PROVE, 0)
    comment = Comment.objects.get()
    assert (comment.kind, comment.place, comment.version) == ("Prove", "02·C4", 1)


def test_words_come_after_the_stub(cast):
    key = uuid4()
    stub = crit_jury_keeping.keep_comment(cast.seat, cast.scheme, key, PROVE._replace(words=""), 0)
    assert stub.is_stub
    worded = crit_jury_keeping.keep_comment(cast.seat, cast.scheme, key, PROVE, 1)
    assert (worded.words, worded.begun_at) == ("Show the number.", stub.begun_at)


def test_a_comment_over_a_newer_one_is_refused(cast):
    key = uuid4()
    crit_jury_keeping.keep_comment(cast.seat, cast.scheme, key, PROVE, 0)
    with pytest.raises(Newer, match="sent") as refusal:
        crit_jury_keeping.keep_comment(
            cast.seat, cast.scheme, key, PROVE._replace(words="Other"), 0
        )
    assert refusal.value.kept.words == "Show the number."


def test_a_comment_left_off_stays_off_until_somebody_who_saw_that_words_it(cast):
    key = uuid4()
    crit_jury_keeping.keep_comment(cast.seat, cast.scheme, key, PROVE, 0)
    off = crit_jury_keeping.remove_comment(cast.seat, cast.scheme, key, 1)
    assert off.removed_at
    assert crit_jury_keeping.remove_comment(cast.seat, cast.scheme, key, 1).version == off.version
    with pytest.raises(Newer, match="sent"):
        crit_jury_keeping.keep_comment(cast.seat, cast.scheme, key, PROVE._replace(words="Late"), 1)
    back = crit_jury_keeping.keep_comment(cast.seat, cast.scheme, key, PROVE, 2)
    assert back.removed_at is None


def test_a_key_of_another_sheet_is_not_taken_over(cast):
    key = uuid4()
    crit_jury_keeping.keep_comment(cast.seat, cast.scheme, key, PROVE, 0)
    with pytest.raises(Http404, match="another sheet"):
        crit_jury_keeping.keep_comment(cast.seat, cast.other_scheme, key, PROVE, 1)


def test_a_lock_names_each_weighted_criterion_that_is_open(cast):
    factories.CriterionFactory(crit=cast.crit, code="F3", weight=0, position=2)
    crit_jury_keeping.keep_level(cast.seat, cast.scheme, cast.criterion, 3, 0)
    with pytest.raises(Unfinished, match=r"^F2 Making$"):
        crit_jury_keeping.lock_sheet(cast.seat, cast.scheme)
    assert not JurySheet.objects.get().is_locked
    crit_jury_keeping.keep_level(cast.seat, cast.scheme, cast.other_criterion, NOT_MINE, 0)
    assert crit_jury_keeping.lock_sheet(cast.seat, cast.scheme).is_locked


def test_nothing_set_yet_is_not_judged(cast):
    sheet = factories.JurySheetFactory(seat=cast.seat, scheme=cast.scheme)
    factories.LevelGivenFactory(jury_sheet=sheet, criterion=cast.criterion, level=None)
    missing = crit_jury_keeping.not_yet_judged(sheet, list(cast.crit.criteria.all()))
    assert missing == [cast.criterion, cast.other_criterion]


def test_a_locked_sheet_takes_no_level_no_impression_and_no_new_comment(cast):
    _set_all(cast)
    crit_jury_keeping.lock_sheet(cast.seat, cast.scheme)
    saves = (
        lambda: crit_jury_keeping.keep_level(cast.seat, cast.scheme, cast.criterion, 5, 1),
        lambda: crit_jury_keeping.keep_impression(cast.seat, cast.scheme, 5, 0),
        lambda: crit_jury_keeping.keep_comment(cast.seat, cast.scheme, uuid4(), PROVE, 0),
    )
    for save in saves:
        with pytest.raises(Frozen, match="The sheet is locked"):
            save()
    assert set(LevelGiven.objects.values_list("level", flat=True)) == {3}
    assert not Comment.objects.exists()


def test_a_resend_after_the_lock_is_no_change(cast):
    _set_all(cast)
    crit_jury_keeping.lock_sheet(cast.seat, cast.scheme)
    assert crit_jury_keeping.keep_level(cast.seat, cast.scheme, cast.criterion, 3, 0).version == 1


def test_locking_what_is_locked_keeps_the_first_time(cast):
    _set_all(cast)
    first = crit_jury_keeping.lock_sheet(cast.seat, cast.scheme).locked_at
    assert crit_jury_keeping.lock_sheet(cast.seat, cast.scheme).locked_at == first


def test_a_lock_leaves_open_only_the_stubs_it_found(cast):
    stub, worded = uuid4(), uuid4()
    crit_jury_keeping.keep_comment(cast.seat, cast.scheme, stub, PROVE._replace(words=""), 0)
    crit_jury_keeping.keep_comment(cast.seat, cast.scheme, worded, PROVE, 0)
    _set_all(cast)
    crit_jury_keeping.lock_sheet(cast.seat, cast.scheme)
    typed = PROVE._replace(words="The num")
    crit_jury_keeping.keep_comment(cast.seat, cast.scheme, stub, typed, 1)
    crit_jury_keeping.keep_comment(cast.seat, cast.scheme, stub, PROVE, 2)
    with pytest.raises(Frozen, match="locked"):
        crit_jury_keeping.keep_comment(cast.seat, cast.scheme, worded, typed, 1)


def test_a_lock_keeps_the_revision_that_was_seen(cast):
    factories.RevisionFactory(scheme=cast.scheme, letter="A", crit=cast.crit)
    _set_all(cast)
    later = factories.RevisionFactory(
        scheme=cast.scheme, letter="B", crit=cast.crit, issued_at=PENS_DOWN + HOUR
    )
    assert crit_jury_keeping.lock_sheet(cast.seat, cast.scheme).revision == later


def test_a_crit_s_own_revision_comes_before_a_later_one_for_another(cast):
    own = factories.RevisionFactory(scheme=cast.scheme, letter="A", crit=cast.crit)
    factories.RevisionFactory(scheme=cast.scheme, letter="B", issued_at=PENS_DOWN + HOUR)
    assert revision_shown(cast.crit, cast.scheme) == own


def test_a_released_crit_keeps_nothing_more(cast):
    cast.crit.released_at = timezone.now()
    cast.crit.save()
    with pytest.raises(Frozen, match="The crit is released"):
        crit_jury_keeping.keep_level(cast.seat, cast.scheme, cast.criterion, 3, 0)
    assert not JurySheet.objects.exists()
