"""Every deed with levels leaves a line that tells who, by whose link and about what, for good."""

from datetime import timedelta

import pytest
from django.utils import timezone

from reviews.deeds import (
    audit_keeping,
    crit_interest_declaring,
    crit_jury_keeping,
    crit_moderating,
    crit_releasing,
    crit_seating,
)
from reviews.deeds.audit_keeping import Deed
from reviews.deeds.record_versions import version_of
from reviews.models import AuditLine, LevelGiven
from reviews.models.briefs import Frozen
from tests import factories


@pytest.fixture
def locked(cast):
    for criterion in (cast.criterion, cast.other_criterion):
        crit_jury_keeping.keep_level(cast.seat, cast.scheme, criterion, 3, 0)
    return crit_jury_keeping.lock_sheet(cast.seat, cast.scheme)


def lines(*deeds):
    """Deed, who, by whose link, of whom: the first written first."""
    found = AuditLine.objects.named().order_by("pk")
    told = [(line.deed, line.who, line.by_link_of, line.of_whom) for line in found]
    return [line for line in told if not deeds or line[0] in deeds]


def test_levels_set_before_the_lock_leave_no_line(locked):
    assert not AuditLine.objects.exists()


def test_a_sheet_opened_again_and_changed_leaves_both_lines(cast, locked):
    crit_moderating.reopen_sheet(locked, cast.leader, "Missed sheet 04.")
    crit_jury_keeping.keep_level(cast.seat, cast.scheme, cast.criterion, 4, 1)
    assert lines() == [
        ("reopened", "Lena Leader", "", "Jo Juror"),
        ("changed", "Jo Juror, no account", "Jo Juror", ""),
    ]
    (line,) = AuditLine.objects.of_deed(Deed.CHANGED)
    assert line.about == f"{cast.crit}: R01 Lee, F1"


def test_the_same_level_sent_again_after_a_reopening_is_no_change(cast, locked):
    crit_moderating.reopen_sheet(locked, cast.leader, "Missed sheet 04.")
    crit_jury_keeping.keep_level(cast.seat, cast.scheme, cast.criterion, 3, 1)
    assert lines(Deed.CHANGED) == []


def test_an_impression_changed_after_a_reopening_leaves_a_line(cast, locked):
    crit_moderating.reopen_sheet(locked, cast.leader, "Missed sheet 04.")
    crit_jury_keeping.keep_impression(cast.seat, cast.scheme, 4, 0)
    assert [line.about for line in AuditLine.objects.of_deed(Deed.CHANGED)] == [
        f"{cast.crit}: R01 Lee, overall impression"
    ]


def test_a_comment_held_and_let_go_is_moderated_twice_and_no_more(cast, locked):
    comment = factories.CommentFactory(jury_sheet=locked, words="You gave up.")
    for _ in range(2):
        crit_moderating.hold_comment(comment, cast.leader, "About the person.")
    for _ in range(2):
        crit_moderating.let_go_comment(comment, cast.leader)
    assert lines() == [("moderated", "Lena Leader", "", "Jo Juror")] * 2
    told = " ".join(line.about for line in AuditLine.objects.all())
    assert "gave up" not in told
    assert "About the person" not in told


def test_release_and_call_back_and_correction_leave_their_lines(cast, locked):
    crit_releasing.release_crit(cast.crit, cast.leader, "Well done.")
    crit_releasing.call_back(cast.crit, cast.leader)
    crit_releasing.release_crit(cast.crit, cast.leader, "Well done.")
    given = LevelGiven.objects.get(jury_sheet=locked, criterion=cast.criterion)
    crit_moderating.correct_level(given, cast.leader, 5, "Read the wrong row.", 1)
    assert [line[0] for line in lines()] == ["released", "called-back", "released", "changed"]
    assert lines()[-1] == ("changed", "Lena Leader", "", "Jo Juror")
    assert "5" not in AuditLine.objects.of_deed(Deed.CHANGED).get().about.split(":", 1)[1]


def test_an_interest_that_the_leader_takes_back_is_moderated_and_the_juror_s_own_is_not(cast):
    for by in (None, cast.leader):
        interest = crit_interest_declaring.declare_interest(cast.seat, cast.scheme, "My cousin.")
        crit_interest_declaring.take_back_interest(interest, by)
    assert lines() == [("moderated", "Lena Leader", "", "Jo Juror")]
    assert "cousin" not in AuditLine.objects.get().about


def test_a_deed_that_fails_leaves_no_line(cast, locked):
    crit_releasing.release_crit(cast.crit, cast.leader, "")
    with pytest.raises(Frozen):
        crit_moderating.reopen_sheet(locked, cast.leader, "Too late.")
    assert [line[0] for line in lines()] == ["released"]


def test_a_link_is_told_by_who_enters_it_once_a_day(cast):
    for _ in range(2):
        crit_seating.open_link(cast.seat)
        crit_seating.open_link(cast.seat, cast.leader)
    assert lines() == [
        ("entered", "Jo Juror, no account", "Jo Juror", ""),
        ("entered-as", "Lena Leader", "Jo Juror", ""),
    ]


@pytest.mark.parametrize("known_by", ["name", "email"])
def test_a_leader_who_is_a_juror_enters_by_their_own_link(cast, known_by):
    own = factories.SeatFactory(crit=cast.crit, **{known_by: getattr(cast.leader, known_by)})
    crit_seating.open_link(own, cast.leader)
    assert [line[0] for line in lines()] == ["entered"]


def test_two_who_have_no_address_are_not_one_for_that(cast):
    nameless = factories.PersonFactory(name="", email="a@example.org")
    assert not factories.SeatFactory(crit=cast.crit, name="Ann", email="").is_of(nameless)


def test_what_was_done_yesterday_is_told_again_today(cast):
    yesterday = timezone.now() - timedelta(days=1)
    for at in (yesterday, None, None):
        audit_keeping.record(Deed.READ, cast.studio, by=cast.leader, at=at, once_a_day=True)
    assert AuditLine.objects.count() == 2


def test_a_line_is_never_changed_nor_taken_out(cast):
    audit_keeping.record(Deed.RELEASED, cast.studio, by=cast.leader)
    line = AuditLine.objects.get()
    line.about = "Something else"
    held = AuditLine.objects.all()
    for attempt in (line.save, line.delete, held.delete, lambda: held.update(about="")):
        with pytest.raises(Frozen):
            attempt()
    with pytest.raises(Frozen):
        AuditLine.objects.bulk_update([line], ["about"])
    assert AuditLine.objects.get().about == ""


def test_a_seat_that_is_taken_out_leaves_its_lines(cast):
    crit_seating.open_link(cast.other_seat)
    crit_seating.keep_seats(cast.other_crit, [], _seen(cast.other_crit), cast.other_leader)
    assert lines() == [
        ("entered", "A juror whose seat was taken out, no account", "a seat that was taken out", "")
    ]


def _seen(crit):
    return version_of(crit_seating.lines_of(crit))
