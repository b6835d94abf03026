"""The question-and-answer log of a brief: each question with the form of its answer."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, NamedTuple
from uuid import uuid4

from django import forms

from reviews.access import Viewer
from reviews.access_studio import can_answer_question, can_ask_question
from reviews.forms.fields import ProseField
from reviews.models import Addendum, Brief, BriefQuestion, Studio

LONGEST = 4_000
KEY_LOST = "The question’s key can’t be read. Open the page again; what you typed stands below."
NO_ADDENDUM = "Read “%(value)s”. Expected an addendum of this brief."


class AskForm(forms.Form):
    """A question: the key is made with the page, so that it is asked once."""

    key = forms.UUIDField(
        widget=forms.HiddenInput, error_messages={"required": KEY_LOST, "invalid": KEY_LOST}
    )
    words = ProseField(
        f"a question of {LONGEST} characters at most", label="Your question", max_length=LONGEST
    )

    def __init__(self, data: Any = None) -> None:
        super().__init__(data, initial={"key": uuid4()}, auto_id="ask-%s")
        self.fields["words"].help_text = "Read by everybody in the studio at once, with your name"


class AnswerQuestionForm(forms.Form):
    """An answer, or what is added to one; and the addendum that it led to.

    newer   the question as it stands, where somebody answered meanwhile
    """

    newer: BriefQuestion | None = None

    words = ProseField(
        f"an answer of {LONGEST} characters at most", label="Answer", max_length=LONGEST
    )
    addendum = forms.ModelChoiceField(
        Addendum.objects.none(),
        label="Led to",
        required=False,
        empty_label="No addendum",
        error_messages={"invalid_choice": NO_ADDENDUM},
    )

    def __init__(self, data: Any = None, *, question: BriefQuestion, brief: Brief) -> None:
        self.question = question
        initial = {"addendum": question.addendum_id}
        super().__init__(data, initial=initial, auto_id=f"answer-{question.pk}-%s")
        addendum = self.fields["addendum"]
        assert isinstance(addendum, forms.ModelChoiceField)
        addendum.queryset = brief.addenda.all()
        self.fields["words"].required = not question.answer
        if question.answer:
            self.fields["words"].label = "Add to the answer"
            self.fields["words"].help_text = "Stands below it with your name and the hour"


class Entry(NamedTuple):
    """A question with the form of its answer, for whoever answers."""

    question: BriefQuestion
    form: AnswerQuestionForm | None


class QuestionsPage(NamedTuple):
    """The log, those without an answer first, then the latest."""

    entries: Sequence[Entry]
    unanswered: int
    ask: AskForm | None


def questions_page(
    viewer: Viewer,
    studio: Studio,
    *,
    ask: AskForm | None = None,
    answer: AnswerQuestionForm | None = None,
) -> QuestionsPage:
    """The page, as its reader may use it; a form that was sent stands as it was sent."""
    brief, answers = studio.brief, can_answer_question(viewer, studio)
    found = brief.questions.select_related("asked_by", "answered_by", "addendum")
    questions = sorted(found, key=lambda each: (bool(each.answer), -each.asked_at.timestamp()))

    def form_of(question: BriefQuestion) -> AnswerQuestionForm | None:
        if not answers:
            return None
        is_sent = answer is not None and answer.question == question
        return answer if is_sent else AnswerQuestionForm(question=question, brief=brief)

    return QuestionsPage(
        [Entry(question, form_of(question)) for question in questions],
        sum(not question.answer for question in questions),
        (ask or AskForm()) if can_ask_question(viewer, studio) else None,
    )
