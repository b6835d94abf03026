"""An interest is declared, kept with its reason, and taken back by its juror or a leader."""

import pytest

from reviews import access
from reviews.deeds import crit_jury_keeping, crit_moderating, crit_releasing
from reviews.deeds.crit_interest_declaring import declare_interest, take_back_interest
from reviews.deeds.crit_jury_keeping import CommentSent
from reviews.models import Comment, Interest, JurySheet, LevelGiven
from reviews.models.briefs import Frozen
from tests import factories


def _set_all(cast, seat=None):
    for criterion in (cast.criterion, cast.other_criterion):
        crit_jury_keeping.keep_level(seat or cast.seat, cast.scheme, criterion, 3, 0)


def _sees(cast):
    return cast.scheme.pk in access.seen_slots(cast.seat).values_list("scheme_id", flat=True)


def _counts(cast):
    return JurySheet.objects.of(cast.crit.pk, cast.scheme.pk).counting().exists()


def test_stepping_aside_keeps_the_fact_and_the_sheet(cast):
    _set_all(cast)
    crit_jury_keeping.lock_sheet(cast.seat, cast.scheme)
    first = declare_interest(cast.seat, cast.scheme, " Taught her. ")
    again = declare_interest(cast.seat, cast.scheme, "Other words")
    assert (again.pk, again.words) == (first.pk, "Taught her.")
    assert Interest.objects.count() == 1
    assert LevelGiven.objects.count() == 2
    assert not _sees(cast)
    assert not _counts(cast)
    with pytest.raises(Frozen, match="stepped aside"):
        crit_jury_keeping.keep_level(cast.seat, cast.scheme, cast.criterion, 4, 1)


@pytest.mark.parametrize("who", ["juror", "leader"])
def test_an_interest_is_taken_back_and_the_sheet_is_as_before(cast, who):
    _set_all(cast)
    crit_jury_keeping.lock_sheet(cast.seat, cast.scheme)
    interest = declare_interest(cast.seat, cast.scheme, "By mistake.")
    by = cast.leader if who == "leader" else None
    take_back_interest(interest, by)
    assert _sees(cast)
    assert _counts(cast)
    kept = Interest.objects.get()
    assert (kept.words, kept.taken_back_by) == ("By mistake.", by)
    assert kept.taken_back_at
    when = kept.taken_back_at
    assert take_back_interest(interest, None).taken_back_at == when


def test_with_an_interest_comments_are_kept_and_no_level_counts(cast):
    _set_all(cast)
    declare_interest(cast.seat, cast.scheme, "Former employer.", may_comment=True)
    assert _sees(cast)
    saves = (
        lambda: crit_jury_keeping.keep_level(cast.seat, cast.scheme, cast.criterion, 5, 1),
        lambda: crit_jury_keeping.keep_impression(cast.seat, cast.scheme, 5, 0),
    )
    for save in saves:
        with pytest.raises(Frozen, match="No level is set"):
            save()
    key = "11111111-1111-1111-1111-111111111111"
    crit_jury_keeping.keep_comment(
        cast.seat, cast.scheme, key, CommentSent("Keep", words="Keep the lee."), 0
    )
    crit_jury_keeping.lock_sheet(cast.seat, cast.scheme)
    assert not _counts(cast)
    assert Comment.objects.standing().get().words == "Keep the lee."


def test_a_sheet_of_comments_alone_locks_without_levels(cast):
    declare_interest(cast.seat, cast.scheme, may_comment=True)
    assert crit_jury_keeping.lock_sheet(cast.seat, cast.scheme).is_locked


def test_whoever_only_comments_reads_no_levels_of_others(cast):
    other = factories.SeatFactory(crit=cast.crit, name="Zoe")
    _set_all(cast, other)
    crit_jury_keeping.lock_sheet(other, cast.scheme)
    declare_interest(cast.seat, cast.scheme, may_comment=True)
    own = crit_jury_keeping.lock_sheet(cast.seat, cast.scheme)
    assert not access.opened_sheets(own).exists()


def test_the_other_kind_declared_later_keeps_the_first_too(cast):
    declare_interest(cast.seat, cast.scheme, "Taught her.", may_comment=True)
    declare_interest(cast.seat, cast.scheme, "Her uncle.")
    assert [i.words for i in Interest.objects.all()] == ["Taught her.", "Her uncle."]
    assert Interest.objects.standing().get().words == "Her uncle."
    assert not _sees(cast)


def test_after_the_release_an_interest_neither_comes_nor_goes(cast):
    interest = declare_interest(cast.seat, cast.other_scheme)
    crit_releasing.release_crit(cast.crit, cast.leader, "Read the keeps first.")
    with pytest.raises(Frozen, match="as they were declared"):
        declare_interest(cast.seat, cast.scheme)
    with pytest.raises(Frozen, match="as they were declared"):
        take_back_interest(interest, cast.leader)
    assert Interest.objects.standing().get() == interest


def test_an_interest_in_one_scheme_or_of_one_juror_touches_no_other(cast):
    other = factories.SeatFactory(crit=cast.crit, name="Zoe")
    for seat in (cast.seat, other):
        _set_all(cast, seat)
        crit_jury_keeping.lock_sheet(seat, cast.scheme)
    declare_interest(cast.seat, cast.other_scheme)
    assert JurySheet.objects.of(cast.crit.pk, cast.scheme.pk).counting().count() == 2
    declare_interest(other, cast.scheme)
    assert JurySheet.objects.counting().get().seat == cast.seat


def test_a_sheet_opened_again_is_open_whatever_the_interest_was(cast):
    _set_all(cast)
    sheet = crit_jury_keeping.lock_sheet(cast.seat, cast.scheme)
    interest = declare_interest(cast.seat, cast.scheme)
    crit_moderating.reopen_sheet(sheet, cast.leader, "Missed sheet 04.")
    take_back_interest(interest)
    assert not _counts(cast)
