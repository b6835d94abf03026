"""The form in which people are brought in: a table, or the ZIP of a school's roster."""

from __future__ import annotations

import base64
import binascii
import io
from collections.abc import Sequence
from typing import Any

from django import forms
from django.http import HttpRequest

from criteria.errors import Refused
from reviews.deeds.studio_roster import ROSTER
from reviews.deeds.studio_roster_file import read_roster_file
from reviews.deeds.table_bringing import Preview
from reviews.exchange.kinds import ROSTER as ROSTER_FILE
from reviews.exchange.kinds import kind_of
from reviews.exchange.proposed import Question
from reviews.forms.bringing import LONGEST_BLOCK, BringInForm
from reviews.forms.fields import says
from reviews.models import Person, Studio


class RosterForm(BringInForm):
    """A block, a CSV file, or a school's roster, of which a class is chosen where it holds several.

    held   the roster while its class is asked for: it goes with the page, and is kept nowhere
    told   what was said of the roster, a sentence a line, for as long as its table is looked at
    """

    which = forms.CharField(label="Class", required=False, widget=forms.RadioSelect)
    held = forms.CharField(required=False, widget=forms.HiddenInput)
    told = forms.CharField(required=False, widget=forms.HiddenInput)

    takes = (
        "a text file of commas or tabs (CSV), or a ZIP with users.csv, classes.csv and "
        "enrollments.csv"
    )
    studio: Studio
    by: Person
    asks = False

    @classmethod
    def of_studio(cls, studio: Studio, by: Person, request: HttpRequest) -> RosterForm:
        """The form of a studio's people as it is asked for, or as it is sent."""
        form = cls.of(request, ROSTER)
        assert isinstance(form, cls)
        form.studio, form.by = studio, by
        file = form.fields["file"]
        file.label = "or a file"
        file.help_text = (
            "A CSV, whose text takes the place of the block; or a school’s roster, the ZIP that "
            "OneRoster describes. Of each of its people id, name, e-mail and role are read, and "
            "nothing else."
        )
        file.widget.attrs["accept"] += ",.zip,application/zip"
        return form

    def clean(self) -> dict[str, Any]:
        sent = self.cleaned_data
        is_answer = sent.get("which") or not (sent.get("text") or "").strip()
        if sent.get("held") and is_answer and not sent.get("file"):
            sent["text"] = self._table_of("The roster", _unpacked(sent["held"]))
        return super().clean()

    def _text_of(self, upload: Any) -> str:
        if upload.size > LONGEST_BLOCK or kind_of(upload) is not ROSTER_FILE:
            return super()._text_of(upload)
        return self._table_of(upload.name, upload.read())

    def _table_of(self, name: str, raw: bytes) -> str:
        which = self.cleaned_data.get("which") or ""
        try:
            read = read_roster_file(self.studio, name, io.BytesIO(raw), which, self.by)
        except Refused as refused:
            self.add_error("file", says(refused.read, refused.expected))
            return ""
        self.cleaned_data["told"] = "\n".join(read.said)
        if not read.question.chosen:
            self._ask(read.question, raw)
        elif not read.table:
            chosen = dict(read.question.choices)[read.question.chosen]
            self.add_error("file", says(chosen, "a class with somebody in it to bring in"))
        return read.table

    def _ask(self, question: Question, raw: bytes) -> None:
        self.asks = True
        which = self["which"]
        which.label, which.field.required = question.asked, True
        which.field.widget.choices = question.choices
        self.data = {**dict(self.data.items()), "held": base64.b64encode(raw).decode()}
        self.add_error("which", f"The roster holds {len(question.choices)} classes. Choose one.")

    @property
    def shown(self) -> list[forms.BoundField]:
        return [*super().shown, *([self["which"]] if self.asks else [])]

    @property
    def carried(self) -> Sequence[forms.BoundField]:
        return [self["held"], self["told"]]

    @property
    def said(self) -> Sequence[str]:
        """What was said of the roster."""
        told = getattr(self, "cleaned_data", {}).get("told") or ""
        return str(told).split("\n") if told else []

    def show_again(self, preview: Preview) -> None:
        told = "\n".join(self.said)
        super().show_again(preview)
        self.data = {**self.data, "told": told}


def _unpacked(held: str) -> bytes:
    """The roster as it went with the page; nothing where it isn't as it went."""
    try:
        return base64.b64decode(held, validate=True)
    except (binascii.Error, ValueError):
        return b""
