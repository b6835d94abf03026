"""What a leader's page names to be decided, and what it never leaves out unsaid."""

import pytest

from criteria.scoring.estimates import NotAvailable
from reviews import clock
from reviews.deeds import crit_jury_keeping, crit_moderating
from reviews.models import Comment, Crit, OpposedPair
from reviews.pages.moderation_decisions import LOOKED_FOR, decisions_of
from reviews.reading.crit_beside_levels import beside_levels
from reviews.reading.crit_moderation_table import moderation_table
from tests import factories

TITLES = [title for title, *_ in LOOKED_FOR]
HAZARDS, HELD, PAIRS = TITLES[0], TITLES[1], TITLES[6]


@pytest.fixture
def sheet(cast):
    crit_jury_keeping.keep_level(cast.seat, cast.scheme, cast.criterion, 3, 0)
    crit_jury_keeping.keep_level(cast.seat, cast.scheme, cast.other_criterion, 3, 0)
    return crit_jury_keeping.lock_sheet(cast.seat, cast.scheme)


def found_in(crit):
    crit = Crit.objects.get(pk=crit.pk)
    none = NotAvailable("one juror")
    return decisions_of(moderation_table(crit), beside_levels(crit), none)


def items_of(crit, title):
    return [i.words for each in found_in(crit).sections if each.title == title for i in each.items]


def test_a_hazard_is_named_until_it_is_read_or_held(cast, sheet):
    hazard = factories.CommentFactory(jury_sheet=sheet, kind="Hazard", words="One way out.")
    assert items_of(cast.crit, HAZARDS) == [f"{cast.seat.name}: “One way out.”"]
    crit_moderating.hold_comment(hazard, cast.leader, "Say it milder.")
    assert items_of(cast.crit, HAZARDS) == []
    assert items_of(cast.crit, HELD) == [f"{cast.seat.name}: “One way out.”"]
    crit_moderating.let_go_comment(hazard, cast.leader)
    Comment.objects.update(decided_at=clock.now(), decided_by=cast.leader)
    found = found_in(cast.crit)
    assert {HAZARDS, HELD} <= set(found.clear)
    assert "to decide." in found.answer


def test_after_the_release_nothing_waits_and_hazards_are_told_elsewhere(cast, sheet):
    factories.CommentFactory(jury_sheet=sheet, kind="Hazard", words="One way out.")
    Crit.objects.filter(pk=cast.crit.pk).update(released_at=clock.now())
    found = found_in(cast.crit)
    assert HAZARDS not in [*found.clear, *(each.title for each in found.sections)]
    assert any("list of answers" in each for each in found.unknown)
    assert "stood out." in found.answer


def test_a_pair_is_named_until_it_is_ruled_on(cast, sheet):
    first, second = (
        factories.CommentFactory(jury_sheet=sheet, kind=kind, words="The ramp.")
        for kind in ("Keep", "Rework")
    )
    pair = OpposedPair.objects.create(
        crit=cast.crit, scheme=cast.scheme, first=first, second=second, by=cast.leader
    )
    assert items_of(cast.crit, PAIRS) == ["1 without a ruling"]
    pair.ruling = "Argue it with the fog-day approach drawn."
    pair.save()
    assert PAIRS in found_in(cast.crit).clear


def test_what_could_not_be_looked_at_is_said(cast, sheet):
    unknown = " ".join(found_in(cast.crit).unknown)
    assert "Jurors: one juror" in unknown
    assert f"Not judged yet: {cast.other_scheme.number}" in unknown
