"""A student's answer to a comment."""

from __future__ import annotations

from typing import Any

from django import forms

from criteria.errors import Refused
from reviews.deeds.comment_answering import AnswerSent, why_not
from reviews.forms.fields import says
from reviews.forms.jury import Saved
from reviews.forms.places import PlaceField
from reviews.models import Answer, Comment
from reviews.places import Place
from reviews.reading.sheets_of_scheme import place_on, sheets_to_point_at


class AnswerForm(Saved):
    """One of five answers, words, and the place where the change now shows.

    trouble   the answer that stands, where what was sent met a newer one
    """

    trouble: Answer | None = None

    kind = forms.ChoiceField(
        label="Answer",
        choices=Answer.Kind.choices,
        widget=forms.RadioSelect,
        error_messages={
            "required": f"Read nothing. Expected one of: {'; '.join(Answer.Kind.values)}.",
            "invalid_choice": "Read “%(value)s”. Expected one of: "
            f"{'; '.join(Answer.Kind.values)}.",
        },
    )
    words = forms.CharField(
        required=False,
        max_length=4_000,
        widget=forms.Textarea(attrs={"rows": 3}),
        help_text="What changed, or the reason why not",
        error_messages={
            "max_length": "Read %(show_value)s characters. Expected %(limit_value)s at most."
        },
    )
    place_now = PlaceField(label="Place now", help_text="Where the change shows: 02 B4")

    def __init__(self, data: Any = None, *, comment: Comment, initial: Any = None) -> None:
        super().__init__(data, auto_id=f"answer-{comment.pk}-%s", initial=initial)
        self.comment = comment
        self.fields["words"].widget.attrs.pop("maxlength", None)
        if comment.kind == Comment.Kind.HAZARD:
            self.fields["kind"].help_text = "A hazard is answered, not declined"
            self.fields["kind"].widget.choices = [
                choice for choice in Answer.Kind.choices if choice[0] != Answer.Kind.NOT_TAKEN
            ]

    def clean(self) -> None:
        data = self.cleaned_data
        if "kind" in data and "words" in data and (why := why_not(self.comment, self.sent())):
            declined = self.comment.kind == Comment.Kind.HAZARD
            self.add_error("kind" if declined else "words", why)

    def clean_place_now(self) -> Place:
        """The place, on a sheet that there is; a place that stood already is let stand."""
        place: Place = self.cleaned_data["place_now"]
        answer = getattr(self.comment, "answer", None)
        if answer and str(place) == answer.place_now:
            return place
        try:
            return place_on(place, sheets_to_point_at(self.comment.jury_sheet.scheme))
        except Refused as refused:
            raise forms.ValidationError(says(refused.read, refused.expected)) from None

    def sent(self) -> AnswerSent:
        """The contents that were sent."""
        data = self.cleaned_data
        words = data["words"].replace("\r\n", "\n").strip()
        return AnswerSent(data["kind"], words, str(data.get("place_now", "")))

    def again(self, stands: Answer) -> AnswerForm:
        """The same form as typed, which has now seen what stands."""
        data = self.data.copy()
        data["seen"] = stands.version
        form = AnswerForm(data, comment=self.comment)
        form.trouble = stands
        return form


def answer_form(comment: Comment) -> AnswerForm:
    """The form of a comment's answer, as it stands."""
    answer = getattr(comment, "answer", None)
    if answer is None:
        return AnswerForm(comment=comment, initial={"seen": 0})
    return AnswerForm(
        comment=comment,
        initial={
            "seen": answer.version,
            "kind": answer.kind,
            "words": answer.words,
            "place_now": answer.place_now,
        },
    )
