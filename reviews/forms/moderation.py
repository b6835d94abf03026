"""What a leader writes between crit and release: reasons, and the words read first."""

from __future__ import annotations

from typing import Any

from django import forms

from criteria.scoring.levels import NotJudged
from reviews.forms.fields import of_kind
from reviews.forms.jury import ON_SCALE, LevelForm
from reviews.models import LevelGiven
from reviews.pages.jury_lines import NOT_MINE_SENT, say_level
from reviews.reading.crit_sheets import level_of


class ReasonForm(forms.Form):
    """Why a sheet is opened again, or a comment held."""

    reason = forms.CharField(
        max_length=1_000,
        widget=forms.Textarea(attrs={"rows": 3}),
        help_text="Kept with the fact; the juror reads it",
        error_messages={
            "required": "Read nothing. Expected the reason, in a sentence.",
            "max_length": "Read %(show_value)s characters. Expected %(limit_value)s at most.",
        },
    )

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["reason"].widget.attrs.pop("maxlength", None)


class CorrectionForm(LevelForm):
    """The level that a released one should have been, and why."""

    reason = forms.CharField(
        max_length=1_000,
        widget=forms.Textarea(attrs={"rows": 3}),
        help_text="Students read it beside both levels",
        error_messages=ReasonForm.base_fields["reason"].error_messages,
    )

    def __init__(self, data: Any = None, *, given: LevelGiven) -> None:
        super().__init__(data, initial={"seen": given.version})
        self.given = given
        words = [(sent, f"{sent} {word}") for sent, word in ON_SCALE]
        not_mine = (NOT_MINE_SENT, "Not mine to judge")
        level = of_kind(forms.TypedChoiceField, self, "level")
        level.choices = [("", "No level chosen"), *words, not_mine]
        self.fields["reason"].widget.attrs.pop("maxlength", None)

    def clean_level(self) -> int | NotJudged:
        level: int | NotJudged = self.cleaned_data["level"]
        if level == level_of(self.given):
            raise forms.ValidationError(f"Read {say_level(level)}, which stands. Expected another.")
        return level

    def again(self, now: LevelGiven) -> CorrectionForm:
        """The same form as typed, which has now seen what stands."""
        data = self.data.copy()
        data["seen"] = now.version
        return CorrectionForm(data, given=now)
