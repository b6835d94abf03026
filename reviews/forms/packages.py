"""What is typed on a package's own page."""

from __future__ import annotations

from typing import Any

from django import forms

LONGEST_STATEMENT = 5_000
"""Most characters of a statement: fifteen times the usual sixty words."""


class StatementForm(forms.Form):
    """The idea of the scheme, in few words. One that is too long is kept, and counted."""

    statement = forms.CharField(
        label="Statement",
        required=False,
        strip=False,
        max_length=LONGEST_STATEMENT,
        widget=forms.Textarea(attrs={"rows": 5}),
        error_messages={
            "max_length": "Read %(show_value)s characters. Expected %(limit_value)s at most."
        },
    )

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        # a long paste is never cut short by the browser
        self.fields["statement"].widget.attrs.pop("maxlength", None)
