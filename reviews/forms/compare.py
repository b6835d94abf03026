"""Which cohort stands beside this one."""

from __future__ import annotations

from typing import Any

from django import forms
from django.db.models import QuerySet
from django.http import QueryDict

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

    @classmethod
    def asked(cls, query: QueryDict, others: QuerySet[Studio]) -> CompareForm:
        """What an address asks for; where it asks for none, the other that was opened last."""
        last = None if "other" in query else others.first()
        if last:
            return cls({"other": last.pk}, others=others)
        return cls(query if "other" in query else None, others=others)
