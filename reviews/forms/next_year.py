"""Next year's studio: what it is called, what is carried over, on which days its crits are."""

from __future__ import annotations

from typing import Any

from django import forms

from reviews.deeds.studio_carrying import NewCrit
from reviews.forms.fields import DayField, LineField, MomentField, says
from reviews.forms.leaders import LeaderFields
from reviews.models import Crit, Studio
from reviews.pages.next_year_page import NextYearPage


class NextYearForm(LeaderFields):
    """Title and cohort, parts, and for each criteria sheet the new crit's day and pens down.

    names_leaders   whether whoever asks may name somebody else: coordinators
    """

    title = LineField("a title of at most 120 characters", max_length=120)
    cohort = LineField(
        "a cohort, in at most 60 characters",
        max_length=60,
        help_text="Which students: cohort J, autumn 2027",
    )
    year_line = LineField(
        "one line of at most 240 characters", label="Year level", max_length=240, required=False
    )
    parts = forms.MultipleChoiceField(
        label="What is carried over", required=False, widget=forms.CheckboxSelectMultiple
    )
    field_order = ("title", "cohort", "year_line", "leader_name", "leader_email", "parts")

    def __init__(
        self, data: Any, *, studio: Studio, page: NextYearPage, names_leaders: bool
    ) -> None:
        held = [part.slug for part in page.parts]
        initial = {"title": studio.title, "year_line": studio.year_line, "parts": held}
        super().__init__(data, initial=initial)
        self.studio, self.crits = studio, [crit for crit, _ in page.crits]
        if not names_leaders:
            del self.fields["leader_name"], self.fields["leader_email"]
        parts = self.fields["parts"]
        assert isinstance(parts, forms.MultipleChoiceField)
        parts.choices = [(part.slug, f"{part.name}: {part.holds}") for part in page.parts]
        for crit, words in page.crits:
            self.fields[f"day_{crit.pk}"] = DayField(
                label=f"{words}: new day",
                required=False,
                help_text="Blank: its criteria sheet is left behind.",
            )
            self.fields[f"pens_{crit.pk}"] = MomentField(
                label=f"{crit.get_kind_display()}: new pens down", required=False
            )

    def clean(self) -> Any:
        cleaned = super().clean()
        if self._is_old():
            cohort = self.cleaned_data.get("cohort")
            self.add_error("cohort", says(cohort, f"another cohort than {self.studio}"))
        for crit in self.crits:
            self._clean_days(crit)
        return cleaned

    def _is_old(self) -> bool:
        """Whether it is called as the studio that it follows."""
        named = (self.cleaned_data.get("title"), self.cleaned_data.get("cohort"))
        return named == (self.studio.title, self.studio.cohort)

    def _clean_days(self, crit: Crit) -> None:
        names = f"day_{crit.pk}", f"pens_{crit.pk}"
        if any(name in self.errors for name in names):
            return
        day, pens = (self.cleaned_data[name] for name in names)
        if day and not pens:
            self.add_error(names[1], says("", "the hour after which nothing more is drawn"))
        if pens and not day:
            self.add_error(names[0], says("", "the day of the crit, or no pens down"))
        if day and day <= crit.day:
            later = f"a day after last year's, {crit.day:%-d %b %Y}"
            self.add_error(names[0], says(f"{day:%-d %b %Y}", later))
        if day and pens and pens.date() > day:
            self.add_error(names[1], says(f"{pens:%-d %b %Y}", "a moment before the crit is over"))

    @property
    def named(self) -> dict[str, Any]:
        """What the new studio is called."""
        return {name: self.cleaned_data[name] for name in ("title", "cohort", "year_line")}

    @property
    def new_crits(self) -> dict[int, NewCrit]:
        """By the old crit's key, the days of the new one."""
        days = {
            crit.pk: (self.cleaned_data[f"day_{crit.pk}"], self.cleaned_data[f"pens_{crit.pk}"])
            for crit in self.crits
        }
        return {pk: NewCrit(*held) for pk, held in days.items() if held[0]}
