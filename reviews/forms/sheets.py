"""Sheets: pictures that are sent, and what the title block of each says."""

from __future__ import annotations

from typing import Any

from django import forms
from django.conf import settings
from django.http import QueryDict

from criteria.errors import Refused
from criteria.units import LENGTH, System
from reviews.forms.fields import ChosenField, number_in, of_kind, says
from reviews.models import DrawingKind, Package, Sheet
from reviews.picture_limits import ACCEPT
from reviews.reading.sheet_marks import marks_read
from reviews.reading.sheet_room import SheetRoom
from reviews.reading.title_block import (
    LABELS,
    TEXTS,
    TitleBlock,
    paper_words,
    proposed_from,
    read_paper,
    title_block_of,
)

_LONG = "Read %(show_value)s characters. Expected %(limit_value)s at most."
_BLANK = "Nothing was read. Expected {}."
_LONGEST = {field.name: field.max_length for field in Sheet._meta.fields}


def _text(label: str, name: str, hint: str, blank: str = "") -> Any:
    """A line of the title block; `blank` says what was expected where it may not be blank."""
    field = forms.CharField(
        label=label,
        required=bool(blank),
        max_length=_LONGEST[name],
        help_text=hint,
        error_messages={"max_length": _LONG, "required": _BLANK.format(blank)},
    )
    field.widget.attrs.pop("maxlength", None)  # what is too long is refused, never cut short
    return field


class SheetForm(forms.Form):
    """The title block of one sheet, and its picture."""

    number = _text("Number", "number", "As on the hand-in list: 02", "the number of the sheet: 02")
    title = _text("Title", "title", "As on the hand-in list: Plan", "the title of the sheet: Plan")
    kind = ChosenField(
        "one of the kinds of drawing",
        label=LABELS["kind"],
        required=False,
        choices=[("", "Not said"), *DrawingKind.choices],
        help_text="What the sheet shows",
    )
    state = ChosenField("one of the brief’s states", label=LABELS["state"], required=False)
    scale = _text("Scale", "scale", "1:50; blank where there is none")
    width_mm = forms.CharField(label=LABELS["width_mm"], required=False)
    drawn_by = _text("Drawn by", "drawn_by", "")
    checked_by = _text("Checked by", "checked_by", "")
    file = forms.FileField(
        label="Picture",
        required=False,
        allow_empty_file=True,
        widget=forms.FileInput(attrs={"accept": ACCEPT}),
    )

    def __init__(self, sheet: Sheet, system: System, data: Any = None, files: Any = None) -> None:
        said = title_block_of(sheet)
        self.shape = sheet.file.width / sheet.file.height
        brief = sheet.package.scheme.studio.brief
        self.notation = brief.notation.read_in(system)
        paper = paper_words(said.width_mm, self.shape, system)
        super().__init__(data, files, initial={**said._asdict(), "width_mm": paper})
        for name in (*TEXTS, "width_mm"):
            self.fields[name].widget.attrs.pop("maxlength", None)
        states = dict.fromkeys(filter(None, (*brief.state_names(), said.state)))
        of_kind(ChosenField, self, "state").choices = [
            ("", "No one state"),
            *((name, name) for name in states),
        ]
        self.fields[
            "state"
        ].help_text = "A state of the brief; “No one state” where it shows several"
        self.fields["width_mm"].help_text = (
            "What the whole picture is of: A1, ARCH D, or its width in "
            f"{LENGTH.unit(system).symbol}. A ruler needs it"
        )
        for name, source in sheet.proposed.items():
            field = self.fields[name]
            field.help_text = f"{proposed_from(source)}. Confirm it, or type over it"
        self.is_proposed = bool(sheet.proposed)
        self.fields["file"].help_text = picture_limits()

    def clean_number(self) -> str:
        number: str = self.cleaned_data["number"]
        if "/" in number:
            raise forms.ValidationError(f"Read “{number}”. Expected a number without a slash.")
        return number

    def clean_width_mm(self) -> float | None:
        try:
            return read_paper(self.cleaned_data["width_mm"], self.shape, self.notation)
        except Refused as refused:
            raise forms.ValidationError(says(refused.read, refused.expected)) from None

    @property
    def said(self) -> TitleBlock:
        """What the title block says."""
        return TitleBlock(**{name: self.cleaned_data[name] for name in TitleBlock._fields})


def picture_limits() -> str:
    return f"PDF, JPEG, PNG, TIFF or WebP, {settings.MOST_UPLOAD_MB} MB at most"


def sheets_seen(sent: QueryDict) -> dict[int, int]:
    """The sheets to confirm with the version seen of each: the one named, else all of the list."""
    pairs = (each.split(":") for each in sent.getlist("sheet") or sent.getlist("seen"))
    return {number_in(pair[0]): number_in(pair[-1], otherwise=-1) for pair in pairs}


class MarksForm(forms.Form):
    """What reads like a mark and has no row: which are none, and which are marks after all."""

    def __init__(self, *args: Any, package: Package) -> None:
        super().__init__(*args)
        asked = marks_read(package).asked
        for name, words in (("none", asked), ("again", package.not_marks)):
            self.fields[name] = forms.MultipleChoiceField(
                required=False,
                choices=[(word, word) for word in words],
                error_messages={
                    "invalid_choice": "Read “%(value)s”. Expected a word that stands on a sheet."
                },
            )

    @property
    def refusals(self) -> list[str]:
        """Why it isn't taken, in words."""
        return [str(word) for words in self.errors.values() for word in words]


class ManyFiles(forms.FileInput):
    """A choice of several files."""

    allow_multiple_selected = True


class HangForm(forms.Form):
    """Several pictures at once; each gets the next number that the hand-in list asks for."""

    drawn_by = _text("Drawn by", "drawn_by", "Goes into the title block of each new sheet")
    is_replacing = forms.BooleanField(
        label="Change the picture where a sheet of that number hangs already", required=False
    )

    def __init__(self, *args: Any, room: SheetRoom, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["files"] = forms.Field(
            label="Files",
            required=False,
            help_text=f"{picture_limits()} each; several at once, and each page of a PDF is a "
            "sheet. A name such as "
            "“02 Plan 1-50.jpg” fills in number, title and scale. "
            f"The pictures of the studio take {room}",
            widget=ManyFiles(attrs={"accept": ACCEPT, "multiple": True}),
        )

    @property
    def how(self) -> dict[str, Any]:
        """How the pictures shall hang."""
        return {name: self.cleaned_data[name] for name in ("drawn_by", "is_replacing")}
