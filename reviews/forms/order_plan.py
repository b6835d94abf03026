"""How a day is planned: rooms, first hour, opening, breaks; and the lot by which it is drawn."""

from __future__ import annotations

from typing import Any
from urllib.parse import urlencode

from django import forms

from criteria.crit_day.timetable import Plan
from reviews.deeds.crit_running_order import last_laid, schemes_of
from reviews.forms.fields import HourField, LineField, WholeField, says
from reviews.forms.order import MOST_LOT
from reviews.models import Crit

MOST_ROOMS = 6
LONGEST_ROOM = 12


class PlanForm(forms.Form):
    """How an order is laid out over the day; sent by address, so that it can be passed on."""

    rooms = LineField(
        "names of rooms parted by spaces: A B",
        label="Rooms",
        required=False,
        max_length=80,
        help_text="A B where two run side by side; blank is one room",
    )
    first = HourField(label="First slot")
    opening = WholeField(
        "0 to 6 schemes",
        label="Opening schemes",
        min_value=0,
        max_value=6,
        help_text="Seen by all jurors together before rooms part; two let levels settle",
    )
    break_every = WholeField(
        "0 to 12 slots", label="Break after [slots]", min_value=0, max_value=12
    )
    break_min = WholeField("0 to 120 minutes", label="Break [min]", min_value=0, max_value=120)
    move_min = WholeField(
        "0 to 60 minutes",
        label="Change of rooms [min]",
        min_value=0,
        max_value=60,
        help_text="After the opening, and at half-time",
    )
    half_time_swap = forms.BooleanField(
        label="One juror of each room changes rooms at half-time", required=False
    )

    def __init__(self, data: Any, *, crit: Crit) -> None:
        self.crit = crit
        super().__init__(data if data and "first" in data else self.usual(crit))

    def usual(self, crit: Crit) -> dict[str, Any]:
        """What stands in the form before anything is asked: as last laid out, or usual."""
        laid = last_laid(crit)
        usual = {"first": "09:15", "opening": 2, "break_every": 3, "break_min": 15, "move_min": 11}
        kept = {name: laid[name] for name in (*usual, "half_time_swap") if name in laid}
        return usual | kept | {"rooms": " ".join(laid.get("rooms", ()))}

    def clean_rooms(self) -> tuple[str, ...]:
        rooms = tuple(str(self.cleaned_data["rooms"]).replace(",", " ").split())
        fits = len(rooms) <= MOST_ROOMS and all(len(room) <= LONGEST_ROOM for room in rooms)
        if not fits or len(set(rooms)) != len(rooms):
            expected = (
                f"at most {MOST_ROOMS} names, each once, of {LONGEST_ROOM} characters at most"
            )
            raise forms.ValidationError(says(" ".join(rooms), expected))
        return rooms

    @property
    def cell_fields(self) -> list[forms.BoundField]:
        """What stands in cells: neither boxes nor what is hidden."""
        return [field for field in self.visible_fields() if field.widget_type != "checkbox"]

    @property
    def boxes(self) -> list[forms.BoundField]:
        """What is ticked."""
        return [field for field in self.visible_fields() if field.widget_type == "checkbox"]

    @property
    def plan(self) -> Plan:
        """The day to lay an order out over."""
        parts = ("rooms", "opening", "first", "break_every", "break_min", "move_min")
        asked = {name: self.cleaned_data[name] for name in parts}
        swap = self.cleaned_data["half_time_swap"]
        return Plan(parts=self.crit.slot_parts, half_time_swap=swap, **asked)

    @property
    def query(self) -> str:
        """The same again, as it stands in an address."""
        sent = {name: self[name].value() for name in PlanForm.base_fields}
        return urlencode(
            {name: value for name, value in sent.items() if value not in (None, False)}
        )


class HoursForm(PlanForm):
    """The same, and for how many: what is asked before anybody is invited."""

    schemes = WholeField("1 to 200 schemes", label="Schemes", min_value=1, max_value=200)
    jurors = WholeField("0 to 60 jurors", label="Jurors", min_value=0, max_value=60)

    def usual(self, crit: Crit) -> dict[str, Any]:
        standing = [scheme for scheme in schemes_of(crit) if scheme.withdrawn_at is None]
        counts = {"schemes": len(standing) or 14, "jurors": crit.seats.count()}
        return super().usual(crit) | counts


class DrawForm(PlanForm):
    """The same, and the lot."""

    lot = WholeField(
        f"a whole number from 0 to {MOST_LOT}",
        label="Lot",
        min_value=0,
        max_value=MOST_LOT,
        help_text="Any number, called out before the class. It gives the same order again.",
    )
    agree = LineField(
        "numbers of schemes parted by spaces: H12 H06",
        label="Agree to open",
        required=False,
        max_length=400,
        help_text="Numbers of schemes; the opening is drawn of them. Blank draws it of all.",
    )
    rotates = forms.BooleanField(
        label="Thirds rotate: whoever was in the first third last time is not in it now",
        required=False,
    )
    shares = forms.BooleanField(
        label="Jurors are shared among the rooms by the same lot", required=False
    )

    def __init__(self, data: Any, *, crit: Crit, suggested: int) -> None:
        self.suggested = suggested
        super().__init__(data, crit=crit)
        if data and "first" in data and "lot" not in data:  # from the plan, without a lot yet
            self.data = {**data.dict(), **self._ticked(crit), "lot": suggested}

    def usual(self, crit: Crit) -> dict[str, Any]:
        return super().usual(crit) | self._ticked(crit) | {"lot": self.suggested}

    def _ticked(self, crit: Crit) -> dict[str, Any]:
        seated = crit.seats.exclude(room="").exists()
        return {"rotates": "on"} | ({} if seated else {"shares": "on"})

    def clean_agree(self) -> tuple[str, ...]:
        sent = str(self.cleaned_data["agree"]).replace(",", " ").upper().split()
        there = {s.number.upper(): s.number for s in schemes_of(self.crit) if not s.withdrawn_at}
        if unknown := [number for number in sent if number not in there]:
            raise forms.ValidationError(
                says(" ".join(unknown), "numbers of schemes of this studio, such as H12 H06")
            )
        return tuple(dict.fromkeys(there[number] for number in sent))

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or {}
        if cleaned.get("half_time_swap") and not cleaned.get("shares"):
            self.add_error("half_time_swap", "Expected jurors shared among the rooms too.")
        return cleaned
