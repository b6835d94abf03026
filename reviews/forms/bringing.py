"""The form in which a table is brought in: pasted, or as a file."""

from __future__ import annotations

from typing import Any

from django import forms

from reviews.forms.fields import says

LARGEST_FILE = 1_000_000
"""Largest table taken [bytes]: a thousand lines of a thousand letters."""


class BringInForm(forms.Form):
    """A block or a file; what is in the file is shown in the box, so that it can be mended."""

    text = forms.CharField(
        label="Paste the lines here", required=False, strip=False,
        help_text="From a spreadsheet, or as CSV",
        widget=forms.Textarea(attrs={"rows": 10, "spellcheck": "false", "class": "block"}),
    )  # fmt: skip
    file = forms.FileField(
        label="or a CSV file", required=False, help_text="At most 1 MB",
        widget=forms.ClearableFileInput(attrs={"accept": ".csv,.tsv,.txt,text/csv"}),
    )  # fmt: skip

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or {}
        if self.files.get("file"):
            cleaned["text"] = self._file_text()
            self.data = {"text": cleaned["text"]}
        if not cleaned.get("text", "").strip() and not self.errors:
            self.add_error("text", says("", "at least one line, pasted or in a file"))
        return cleaned

    def _file_text(self) -> str:
        sent = self.files["file"]
        if sent.size > LARGEST_FILE:
            self.add_error("file", says(f"{sent.name}, {sent.size:,} bytes", "1 MB at most"))
            return ""
        raw = sent.read()
        if b"\0" in raw and not raw.startswith((b"\xff\xfe", b"\xfe\xff")):
            self.add_error("file", says(sent.name, "a text file of commas or tabs (CSV)"))
            return ""
        return decoded(raw)


def decoded(raw: bytes) -> str:
    """Read the letters of a file, as spreadsheets write them.

    >>> decoded("Zoë".encode("utf-8-sig")), decoded("Zoë".encode("cp1252"))
    ('Zoë', 'Zoë')
    """
    if raw.startswith((b"\xff\xfe", b"\xfe\xff")):
        return raw.decode("utf-16", errors="replace")
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError:
        return raw.decode("cp1252", errors="replace")
