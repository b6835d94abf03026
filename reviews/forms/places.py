"""The fields in which a sheet and a zone are typed or tapped, and points and strokes arrive."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from django import forms

from criteria.errors import Refused
from reviews.forms.fields import AS_TYPED, says
from reviews.places import Place, read_place


class PlaceField(forms.CharField):
    """A place; cleans to a Place."""

    def __init__(self, **more: Any) -> None:
        usual: dict[str, Any] = {"required": False, "label": "Sheet and zone"}
        super().__init__(**{**usual, **more})
        self.widget.attrs.update({"autocomplete": "off", **AS_TYPED})

    def clean(self, value: Any) -> Place:
        typed = super().clean(value) or ""
        try:
            return read_place(typed)
        except Refused as refused:
            raise forms.ValidationError(says(refused.read, refused.expected)) from None


class DrawnField(forms.CharField):
    """What was tapped or drawn on a sheet, as its reader reads it; the device fills it in."""

    def __init__(self, read: Callable[[str], Any]) -> None:
        super().__init__(required=False, widget=forms.HiddenInput)
        self.read = read

    def clean(self, value: Any) -> Any:
        sent = super().clean(value) or ""
        try:
            return self.read(sent)
        except Refused as refused:
            raise forms.ValidationError(says(refused.read, refused.expected)) from None
