"""For which schemes a juror's name may stand in a portfolio."""

from __future__ import annotations

from typing import Any

from django import forms

from reviews.deeds.juror_naming import judged_schemes, names_allowed
from reviews.models import Seat


class NamesForm(forms.Form):
    """A tick each scheme."""

    schemes = forms.MultipleChoiceField(
        required=False, widget=forms.CheckboxSelectMultiple, label="May name me"
    )

    def __init__(self, data: Any = None, *, seat: Seat, label: str = "May name me") -> None:
        held = [str(each.scheme_id) for each in names_allowed(seat)]
        super().__init__(data, initial={"schemes": held}, auto_id=f"names-{seat.pk}-%s")
        self.seat, self.judged = seat, judged_schemes(seat)
        field = self.fields["schemes"]
        assert isinstance(field, forms.MultipleChoiceField)
        field.label = label
        field.choices = [(str(scheme.pk), str(scheme)) for scheme in self.judged]
        field.error_messages["invalid_choice"] = (
            "Read %(value)s. Expected schemes that this juror judged."
        )

    @property
    def is_empty(self) -> bool:
        """Whether there is no scheme to say it of yet."""
        return not self.judged

    @property
    def allowed(self) -> set[int]:
        """Keys of the schemes ticked."""
        return {int(key) for key in self.cleaned_data["schemes"]}
