"""Shown again: what a juror says of an open comment, what its leader decides, who shows again."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any, cast

from django import forms

from reviews.deeds.recrit_closing import Decided
from reviews.forms.fields import ChosenField, HourField, ProseField, SeenForm
from reviews.forms.jury import Judged
from reviews.models import Closing, Comment
from reviews.reading.recrit_scope import Scope

CLOSED, ONE_MORE = "closed", "one-more"
SAID = ((CLOSED, "Closed"), (ONE_MORE, "One more answer needed"))


class LookForm(Judged):
    """One tap of a juror: closed, or one more answer needed."""

    said = forms.ChoiceField(
        choices=SAID,
        error_messages={
            "required": "Nothing was read. Expected closed, or one more answer needed.",
            "invalid_choice": "Read “%(value)s”. Expected closed, or one more answer needed.",
        },
    )

    @property
    def is_closed(self) -> bool:
        """Whether it says closed."""
        return bool(self.cleaned_data["said"] == CLOSED)

    @property
    def sent(self) -> str:
        """What it says, in words."""
        return dict(SAID)[self.cleaned_data["said"]]


class ScopeForm(SeenForm):
    """Which schemes show again, and when the first of those not in the order yet begins."""

    schemes = forms.MultipleChoiceField(
        label="Schemes that show again",
        widget=forms.CheckboxSelectMultiple,
        error_messages={
            "required": "No scheme was chosen. Expected one or more.",
            "invalid_choice": "Read “%(value)s”. Expected a scheme of the studio.",
        },
    )
    first_at = HourField(
        label="First of those not in the order yet",
        required=False,
        help_text="The others follow without a break; a blank leaves the hours open.",
    )

    def __init__(self, *args: Any, scopes: Iterable[Scope], **more: Any) -> None:
        super().__init__(*args, **more)
        self.scopes = list(scopes)
        field = cast("forms.MultipleChoiceField", self.fields["schemes"])
        field.choices = [(str(each.scheme.pk), str(each.scheme)) for each in self.scopes]

    @property
    def boxes(self) -> Iterator[tuple[Scope, Any]]:
        """Each scheme with its box."""
        return zip(self.scopes, self["schemes"], strict=True)

    @property
    def chosen(self) -> set[int]:
        """Their keys."""
        return {int(pk) for pk in self.cleaned_data["schemes"]}


class DecideForm(forms.Form):
    """What a leader decides of one open comment."""

    said = ChosenField(
        "closed, or one more answer needed",
        label="Decision",
        required=False,
        choices=(("", "not decided"), *SAID),
    )
    words = ProseField("words", rows=2, label="Words to its students", required=False)
    seen = forms.IntegerField(min_value=0, required=False, widget=forms.HiddenInput)


@dataclass
class Decisions:
    """Of several comments, each with its form; what is left undecided is no decision."""

    forms: dict[int, DecideForm]

    @property
    def is_valid(self) -> bool:
        return all(form.is_valid() for form in self.forms.values())

    @property
    def decided(self) -> dict[int, Decided]:
        """By the comment's key, what is decided of it."""
        sent = {pk: form.cleaned_data for pk, form in self.forms.items()}
        return {
            pk: Decided(each["said"] == CLOSED, each["words"], each["seen"] or 0)
            for pk, each in sent.items()
            if each["said"]
        }


def decisions(data: Any, comments: Iterable[tuple[Comment, Closing | None, bool]]) -> Decisions:
    """Forms for comments, each with what stands decided, or what most jurors say."""
    found = {}
    for comment, stands, is_mostly_closed in comments:
        is_closed = stands.is_closed if stands else is_mostly_closed
        initial = {
            "said": CLOSED if is_closed else (ONE_MORE if stands else ""),
            "words": stands.words if stands else "",
            "seen": stands.pk if stands else 0,
        }
        found[comment.pk] = DecideForm(data, initial=initial, prefix=f"c{comment.pk}")
    return Decisions(found)
