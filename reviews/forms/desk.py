"""A desk crit as it is typed, and the photo of its overlay."""

from __future__ import annotations

from typing import Any
from uuid import UUID, uuid4

from django import forms
from django.utils.datastructures import MultiValueDict

from reviews.deeds.desk_crit_keeping import STEPS, DeskSent, says
from reviews.forms.fields import TypedField
from reviews.forms.sheets import picture_limits
from reviews.models import DeskCrit, NextStep

LONGEST_NOTE = 5_000
LONGEST_STEP = {field.name: field.max_length or 0 for field in NextStep._meta.fields}["words"]
KEY_LOST = "The note’s key can’t be read. Open the page again; what you typed stands below."
NO_PHOTO = "Read nothing. Expected a photo of the overlay."
NOTHING = "Read nothing. Expected words, a next step or a photo."


class NoteKey(forms.Form):
    """Which note is meant: a key that the page was made with."""

    note = forms.UUIDField(
        widget=forms.HiddenInput, error_messages={"required": KEY_LOST, "invalid": KEY_LOST}
    )


class DeskForm(NoteKey):
    """What was said, and the next steps."""

    words = TypedField("What was said", LONGEST_NOTE, rows=5)

    def __init__(self, data: Any = None, files: Any = None, *, note: DeskCrit | None) -> None:
        stands = says(note) if note else DeskSent()
        initial: dict[str, Any] = {"note": note.key if note else uuid4(), "words": stands.words}
        self.has_photo = bool(files)
        self.is_new = note is None
        for place, words in enumerate(stands.steps, start=1):
            initial[f"step_{place}"] = words
        super().__init__(data, initial=initial)
        for place in range(1, STEPS + 1):
            self.fields[f"step_{place}"] = TypedField(f"Next step {place}", LONGEST_STEP)

    @property
    def steps(self) -> list[forms.BoundField]:
        """The fields of the steps, in order."""
        return [self[f"step_{place}"] for place in range(1, STEPS + 1)]

    def clean(self) -> None:
        if not self.errors and self.is_new and self.sent.is_blank and not self.has_photo:
            self.add_error("words", NOTHING)

    @property
    def sent(self) -> DeskSent:
        """What was sent."""
        data = self.cleaned_data
        steps = tuple(data[f"step_{place}"] for place in range(1, STEPS + 1))
        return DeskSent(data["words"], steps)


class PhotoForm(NoteKey):
    """The photo of the overlay."""

    photo = forms.FileField(
        label="Photo of the overlay",
        allow_empty_file=True,
        widget=forms.FileInput(attrs={"accept": "image/*"}),
        error_messages={"required": NO_PHOTO, "missing": NO_PHOTO},
    )

    def __init__(
        self,
        data: Any = None,
        files: MultiValueDict[str, Any] | None = None,
        *,
        key: UUID | None = None,
    ) -> None:
        super().__init__(data, files, initial={"note": key}, auto_id="photo-%s")
        self.fields["photo"].help_text = picture_limits().replace("PDF, ", "")
