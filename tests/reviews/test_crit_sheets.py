"""Which revisions a crit's record is of."""

import pytest
from django.utils import timezone

from reviews.deeds.crit_interest_declaring import declare_interest
from reviews.reading.crit_sheets import in_order, judged_revisions, letters_of
from tests import factories


@pytest.fixture
def issued(cast):
    """Revisions A, B and C of the scheme, issued for the crit."""
    return [
        factories.RevisionFactory(scheme=cast.scheme, crit=cast.crit, letter=letter)
        for letter in "ABC"
    ]


def _judge(cast, revision, name, *, locked=True):
    sheet = factories.JurySheetFactory(
        seat=factories.SeatFactory(crit=cast.crit, name=name),
        scheme=cast.scheme,
        revision=revision,
        locked_at=timezone.now() if locked else None,
    )
    factories.LevelGivenFactory(jury_sheet=sheet, criterion=cast.criterion, revision=revision)
    return sheet


def test_the_revision_compared_is_the_latest_that_levels_were_set_on(cast, issued):
    _judge(cast, issued[0], "Jo")
    _judge(cast, issued[1], "Zoe")
    assert list(judged_revisions(cast.crit)) == [issued[1]]


def test_sheets_that_do_not_count_decide_nothing(cast, issued):
    _judge(cast, issued[0], "Jo")
    _judge(cast, issued[2], "Open", locked=False)
    away = _judge(cast, issued[2], "Away")
    declare_interest(away.seat, cast.scheme)
    assert list(judged_revisions(cast.crit)) == [issued[0]]


def test_where_no_level_counts_it_is_the_last_issued_for_the_crit(cast, issued):
    factories.RevisionFactory(scheme=cast.scheme, letter="D")
    assert list(judged_revisions(cast.crit)) == [issued[2]]


def test_a_withdrawn_scheme_and_one_without_an_issue_have_none(cast, issued):
    cast.scheme.withdrawn_at = timezone.now()
    cast.scheme.save()
    assert list(judged_revisions(cast.crit)) == []


def test_revisions_are_said_once_and_as_they_were_issued(issued):
    a, b, _ = issued
    assert in_order([b, None, a, b]) == [a, b]
    assert letters_of([b, a, None]) == "revisions A and B"
    assert (letters_of([b]), letters_of([None])) == ("revision B", "")
