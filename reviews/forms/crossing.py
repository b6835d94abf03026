"""A juror who for one slot sits in another room, by hand."""

from __future__ import annotations

from typing import Any

from django import forms

from reviews.deeds.crit_crossing import Move
from reviews.forms.fields import ChosenField, LineField, of_kind, says
from reviews.models import Crit, Seat, Slot

COMES, AWAY = "comes", "away"


class CrossingForm(forms.Form):
    """Which juror, which slot, to it or away from it, and why."""

    seat = forms.ModelChoiceField(
        Seat.objects.none(), label="Juror", error_messages={"required": says("", "a juror")}
    )
    slot = forms.ModelChoiceField(
        Slot.objects.none(), label="Slot", error_messages={"required": says("", "a slot")}
    )
    comes = ChosenField(
        "one of the two",
        label="Where to",
        choices=[(COMES, "Comes to it"), (AWAY, "Is away from it")],
        initial=COMES,
    )
    reason = LineField("at most 240 characters", max_length=240, required=False, label="Why")

    def __init__(self, data: Any, *, crit: Crit) -> None:
        super().__init__(data, prefix="crossing")
        slots = crit.slots.select_related("scheme")
        of_kind(forms.ModelChoiceField, self, "seat").queryset = crit.seats.named()
        of_kind(forms.ModelChoiceField, self, "slot").queryset = slots

    @property
    def move(self) -> Move:
        """What is to be kept."""
        cleaned = self.cleaned_data
        return Move(cleaned["seat"], cleaned["slot"], cleaned["comes"] == COMES)
