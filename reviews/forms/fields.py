"""Fields that say, when they can't read what was typed, what they read and what they expected."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime, time
from decimal import Decimal
from typing import Any, TypeVar

from django import forms

from criteria.errors import Refused
from reviews.versions import Newer

LONGEST_WORDS = 20_000
"""Most characters of a long text: a brief of ten pages."""


def quoted(value: Any) -> str:
    """Say what was read, a long text by its beginning and its length."""
    if value is None or str(value).strip() == "":
        return "nothing"
    return f"“{Refused(str(value), '').read}”"


def says(read: Any, expected: str) -> str:
    """The one sentence of every refusal: what was read, and what was expected."""
    shown = quoted(read)
    return f"Read {shown}. Expected {expected}."


def number_in(sent: str, otherwise: int = 0) -> int:
    """The number of a row or version as it comes back; `otherwise` where none was given out.

    >>> number_in("12"), number_in("9" * 5000), number_in("²"), number_in("", -1)
    (12, 0, 0, -1)
    """
    is_number = sent.isascii() and sent.isdigit() and len(sent) < len(str(2**63))
    return int(sent) if is_number else otherwise


_Field = TypeVar("_Field", bound=forms.Field)


def of_kind(kind: type[_Field], form: forms.BaseForm, name: str) -> _Field:
    """A form's field as what it is, for what only fields of its kind have."""
    field = form.fields[name]
    assert isinstance(field, kind)
    return field


class Expects:
    """Makes a form field refuse in those words, whatever it was that was wrong."""

    def __init__(self, expected: str, *args: Any, **more: Any) -> None:
        self.expected = expected
        super().__init__(*args, **more)
        # a paste is never cut short: what is too long is refused, and still there
        self.widget.attrs.pop("maxlength", None)  # type: ignore[attr-defined]

    def clean(self, value: Any) -> Any:
        try:
            return super().clean(value)  # type: ignore[misc]
        except forms.ValidationError:
            raise forms.ValidationError(says(value, self.expected)) from None


class LineField(Expects, forms.CharField):
    """One line of words."""


class ProseField(Expects, forms.CharField):
    """Words of any number of lines."""

    def __init__(self, expected: str, rows: int = 4, **more: Any) -> None:
        more.setdefault("max_length", LONGEST_WORDS)
        super().__init__(expected, widget=forms.Textarea(attrs={"rows": rows}), **more)

    def clean(self, value: Any) -> str:
        return str(super().clean(value)).replace("\r\n", "\n").strip()


class TypedField(forms.CharField):
    """Words that are kept while they are typed: as they stand, blanks at their ends too.

    One that is too long is refused, and still there.
    """

    def __init__(self, label: str, longest: int, rows: int = 0, **more: Any) -> None:
        if rows:
            more["widget"] = forms.Textarea(attrs={"rows": rows})
        refused = "Read %(show_value)s characters. Expected %(limit_value)s at most."
        super().__init__(
            label=label,
            required=False,
            strip=False,
            max_length=longest,
            error_messages={"max_length": refused},
            **more,
        )
        self.widget.attrs.pop("maxlength", None)

    def clean(self, value: Any) -> str:
        return str(super().clean(value)).replace("\r\n", "\n")


class MailField(Expects, forms.EmailField):
    """An e-mail address, in small letters."""

    def clean(self, value: Any) -> str:
        return str(super().clean(value)).lower()


AS_TYPED = {"autocapitalize": "off", "autocorrect": "off", "spellcheck": "false"}
"""For marks, hours, lengths and whatever else a tablet would set right for whoever types it."""


class WholeField(Expects, forms.IntegerField):
    """A whole number."""

    widget = forms.TextInput(attrs={"inputmode": "numeric", "class": "num"})


class WeightField(Expects, forms.DecimalField):
    """A weight out of 100."""

    widget = forms.TextInput(attrs={"inputmode": "decimal", "class": "num"})

    def clean(self, value: Any) -> Decimal:
        typed = str(value or "").replace(",", ".").removesuffix("%").strip()
        try:
            weight: Decimal = super().clean(typed)
        except forms.ValidationError:
            raise forms.ValidationError(says(value, self.expected)) from None
        return weight


class ChosenField(Expects, forms.ChoiceField):
    """One of a few words."""


_DAYS = ("%Y-%m-%d", "%d %b %Y", "%d %B %Y", "%a %d %b %Y", "%d/%m/%Y")
_HOURS = ("%H:%M", "%H.%M", "%H:%M:%S")
_MOMENTS = ("%Y-%m-%dT%H:%M", *(f"{day}{gap}%H:%M" for day in _DAYS for gap in (" ", ", ")))


class DayField(Expects, forms.DateField):
    """A day."""

    def __init__(self, expected: str = "a day, such as 4 Dec 2026", **more: Any) -> None:
        widget = forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d")
        super().__init__(expected, widget=widget, input_formats=_DAYS, **more)

    def prepare_value(self, value: Any) -> Any:
        return value.isoformat() if isinstance(value, date) else value


class MomentField(Expects, forms.DateTimeField):
    """A day and an hour, in the site's time zone."""

    def __init__(self, expected: str = "a day and an hour: 3 Dec 2026 18:00", **more: Any) -> None:
        form = "%Y-%m-%dT%H:%M"
        widget = forms.DateTimeInput(attrs={"type": "datetime-local"}, format=form)
        super().__init__(expected, widget=widget, input_formats=_MOMENTS, **more)

    def prepare_value(self, value: Any) -> Any:
        shown = super().prepare_value(value)
        return shown.strftime("%Y-%m-%dT%H:%M") if isinstance(shown, datetime) else shown


class HourField(Expects, forms.TimeField):
    """An hour of the day."""

    def __init__(self, expected: str = "an hour, such as 09:15", **more: Any) -> None:
        widget = forms.TextInput(attrs=AS_TYPED)
        super().__init__(expected, widget=widget, input_formats=_HOURS, **more)

    def prepare_value(self, value: Any) -> Any:
        return value if isinstance(value, str) or value is None else f"{value:%H:%M}"


class SeenForm(forms.Form):
    """A form that carries what the person saw, so that a newer save is never run over.

    newer        label, what is kept and what was typed, for each field in which they differ
    newer_rows   what is kept, row by row, where the form goes with a table
    """

    seen = forms.IntegerField(min_value=0, required=False, widget=forms.HiddenInput)

    def __init__(self, *args: Any, **more: Any) -> None:
        super().__init__(*args, **more)
        self.newer: list[tuple[str, str, str]] = []
        self.newer_rows: list[list[str]] = []

    @property
    def seen_version(self) -> int:
        """The version that whoever saves had seen."""
        return self.cleaned_data.get("seen") or 0

    def show_newer(self, newer: Newer, stands_at: int) -> None:
        """Set what is kept beside what was typed; the next save is made knowing it."""
        self.newer = [
            (str(self.fields[name].label or name), str(kept or ""), str(self[name].value() or ""))
            for name, kept in newer.kept.items()
            if name in self.fields and kept != newer.sent.get(name)
        ]
        self.data = {**dict(self.data.items()), self.add_prefix("seen"): stands_at}

    def show_newer_rows(self, newer: Newer, stands_at: int, parts: Sequence[Any]) -> None:
        """Set the rows that are kept beside those that were typed."""
        self.newer_rows = [[_words(row[part]) for part in parts] for row in newer.kept]
        self.data = {**dict(self.data.items()), self.add_prefix("seen"): stands_at}

    @property
    def status(self) -> int:
        """The answer's status: conflict where something newer stands."""
        return 409 if self.newer or self.newer_rows else 200


def _words(value: Any) -> str:
    if isinstance(value, time):
        return f"{value:%H:%M}"
    return "" if value is None else str(value)
