"""An appeal as it is typed, what is added to it, and its decision with what is put right."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from django import forms
from django.forms.boundfield import BoundField
from django.forms.utils import ErrorDict
from django.utils.datastructures import MultiValueDict

from criteria.scoring.levels import NOT_MINE, NotJudged
from reviews.deeds.crit_appealing import Decision
from reviews.forms.conversations import Keyed
from reviews.forms.fields import ChosenField, ProseField
from reviews.models import Appeal, Criterion, LevelGiven, Verdict
from reviews.models.crits import LEVELS

LONGEST = 8_000
STANDS = ("", "stands")
SCALE = [(str(n), f"{n} {word}") for n, word in enumerate(LEVELS, start=1)]
NOT_MINE_SENT = "not-mine"


class AppealForm(Keyed):
    """Ground and words."""

    ground = ChosenField(
        "one of the grounds",
        label="Ground",
        choices=Appeal.Ground.choices,
        widget=forms.RadioSelect,
    )
    words = ProseField(
        f"what happened and what you ask for, {LONGEST} characters at most",
        rows=8,
        label="What happened, and what you ask for",
        max_length=LONGEST,
        help_text="Read by you, the studio’s leaders and the coordinators",
    )


class AddedWordsForm(forms.Form):
    """Words that are added to an appeal."""

    words = ProseField(
        f"words, {LONGEST} characters at most", rows=4, label="Add to it", max_length=LONGEST
    )

    def __init__(self, data: Any = None) -> None:
        super().__init__(data, auto_id="added_%s")  # the decision stands on the same page


class DecisionForm(forms.Form):
    """Outcome, reasons, and for each level, agreed level and the verdict whether it stands.

    given      the jurors' levels that count
    criteria   those of the crit
    agreed     the levels that stand agreed, by criterion
    """

    data: MultiValueDict[str, Any]
    _errors: ErrorDict | None
    seen = forms.CharField(widget=forms.HiddenInput, required=False)
    outcome = ChosenField(
        "one of the outcomes",
        label="Outcome",
        choices=Appeal.Outcome.choices,
        widget=forms.RadioSelect,
    )
    words = ProseField(
        f"the reasons, {LONGEST} characters at most",
        rows=6,
        label="Reasons",
        max_length=LONGEST,
        help_text="Whoever made it reads them; they stand beside each correction on the results",
    )
    verdict = ChosenField(
        "a verdict, or that it stands",
        label="Verdict",
        required=False,
        choices=[STANDS, *Verdict.Kind.choices],
    )

    def __init__(
        self,
        data: Any = None,
        *,
        given: Sequence[LevelGiven],
        criteria: Sequence[Criterion],
        seen: str,
        agreed: Mapping[int, int | None],
    ) -> None:
        super().__init__(data, initial={"seen": seen})
        self.given, self.criteria, self.agreed = given, criteria, agreed
        for each in given:
            choices = [*SCALE, (NOT_MINE_SENT, "Not mine")]
            self.fields[f"level_{each.pk}"] = _stands(choices, each.level)
        for criterion in criteria:
            self.fields[f"agreed_{criterion.pk}"] = _stands(SCALE, agreed.get(criterion.pk))
        self.fields["again"] = forms.MultipleChoiceField(
            label="Stay open, where it is shown again",
            required=False,
            choices=[(each.code, str(each)) for each in criteria],
            widget=forms.CheckboxSelectMultiple,
        )

    @property
    def level_fields(
        self,
    ) -> Iterator[tuple[Criterion, BoundField, list[tuple[LevelGiven, BoundField]]]]:
        """Each criterion with its agreed level and each juror's level."""
        for criterion in self.criteria:
            own = [each for each in self.given if each.criterion_id == criterion.pk]
            fields = [(each, self[f"level_{each.pk}"]) for each in own]
            yield criterion, self[f"agreed_{criterion.pk}"], fields

    def clean(self) -> None:
        data = self.cleaned_data
        if data.get("verdict") == Verdict.Kind.AGAIN and not data.get("again"):
            self.add_error("again", "Read nothing. Expected a criterion or more that stay open.")

    def decision(self) -> Decision:
        """What was sent."""
        data = self.cleaned_data
        levels = {each.pk: data[f"level_{each.pk}"] for each in self.given}
        agreed = {each.pk: data[f"agreed_{each.pk}"] for each in self.criteria}
        return Decision(
            outcome=data["outcome"],
            words=data["words"],
            levels={pk: _level(sent) for pk, sent in levels.items() if sent},
            agreed={pk: int(sent) for pk, sent in agreed.items() if sent},
            verdict=data["verdict"],
            criteria=data["again"],
        )

    def again(self, seen: str) -> DecisionForm:
        """The same as typed, over what stands now."""
        data = self.data.copy()
        data["seen"] = seen
        form = DecisionForm(
            data, given=self.given, criteria=self.criteria, seen=seen, agreed=self.agreed
        )
        form._errors = self.errors
        return form


def _stands(choices: list[tuple[str, str]], stands: int | None) -> forms.ChoiceField:
    first = ("", f"{stands} stands" if stands else "none stands")
    return ChosenField("a level, or that it stands", required=False, choices=[first, *choices])


def _level(sent: str) -> int | NotJudged:
    return NOT_MINE if sent == NOT_MINE_SENT else int(sent)
