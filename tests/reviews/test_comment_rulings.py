"""Pairs with rulings, groups, and other words: what students read, and what never reaches them."""

import json
from datetime import timedelta

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from django.utils import timezone

from reviews.deeds import comment_rewording as rewording
from reviews.deeds import comment_ruling, crit_moderating
from reviews.deeds.comment_ruling import RulingSent
from reviews.deeds.crit_releasing import release_crit
from reviews.models import AuditLine, Comment, Mail, OpposedPair, Rewording
from reviews.models.briefs import Frozen
from reviews.pages.results_page import results_of
from reviews.reading.comment_rulings import rewordings_of, rulings_of, with_words_out, words_out
from reviews.reading.crit_evening import evening_list
from reviews.versions import Newer
from tests import factories
from tests.reviews.jury_steps import lock, read

OWN, OFFERED = "This looks like you gave up.", "The render is ahead of the plan."


@pytest.fixture
def said(cast):
    """Three comments on one scheme by two jurors, the first of them held."""
    pia = factories.SeatFactory(crit=cast.crit, name="Pia Norrow")
    sheets = [lock(cast, cast.seat), lock(cast, pia)]
    words = (OWN, "Keep that order.", "It hides too well.")
    kinds = ("Rework", "Keep", "Rework")
    of = (sheets[0], sheets[0], sheets[1])
    made = [
        factories.CommentFactory(jury_sheet=sheet, kind=kind, words=said)
        for sheet, kind, said in zip(of, kinds, words, strict=True)
    ]
    return [crit_moderating.hold_comment(made[0], cast.leader, "Tone"), *made[1:]]


def release(cast):
    cast.crit = release_crit(cast.crit, cast.leader, "Thank you.")


def out(comment):
    return words_out(with_words_out(Comment.objects.filter(pk=comment.pk)).get())


def test_a_ruling_is_written_taken_back_and_frozen_at_the_release(cast, said):
    _, keep, rework = said
    pair = comment_ruling.pair_comments(cast.crit, cast.scheme, [rework, keep], cast.leader)
    again = comment_ruling.pair_comments(cast.crit, cast.scheme, [keep, rework], cast.leader)
    assert (again, again.first, again.is_ruled) == (pair, keep, False)
    by_thursday = RulingSent("Your decision.", timezone.localdate() + timedelta(days=4))
    comment_ruling.rule_pair(pair, cast.leader, by_thursday, seen=1)
    with pytest.raises(Newer):
        comment_ruling.rule_pair(pair, cast.leader, RulingSent("Keep it."), seen=1)
    assert [each.is_ruled for each in rulings_of(cast.crit).pairs] == [True]
    comment_ruling.take_back_pair(pair, cast.leader)
    assert rulings_of(cast.crit).pairs == ()
    with pytest.raises(Frozen):
        comment_ruling.rule_pair(pair, cast.leader, RulingSent("Late."), seen=3)
    pair = comment_ruling.pair_comments(cast.crit, cast.scheme, [keep, rework], cast.leader)
    release(cast)
    with pytest.raises(Frozen):
        comment_ruling.take_back_pair(pair, cast.leader)
    moderated = AuditLine.objects.filter(deed=AuditLine.Deed.MODERATED)
    assert moderated.filter(about__contains="ruling on two opposed").count() == 1


def test_a_group_keeps_every_wording_and_takes_in_who_joins(cast, said):
    held, keep, rework = said
    group = comment_ruling.group_alike(cast.crit, cast.scheme, [held, keep], cast.leader, "Order")
    assert rulings_of(cast.crit).groups[0].words == "one juror"
    joined = comment_ruling.group_alike(cast.crit, cast.scheme, [keep, rework], cast.leader)
    (alike,) = rulings_of(cast.crit, cast.scheme).groups
    assert (alike.group, alike.group.heading, alike.words) == (joined, "Order", "two jurors")
    assert {*alike.seats} == {held.pk, keep.pk, rework.pk}
    seen = rulings_of(cast.crit).for_students([keep.pk, rework.pk])
    assert {*seen.groups[0].seats} == {keep.pk, rework.pk}
    assert rulings_of(cast.crit).for_students([keep.pk]).groups == ()
    comment_ruling.ungroup(joined, cast.leader)
    assert rulings_of(cast.crit).groups == ()
    group.refresh_from_db()
    assert group.taken_back_at


def test_students_learn_of_no_pair_without_ruling_nor_of_one_beside_what_is_held(cast, said):
    held, keep, rework = said
    comment_ruling.pair_comments(cast.crit, cast.scheme, [keep, rework], cast.leader)
    with_held = comment_ruling.pair_comments(cast.crit, cast.scheme, [held, keep], cast.leader)
    comment_ruling.rule_pair(with_held, cast.leader, RulingSent("The first stands."), seen=1)
    release(cast)
    open_to_them = [each.pk for each in results_of(cast.crit, cast.scheme).said]
    assert held.pk not in open_to_them
    assert rulings_of(cast.crit).for_students(open_to_them).pairs == ()
    assert len(rulings_of(cast.crit).pairs) == 2


def test_a_comment_of_another_scheme_or_left_off_is_not_paired(cast, said):
    _, keep, rework = said
    Comment.objects.filter(pk=rework.pk).update(removed_at=timezone.now())
    with pytest.raises(Frozen):
        comment_ruling.pair_comments(cast.crit, cast.scheme, [keep, rework], cast.leader)
    with pytest.raises(Frozen):
        comment_ruling.group_alike(cast.crit, cast.other_scheme, [keep], cast.leader)
    assert not OpposedPair.objects.exists()


def test_words_that_are_taken_go_out_and_the_comment_keeps_its_own(cast, said, settings):
    cast.seat.email = "jo@example.org"
    cast.seat.save()
    offer = rewording.offer_rewording(said[0], cast.leader, OFFERED)
    assert rewording.offer_rewording(said[0], cast.leader, OFFERED) == offer
    assert Mail.objects.get(kind=Mail.Kind.REWORDING).address == "jo@example.org"
    assert out(said[0]) == (OWN, False)
    assert rewordings_of(cast.crit) == rewordings_of(cast.crit, cast.scheme) == [offer]
    rewording.answer_offer(offer, Rewording.Reply.TAKEN)
    assert out(said[0]) == (OFFERED, True)
    release(cast)
    student = cast.client(cast.student)
    page = read(student, reverse("show-results", args=[cast.crit.pk, cast.scheme.pk]))
    assert OFFERED in page
    assert "Reworded with its juror" in page
    assert OWN not in page
    took = student.get(reverse("export-annotations", args=[cast.crit.pk, cast.scheme.pk]))
    assert OFFERED in took.content.decode()
    assert OWN not in took.content.decode()
    assert Comment.objects.get(pk=said[0].pk).words == OWN


@pytest.mark.parametrize("reply", ["own", "refused"])
def test_own_words_and_a_refusal_wait_for_the_leader(cast, said, reply):
    offer = rewording.offer_rewording(said[0], cast.leader, OFFERED)
    own = "Bring the plan up to the render." if reply == "own" else ""
    rewording.answer_offer(offer, Rewording.Reply(reply), own)
    held = Comment.objects.get(pk=said[0].pk)
    assert held.held_at
    assert said[0].pk not in [each.pk for each in results_of(cast.crit, cast.scheme).said]
    crit_moderating.let_go_comment(held, cast.leader)
    assert out(said[0]) == ((own, True) if own else (OWN, False))
    with pytest.raises(Frozen):
        rewording.answer_offer(offer, Rewording.Reply.TAKEN)


def test_nothing_is_offered_for_what_was_sent_released_or_is_not_held(cast, said):
    held, keep, _ = said
    with pytest.raises(Frozen, match="isn't held"):
        rewording.offer_rewording(keep, cast.leader, OFFERED)
    Comment.objects.filter(pk=held.pk).update(sent_at=timezone.now())
    with pytest.raises(Frozen, match="sent in the evening"):
        rewording.offer_rewording(held, cast.leader, OFFERED)
    release(cast)
    held_late = crit_moderating.hold_comment(keep, cast.leader, "Tone")
    with pytest.raises(Frozen, match="released before"):
        rewording.offer_rewording(held_late, cast.leader, OFFERED)
    assert not Rewording.objects.exists()


def test_an_answer_over_what_has_changed_changes_nothing(cast, said):
    first = rewording.offer_rewording(said[0], cast.leader, "Another.")
    offer = rewording.offer_rewording(said[0], cast.leader, OFFERED)
    with pytest.raises(Frozen, match="taken the offer back"):
        rewording.answer_offer(first, Rewording.Reply.TAKEN)
    Comment.objects.filter(pk=said[0].pk).update(words="Draw the second door.")
    with pytest.raises(Frozen, match="worded the comment anew"):
        rewording.answer_offer(offer, Rewording.Reply.TAKEN)
    assert out(said[0]) == ("Draw the second door.", False)
    Comment.objects.filter(pk=said[0].pk).update(words=OWN)
    crit_moderating.let_go_comment(Comment.objects.get(pk=said[0].pk), cast.leader)
    with pytest.raises(Frozen, match="taken the offer back"):
        rewording.answer_offer(offer, Rewording.Reply.TAKEN)


def test_after_the_release_taken_words_wait_for_the_leader_too(cast, said):
    offer = rewording.offer_rewording(said[0], cast.leader, OFFERED)
    release(cast)
    rewording.answer_offer(offer, Rewording.Reply.TAKEN)
    assert Comment.objects.get(pk=said[0].pk).held_at
    assert OFFERED not in json.dumps([c.words for c in results_of(cast.crit, cast.scheme).said])


def test_the_evening_list_sends_the_words_that_were_taken(cast, said):
    before = evening_list(cast.crit).seen
    offer = rewording.offer_rewording(said[0], cast.leader, OFFERED)
    rewording.answer_offer(offer, Rewording.Reply.TAKEN)
    told = evening_list(cast.crit)
    assert told.seen != before
    assert OFFERED in [each.out.words for each in told.schemes[0].goes]
    page = read(cast.client(cast.leader), reverse("show-evening", args=[cast.crit.pk]))
    assert OFFERED in page
    assert OWN not in page


def test_queries_do_not_grow_with_pairs_groups_and_comments(cast, said):
    _, keep, rework = said
    with CaptureQueriesContext(connection) as none:
        rulings_of(cast.crit)
    for _ in range(3):
        more = factories.CommentFactory(jury_sheet=keep.jury_sheet, kind="Ask", words="Why?")
        comment_ruling.pair_comments(cast.crit, cast.scheme, [more, rework], cast.leader)
    comment_ruling.group_alike(cast.crit, cast.scheme, [keep, rework], cast.leader)
    with CaptureQueriesContext(connection) as some:
        rulings_of(cast.crit)
    assert len(none) == len(some) == 2
