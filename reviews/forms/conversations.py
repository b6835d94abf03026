"""The record of a talk as it is typed, and the wish for one."""

from __future__ import annotations

from datetime import date
from typing import Any
from uuid import uuid4

from django import forms

from reviews import clock
from reviews.deeds.conversation_keeping import TalkSent
from reviews.forms.fields import DayField, ProseField, WholeField, says
from reviews.models import Crit
from reviews.moments import day_words

LONGEST = 6_000
USUAL_MIN = 15
"""Minutes of a talk about results. Common practice."""
MOST_MIN = 240
KEY_LOST = "The form’s key can’t be read. Open the page again; what you typed stands below."


class Keyed(forms.Form):
    """A form that is kept once: its key is made with the page."""

    key = forms.UUIDField(
        widget=forms.HiddenInput, error_messages={"required": KEY_LOST, "invalid": KEY_LOST}
    )

    def __init__(self, data: Any = None, **more: Any) -> None:
        initial = {"key": uuid4(), **more.pop("initial", {})}
        super().__init__(data, initial=initial, **more)


class AskTalkForm(Keyed):
    """What a student would talk about."""

    words = ProseField(
        f"what you would talk about, {LONGEST} characters at most",
        rows=3,
        label="What you would talk about",
        max_length=LONGEST,
        help_text="Read by the studio leader and your team mates",
    )

    def sent(self) -> TalkSent:
        """The wish as it was sent."""
        return TalkSent(self.cleaned_data["words"])


class TalkForm(Keyed):
    """What one of those who talked writes of it."""

    held_on = DayField(label="Held on")
    minutes = WholeField(
        f"whole minutes, 1 to {MOST_MIN}, or nothing",
        label="Minutes",
        min_value=1,
        max_value=MOST_MIN,
        required=False,
    )
    words = ProseField(
        f"what was said, {LONGEST} characters at most",
        rows=5,
        label="What was said",
        max_length=LONGEST,
        help_text="Your own record; the others write theirs. It is dated and not rewritten",
    )
    agreed = ProseField(
        f"{LONGEST} characters at most",
        rows=2,
        label="What was agreed",
        max_length=LONGEST,
        required=False,
    )

    def __init__(self, data: Any = None, *, crit: Crit) -> None:
        initial = {"held_on": clock.today(), "minutes": USUAL_MIN}
        super().__init__(data, initial=initial)
        self.crit = crit

    def clean_held_on(self) -> date:
        day: date = self.cleaned_data["held_on"]
        if not self.crit.day <= day <= clock.today():
            expected = f"a day from {day_words(self.crit.day)}, the crit, to today"
            raise forms.ValidationError(says(day_words(day), expected))
        return day

    def sent(self) -> TalkSent:
        """The record as it was sent."""
        data = self.cleaned_data
        return TalkSent(data["words"], data["held_on"], data["minutes"], data["agreed"])
