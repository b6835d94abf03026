"""What a leader sends to close comments: words, and which answers were seen."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from django import forms
from django.forms.boundfield import BoundWidget

from reviews.forms.fields import ProseField, number_in, of_kind
from reviews.forms.jury import VersionField
from reviews.reading.crit_answers import Answered

LONGEST = 2_000


def _words() -> ProseField:
    return ProseField(
        f"{LONGEST} characters at most",
        rows=3,
        label="Words",
        max_length=LONGEST,
        required=False,
        help_text="Its students read them",
    )


class ClosingForm(forms.Form):
    """Words to one comment, and the version of the answer that was seen."""

    seen = VersionField()
    words = _words()


class CloseManyForm(forms.Form):
    """A tick beside each comment that can be closed in one press; all are ticked at first."""

    ticked = forms.MultipleChoiceField(
        widget=forms.CheckboxSelectMultiple,
        error_messages={
            "required": "Read no tick. Expected one beside each comment to close.",
            "invalid_choice": "One is closed, or answered otherwise, since this list was opened. "
            "Read the list below again.",
        },
    )
    words = _words()

    def __init__(self, data: Any = None, *, rows: Sequence[Answered]) -> None:
        keys = [f"{row.comment.pk}:{row.version}" for row in rows]
        super().__init__(data, initial={"ticked": keys})
        self.rows = rows
        field = of_kind(forms.MultipleChoiceField, self, "ticked")
        field.choices = [(key, str(row.comment)) for key, row in zip(keys, rows, strict=True)]

    @property
    def boxes(self) -> list[tuple[Answered, BoundWidget]]:
        """Each comment with its tick."""
        return list(zip(self.rows, self["ticked"], strict=True))

    @property
    def seen(self) -> dict[int, int]:
        """The version of each ticked comment's answer, by the comment's key."""
        pairs = (each.partition(":") for each in self.cleaned_data["ticked"])
        return {number_in(key): number_in(version) for key, _, version in pairs}
