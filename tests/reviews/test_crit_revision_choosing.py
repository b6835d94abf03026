"""Where one revision was issued late, the panel chooses once which it judges."""

import pytest

from reviews.deeds import crit_jury_keeping
from reviews.deeds.crit_revision_choosing import choose_revision
from reviews.models import JudgedChoice, JurySheet
from reviews.models.briefs import Frozen
from reviews.reading.crit_sheets import judged_revisions, revision_shown
from tests import factories
from tests.reviews.jury_steps import read, sheet_url

pytestmark = pytest.mark.django_db


@pytest.fixture
def two(cast):
    """The revision before pens down, and the late one."""
    return [
        factories.RevisionFactory(scheme=cast.scheme, crit=cast.crit, **more)
        for more in ({}, {"letter": "B", "minutes_late": 41})
    ]


def test_the_late_one_stands_beside_the_other_until_one_tap_decides(cast, juror, two):
    before, _ = two
    page = read(juror, sheet_url(cast))
    assert "41 minutes late" in page or "41 min late" in page
    assert page.count('name="revision" value=') == 2
    juror.post(f"{sheet_url(cast)}judged/", {"revision": before.pk})
    choice = JudgedChoice.objects.get()
    assert (choice.revision, choice.seat) == (before, cast.seat)
    assert revision_shown(cast.crit, cast.scheme) == before
    assert before in judged_revisions(cast.crit)
    page = read(juror, sheet_url(cast))
    assert "The panel judges <strong>revision A</strong>" in page
    assert 'name="revision" value=' not in page
    crit_jury_keeping.keep_impression(cast.seat, cast.scheme, 4, 0)
    assert JurySheet.objects.get().revision == before


def test_it_is_chosen_once_and_the_same_again_changes_nothing(cast, two):
    before, late = two
    slot = cast.scheme.slots.get()
    assert choose_revision(cast.seat, slot, before) == choose_revision(cast.seat, slot, before)
    with pytest.raises(Frozen, match="Jo Juror chose"):
        choose_revision(cast.seat, slot, late)


def test_nothing_is_chosen_once_a_juror_has_begun(cast, juror, two):
    crit_jury_keeping.keep_impression(cast.seat, cast.scheme, 4, 0)
    with pytest.raises(Frozen, match="Jo Juror has begun"):
        choose_revision(cast.seat, cast.scheme.slots.get(), two[0])
    assert 'name="revision" value=' not in read(juror, sheet_url(cast))


def test_a_sheet_that_was_begun_without_a_network_stays_and_says_so(cast, juror, two):
    before, late = two
    choose_revision(cast.seat, cast.scheme.slots.get(), before)
    crit_jury_keeping.keep_impression(cast.seat, cast.scheme, 4, 0, of=late.pk)
    page = read(juror, sheet_url(cast))
    assert "this sheet was begun on revision B and stays on it" in page
    crit_jury_keeping.take_up_revision(cast.seat, cast.scheme, before.pk)
    assert JurySheet.objects.get().revision == before


@pytest.mark.parametrize("sent", ["", "0", "99999", "x"])
def test_what_is_no_revision_of_the_crit_is_refused_in_words(cast, juror, two, sent):
    answer = juror.post(f"{sheet_url(cast)}judged/", {"revision": sent}, follow=True)
    assert "Expected one of the revisions" in answer.content.decode()
    assert not JudgedChoice.objects.exists()
