"""What a leader sends of comments, and a juror of words offered to them."""

from __future__ import annotations

from typing import Any

from django import forms
from django.db.models import QuerySet
from django.utils.datastructures import MultiValueDict

from reviews.deeds.comment_ruling import FEWEST, RulingSent
from reviews.forms.fields import LineField, ProseField, of_kind, says
from reviews.forms.jury import LONGEST_COMMENT
from reviews.models import Comment, OpposedPair, Rewording

OPPOSED, ALIKE = "opposed", "alike"
LONGEST_RULING = 2_000


class ChosenField(forms.ModelMultipleChoiceField[Comment]):
    """Comments of a scheme, said in words."""

    def label_from_instance(self, comment: Comment) -> str:
        return f"{comment.jury_sheet.seat.name}: {comment}: {comment.words or 'no words'}"


class ChosenForm(forms.Form):
    """Comments chosen to be read together, and how they stand to each other."""

    comment = ChosenField(
        Comment.objects.none(),
        label="Comments",
        widget=forms.CheckboxSelectMultiple,
        error_messages={
            "required": "Read none chosen. Expected two to oppose, two or more that are alike.",
            "invalid_choice": "Read a comment that isn't read here. Expected some of those shown.",
            "invalid_pk_value": "Read something else. Expected some of the comments shown.",
        },
    )
    heading = LineField(
        "120 characters at most",
        max_length=120,
        required=False,
        label="What they say alike",
        help_text="Of a group, a few words that students read above all wordings",
    )
    stand = forms.ChoiceField(
        choices=[(OPPOSED, "Opposed"), (ALIKE, "Alike")],
        widget=forms.HiddenInput,
        required=False,
    )

    def __init__(self, data: Any = None, *, among: QuerySet[Comment]) -> None:
        super().__init__(data)
        of_kind(ChosenField, self, "comment").queryset = among

    def clean(self) -> None:
        chosen, stand = self.cleaned_data.get("comment"), self.cleaned_data.get("stand")
        if stand not in (OPPOSED, ALIKE):
            raise forms.ValidationError(says(stand, "that they are opposed, or alike"))
        if chosen is None:
            return
        if stand == OPPOSED and len(chosen) != FEWEST:
            self.add_error("comment", f"Read {len(chosen)} chosen. Expected two that oppose.")
        elif len(chosen) < FEWEST:
            self.add_error("comment", f"Read {len(chosen)} chosen. Expected two or more.")


class RulingForm(forms.Form):
    """What a leader rules on a pair, over the version that was seen."""

    data: MultiValueDict[str, Any]
    seen = forms.IntegerField(widget=forms.HiddenInput)
    ruling = ProseField(
        f"{LONGEST_RULING} characters at most",
        rows=2,
        required=False,
        max_length=LONGEST_RULING,
        label="Ruling",
        help_text="Or “your decision; argue it”, with the day until which they argue it",
    )
    argue_by = forms.DateField(
        required=False,
        label="To be argued by",
        widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d"),
    )

    def __init__(self, data: Any = None, *, pair: OpposedPair, **more: Any) -> None:
        held = {"seen": pair.version, "ruling": pair.ruling, "argue_by": pair.argue_by}
        super().__init__(data, initial=held, auto_id=f"pair-{pair.pk}-%s", **more)
        self.pair = pair
        self.fields["argue_by"].error_messages["invalid"] = (
            "Read something else. Expected a day, such as 2026-12-10."
        )

    def clean(self) -> None:
        by = self.cleaned_data.get("argue_by")
        if by and by < self.pair.crit.day:
            self.add_error("argue_by", says(by, f"the crit's day, {self.pair.crit.day}, or later"))
        if not (by or self.cleaned_data.get("ruling") or self.errors):
            self.add_error("ruling", says("", "the ruling, or a day until which they argue it"))

    def sent(self) -> RulingSent:
        """What was sent."""
        return RulingSent(self.cleaned_data["ruling"], self.cleaned_data["argue_by"])

    def again(self, now: OpposedPair) -> RulingForm:
        """The same as typed, which has now seen what stands."""
        data = self.data.copy()
        data["seen"] = now.version
        return RulingForm(data, pair=now)


class RewordingForm(forms.Form):
    """Other words for a comment that is held."""

    words = ProseField(
        f"the words, {LONGEST_COMMENT} characters at most",
        rows=3,
        max_length=LONGEST_COMMENT,
        label="Words offered",
        help_text="The same remark about the work alone; its juror takes it or not",
    )

    def __init__(self, data: Any = None, *, comment: Comment, words: str = "") -> None:
        super().__init__(data, initial={"words": words or comment.words})
        self.comment = comment

    def clean_words(self) -> str:
        words: str = self.cleaned_data["words"]
        if words == self.comment.words.strip():
            raise forms.ValidationError(says(words, "other words than its juror's own"))
        return words


class OfferAnswerForm(forms.Form):
    """What a juror answers to words that are offered."""

    reply = forms.ChoiceField(choices=Rewording.Reply.choices, widget=forms.HiddenInput)
    own_words = ProseField(
        f"{LONGEST_COMMENT} characters at most",
        rows=3,
        required=False,
        max_length=LONGEST_COMMENT,
        label="Or other words of your own",
    )

    def __init__(self, data: Any = None, *, offer: Rewording) -> None:
        super().__init__(data, auto_id=f"offer-{offer.pk}-%s")
        self.fields["reply"].error_messages = {
            "required": "Read no answer. Expected one of the three buttons.",
            "invalid_choice": "Read another answer. Expected one of the three buttons.",
        }

    def clean(self) -> None:
        reply, own = self.cleaned_data.get("reply"), self.cleaned_data.get("own_words", "")
        if reply == Rewording.Reply.OWN and not own:
            self.add_error("own_words", says("", "words of your own, to go in place of the others"))
        elif reply in (Rewording.Reply.TAKEN, Rewording.Reply.REFUSED) and own:
            typed = says(own, "them sent by “Send my own words”, or this field empty")
            self.add_error("own_words", typed)

    @property
    def trouble(self) -> list[str]:
        """Why the answer itself wasn't read."""
        return [str(each) for each in self.errors.get("reply", [])]
