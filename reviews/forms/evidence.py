"""The form in which a book of evidence is asked for."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from django import forms

from reviews.deeds.evidence_making import Wish, scheme_choices
from reviews.forms.fields import ChosenField, LineField, WholeField, says
from reviews.models import EvidenceBook, Studio

Choice = EvidenceBook.Choice
MOST = 200


class BookForm(forms.Form):
    """How its schemes are chosen, and whether it names anybody."""

    title = LineField("a title of at most 120 characters", max_length=120, label="Title")
    choice = ChosenField("one of the four", label="Schemes", choices=Choice.choices)
    asked = WholeField(
        f"a whole number from 1 to {MOST}",
        label="How many",
        required=False,
        min_value=1,
        max_value=MOST,
        help_text="By lot: so many. By band: so many of each.",
    )
    bound = LineField(
        "a level from 1 to 5, such as 2.5",
        label="Passed from",
        required=False,
        max_length=12,
        help_text="By lot: the least weighted level that passed. "
        "Blank: all whose last verdict isn’t “Show again”.",
    )
    lot = WholeField(
        "a whole number up to 2,000,000,000",
        label="Lot",
        required=False,
        min_value=0,
        max_value=2_000_000_000,
        help_text="The same lot draws the same schemes again. Blank: a fresh one.",
    )
    named = forms.TypedMultipleChoiceField(
        label="Named schemes",
        coerce=int,
        required=False,
        widget=forms.CheckboxSelectMultiple,
        error_messages={"invalid_choice": "Read “%(value)s”. Expected schemes of this studio."},
    )
    is_anonymous = forms.BooleanField(
        label="Names nobody",
        required=False,
        help_text="Students, jurors, leaders and scribes are called by letters and numbers; "
        "credits, file names, addresses and files as sent stay out. "
        "Pictures may show names as drawn.",
    )

    def __init__(self, studio: Studio, *args: Any, **more: Any) -> None:
        super().__init__(*args, **more)
        self.fields["named"].choices = scheme_choices(studio)  # type: ignore[attr-defined]

    def clean_bound(self) -> Fraction | None:
        typed = str(self.cleaned_data["bound"]).replace(",", ".").strip()
        if not typed:
            return None
        try:
            bound = Fraction(typed)
        except (ValueError, ZeroDivisionError):
            bound = Fraction(0)
        if not 1 <= bound <= 5:
            raise forms.ValidationError(says(typed, "a level from 1 to 5, such as 2.5"))
        return bound

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or {}
        choice = cleaned.get("choice")
        if choice in (Choice.BANDS, Choice.DRAW) and not (
            cleaned.get("asked") or "asked" in self.errors
        ):
            self.add_error("asked", says("", f"a whole number from 1 to {MOST}"))
        if choice == Choice.NAMED and not cleaned.get("named") and "named" not in self.errors:
            self.add_error("named", says("", "at least one scheme"))
        return cleaned

    @property
    def wish(self) -> Wish:
        """What is asked for."""
        sent = self.cleaned_data
        return Wish(
            title=sent["title"],
            choice=sent["choice"],
            is_anonymous=sent["is_anonymous"],
            asked=sent["asked"] or 1,
            bound=sent["bound"],
            lot=sent["lot"],
            named=tuple(sent["named"]),
        )
