"""What a studio is called, and how long it is kept."""

from __future__ import annotations

from datetime import date
from typing import Any

from django import forms

from reviews.deeds.studio_opening import (
    AFTER_RETENTION,
    NOTICE,
    STUDIO_PARTS,
    first_day_to_keep_until,
)
from reviews.forms.fields import DayField, LineField, SeenForm, says
from reviews.forms.leaders import LeaderFields
from reviews.moments import day_words

LATER = f"a day at least {NOTICE.days} days from today, or nothing"


class StudioForm(SeenForm):
    """Title, cohort, year line, who may see issued sheets, and how long it is kept."""

    title = LineField(
        "a title of at most 120 characters", max_length=120, help_text="As it is called: Low Water"
    )
    cohort = LineField(
        "a cohort, in at most 60 characters",
        max_length=60,
        help_text="Which students: cohort E, spring 2026",
    )
    year_line = LineField(
        "one line of at most 240 characters",
        label="Year level",
        max_length=240,
        required=False,
        help_text="One line for jurors: third year, read Resolved as reached in seven weeks",
    )
    is_wall_open = forms.BooleanField(
        label="Classmates may see issued sheets",
        required=False,
        initial=True,
        help_text="Schedules, checks and levels stay with the scheme's own students.",
    )

    kept_until = DayField(
        LATER,
        label="Kept until",
        required=False,
        help_text=f"{AFTER_RETENTION} Nothing is done while a crit is begun or to come. "
        "Blank: kept until somebody says.",
    )

    def clean_kept_until(self) -> date | None:
        day: date | None = self.cleaned_data["kept_until"]
        is_new = day is not None and day != self.initial.get("kept_until")
        if day and is_new and day < first_day_to_keep_until():
            raise forms.ValidationError(says(day_words(day), LATER))
        return day

    @property
    def parts(self) -> dict[str, Any]:
        return {name: self.cleaned_data[name] for name in STUDIO_PARTS}


class NewStudioForm(LeaderFields, StudioForm):
    """The same of one that is opened; whoever coordinates may name who leads it."""

    def __init__(self, data: Any = None, *, names_leaders: bool) -> None:
        super().__init__(data)
        if not names_leaders:
            del self.fields["leader_name"], self.fields["leader_email"]
