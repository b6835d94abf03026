"""What a studio is called."""

from __future__ import annotations

from typing import Any

from django import forms

from reviews.deeds.studio_opening import STUDIO_PARTS
from reviews.forms.fields import LineField, SeenForm


class StudioForm(SeenForm):
    """Title, cohort, year line and who may see issued sheets."""

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

    @property
    def parts(self) -> dict[str, Any]:
        return {name: self.cleaned_data[name] for name in STUDIO_PARTS}
