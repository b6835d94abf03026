"""What a timekeeper sends: a press of the clock, a move, who is there."""

from __future__ import annotations

from datetime import UTC, datetime

from django import forms

from reviews.deeds.crit_timekeeping import Press
from reviews.forms.fields import HourField, LineField
from reviews.middleware import LARGEST_KEY
from reviews.models import Attendance, ClockEntry
from reviews.pages.room_keeping import MOVE_UP

Deed = ClockEntry.Deed
LATEST_MS = 32_503_680_000_000
"""The year 3000, in milliseconds since 1970: nothing is pressed later."""

MOST_EXTRA_MIN = 60


class PressForm(forms.Form):
    """A press; `at` is the device's moment by the site's clock [ms since 1970], blank without."""

    slot = forms.IntegerField(min_value=0, max_value=LARGEST_KEY)
    deed = forms.ChoiceField(choices=[*Deed.choices, (MOVE_UP, "Move the rest up")])
    key = forms.UUIDField()
    seen = forms.UUIDField(required=False)
    at = forms.IntegerField(min_value=0, max_value=LATEST_MS, required=False)
    to = forms.CharField(max_length=20, required=False)
    minutes = forms.IntegerField(
        min_value=1,
        max_value=MOST_EXTRA_MIN,
        required=False,
        error_messages={
            "invalid": "Extra minutes can't be read. Expected whole minutes, such as 1.",
            "min_value": "Expected 1 extra minute or more.",
            "max_value": f"Expected at most {MOST_EXTRA_MIN} extra minutes.",
        },
    )
    words = LineField("a reason in a few words", max_length=240, required=False)
    starts_at = HourField("an hour such as 11:14", required=False)
    room = forms.CharField(max_length=12, required=False)

    @property
    def press(self) -> Press:
        """What was pressed."""
        sent = self.cleaned_data
        at = sent["at"]
        moves_up = sent["deed"] == MOVE_UP
        return Press(
            deed=Deed.MOVED if moves_up else Deed(sent["deed"]),
            key=sent["key"],
            at=None if at is None else datetime.fromtimestamp(at / 1000, UTC),
            seen=sent["seen"],
            minutes=sent["minutes"],
            words=sent["to"] or sent["words"],
            starts_at=sent["starts_at"],
            room=sent["room"].strip(),
            moves_up=moves_up,
        )

    def clean(self) -> dict[str, object]:
        """Ask a reason of extra minutes."""
        sent = super().clean() or self.cleaned_data
        if sent.get("deed") == Deed.EXTRA and not sent.get("words"):
            self.add_error(
                "words", "Read no reason. Expected why minutes are added: a fuse, an adjustment."
            )
        return sent

    @property
    def in_words(self) -> str:
        """Every message, for a page that has no place for a field's own."""
        return " ".join(str(each) for errors in self.errors.values() for each in errors)


class AttendanceForm(forms.Form):
    """Whether a juror is there."""

    state = forms.ChoiceField(choices=Attendance.State.choices)
    words = LineField("a few words", max_length=240, required=False)


class TakeBackForm(forms.Form):
    """Which press is taken back."""

    key = forms.UUIDField()
