"""Why a check is set aside, and for what."""

from __future__ import annotations

from typing import Any

from django import forms

from reviews.forms.fields import ChosenField, ProseField, of_kind
from reviews.pages.check_page import CheckLine

STUDIO, SCHEME = "studio", "scheme"


class SetAsideForm(forms.Form):
    """The reason, what of the check, and for whom; each choice only where there is one."""

    reason = ProseField(
        "the reason, in at most 1,000 characters",
        rows=3,
        max_length=1_000,
        label="Reason",
        help_text="Stands beside the check wherever it is read, with your name and the date",
    )
    what = ChosenField("one of those offered", label="What", widget=forms.RadioSelect)
    whom = ChosenField(
        "the scheme or the studio",
        label="For whom",
        widget=forms.RadioSelect,
        choices=[(SCHEME, "this scheme"), (STUDIO, "every scheme of the studio")],
    )

    def __init__(self, line: CheckLine, *args: Any, **more: Any) -> None:
        super().__init__(*args, **more)
        found = line.finding
        keys = [(found.ref, f"{found.ref} {found.title}")] if found.ref else []
        if found.check:
            keys.append((found.check, f"every target that “{found.check_title}” answers"))
        of_kind(ChosenField, self, "what").choices = keys
        self.fields["what"].initial, self.fields["whom"].initial = keys[0][0], SCHEME

    @property
    def key(self) -> str:
        """The target's reference or the check's slug."""
        return str(self.cleaned_data["what"])

    @property
    def whole_studio(self) -> bool:
        """Whether it is set aside for every scheme."""
        return bool(self.cleaned_data["whom"] == STUDIO)
