"""The form of a block: pasted or read from a file, looked at, then added or put in place."""

from __future__ import annotations

import uuid
from typing import Any

from django import forms
from django.http import HttpRequest

from criteria.units import System
from reviews.deeds.package_pasting import Preview
from reviews.models import Change
from reviews.surroundings import system_of

LONGEST_BLOCK = 1_000_000
"""Most characters of a block: a thousand rows of fifty long cells."""

ENCODINGS = ("utf-8-sig", "cp1252")
"""How spreadsheets write CSV files; what isn't the first is taken for the second."""


class PasteForm(forms.Form):
    """A block of rows; the text stays in the form until it is kept."""

    block = forms.CharField(
        label="Block",
        required=False,
        strip=False,
        max_length=LONGEST_BLOCK,
        widget=forms.Textarea(attrs={"rows": 8, "spellcheck": "false", "wrap": "off"}),
        help_text="Copied from a spreadsheet, with or without its heads",
        error_messages={
            "max_length": "Read %(show_value)s characters. Expected 1,000,000 at most."
        },
    )
    file = forms.FileField(
        label="or a CSV file",
        required=False,
        allow_empty_file=True,
        widget=forms.FileInput(attrs={"accept": ".csv,.txt,.tsv,text/csv,text/plain"}),
        help_text="Its text takes the place of the block",
    )
    bare_in = forms.TypedChoiceField(
        label="Bare numbers are in",
        choices=[(System.METRIC, "mm, m, m², L"), (System.US, "in, ft, ft², gal")],
        coerce=System,
        widget=forms.RadioSelect,
        help_text="Where a head names no unit, such as glass_w [in]",
        error_messages={
            "required": "Nothing was chosen. Expected metric or US units.",
            "invalid_choice": "Read “%(value)s”. Expected metric or us.",
        },
    )
    mode = forms.ChoiceField(
        required=False,
        choices=[("", "Look"), ("add", "Add"), ("replace", "Replace")],
        widget=forms.HiddenInput,
    )
    seen = forms.IntegerField(required=False, min_value=0, widget=forms.HiddenInput)
    key = forms.UUIDField(required=False, widget=forms.HiddenInput)

    @classmethod
    def of(cls, request: HttpRequest) -> PasteForm:
        """The form as it is asked for, or as it is sent."""
        initial = {"bare_in": system_of(request)}
        if request.method != "POST":
            return cls(initial=initial)
        return cls({"bare_in": initial["bare_in"], **request.POST.dict()}, request.FILES)

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or {}
        if upload := cleaned.get("file"):
            cleaned["block"] = self._text_of(upload)
        if not (cleaned.get("block") or "").strip() and "block" not in self.errors:
            self.add_error("block", "Nothing was read. Expected rows, pasted or from a file.")
        return cleaned

    def _text_of(self, upload: Any) -> str:
        data = upload.read(4 * LONGEST_BLOCK + 1)
        if len(data) > 4 * LONGEST_BLOCK:
            self.add_error("file", f"Read {upload.name}, {upload.size / 2**20:.1f} MB. "
                                   "Expected a table of at most 4 MB.")  # fmt: skip
            return ""
        if b"\x00" in data:
            self.add_error("file", f"Read {upload.name}, which is no text. Expected a CSV file: "
                                   "save the spreadsheet as CSV.")  # fmt: skip
            return ""
        for encoding in ENCODINGS:
            try:
                return data.decode(encoding)
            except UnicodeDecodeError:
                continue
        self.add_error("file", f"Read {upload.name}, whose letters can't be told. Expected a CSV "
                               "file in UTF-8.")  # fmt: skip
        return ""

    @property
    def text(self) -> str:
        """The block, from the file where there is one."""
        return str(self.cleaned_data["block"])

    @property
    def units(self) -> System:
        """What bare numbers are in."""
        return self.cleaned_data["bare_in"]

    @property
    def is_confirmed(self) -> bool:
        """Whether the block was looked at and is to be kept."""
        return bool(self.cleaned_data["mode"])

    @property
    def is_replacing(self) -> bool:
        """Whether it takes the place of the rows there are."""
        return self.cleaned_data["mode"] == "replace"

    @property
    def said_seen(self) -> int:
        """The last change that was seen with the preview."""
        return self.cleaned_data["seen"] or 0

    @property
    def said_key(self) -> uuid.UUID | None:
        """The key of this keeping."""
        return self.cleaned_data["key"]

    def say_newer(self, change: Change | None) -> None:
        """Say that the schedule was changed since the preview was shown."""
        what = f"{change.what}, by {change.by}" if change else "a change was undone"
        self.add_error(None, f"The schedule was changed meanwhile: {what}. Nothing was kept; this "
                             "is how the block looks beside it now.")  # fmt: skip

    def again(self, shown: Preview) -> PasteForm:
        """The form to show: what was read stands in the block, ready to be kept."""
        self.data = {
            "block": self.text, "bare_in": self.units, "seen": shown.seen, "key": uuid.uuid4(),
        }  # fmt: skip
        return self
