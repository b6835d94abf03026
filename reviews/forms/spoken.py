"""What a scribe types of what is said, and what its juror makes of it."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import UTC, datetime
from typing import Any

from django import forms
from django.utils.datastructures import MultiValueDict

from reviews.deeds.crit_jury_keeping import CommentSent
from reviews.deeds.crit_spoken import DOTS, LONGEST_LINE, Heard
from reviews.forms.fields import AS_TYPED, number_in, of_kind, says
from reviews.forms.jury import LONGEST_COMMENT, Judged, Saved
from reviews.forms.places import PlaceField
from reviews.models import Comment, Seat
from reviews.models.spoken import SpokenNote

_KINDS = [("", "No kind"), *Comment.Kind.choices]
_NO_KIND = {
    "invalid_choice": f"Read “%(value)s”. Expected one of {', '.join(Comment.Kind.values)}."
}
_TOO_LONG = {"max_length": "Read %(show_value)s characters. Expected %(limit_value)s at most."}


class LineForm(forms.Form):
    """A quick line. What was tapped comes beside it where there is no script to type it in.

    said_at   when it was begun, by the site's clock, as the device tells [ms]
    """

    data: MultiValueDict[str, Any]
    key = forms.UUIDField(
        widget=forms.HiddenInput,
        error_messages={
            "required": "The line's own key is missing. Load the page again.",
            "invalid": "Read “%(value)s”. Expected the line's own key.",
        },
    )
    of = forms.CharField(required=False, widget=forms.HiddenInput)
    said_at = forms.CharField(required=False, widget=forms.HiddenInput)
    line = forms.CharField(required=False, strip=False, widget=forms.TextInput(attrs=AS_TYPED))
    gap = forms.BooleanField(required=False)
    who = forms.CharField(required=False)
    place = forms.CharField(required=False)
    kind = forms.CharField(required=False)

    def clean(self) -> dict[str, Any]:
        data = self.cleaned_data
        parts = (str(data.get(name) or "").strip() for name in ("who", "place", "kind", "line"))
        data["typed"] = typed = " ".join(part for part in parts if part)
        data["gap"] = bool(data.get("gap")) or bool(typed and not typed.strip(DOTS))
        if not typed and not data["gap"]:
            self.add_error("line", says("", "who said it, where, and in what words"))
        if len(typed) > LONGEST_LINE:
            expected = f"{LONGEST_LINE} at most: one remark a line"
            self.add_error("line", f"Read {len(typed):,} characters. Expected {expected}.")
        return data

    def clean_of(self) -> int | None:
        """A device that can't tell what it shows still has its line kept."""
        told = number_in(self.cleaned_data["of"], -1)
        return told if told >= 0 else None

    def clean_said_at(self) -> datetime | None:
        """The same of one that can't tell the time."""
        try:
            return datetime.fromtimestamp(float(self.cleaned_data["said_at"]) / 1000, UTC)
        except (OverflowError, ValueError, OSError):
            return None


class RightForm(Saved):
    """What was read of a line, put right."""

    who = forms.ChoiceField(label="Who", required=False)
    kind = forms.ChoiceField(choices=_KINDS, required=False, error_messages=_NO_KIND)
    place = PlaceField()
    words = forms.CharField(
        required=False, max_length=LONGEST_LINE, strip=False, error_messages=_TOO_LONG
    )

    def __init__(self, *args: Any, seats: Mapping[str, Seat], **more: Any) -> None:
        super().__init__(*args, **more)
        self.seats = {str(seat.pk): seat for seat in seats.values()}
        named = [(str(seat.pk), f"{short} {seat.name}") for short, seat in seats.items()]
        who = of_kind(forms.ChoiceField, self, "who")
        who.choices = [("", "Speaker unknown"), *named]
        who.error_messages["invalid_choice"] = "Expected a juror of this crit."
        self.fields["words"].widget.attrs.pop("maxlength", None)

    def sent(self) -> Heard:
        """What the line is to say."""
        data = self.cleaned_data
        seat = self.seats.get(data["who"])
        return Heard(seat, data["kind"], data["place"], data["words"].strip())

    @property
    def heads(self) -> list[forms.BoundField]:
        """The fields that stand above the words."""
        return [self["who"], self["kind"], self["place"]]


def right_form(note: SpokenNote, seats: Mapping[str, Seat], data: Any = None) -> RightForm:
    """The form of a line that is kept; as sent, where it was."""
    initial = {
        "seen": note.version,
        "who": note.seat_id or "",
        "kind": note.kind,
        "place": note.place,
        "words": note.words,
    }
    return RightForm(data, seats=seats, auto_id=f"right-{note.key}-%s", initial=initial)


class SpokenForm(Judged):
    """A spoken note as its juror lets it stand."""

    kind = forms.ChoiceField(choices=_KINDS, required=False, error_messages=_NO_KIND)
    place = PlaceField()
    words = forms.CharField(
        required=False,
        max_length=LONGEST_COMMENT,
        strip=False,
        widget=forms.Textarea(attrs={"rows": 2}),
        error_messages=_TOO_LONG,
    )

    def __init__(self, *args: Any, **more: Any) -> None:
        super().__init__(*args, **more)
        self.fields["words"].widget.attrs.pop("maxlength", None)

    def clean_words(self) -> str:
        return str(self.cleaned_data["words"]).replace("\r\n", "\n").strip()

    def sent(self) -> CommentSent:
        """The comment that it becomes."""
        data = self.cleaned_data
        return CommentSent(data["kind"], data["place"], None, data["words"])

    @property
    def heads(self) -> list[forms.BoundField]:
        """The fields that stand above the words."""
        return [self["kind"], self["place"]]


def spoken_form(note: SpokenNote, of: int, data: Any = None) -> SpokenForm:
    """The form of a note, on a jury sheet that shows a revision; as sent, where it was."""
    initial = {
        "seen": note.version,
        "of": of,
        "kind": note.kind,
        "place": note.place,
        "words": note.words or note.typed,
    }
    return SpokenForm(data, auto_id=f"spoken-{note.key}-%s", initial=initial)
