"""What a leader sends with a release: first words, reasons for what stays open, its minute."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from typing import Any

from django import forms
from django.forms.boundfield import BoundField
from django.forms.utils import ErrorDict

from reviews.deeds.crit_release_setting import why_not_then
from reviews.forms.fields import LineField, MomentField, TypedField
from reviews.models import OwnReleaseWords
from reviews.reading.crit_release import NO_HOLIDAYS, Item, Release, SchemeOut

CHANGED = (
    "What goes out has changed since this page was opened. Read it again below; the words are kept."
)
LONGEST = 6_000
"""Most characters of the first words."""


class ReleaseForm(forms.Form):
    """The words to the class, a reason beside each thing left open, and what was seen."""

    data: Any
    _errors: ErrorDict | None
    seen = forms.CharField(widget=forms.HiddenInput, required=False)
    words = forms.CharField(
        label="The leader's words",
        max_length=LONGEST,
        widget=forms.Textarea(attrs={"rows": 5}),
        help_text="Students read these first: two sentences do",
        error_messages={
            "required": "Read nothing. Expected the words that students read first.",
            "max_length": "Read %(show_value)s characters. Expected %(limit_value)s at most.",
        },
    )
    due = MomentField(
        label="Release by itself at",
        required=False,
        help_text=f"A working hour, the site's time. {NO_HOLIDAYS}",
    )

    def __init__(
        self, data: Any = None, *, told: Release, places: Sequence[str], do: str = ""
    ) -> None:
        crit = told.crit
        given = {"seen": told.seen, "words": crit.release_words, "due": crit.release_due_at}
        super().__init__(data, initial=given)
        self.told, self.places, self.do = told, places, do
        for item in told.items:
            if item.can_stay:
                self.fields[self._name(item)] = LineField(
                    "the reason in 120 characters at most",
                    label="Why it goes out so",
                    max_length=120,
                    required=False,
                )
        self.fields["words"].widget.attrs.pop("maxlength", None)

    @staticmethod
    def _name(item: Item) -> str:
        return f"why-{item.key}"

    @property
    def items(self) -> list[tuple[Item, BoundField | None, str]]:
        """What must be decided, with the field of its reason where one does, and its page."""
        fields = [self[self._name(each)] if each.can_stay else None for each in self.told.items]
        return list(zip(self.told.items, fields, self.places, strict=True))

    @property
    def reasons(self) -> dict[str, str]:
        """Why what is open stays so, by its key."""
        return {
            item.key: self.cleaned_data.get(self._name(item), "")
            for item in self.told.items
            if item.can_stay
        }

    def clean_due(self) -> datetime | None:
        due: datetime | None = self.cleaned_data["due"]
        if self.do == "due" and due is None:
            raise forms.ValidationError(
                "Read nothing. Expected a minute, such as 7 Dec 2026 09:30."
            )
        if self.do == "due" and due and (why := why_not_then(due)):
            raise forms.ValidationError(why)
        return due

    def clean(self) -> None:
        if self.do == "keep":
            return
        if self.cleaned_data.get("seen") != self.told.seen:
            raise forms.ValidationError(CHANGED)
        if fixed := [item for item in self.told.items if not item.can_stay]:
            named = "; ".join(item.named for item in fixed)
            raise forms.ValidationError(f"To decide first: {named}.")
        for item in self.told.items:
            if not self.cleaned_data.get(self._name(item)) and self._name(item) not in self.errors:
                said = "Read nothing. Expected it decided, or the reason why it goes out so."
                self.add_error(self._name(item), said)

    def again(self) -> ReleaseForm:
        """What was typed over what goes out now."""
        data = self.data.copy()
        data["seen"] = self.told.seen
        form = ReleaseForm(data, told=self.told, places=self.places, do=self.do)
        form._errors = self.errors
        return form


class OwnWordsForm(forms.Form):
    """The first words to one scheme's students alone."""

    data: Any
    seen = forms.CharField(widget=forms.HiddenInput, required=False)

    def __init__(self, data: Any = None, *, out: SchemeOut) -> None:
        own = out.own
        given = {"words": out.words or "", "seen": own.version if own else 0}
        super().__init__(data, initial=given)
        self.fields["words"] = TypedField(
            "First words to these students alone",
            LONGEST,
            rows=4,
            help_text="In place of those to the class; blank: those to the class, or ours",
        )

    def again(self, kept: OwnReleaseWords) -> OwnWordsForm:
        """What was typed, over a newer version."""
        self.data = {**self.data.dict(), "seen": str(kept.version)}
        return self
