"""What a leader sends with the evening list: what was seen, and a tick where something is thin."""

from __future__ import annotations

from typing import Any

from django import forms
from django.forms.boundfield import BoundWidget
from django.forms.utils import ErrorDict
from django.utils.datastructures import MultiValueDict

from reviews.forms.fields import of_kind
from reviews.reading.crit_evening import EveningList, SchemeSaid


class EveningForm(forms.Form):
    """A tick beside each scheme of which something is to be known, and what was seen."""

    data: MultiValueDict[str, Any]
    _errors: ErrorDict | None
    seen = forms.CharField(widget=forms.HiddenInput, required=False)
    known = forms.MultipleChoiceField(widget=forms.CheckboxSelectMultiple, required=False)

    def __init__(self, data: Any = None, *, told: EveningList) -> None:
        super().__init__(data, initial={"seen": told.seen})
        self.told = told
        of_kind(forms.MultipleChoiceField, self, "known").choices = [
            (str(each.scheme.pk), f"Send {each.scheme} so") for each in told.noted
        ]

    @property
    def boxes(self) -> list[tuple[SchemeSaid, BoundWidget]]:
        """Each scheme of which something is to be known, with its tick."""
        return list(zip(self.told.noted, self["known"], strict=True))

    def clean(self) -> None:
        if self.cleaned_data.get("seen") != self.told.seen:
            raise forms.ValidationError(
                "Something was said, worded or locked since this page was opened. Read it again "
                "below, then send."
            )
        if asks := self.told.asks:
            raise forms.ValidationError(f"To decide first: {'; '.join(asks)}.")
        ticked = self.cleaned_data.get("known", [])
        if left := [str(e.scheme) for e in self.told.noted if str(e.scheme.pk) not in ticked]:
            self.add_error("known", f"Not ticked: {'; '.join(left)}. Expected a tick beside each.")

    def again(self) -> EveningForm:
        """The same ticks over the list as it is now; where it changed, none."""
        data = self.data.copy()
        if data.get("seen") != self.told.seen:
            data.setlist("known", [])
        data["seen"] = self.told.seen
        form = EveningForm(data, told=self.told)
        form._errors = self.errors
        return form
