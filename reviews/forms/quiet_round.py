"""A note of a quiet round as it is typed."""

from __future__ import annotations

from typing import Any
from uuid import uuid4

from django import forms

from reviews.forms.fields import TypedField
from reviews.models import QuietNote, Scheme

LONGEST_NOTE = 2_000
KEY_LOST = "The note’s key can’t be read. Open the page again; what you typed stands here."
KINDS = ", ".join(QuietNote.Kind.values)
ASKED: dict[str, str] = {
    QuietNote.Kind.KEEP: "What is worth keeping, and where it shows",
    QuietNote.Kind.ASK: "One thing that you would like to know",
}


class NoteForm(forms.Form):
    """One Keep or one Ask on one scheme."""

    note = forms.UUIDField(
        widget=forms.HiddenInput, error_messages={"required": KEY_LOST, "invalid": KEY_LOST}
    )
    kind = forms.ChoiceField(
        choices=QuietNote.Kind.choices,
        widget=forms.HiddenInput,
        error_messages={
            "required": f"Read nothing. Expected one of: {KINDS}.",
            "invalid_choice": f"Read “%(value)s”. Expected one of: {KINDS}.",
        },
    )
    words = TypedField("", LONGEST_NOTE, rows=3)

    def __init__(
        self,
        data: Any = None,
        *,
        scheme: Scheme,
        kind: str,
        stands: QuietNote | None = None,
    ) -> None:
        self.scheme, self.of_kind, self.stands = scheme, kind, stands
        self.unit = f"note-{scheme.pk}-{kind.lower()}"
        key = stands.key if stands else uuid4()
        words = stands.words if stands else ""
        super().__init__(
            data, initial={"note": key, "kind": kind, "words": words}, auto_id=f"{self.unit}-%s"
        )
        self.fields["words"].label = kind
        self.fields["words"].help_text = ASKED.get(kind, "")

    @property
    def version(self) -> int:
        """The version that the form shows; 0 where nothing is left yet."""
        return self.stands.version if self.stands else 0

    @property
    def refusals(self) -> list[str]:
        """What is wrong with it beside its words."""
        return [str(each) for name in ("note", "kind") for each in self.errors.get(name, [])]
