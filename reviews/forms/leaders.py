"""Whom a coordinator names to lead a studio."""

from __future__ import annotations

from typing import Any

from django import forms

from reviews.deeds.studio_opening import Leader
from reviews.forms.fields import LineField, MailField, says
from reviews.models import Person


class LeaderFields(forms.Form):
    """Who leads a studio that is opened; blank, and whoever opens it does."""

    leader_name = LineField(
        "a name of at most 120 characters",
        label="Leader",
        max_length=120,
        required=False,
        help_text="Blank, with the address: you lead it yourself.",
    )
    leader_email = MailField(
        "an e-mail address, such as ada@example.org",
        label="Leader’s e-mail",
        required=False,
        help_text="An invitation goes there. Who has an account leads once they have joined.",
    )

    def clean(self) -> Any:
        cleaned = super().clean()
        name, email = (self.cleaned_data.get(n) for n in ("leader_name", "leader_email"))
        if name and not email and "leader_email" not in self.errors:
            self.add_error("leader_email", says("", f"the address of {name}"))
        if email and not name and "leader_name" not in self.errors:
            self.add_error("leader_name", says("", f"the name of whoever reads {email}"))
        return cleaned

    @property
    def leader(self) -> Leader | None:
        """Whom they name; None where nobody."""
        email = self.cleaned_data.get("leader_email")
        return Leader(self.cleaned_data["leader_name"], email) if email else None


class LeaderForm(LeaderFields):
    """One more leader of a studio that is there: never whoever names them."""

    def __init__(self, data: Any = None, *, by: Person) -> None:
        super().__init__(data)
        self.by = by
        for field in self.fields.values():
            field.required = True
        self.fields["leader_name"].help_text = ""

    def clean_leader_email(self) -> str:
        email: str = self.cleaned_data["leader_email"]
        if email.casefold() == self.by.email.casefold():
            other = "somebody else’s address: coordinators read levels once they are released"
            raise forms.ValidationError(says(email, other))
        return email
