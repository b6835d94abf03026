"""What a leader agrees on for one scheme: a level a criterion with its reason, and a verdict."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from django import forms
from django.forms.boundfield import BoundField
from django.utils.datastructures import MultiValueDict

from reviews.deeds.crit_agreeing import Decided, VerdictGiven
from reviews.forms.fields import ProseField, number_in, says
from reviews.forms.jury import ON_SCALE
from reviews.models import Verdict
from reviews.pages.moderation_agreed import AgreedLine, SchemeAgreed

LONGEST = 1_000
LEVELS = [("", "None: the jurors’ mean stands"), *((n, f"{n} {word}") for n, word in ON_SCALE)]


def _reason() -> ProseField:
    return ProseField("1,000 characters at most", 1, required=False, max_length=LONGEST)


class AgreeForm(forms.Form):
    """A level, a reason and what was seen for each criterion; whether the scheme goes on."""

    data: MultiValueDict[str, Any]

    def __init__(self, data: Any = None, *, agreed: SchemeAgreed, newer: bool = False) -> None:
        super().__init__(data, auto_id="agree_%s")
        self.agreed, self.is_newer = agreed, newer
        for line in agreed.lines:
            ground, pk = line.ground, line.ground.criterion.pk
            level = forms.TypedChoiceField(
                choices=LEVELS,
                coerce=int,
                empty_value=None,
                required=False,
                initial=ground.agreed or "",
                label=f"Agreed level of {ground.criterion}",
            )
            reason = _reason()
            reason.label = f"Why, for {ground.criterion}"
            reason.initial = ground.last.reason if ground.last else ""
            seen = forms.CharField(
                widget=forms.HiddenInput, initial=ground.seen, required=False, max_length=40
            )
            self.fields |= {f"level_{pk}": level, f"reason_{pk}": reason, f"seen_{pk}": seen}
        stands = agreed.verdict
        self.fields["verdict"] = forms.ChoiceField(
            choices=[("", "Not decided yet"), *Verdict.Kind.choices],
            required=False,
            initial=stands.kind if stands else "",
            label="Verdict",
        )
        self.fields["open"] = forms.MultipleChoiceField(
            choices=[(each.code, str(each)) for each in self._criteria],
            widget=forms.CheckboxSelectMultiple,
            required=False,
            initial=stands.criteria if stands else [],
            label="Criteria that stay open",
            help_text="Of what is shown again: a re-crit asks for these alone",
        )
        words = ProseField("1,000 characters at most", 2, required=False, max_length=LONGEST)
        words.label, words.initial = "In words", stands.words if stands else ""
        words.help_text = "Students read them beside the verdict"
        self.fields["words"] = words
        self.fields["verdict_seen"] = forms.CharField(
            widget=forms.HiddenInput, required=False, initial=str(stands.pk if stands else 0)
        )

    @property
    def _criteria(self) -> list[Any]:
        return [line.ground.criterion for line in self.agreed.lines]

    @property
    def lines(self) -> Iterator[tuple[AgreedLine, BoundField, BoundField, BoundField]]:
        """Each criterion with its level, its reason and what was seen."""
        for line in self.agreed.lines:
            pk = line.ground.criterion.pk
            yield line, self[f"level_{pk}"], self[f"reason_{pk}"], self[f"seen_{pk}"]

    def clean(self) -> None:
        sent = self.cleaned_data
        for line in self.agreed.lines:
            ground, pk = line.ground, line.ground.criterion.pk
            reason = sent.get(f"reason_{pk}")
            if reason is not None and not reason and ground.owes_reason(sent.get(f"level_{pk}")):
                mean = (
                    f"the jurors' mean is {ground.shown_mean}" if ground.mean else "no juror's is"
                )
                expected = f"why it is {sent[f'level_{pk}']} where {mean}"
                self.add_error(f"reason_{pk}", says("", expected))
        if sent.get("verdict") == Verdict.Kind.AGAIN and not sent.get("open", [True]):
            self.add_error("open", says("", "a criterion or more that stay open"))

    @property
    def decided(self) -> dict[int, Decided]:
        """What was sent of each criterion, by its key."""
        sent = self.cleaned_data
        return {
            pk: Decided(sent[f"level_{pk}"], sent[f"reason_{pk}"], sent[f"seen_{pk}"])
            for pk in (line.ground.criterion.pk for line in self.agreed.lines)
        }

    @property
    def verdict_given(self) -> VerdictGiven | None:
        """The verdict, where one was chosen."""
        sent = self.cleaned_data
        if not sent["verdict"]:
            return None
        seen = number_in(sent["verdict_seen"])
        return VerdictGiven(sent["verdict"], sent["open"], sent["words"], seen)

    def again(self, now: SchemeAgreed) -> AgreeForm:
        """The same form as typed, which has now seen what stands."""
        data = self.data.copy()
        for line in now.lines:
            data[f"seen_{line.ground.criterion.pk}"] = line.ground.seen
        data["verdict_seen"] = str(now.verdict.pk if now.verdict else 0)
        return AgreeForm(data, agreed=now, newer=True)
