"""What a leader writes between crit and release: reasons, and the words read first."""

from __future__ import annotations

from typing import Any

from django import forms


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


class ReleaseForm(forms.Form):
    """The leader's words, and what the leader had seen to be missing."""

    seen = forms.CharField(widget=forms.HiddenInput, required=False)
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

    def __init__(self, *args: Any, lacks: str, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.lacks = lacks
        self.fields["words"].widget.attrs.pop("maxlength", None)

    def clean(self) -> None:
        if self.cleaned_data.get("seen") != self.lacks:
            raise forms.ValidationError(
                "What is missing has changed since this page was opened. Read it again below; "
                "the words are kept."
            )

    def again(self) -> ReleaseForm:
        """The same words over what is missing now."""
        data = self.data.copy()
        data["seen"] = self.lacks
        form = ReleaseForm(data, lacks=self.lacks)
        form._errors = self.errors
        return form
