"""Agreed levels and verdicts: each decision stays, and keeps the levels that it stood on."""

from fractions import Fraction

import pytest

from criteria.errors import Refused
from criteria.scoring.estimates import NotAvailable
from reviews.deeds import crit_agreeing, crit_jury_keeping, crit_moderating, crit_releasing
from reviews.deeds.crit_agreeing import Decided, VerdictGiven
from reviews.models import AgreedLevel, Appeal, AuditLine, Verdict
from reviews.models.briefs import Frozen
from reviews.reading.crit_agreed import (
    agreed_of,
    decided_last,
    grounds_of,
    half_up,
    verdicts_of,
    weighted_agreed,
)
from reviews.reading.crit_moderation_table import moderation_table
from reviews.versions import Newer
from tests import factories
from tests.reviews.jury_steps import lock


@pytest.fixture
def judged(cast):
    """Two jurors' locked sheets on one scheme: 3 and 4 on each criterion."""
    lock(cast, cast.seat, 3)
    cast.second = factories.SeatFactory(crit=cast.crit, name="Kit Second")
    lock(cast, cast.second, 4)
    return cast


def grounds(cast, scheme=None):
    scheme = scheme or cast.scheme
    row = moderation_table(cast.crit, scheme).rows[0]
    last = decided_last(cast.crit, scheme)[scheme.pk]
    return {ground.criterion.pk: ground for ground in grounds_of(row, last)}


def agree(cast, level, reason="", *, criterion=None, seen=None, **more):
    criterion = criterion or cast.criterion
    seen = grounds(cast)[criterion.pk].seen if seen is None else seen
    decided = {criterion.pk: Decided(level, reason, seen)}
    return crit_agreeing.agree_levels(cast.crit, cast.scheme, cast.leader, decided, **more)


def stands(cast):
    agreed = agreed_of(cast.crit, [cast.scheme.pk])[cast.scheme.pk]
    return {pk: row.level for pk, row in agreed.items()}


def verdict(cast, kind, criteria=(), words="", seen=0, **more):
    sent = VerdictGiven(kind, criteria, words, seen)
    return crit_agreeing.give_verdict(cast.crit, cast.scheme, cast.leader, sent, **more)


def test_halves_go_upwards():
    assert [half_up(Fraction(n, 4)) for n in range(9, 15)] == [2, 3, 3, 3, 3, 4]


def test_a_level_keeps_what_it_stood_on(judged):
    (row,) = agree(judged, 4)
    given = {str(judged.seat.pk): "3", str(judged.second.pk): "4"}
    assert (row.level, row.mean, row.stood_on, row.reason) == (4, "7/2", given, "")
    assert stands(judged) == {judged.criterion.pk: 4}
    line = AuditLine.objects.of_deed(AuditLine.Deed.AGREED).get()
    assert (line.person, line.about.endswith("R01 Lee, F1")) == (judged.leader, True)


def test_a_reason_is_owed_where_the_level_is_not_the_mean_half_up(judged):
    for level in (1, 2, 3, 5):
        with pytest.raises(Refused, match=r"the reason why F1 is not 4, the mean 3\.50 half up"):
            agree(judged, level, " ")
    assert agree(judged, 3, "Talked through: the window is drawn nowhere.")


def test_a_level_that_no_juror_gave_owes_a_reason(cast):
    with pytest.raises(Refused, match="the reason why F1 is not given"):
        agree(cast, 3)
    assert agree(cast, 3, "Seen at the wall with Jo Juror.")[0].mean == ""


def test_what_stands_already_is_no_decision(judged):
    seen = grounds(judged)[judged.criterion.pk].seen
    agree(judged, 4, seen=seen)
    assert agree(judged, 4, seen=seen) == []
    assert agree(judged, None, criterion=judged.other_criterion) == []
    assert AgreedLevel.objects.count() == 1


def test_taken_back_the_mean_stands_and_both_decisions_stay(judged):
    agree(judged, 4)
    agree(judged, None)
    assert stands(judged) == {}
    assert [row.level for row in AgreedLevel.objects.all()] == [4, None]


def test_the_second_of_two_leaders_is_told(judged):
    seen = grounds(judged)[judged.criterion.pk].seen
    agree(judged, 4, seen=seen)
    with pytest.raises(Newer) as told:
        agree(judged, 3, "Too kind.", seen=seen)
    assert [ground.agreed for ground in told.value.kept] == [4]
    assert stands(judged) == {judged.criterion.pk: 4}


def test_what_a_leader_left_alone_meets_no_newer_decision(judged):
    seen = {pk: ground.seen for pk, ground in grounds(judged).items()}
    agree(judged, 4)
    decided = {
        judged.criterion.pk: Decided(None, "", seen[judged.criterion.pk]),
        judged.other_criterion.pk: Decided(4, "", seen[judged.other_criterion.pk]),
    }
    crit_agreeing.agree_levels(judged.crit, judged.scheme, judged.leader, decided)
    assert stands(judged) == {judged.criterion.pk: 4, judged.other_criterion.pk: 4}


def test_levels_that_changed_meanwhile_are_shown_before_one_is_agreed(judged):
    seen = grounds(judged)[judged.criterion.pk].seen
    sheet = judged.seat.sheets.get()
    crit_moderating.reopen_sheet(sheet, judged.leader, "A slip of the finger.")
    crit_jury_keeping.keep_level(judged.seat, judged.scheme, judged.criterion, 5, 1)
    crit_jury_keeping.lock_sheet(judged.seat, judged.scheme)
    with pytest.raises(Newer):
        agree(judged, 4, seen=seen)
    assert not grounds(judged)[judged.criterion.pk].has_moved
    agree(judged, 5)
    crit_moderating.reopen_sheet(sheet, judged.leader, "Again.")
    assert grounds(judged)[judged.criterion.pk].has_moved
    assert agree(judged, 5, "The mean is 4 without it.")
    assert not grounds(judged)[judged.criterion.pk].has_moved


def test_one_press_takes_means_and_leaves_boundaries_and_decisions(judged):
    agree(judged, 3, "Talked through.")
    third = factories.SeatFactory(crit=judged.crit, name="Lu Third")
    lock(judged, third, 4)
    factories.CriterionFactory(crit=judged.crit, code="F3", position=2)
    assert crit_agreeing.agree_means(judged.crit, judged.leader) == crit_agreeing.Filled(1, 0)
    assert stands(judged) == {judged.criterion.pk: 3, judged.other_criterion.pk: 4}
    agree(judged, None, criterion=judged.other_criterion)
    assert crit_agreeing.agree_means(judged.crit, judged.leader) == crit_agreeing.Filled(0, 0)


def test_one_press_leaves_what_lies_between_two_levels(judged):
    assert crit_agreeing.agree_means(judged.crit, judged.leader) == crit_agreeing.Filled(0, 2)
    assert stands(judged) == {}


def test_the_weighted_level_waits_for_every_criterion_that_counts(judged):
    criteria = list(judged.crit.criteria.all())
    criteria[0].weight, criteria[1].weight = 60, 40

    def found():
        return weighted_agreed(criteria, agreed_of(judged.crit)[judged.scheme.pk])

    assert found() == NotAvailable("no level is agreed yet")
    agree(judged, 4)
    assert found() == NotAvailable("no level agreed yet for F2")
    agree(judged, 5, "Carried to the detail.", criterion=judged.other_criterion)
    assert found().value == Fraction(22, 5)


def test_once_released_an_appeal_alone_changes_what_is_agreed(judged):
    agree(judged, 4)
    judged.crit = crit_releasing.release_crit(judged.crit, judged.leader, "Read them.")
    for try_to in (
        lambda: agree(judged, 3, "No."),
        lambda: verdict(judged, "go-on"),
        lambda: crit_agreeing.agree_means(judged.crit, judged.leader),
    ):
        with pytest.raises(Frozen, match="by an appeal alone"):
            try_to()
    appeal = Appeal.objects.create(
        crit=judged.crit,
        scheme=judged.scheme,
        key="7e7e1b0a-0000-4000-8000-000000000001",
        ground=Appeal.Ground.RECKONED,
        words="The sum.",
        by=judged.student,
    )
    agree(judged, 5, "The section was on sheet 04.", appeal=appeal)
    assert verdict(judged, "go-on", appeal=appeal).appeal == appeal
    assert stands(judged) == {judged.criterion.pk: 5}
    elsewhere = {judged.criterion.pk: Decided(3, "x", "0-")}
    with pytest.raises(Frozen):
        crit_agreeing.agree_levels(
            judged.crit, judged.other_scheme, judged.leader, elsewhere, appeal=appeal
        )


def test_what_is_shown_again_names_what_stays_open(judged):
    with pytest.raises(Refused):
        verdict(judged, "again", ["F9"])
    first = verdict(judged, "again", ["F2", "F1", "F9"], "Prove the stair.")
    assert first.criteria == ["F1", "F2"]
    assert verdict(judged, "again", ["F1", "F2"], "Prove the stair.") == first
    with pytest.raises(Newer):
        verdict(judged, "go-on")
    assert verdict(judged, "go-on", ["F1"], seen=first.pk).criteria == []
    assert verdicts_of(judged.crit)[judged.scheme.pk].kind == "go-on"
    assert Verdict.objects.count() == 2


def test_reading_takes_one_query_each(judged, django_assert_num_queries):
    agree(judged, 4)
    verdict(judged, "go-on")
    pks = [judged.scheme.pk, judged.other_scheme.pk]
    with django_assert_num_queries(1):
        assert agreed_of(judged.crit, pks)[judged.other_scheme.pk] == {}
    with django_assert_num_queries(1):
        assert str(verdicts_of(judged.crit, pks)[judged.scheme.pk].by) == "Lena Leader"
