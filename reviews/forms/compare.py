"""Which cohorts stand beside this one, and which crit of each is compared."""

from __future__ import annotations

from collections.abc import Sequence
from urllib.parse import urlencode

from django import forms
from django.http import QueryDict

from reviews.forms.fields import of_kind
from reviews.models import Crit, Studio
from reviews.reading.cohort_comparing import MOST_OTHERS
from reviews.reading.cohort_records import KINDS, last_of


class CompareForm(forms.Form):
    """Other studios whose released crits the viewer may read, those of the studio's line first."""

    kind = forms.ChoiceField(
        choices=[(kind.value, kind.label) for kind in KINDS],
        label="By which crit",
        error_messages={"invalid_choice": "Read %(value)s. Expected a final or an interim crit."},
    )
    other = forms.MultipleChoiceField(
        label="Beside",
        widget=forms.CheckboxSelectMultiple,
        error_messages={
            "required": f"Read nothing. Expected 1 to {MOST_OTHERS} other cohorts.",
            "invalid_choice": "Read another studio. Expected one that you may read, with such a "
            "crit released.",
        },
    )

    def __init__(self, query: QueryDict, *, studio: Studio, crits: Sequence[Crit]) -> None:
        """Read what an address asks for; where it names no cohort, those of the studio's line.

        crits   the released ones that the viewer may read, as `released_of` has them
        """
        self.studio = studio
        own = [crit.kind for crit in crits if crit.studio_id == studio.pk]
        usual = next((str(kind) for kind in KINDS if kind in own), str(KINDS[0]))
        sent = query.get("kind") or usual
        self.by_kind = sent if sent in KINDS else usual
        self.by_studio = last_of(crits, self.by_kind)
        others = [crit for pk, crit in self.by_studio.items() if pk != studio.pk]
        line = line_of(studio, [crit.studio for crit in crits])
        near = [crit for crit in others if crit.studio_id in line]
        unasked = [str(crit.studio_id) for crit in (near or others[:1])[:MOST_OTHERS]]
        asked = query.getlist("other") if "other" in query else unasked
        super().__init__({"kind": sent, "other": asked})
        groups = (
            ("This studio’s years", near),
            ("Other studios", [crit for crit in others if crit not in near]),
        )
        of_kind(forms.MultipleChoiceField, self, "other").choices = [
            (name, [(str(crit.studio_id), f"{crit.studio}: {crit}") for crit in held])
            for name, held in groups
            if held
        ]

    @property
    def has_others(self) -> bool:
        """Whether there is a cohort to choose."""
        return bool(self.by_studio.keys() - {self.studio.pk})

    @property
    def crit(self) -> Crit | None:
        """This studio's own released crit of the kind."""
        return self.by_studio.get(self.studio.pk)

    def clean_other(self) -> list[str]:
        chosen: list[str] = self.cleaned_data["other"]
        if len(chosen) > MOST_OTHERS:
            raise forms.ValidationError(
                f"Read {len(chosen)} other cohorts. Expected 1 to {MOST_OTHERS}."
            )
        return chosen

    @property
    def chosen(self) -> list[Crit]:
        """The crits that are compared, this studio's first; this one's alone where none is chosen.

        Nothing where this studio has no such crit released.
        """
        return [self.crit, *self.chosen_others] if self.crit else []

    @property
    def chosen_others(self) -> list[Crit]:
        """Those beside this studio's."""
        others = dict.fromkeys(self.cleaned_data["other"]) if self.is_valid() else {}
        return [self.by_studio[int(pk)] for pk in others]

    @property
    def kind_words(self) -> str:
        """The kind of crit in words."""
        return Crit.Kind(self.by_kind).label.casefold()

    @property
    def query(self) -> str:
        """The same choice as an address says it."""
        others = [crit.studio_id for crit in self.chosen_others]
        return urlencode({"kind": self.by_kind, "other": others}, doseq=True)


def line_of(studio: Studio, studios: Sequence[Studio]) -> set[int]:
    """Studios of its line: those that it follows, those that follow it, and theirs."""
    follows = {each.pk: each.follows_id for each in (*studios, studio)}
    line = {studio.pk}
    while more := {
        pk
        for pk, before in follows.items()
        if pk not in line and (before in line or any(follows.get(own) == pk for own in line))
    }:
        line |= more
    return line - {studio.pk}
