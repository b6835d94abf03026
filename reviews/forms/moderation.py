"""What a leader writes between crit and release: reasons, and the words read first."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from django import forms
from django.forms.boundfield import BoundWidget
from django.forms.utils import ErrorDict
from django.utils.datastructures import MultiValueDict

from criteria.scoring.levels import NotJudged
from reviews.deeds.crit_releasing import Lack, Lacks
from reviews.forms.fields import of_kind
from reviews.forms.jury import ON_SCALE, LevelForm
from reviews.models import LevelGiven
from reviews.pages.jury_lines import NOT_MINE_SENT, say_level
from reviews.reading.crit_moderation_table import SchemeRow
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


class ReleaseForm(forms.Form):
    """The leader's words, a tick beside each scheme that lacks something, and what was seen."""

    data: MultiValueDict[str, Any]
    _errors: ErrorDict | None
    seen = forms.CharField(widget=forms.HiddenInput, required=False)
    known = forms.MultipleChoiceField(widget=forms.CheckboxSelectMultiple, required=False)
    words = forms.CharField(
        label="The leader's words",
        max_length=6_000,
        widget=forms.Textarea(attrs={"rows": 5}),
        help_text="Students read these first: two sentences do",
        error_messages={
            "required": "Read nothing. Expected the words that students read first.",
            "max_length": "Read %(show_value)s characters. Expected %(limit_value)s at most.",
        },
    )

    def __init__(
        self, data: Any = None, *, rows: Sequence[SchemeRow], lacks: Lacks, words: str = ""
    ) -> None:
        super().__init__(data, initial={"seen": lacks.seen, "words": words})
        self.rows, self.lacks = rows, lacks
        of_kind(forms.MultipleChoiceField, self, "known").choices = [
            (str(lack.scheme.pk), f"Release {lack.scheme} so") for lack in lacks.schemes
        ]
        self.fields["words"].widget.attrs.pop("maxlength", None)

    @property
    def boxes(self) -> list[tuple[Lack, BoundWidget]]:
        """Each scheme that lacks something, with its tick."""
        return list(zip(self.lacks.schemes, self["known"], strict=True))

    def clean(self) -> None:
        if self.cleaned_data.get("seen") != self.lacks.seen:
            raise forms.ValidationError(
                "What is missing has changed since this page was opened. Read it again below; "
                "the words are kept."
            )
        ticked = self.cleaned_data.get("known", [])
        if left := [str(e.scheme) for e in self.lacks.schemes if str(e.scheme.pk) not in ticked]:
            self.add_error("known", f"Not ticked: {'; '.join(left)}. Expected a tick beside each.")

    def again(self) -> ReleaseForm:
        """The same words over what is missing now; what changed is ticked anew."""
        data = self.data.copy()
        if data.get("seen") != self.lacks.seen:
            data.setlist("known", [])
        data["seen"] = self.lacks.seen
        form = ReleaseForm(data, rows=self.rows, lacks=self.lacks)
        form._errors = self.errors
        return form
