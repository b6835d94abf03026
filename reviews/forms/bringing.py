"""The form in which a table is brought in: pasted or as a file, looked at, and only then kept."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from django import forms
from django.http import HttpRequest

from criteria.typed.rows import Schedule
from criteria.units import System
from reviews.deeds.table_bringing import Preview
from reviews.forms.fields import says
from reviews.models import Change
from reviews.surroundings import system_of

LONGEST_BLOCK = 1_000_000
"""Most characters of a block: a thousand lines of a thousand letters."""


def units_field(where: str) -> forms.TypedChoiceField:
    """The field that says in which units bare numbers are, and where that is asked."""
    return forms.TypedChoiceField(
        label="Bare numbers are in",
        coerce=System,
        widget=forms.RadioSelect,
        choices=[(System.METRIC, "mm, m, m², L"), (System.US, "in, ft, ft², gal")],
        help_text=where,
        error_messages={"invalid_choice": "Read “%(value)s”. Expected metric or us."},
    )


class BringInForm(forms.Form):
    """A block or a file; what is in the file is shown in the box, so that it can be mended.

    has_figures  whether its columns hold figures, which are in some unit
    keep         how to keep it: in its place, below what is there, or in place of it
    seen, key    the last change that was seen with the preview, and the key of this keeping
    carried      hidden fields of more than that
    said         what has to be known of the file, each a sentence
    """

    text = forms.CharField(
        label="Paste the lines here",
        required=False,
        strip=False,
        max_length=LONGEST_BLOCK,
        help_text="From a spreadsheet, with or without its heads, or as CSV",
        widget=forms.Textarea(
            attrs={"rows": 10, "spellcheck": "false", "wrap": "off", "class": "block"}
        ),
        error_messages={"max_length": "Read %(show_value)s letters. Expected 1,000,000 at most."},
    )
    file = forms.FileField(
        label="or a CSV file",
        required=False,
        allow_empty_file=True,
        help_text="Its text takes the place of the block",
        widget=forms.FileInput(attrs={"accept": ".csv,.tsv,.txt,text/csv,text/plain"}),
    )
    bare_in = units_field("Where a head names no unit, such as glass_w [in]")
    keep = forms.CharField(required=False, widget=forms.HiddenInput)
    seen = forms.IntegerField(required=False, min_value=0, widget=forms.HiddenInput)

    has_figures = True
    takes = "a text file of commas or tabs (CSV)"

    @property
    def carried(self) -> Sequence[forms.BoundField]:
        return ()

    @property
    def said(self) -> Sequence[str]:
        return ()

    @classmethod
    def of(cls, request: HttpRequest, schedule: Schedule, begun: str = "") -> BringInForm:
        """The form of a schedule as it is asked for, or as it is sent."""
        initial = {"bare_in": system_of(request), "text": begun}
        is_sent = request.method == "POST"
        data = {**initial, **request.POST.dict()} if is_sent else None
        form = cls(data, request.FILES if is_sent else None, initial=initial)
        form.has_figures = any(c.is_number or c.head == "unit" for c in schedule.columns)
        return form

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or {}
        if upload := cleaned.get("file"):
            cleaned["text"] = self._text_of(upload)
        if not (cleaned.get("text") or "").strip() and not self.errors:
            self.add_error("text", says("", "at least one line, pasted or in a file"))
        return cleaned

    def _text_of(self, upload: Any) -> str:
        if upload.size > LONGEST_BLOCK:
            self.add_error("file", says(f"{upload.name}, {upload.size:,} bytes", "1 MB at most"))
            return ""
        raw = upload.read()
        if b"\0" in raw and not raw.startswith((b"\xff\xfe", b"\xfe\xff")):
            self.add_error("file", says(upload.name, self.takes))
            return ""
        try:
            return decoded(raw)
        except UnicodeDecodeError:
            self.add_error("file", says(upload.name, "letters that can be told: a CSV in UTF-8"))
            return ""

    @property
    def shown(self) -> list[forms.BoundField]:
        """The fields that are seen."""
        return [self[name] for name in ("text", "file", *["bare_in"] * self.has_figures)]

    @property
    def table(self) -> str:
        """The block, from the file where there is one."""
        return str(self.cleaned_data["text"])

    @property
    def file_name(self) -> str:
        """What the file is called that the block is from; nothing where it was pasted."""
        upload = self.cleaned_data.get("file")
        return str(upload.name) if upload else ""

    @property
    def units(self) -> System:
        """What bare numbers are in."""
        return System(self.cleaned_data["bare_in"])

    @property
    def how(self) -> str:
        """How the table is to be kept; nothing where it is only looked at."""
        return str(self.cleaned_data["keep"])

    @property
    def seen_change(self) -> int | None:
        """The last change that was seen with the preview."""
        seen: int | None = self.cleaned_data["seen"]
        return seen

    def say_newer(self, change: Change | None) -> None:
        """Say that something was changed since the preview was shown."""
        what = f"{change.what}, by {change.by}" if change else "a change was undone"
        self.add_error(
            None,
            f"The table was changed meanwhile: {what}. Nothing was kept; this "
            "is how the block looks beside it now.",
        )

    def show_again(self, preview: Preview) -> None:
        """Show what was read in the box, ready to be kept."""
        self.data = {
            "text": self.table,
            "bare_in": self.units,
            "seen": preview.seen,
        }


def decoded(raw: bytes) -> str:
    """Read the letters of a file, as spreadsheets write them. Raises UnicodeDecodeError.

    >>> decoded("Zoë".encode("utf-8-sig")), decoded("Zoë".encode("cp1252"))
    ('Zoë', 'Zoë')
    """
    if raw.startswith((b"\xff\xfe", b"\xfe\xff")):
        return raw.decode("utf-16")
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError:
        return raw.decode("cp1252")
