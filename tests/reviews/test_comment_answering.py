"""Answers: one a comment, by version; hazards are never declined."""

import pytest
from django.utils import timezone

from reviews.deeds import comment_answering
from reviews.deeds.comment_answering import AnswerSent, Unanswerable
from reviews.models import Answer
from reviews.models.briefs import Frozen
from reviews.versions import Newer
from tests import factories

TAKEN = AnswerSent("Taken up", "Third tank on sheet 06.", "06·B1")
DECLINED = "Not taken, with reason"


@pytest.fixture
def comment(cast):
    sheet = factories.JurySheetFactory(seat=cast.seat, scheme=cast.scheme, locked_at=timezone.now())
    cast.crit.released_at = timezone.now()
    cast.crit.save()
    return factories.CommentFactory(jury_sheet=sheet)


def test_an_answer_is_kept_and_changed(cast, comment):
    comment_answering.answer_comment(comment, cast.student, TAKEN, 0)
    comment_answering.answer_comment(comment, cast.mate, TAKEN._replace(kind="Part taken up"), 1)
    answer = Answer.objects.get()
    assert (answer.kind, answer.place_now, answer.version) == ("Part taken up", "06·B1", 2)
    assert answer.answered_by == cast.mate


def test_the_same_answer_sent_again_changes_nothing(cast, comment):
    comment_answering.answer_comment(comment, cast.student, TAKEN, 0)
    answer = comment_answering.answer_comment(comment, cast.mate, TAKEN, 0)
    assert (answer.version, answer.answered_by) == (1, cast.student)


def test_a_team_mate_s_newer_answer_is_not_overwritten(cast, comment):
    comment_answering.answer_comment(comment, cast.mate, TAKEN, 0)
    with pytest.raises(Newer, match="sent") as refusal:
        comment_answering.answer_comment(comment, cast.student, AnswerSent("Talk first"), 0)
    assert refusal.value.kept.answered_by == cast.mate
    assert Answer.objects.get().kind == "Taken up"


def test_not_taken_owes_a_reason(cast, comment):
    with pytest.raises(Unanswerable, match="Expected the reason"):
        comment_answering.answer_comment(comment, cast.student, AnswerSent(DECLINED, "  "), 0)
    comment_answering.answer_comment(
        comment, cast.student, AnswerSent(DECLINED, "It faces the drift."), 0
    )
    assert Answer.objects.get().words == "It faces the drift."


def test_a_hazard_is_answered_and_never_declined(cast, comment):
    comment.kind = "Hazard"
    comment.save()
    with pytest.raises(Unanswerable, match="for a hazard"):
        comment_answering.answer_comment(comment, cast.student, AnswerSent(DECLINED, "Reason."), 0)
    for kind in ("Talk first", "Carried forward", "Taken up"):
        seen = Answer.objects.count() and Answer.objects.get().version
        comment_answering.answer_comment(comment, cast.student, AnswerSent(kind), seen)
    assert Answer.objects.get().kind == "Taken up"


@pytest.mark.parametrize("why", ["held", "removed", "not released"])
def test_only_a_released_comment_is_answered(cast, comment, why):
    if why == "held":
        comment.held_at = timezone.now()
    if why == "removed":
        comment.removed_at = timezone.now()
    comment.save()
    if why == "not released":
        cast.crit.released_at = None
        cast.crit.save()
    with pytest.raises(Frozen, match="not released"):
        comment_answering.answer_comment(comment, cast.student, TAKEN, 0)
