"""Forms made of the columns of a schedule: the text is kept as typed, and read to be sure."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django import forms

from criteria.errors import Refused
from criteria.own_words import column_in
from criteria.typed.columns import Column, Kind
from criteria.units import Notation
from reviews.deeds.record_typed import example_text, kept_text, shown_text
from reviews.deeds.record_versions import version_of
from reviews.forms.fields import AS_TYPED, SeenForm, says


class CellField(forms.CharField):
    """One cell; cleans to the text as typed once the column can read it."""

    def __init__(self, column: Column, notation: Notation) -> None:
        self.column, self.notation = column, notation
        said = column_in(column, notation.system)
        unit = column.unit(notation.system)
        super().__init__(
            label=f"{said.label} [{unit}]" if unit else said.label,
            help_text=_help(said, notation),
            required=False,
            strip=True,
            widget=_widget(column),
        )
        self.is_optional = not column.required

    def clean(self, value: Any) -> str:
        typed = str(super().clean(value))
        try:
            self.column.read(typed, self.notation)
        except Refused as refused:
            raise forms.ValidationError(says(typed, refused.expected)) from None
        return typed


def _help(column: Column, notation: Notation) -> str:
    """The column's own help and an example; an example in the field itself reads as if typed."""
    such = example_text(column, notation)
    example = f"Such as {such}." if such and not column.choices else ""
    return f"{column.help} {example}".strip()


def _widget(column: Column) -> forms.Widget:
    attrs = {"autocomplete": "off"}
    if words := _words(column):
        return forms.Select(attrs, choices=[("", "–"), *((word, _shown(word)) for word in words)])
    if column.kind is Kind.TEXT and column.longest > 200:
        return forms.Textarea({**attrs, "rows": 3})
    if column.kind is not Kind.TEXT:  # a pad of figures alone has no minus, colon or foot sign
        attrs |= AS_TYPED
    if column.is_number:
        attrs |= {"class": "num"}
    return forms.TextInput(attrs)


def _words(column: Column) -> tuple[str, ...]:
    """The texts that a column takes, where they are few."""
    return ("yes", "no") if column.kind is Kind.YES_NO else column.choices


def _shown(word: str) -> str:
    return word.replace("_", " ")


class CellsForm(SeenForm):
    """A form of columns, in a reader's notation; `contents` is what to keep.

    places   the column of each field, by name
    kept     the text that is kept, by name
    """

    def __init__(
        self,
        places: Mapping[str, Column],
        notation: Notation,
        kept: Mapping[str, str],
        *args: Any,
        **more: Any,
    ) -> None:
        self.places, self.notation = places, notation
        self.kept = {name: kept.get(name, "") for name in places}
        start = {**self.shown, "seen": version_of(self.kept), **more.pop("initial", {})}
        super().__init__(*args, initial=start, **more)
        for name, column in places.items():
            field = CellField(column, notation)
            self.fields[name] = field
            typed = str(self[name].value() or "")
            if _words(column) and typed and typed not in _words(column):
                field.widget.choices = [*field.widget.choices, (typed, typed)]  # still there

    @property
    def shown(self) -> dict[str, str]:
        """What is kept, as whoever reads it is shown it."""
        system = self.notation.system
        return {n: shown_text(column, self.kept[n], system) for n, column in self.places.items()}

    @property
    def contents(self) -> dict[str, str]:
        return {
            name: kept_text(column, self.cleaned_data[name], self.kept[name], self.notation.system)
            for name, column in self.places.items()
        }

    def refuse_cell(self, label: str, read: str, expected: str) -> None:
        """Put a refusal beside the field of a column's label."""
        name = next((name for name, c in self.places.items() if c.label == label), None)
        self.add_error(name, says(read, expected))
