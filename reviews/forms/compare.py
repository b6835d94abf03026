"""Which cohort stands beside this one."""

from __future__ import annotations

from typing import Any

from django import forms

from reviews.forms.fields import of_kind
from reviews.models import Studio


class CompareForm(forms.Form):
    """Another studio that the viewer leads."""

    other = forms.ModelChoiceField(
        Studio.objects.none(),
        label="Beside",
        empty_label="Choose a studio",
        error_messages={
            "required": "Read nothing. Expected another studio that you lead.",
            "invalid_choice": "Read another studio. Expected one that you lead.",
        },
    )

    def __init__(self, *args: Any, others: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        of_kind(forms.ModelChoiceField, self, "other").queryset = others
