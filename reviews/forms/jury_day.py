"""What a juror sends beside levels and comments: a change, a choice, own words."""

from __future__ import annotations

import uuid
from typing import Any

from django import forms
from django.db.models import QuerySet

from reviews.forms.fields import LineField, ProseField, of_kind
from reviews.forms.jury import LONGEST_COMMENT, LevelForm, Saved
from reviews.models import PrivateNote, Revision

LONGEST_PHRASE = 240
"""Most characters of a phrase."""


class ChangeLevelForm(LevelForm):
    """Another level after the discussion, and why."""

    reason = ProseField("why it changes, in a few words", rows=2, label="Why it changes")


class SeenForm(forms.Form):
    """Whether a juror saw a scheme in part; unticked, they saw the whole."""

    in_part = forms.BooleanField(required=False)


class ChooseRevisionForm(forms.Form):
    """Which of the revisions issued for a crit its panel judges."""

    revision = forms.ModelChoiceField(
        Revision.objects.none(),
        error_messages={
            "required": "Read nothing. Expected one of the revisions shown.",
            "invalid_choice": "Expected one of the revisions issued for this crit.",
        },
    )

    def __init__(self, *args: Any, among: QuerySet[Revision], **more: Any) -> None:
        super().__init__(*args, **more)
        of_kind(forms.ModelChoiceField, self, "revision").queryset = among

    @property
    def errors_in_words(self) -> str:
        """Why nothing was chosen."""
        return " ".join(str(message) for message in self.errors.get("revision", []))


class PrivateNoteForm(Saved):
    """What a juror writes for themselves."""

    words = ProseField(
        f"{LONGEST_COMMENT} characters at most",
        rows=3,
        required=False,
        max_length=LONGEST_COMMENT,
        label="Private note",
    )

    def again(self, kept: PrivateNote | None) -> PrivateNoteForm:
        """The same form as typed, which has now seen what is kept."""
        data = self.data.copy()
        if kept:
            data["seen"] = kept.version
        form = PrivateNoteForm(data, auto_id="private-note-%s")
        form.full_clean()
        return form


def private_note_form(note: PrivateNote | None) -> PrivateNoteForm:
    """The form of the note that is kept."""
    held = {"seen": note.version if note else 0, "words": note.words if note else ""}
    return PrivateNoteForm(initial=held, auto_id="private-note-%s")


class PhraseForm(forms.Form):
    """Words that a juror says often."""

    key = forms.UUIDField(widget=forms.HiddenInput)
    words = LineField(
        "words, 240 characters at most", max_length=LONGEST_PHRASE, label="A phrase of yours"
    )

    @property
    def is_blank(self) -> str:
        """A word where nothing was sent: one blank form is like the other but for its key."""
        return "" if self.is_bound else "blank"


def phrase_form() -> PhraseForm:
    """A blank one, with a key of its own."""
    return PhraseForm(initial={"key": uuid.uuid4()}, auto_id="phrase-%s")
