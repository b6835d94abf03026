"""The form of a studio's map of standards."""

from __future__ import annotations

from typing import Any

from django import forms

from reviews.deeds.standards_mapping import PARTS
from reviews.forms.crits import RowsForm, rows_of
from reviews.forms.fields import LineField


class StandardForm(forms.Form):
    """One line of a published standard."""

    body = LineField("whose standard it is, in at most 60 characters", max_length=60, label="Whose")
    edition = LineField("an edition of at most 40 characters", max_length=40, label="Edition")
    code = LineField("a code of at most 24 characters", max_length=24, required=False, label="Code")
    title = LineField("a title of at most 160 characters", max_length=160, label="Title")
    criteria = LineField(
        "codes of criteria, in at most 120 characters",
        max_length=120,
        required=False,
        label="Criteria",
    )
    note = LineField("at most 240 characters", max_length=240, required=False, label="Note")

    @property
    def line(self) -> dict[str, Any]:
        return {name: self.cleaned_data[name] for name in PARTS}


StandardFormSet = rows_of(StandardForm, RowsForm, extra=2, can_delete=True)
