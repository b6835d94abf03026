"""The field in which a sheet and a zone are typed or tapped."""

from __future__ import annotations

from typing import Any

from django import forms

from criteria.errors import Refused
from reviews.forms.fields import AS_TYPED
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
            raise forms.ValidationError(
                f"Read “{refused.read}”. Expected {refused.expected}."
            ) from None
