"""The form in which a brief's workbook is sent, looked at, and only then kept."""

from __future__ import annotations

import json
from typing import Any

from django import forms

from reviews.exchange.proposed import Proposal
from reviews.forms.bringing import units_field
from reviews.forms.fields import says


class BriefWorkbookForm(forms.Form):
    """A workbook; once it is read, what it proposes goes along, so that it is sent once.

    told   what the file proposes, as JSON
    seen   the last change of each part that was seen with it, as JSON
    keep   whether it is kept, and not looked at alone
    """

    file = forms.FileField(
        label="Workbook",
        required=False,
        allow_empty_file=True,
        help_text="XLSX with a sheet each: site, climate, states, cases, targets",
        widget=forms.FileInput(attrs={"accept": ".xlsx"}),
    )
    bare_in = units_field("Where neither head nor third row names a unit")
    told = forms.CharField(required=False, widget=forms.HiddenInput)
    seen = forms.CharField(required=False, widget=forms.HiddenInput)
    keep = forms.CharField(required=False, widget=forms.HiddenInput)

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or {}
        if cleaned.get("file"):
            cleaned["keep"] = ""
        elif not cleaned.get("told") and "file" not in self.errors:
            self.add_error("file", says("", "a workbook"))
        return cleaned

    def clean_told(self) -> Proposal | None:
        """What was proposed before; None where nothing was."""
        sent = self.cleaned_data["told"]
        if not sent:
            return None
        try:
            return Proposal.of_json(json.loads(sent))
        except (LookupError, TypeError, AttributeError, ValueError):
            raise forms.ValidationError(
                says("what a file said, changed on its way", "the file once more")
            ) from None

    def clean_seen(self) -> dict[str, int]:
        """The last changes that were seen; what can't be read was never seen."""
        try:
            sent = json.loads(self.cleaned_data["seen"] or "{}")
            return {str(slug): int(number) for slug, number in sent.items()}
        except (AttributeError, TypeError, ValueError, OverflowError):
            return {}
