"""The running order: its rows and breaks, and copying another crit's."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django import forms
from django.forms.formsets import BaseFormSet

from reviews.deeds import crit_running_order
from reviews.deeds.crit_running_order import Line, in_order
from reviews.deeds.record_versions import version_of
from reviews.forms.crits import MOST_ROWS, RowsForm, rows_of
from reviews.forms.fields import (
    HourField,
    LineField,
    SeenForm,
    WholeField,
    number_in,
    of_kind,
    says,
)
from reviews.models import Crit, Scheme

MOST_LOT = 999_999
"""The longest lot that is called out: six figures."""


class SlotForm(forms.Form):
    """One scheme's place in the order; without a place it isn't in it."""

    scheme = forms.IntegerField(widget=forms.HiddenInput)
    position = WholeField(
        f"a whole number from 1 to {MOST_ROWS}, or a blank",
        label="Place",
        required=False,
        min_value=1,
        max_value=MOST_ROWS,
    )
    room = LineField("a room of at most 12 characters", max_length=12, required=False, label="Room")
    starts_at = HourField(label="Time", required=False)

    def __init__(self, *args: Any, schemes: Mapping[int, Scheme], **more: Any) -> None:
        super().__init__(*args, **more)
        self.schemes = schemes

    @property
    def presents(self) -> Scheme | None:
        """The scheme of this row."""
        return self.schemes.get(number_in(str(self["scheme"].value())))

    def clean_scheme(self) -> int:
        pk: int = self.cleaned_data["scheme"]
        if pk not in self.schemes:
            raise forms.ValidationError("Read a scheme that isn't of this studio, or is withdrawn.")
        return pk

    @property
    def line(self) -> Line:
        parts = ("scheme", "position", "room", "starts_at")
        return {name: self.cleaned_data[name] for name in parts}


class SlotRows(BaseFormSet):  # type: ignore[type-arg]
    """A running order: places are unique in each room."""

    default_error_messages = {
        "missing_management_form": "The rows were cut short on the way. Save them once more.",
    }

    def clean(self) -> None:
        taken: set[tuple[str, int | None]] = set()
        schemes: set[int | None] = set()
        for form in self.forms:
            line = getattr(form, "cleaned_data", {})
            place, room, scheme = line.get("position"), line.get("room", ""), line.get("scheme")
            if place and (room, place) in taken:
                expected = "a place that no scheme of the same room has above"
                form.add_error("position", says(place, expected))
            if scheme in schemes:
                form.add_error("position", "This scheme stands twice. Expected it once.")
            taken.add((room, place))
            schemes.add(scheme)

    @property
    def lines(self) -> list[Line]:
        """The schemes that have a place."""
        return in_order([f.line for f in self.forms if f.cleaned_data.get("position")])


SlotFormSet = rows_of(SlotForm, SlotRows, extra=0)


class OrderForm(SeenForm):
    """What goes with the rows: what was seen, and the lot where they were drawn."""

    lot = forms.IntegerField(
        required=False, min_value=0, max_value=MOST_LOT, widget=forms.HiddenInput
    )


class BreakForm(forms.Form):
    """One break of the day."""

    starts_at = HourField(label="From")
    minutes = WholeField("1 to 240 minutes", label="Minutes", min_value=1, max_value=240)
    room = LineField("a room of at most 12 characters", max_length=12, required=False, label="Room")
    words = LineField("at most 80 characters", max_length=80, required=False, label="What for")

    @property
    def line(self) -> Line:
        return {name: self.cleaned_data[name] for name in crit_running_order.BREAK_PARTS}


class BreakRows(RowsForm):
    """The breaks of a day; several may be at one hour, in different rooms."""


BreakFormSet = rows_of(BreakForm, BreakRows, extra=1, can_delete=True)


class CopyForm(forms.Form):
    """Another crit of the studio whose order is copied."""

    crit = forms.ModelChoiceField(
        Crit.objects.none(),
        label="Order of",
        empty_label=None,
        error_messages={
            "invalid_choice": "Expected a crit of this studio with an order.",
            "required": says("", "a crit of this studio with an order"),
        },
    )

    def __init__(self, data: Any, *, crit: Crit) -> None:
        super().__init__(data, prefix="copy")
        others = crit.studio.crits.exclude(pk=crit.pk).filter(slots__isnull=False).distinct()
        of_kind(forms.ModelChoiceField, self, "crit").queryset = others


class OrderPage:
    """Everything on the page of a running order, for one of its two deeds: keep, copy."""

    def __init__(self, crit: Crit, data: Any) -> None:
        self.deed = data.get("deed", "keep") if data else ""
        now, breaks = crit_running_order.lines_of(crit), crit_running_order.breaks_of(crit)
        self.copy = CopyForm(self._data("copy", data), crit=crit)
        proposed, lot = self._proposed(crit, now)
        schemes = {scheme.pk: scheme for scheme in crit_running_order.schemes_of(crit)}
        kept = self._data("keep", data)
        self.order = OrderForm(kept, initial={"seen": version_of([*now, *breaks]), "lot": lot})
        self.rows = SlotFormSet(
            kept,
            initial=_with_the_rest(proposed, schemes),
            form_kwargs={"schemes": schemes},
            prefix="rows",
        )
        # a page of before breaks were kept here sends none of them, and leaves them as they are
        has_breaks = kept is None or "breaks-TOTAL_FORMS" in kept
        self.breaks = BreakFormSet(kept if has_breaks else None, initial=breaks, prefix="breaks")
        self._sends_breaks = kept is not None and has_breaks

    def _data(self, deed: str, data: Any) -> Any:
        return data if deed == self.deed else None

    def _proposed(self, crit: Crit, now: list[Line]) -> tuple[list[Line], int | None]:
        if self.copy.is_bound and self.copy.is_valid():
            return crit_running_order.copied_lines(crit, self.copy.cleaned_data["crit"]), None
        return now, crit.drawn_seed

    @property
    def is_proposed(self) -> bool:
        """Whether the rows are a proposal that isn't kept yet."""
        return self.deed == "copy" and self.copy.is_valid()

    @property
    def can_copy(self) -> bool:
        """Whether another crit of the studio has an order."""
        return bool(of_kind(forms.ModelChoiceField, self.copy, "crit").queryset)

    @property
    def break_lines(self) -> list[Line] | None:
        """The breaks to keep; None leaves them as they are."""
        return self.breaks.lines if self._sends_breaks else None

    def is_to_keep(self) -> bool:
        """Whether rows were sent that can be kept."""
        breaks_stand = not self._sends_breaks or self.breaks.is_valid()
        return (
            self.deed == "keep" and self.rows.is_valid() and self.order.is_valid() and breaks_stand
        )


def _with_the_rest(lines: list[Line], schemes: Mapping[int, Scheme]) -> list[Line]:
    """The lines, and below them a row without a place for each scheme that has none."""
    placed = {line["scheme"] for line in lines}
    kept = [line for line in lines if line["scheme"] in schemes]
    return [*kept, *({"scheme": pk} for pk in schemes if pk not in placed)]
