"""Closing comments: by the answer that was seen, with words where they are owed, never erased."""

import pytest
from django.utils import timezone

from criteria.errors import Refused
from reviews.deeds import comment_answering, comment_closing
from reviews.deeds.comment_answering import AnswerSent
from reviews.models import Closing, FormerAnswer, OpposedPair
from reviews.models.briefs import Frozen
from reviews.reading.crit_answers import Stage, answer_list
from tests import factories

TAKEN = AnswerSent("Taken up", "Done.", "02·B1")


@pytest.fixture
def said(cast):
    """Three released comments on the scheme: a Prove, a Hazard and a Keep."""
    sheet = factories.JurySheetFactory(seat=cast.seat, scheme=cast.scheme, locked_at=timezone.now())
    cast.crit.released_at = timezone.now()
    cast.crit.save()
    kinds = ("Prove", "Hazard", "Keep")
    return [factories.CommentFactory(jury_sheet=sheet, kind=kind, words=kind) for kind in kinds]


def answer(cast, comment, sent=TAKEN, seen=0):
    return comment_answering.answer_comment(comment, cast.student, sent, seen)


def listed(cast):
    return answer_list([cast.crit], cast.crit.day)


def test_what_is_taken_up_with_its_place_is_closed_without_a_word_and_opened_with_one(cast, said):
    answer(cast, said[0])
    assert [row.comment for row in listed(cast).quickly] == [said[0]]
    for _ in range(2):
        comment_closing.close_comments(cast.crit, cast.leader, {said[0].pk: 1})
    assert [each.is_closed for each in Closing.objects.all()] == [True]
    with pytest.raises(Frozen, match="closed"):
        answer(cast, said[0], AnswerSent("Talk first"), 1)
    opens = {"is_closed": False}
    with pytest.raises(Refused, match="why it is open again"):
        comment_closing.close_comments(cast.crit, cast.leader, {said[0].pk: 1}, " ", **opens)
    comment_closing.close_comments(cast.crit, cast.leader, {said[0].pk: 1}, "Not drawn.", **opens)
    assert [each.is_closed for each in Closing.objects.all()] == [True, False]
    answer(cast, said[0], AnswerSent("Part taken up"), 1)
    former = FormerAnswer.objects.get()
    assert (former.kind, former.words, former.place_now, former.version) == (*TAKEN, 1)


def test_words_are_owed_where_it_is_not_taken_up_and_a_hazard_needs_an_answer(cast, said):
    prove, hazard, _ = said
    answer(cast, prove, AnswerSent("Not taken, with reason", "It faces the drift."))
    for comment, version, words, why in (
        (prove, 1, "", "its students read why"),
        (hazard, 0, "Let it be.", "an answer first"),
    ):
        with pytest.raises(Refused, match=why):
            comment_closing.close_comments(cast.crit, cast.leader, {comment.pk: version}, words)
    assert not Closing.objects.exists()
    comment_closing.close_comments(cast.crit, cast.leader, {prove.pk: 1}, "Agreed.")
    assert [row.stage for row in listed(cast).rows if row.comment == prove] == [Stage.CLOSED]


def test_what_was_answered_otherwise_since_is_left_and_the_rest_closed(cast, said):
    answer(cast, said[0])
    answer(cast, said[2])
    answer(cast, said[0], AnswerSent("Talk first"), 1)
    seen = {said[0].pk: 1, said[2].pk: 1}
    closed = comment_closing.close_comments(cast.crit, cast.leader, seen)
    assert (closed.done, closed.left) == ([said[2]], [said[0]])


def test_the_list_tells_who_has_not_answered_open_hazards_wishes_to_talk_and_conflicts(cast, said):
    prove, hazard, keep = said
    pair = OpposedPair.objects.create(
        crit=cast.crit, scheme=cast.scheme, first=prove, second=keep, by=cast.leader
    )
    told = listed(cast)
    assert told.unanswered == [(cast.scheme, 3)]
    assert [row.comment for row in told.hazards] == [hazard]
    assert told.conflicts[0].lines == ("no ruling was given",)
    pair.ruling = "Your decision."
    pair.save()
    answer(cast, prove)
    answer(cast, keep)
    answer(cast, hazard, AnswerSent("Talk first", "Which rail?"))
    told = listed(cast)
    assert told.conflicts[0].lines == ("both are taken up, though they oppose each other",)
    assert [(each.by, each.words) for each in told.asked] == [(cast.student, "Which rail?")]
    assert [row.stage for row in told.rows] == [Stage.OPEN, Stage.WAITS, Stage.WAITS]
    comment_closing.close_comments(cast.crit, cast.leader, {prove.pk: 1, keep.pk: 1})
    assert listed(cast).conflicts == []
