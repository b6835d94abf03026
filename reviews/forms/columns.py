"""Forms made of the columns of a schedule: the text is kept as typed, and read to be sure."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django import forms

from criteria.errors import Refused
from criteria.typed import quantities
from criteria.typed.columns import Column, Kind, Schedule
from criteria.typed.tables import with_head_unit
from criteria.units import Notation, System
from reviews.forms.fields import SeenForm, says


class CellField(forms.CharField):
    """One cell; cleans to the text as typed once the column can read it."""

    def __init__(self, column: Column, system: System) -> None:
        self.column, self.system = column, system
        unit = column.unit(system)
        super().__init__(
            label=f"{column.label} [{unit}]" if unit else column.label,
            help_text=_help(column),
            required=False,
            strip=True,
            widget=_widget(column),
        )
        self.is_optional = not column.required

    def clean(self, value: Any) -> str:
        typed = str(super().clean(value))
        try:
            self.column.read(typed, Notation(self.system))
        except Refused as refused:
            raise forms.ValidationError(says(typed, refused.expected)) from None
        return typed


def _help(column: Column) -> str:
    """The column's own help and an example; an example in the field itself reads as if typed."""
    example = f"Such as {column.example}." if column.example and not column.choices else ""
    return f"{column.help} {example}".strip()


def _widget(column: Column) -> forms.Widget:
    attrs = {"autocomplete": "off"}
    if words := _words(column):
        return forms.Select(attrs, choices=[("", "–"), *((word, _shown(word)) for word in words)])
    if column.kind is Kind.TEXT and column.longest > 200:
        return forms.Textarea({**attrs, "rows": 3})
    if column.is_number:
        attrs |= {"inputmode": "decimal"}
    return forms.TextInput(attrs)


def _words(column: Column) -> tuple[str, ...]:
    """The texts that a column takes, where they are few."""
    return ("yes", "no") if column.kind is Kind.YES_NO else column.choices


def _shown(word: str) -> str:
    return word.replace("_", " ")


class CellsForm(SeenForm):
    """A form of a schedule's columns, in a person's units; `cells` is what to keep."""

    def __init__(
        self,
        schedule: Schedule,
        system: System,
        *args: Any,
        cells: Mapping[str, str] | None = None,
        **more: Any,
    ) -> None:
        self.schedule, self.system = schedule, system
        shown = {c.head: shown_cell(c, (cells or {}).get(c.head, ""), system)
                 for c in schedule.columns}  # fmt: skip
        super().__init__(*args, initial={**shown, **more.pop("initial", {})}, **more)
        for column in schedule.columns:
            field = CellField(column, system)
            self.fields[column.head] = field
            typed = str(self[column.head].value() or "")
            if _words(column) and typed and typed not in _words(column):
                field.widget.choices = [*field.widget.choices, (typed, typed)]  # still there

    @property
    def cells(self) -> dict[str, str]:
        """The cells as typed, a bare number given the unit in which it was meant."""
        return {
            column.head: kept_cell(column, self.cleaned_data[column.head], self.system)
            for column in self.schedule.columns
        }

    def refuse_cell(self, label: str, read: str, expected: str) -> None:
        """Put a refusal beside the field of a column's label."""
        head = next((c.head for c in self.schedule.columns if c.label == label), None)
        self.add_error(head, says(read, expected))


def shown_cell(column: Column, cell: str, system: System) -> str:
    """Show a kept cell to people of a system: a bare number is metric, and says so to others."""
    if system is System.METRIC or not column.is_number:
        return cell
    return with_head_unit(cell, column.unit())


def kept_cell(column: Column, cell: str, system: System) -> str:
    """Keep a cell typed by people of a system: a bare number of theirs gets its unit."""
    return quantities.with_unit(cell, column.scale, system) if column.scale else cell
