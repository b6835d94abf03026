"""The running order: its rows, the draw, and copying another crit's."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django import forms
from django.forms.formsets import BaseFormSet

from reviews.deeds import crit_running_order
from reviews.deeds.crit_running_order import SLOT_MINUTES, Day, Line, in_order
from reviews.deeds.record_versions import version_of
from reviews.forms.crits import MOST_ROWS, rows_of
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


class DrawForm(forms.Form):
    """How an order is drawn and laid out over the day."""

    seed = WholeField(
        "a whole number from 0 to 999999",
        label="Lot",
        min_value=0,
        max_value=MOST_LOT,
        help_text="Any number, called out before the class. It gives the same order again.",
    )
    rooms = LineField(
        "names of rooms parted by spaces: A B",
        label="Rooms",
        required=False,
        max_length=80,
        help_text="A B where two run side by side; blank is one room",
    )
    opening = WholeField(
        "0 to 6 schemes",
        label="Opening schemes",
        min_value=0,
        max_value=6,
        help_text="Seen by all jurors together before rooms part; two let levels settle",
    )
    first = HourField(label="First slot")
    slot_min = WholeField("5 to 120 minutes", label="Slot [min]", min_value=5, max_value=120)
    break_every = WholeField(
        "0 to 12 slots", label="Break after [slots]", min_value=0, max_value=12
    )
    break_min = WholeField("0 to 120 minutes", label="Break [min]", min_value=0, max_value=120)
    spare_early = forms.BooleanField(
        label="Whoever was in the first third last time is not in it now", required=False
    )

    def __init__(self, data: Any, *, crit: Crit, suggested: int) -> None:
        usual = {
            "seed": suggested,
            "rooms": "",
            "opening": 2,
            "first": "09:15",
            "break_every": 3,
            "slot_min": SLOT_MINUTES[Crit.Kind(crit.kind)],
            "break_min": 15,
            "spare_early": True,
        }
        super().__init__(data, initial=usual, prefix="draw")

    @property
    def day_fields(self) -> list[forms.BoundField]:
        """Everything but the box."""
        return [field for field in self if field.name != "spare_early"]

    @property
    def plan(self) -> Day:
        """The day to lay the order out over."""
        cleaned = self.cleaned_data
        rooms = tuple(cleaned["rooms"].replace(",", " ").split())
        parts = ("opening", "first", "slot_min", "break_every", "break_min")
        return Day(rooms, **{name: cleaned[name] for name in parts})


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
    """Everything on the page of a running order, for one of its three deeds: keep, draw, copy."""

    def __init__(self, crit: Crit, data: Any) -> None:
        self.deed = data.get("deed", "keep") if data else ""
        now = crit_running_order.lines_of(crit)
        suggested = crit_running_order.new_lot()
        self.draw = DrawForm(self._data("draw", data), crit=crit, suggested=suggested)
        self.copy = CopyForm(self._data("copy", data), crit=crit)
        proposed, lot = self._proposed(crit, now)
        schemes = {scheme.pk: scheme for scheme in crit_running_order.schemes_of(crit)}
        self.order = OrderForm(
            self._data("keep", data), initial={"seen": version_of(now), "lot": lot}
        )
        self.rows = SlotFormSet(
            self._data("keep", data),
            initial=_with_the_rest(proposed, schemes),
            form_kwargs={"schemes": schemes},
            prefix="rows",
        )

    def _data(self, deed: str, data: Any) -> Any:
        return data if deed == self.deed else None

    def _proposed(self, crit: Crit, now: list[Line]) -> tuple[list[Line], int | None]:
        if self.draw.is_bound and self.draw.is_valid():
            lot, spare = self.draw.cleaned_data["seed"], self.draw.cleaned_data["spare_early"]
            return crit_running_order.drawn_lines(crit, self.draw.plan, lot, spare_early=spare), lot
        if self.copy.is_bound and self.copy.is_valid():
            return crit_running_order.copied_lines(crit, self.copy.cleaned_data["crit"]), None
        return now, crit.drawn_seed

    @property
    def is_proposed(self) -> bool:
        """Whether the rows are a proposal that isn't kept yet."""
        asked = {"draw": self.draw, "copy": self.copy}.get(self.deed)
        return asked is not None and asked.is_valid()

    @property
    def can_copy(self) -> bool:
        """Whether another crit of the studio has an order."""
        return bool(of_kind(forms.ModelChoiceField, self.copy, "crit").queryset)

    def is_to_keep(self) -> bool:
        """Whether rows were sent that can be kept."""
        return self.deed == "keep" and self.rows.is_valid() and self.order.is_valid()


def _with_the_rest(lines: list[Line], schemes: Mapping[int, Scheme]) -> list[Line]:
    """The lines, and below them a row without a place for each scheme that has none."""
    placed = {line["scheme"] for line in lines}
    kept = [line for line in lines if line["scheme"] in schemes]
    return [*kept, *({"scheme": pk} for pk in schemes if pk not in placed)]
