"""How somebody presents, and why a package is handed in for its students."""

from __future__ import annotations

from typing import Any

from django import forms

from reviews.forms.fields import ChosenField, LineField, ProseField, WholeField, of_kind, says
from reviews.models import Adjustment, Person, Scheme

Effect = Adjustment.Effect

MOST_MINUTES = 30
"""Most minutes that somebody is given beyond those of everybody. Our choice [min]."""


class AdjustmentForm(forms.Form):
    """Whose, what, how many minutes where it is time, and words that stay with the school."""

    person = ChosenField("one of the scheme’s students", label="Student")
    effect = ChosenField("one of those offered", label="Effect", choices=Effect.choices)
    minutes = WholeField(
        f"whole minutes from 1 to {MOST_MINUTES}, of more time alone",
        label="Minutes more",
        min_value=1,
        max_value=MOST_MINUTES,
        required=False,
        help_text="With “More time to present” alone: beyond what everybody has",
    )
    words = LineField(
        "at most 240 characters",
        label="Words",
        max_length=240,
        required=False,
        help_text="Read by the student, the leaders and the coordinator, by nobody in the room",
    )

    def __init__(self, scheme: Scheme, *args: Any, **more: Any) -> None:
        super().__init__(*args, **more)
        self._members = {str(person.pk): person for person in scheme.members.order_by("name")}
        choices = [(pk, person.name) for pk, person in self._members.items()]
        of_kind(ChosenField, self, "person").choices = choices

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or {}
        if {"minutes", "effect"} <= cleaned.keys():
            is_time, minutes = cleaned["effect"] == Effect.MORE_TIME, cleaned["minutes"]
            if is_time != (minutes is not None):
                expected = f"whole minutes from 1 to {MOST_MINUTES}" if is_time else "no minutes"
                chosen = Effect(cleaned["effect"]).label
                self.add_error("minutes", says(minutes, f"{expected}, with “{chosen}”"))
        return cleaned

    @property
    def whose(self) -> Person:
        """The student chosen."""
        return self._members[self.cleaned_data["person"]]


class BehalfForm(forms.Form):
    """Why a package is handed in for its students."""

    reason = ProseField(
        "the reason, in at most 240 characters",
        rows=3,
        max_length=240,
        label="Reason",
        help_text="Stands with the revision for good; its students, leaders and coordinators "
        "read it. No diagnosis: “agreed absence” is enough",
    )
