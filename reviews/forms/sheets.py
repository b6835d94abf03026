"""Sheets: pictures that are sent, and what the title block of each says."""

from __future__ import annotations

from typing import Any

from django import forms
from django.conf import settings

from reviews.models import Sheet
from reviews.reading.sheet_names import TitleBlock
from reviews.reading.sheet_room import SheetRoom

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
    title = _text("Title", "title", "Plan", "the title of the sheet: Plan")
    scale = _text("Scale", "scale", "1:50; blank where there is none")
    drawn_by = _text("Drawn by", "drawn_by", "")
    checked_by = _text("Checked by", "checked_by", "")
    file = forms.FileField(
        label="Picture",
        required=False,
        allow_empty_file=True,
        widget=forms.FileInput(attrs={"accept": "image/jpeg,image/png"}),
    )

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        for name in ("number", "title", "scale", "drawn_by", "checked_by"):
            self.fields[name].widget.attrs.pop("maxlength", None)
        self.fields["file"].help_text = picture_limits()

    def clean_number(self) -> str:
        number: str = self.cleaned_data["number"]
        if "/" in number:
            raise forms.ValidationError(f"Read “{number}”. Expected a number without a slash.")
        return number

    @property
    def said(self) -> TitleBlock:
        """What the title block says."""
        return TitleBlock(**{name: self.cleaned_data[name] for name in TitleBlock._fields})


def picture_limits() -> str:
    return f"JPEG or PNG, {settings.MOST_UPLOAD_MB} MB at most"


def form_of(sheet: Sheet) -> SheetForm:
    return SheetForm(initial={name: getattr(sheet, name) for name in TitleBlock._fields})


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
            label="Pictures",
            required=False,
            help_text=f"{picture_limits()} each; several at once. A name such as "
            "“02 Plan 1-50.jpg” fills in number, title and scale. "
            f"The pictures of the studio take {room}",
            widget=ManyFiles(attrs={"accept": "image/jpeg,image/png", "multiple": True}),
        )

    @property
    def how(self) -> dict[str, Any]:
        """How the pictures shall hang."""
        return {name: self.cleaned_data[name] for name in ("drawn_by", "is_replacing")}
