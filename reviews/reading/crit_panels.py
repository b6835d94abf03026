"""Who sits before which scheme of a crit as it is kept, what that asks too much, what it compares.

The rules stand in `criteria.crit_day`; here a crit's rows are made ready for them. Jurors and
schemes go by keys, as names and numbers may be changed; words get the names again.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from criteria.crit_day import panels
from criteria.crit_day.connected import Design, design_of
from criteria.crit_day.crossing import Proposal, who_could_cross
from criteria.crit_day.panels import Panel, Sees
from criteria.crit_day.timetable import Turn
from criteria.crit_day.warnings import Duty as SlotDuty
from criteria.crit_day.warnings import Warned, warnings_of
from reviews import clock
from reviews.models import Crit, Duty, Seat, Slot
from reviews.reading.crit_clock import STOOD_DOWN
from reviews.reading.crit_day import timed


@dataclass(frozen=True)
class CritPanels:
    """A crit's jurors and slots as they are kept, with interests and crossings."""

    crit: Crit
    seats: tuple[Seat, ...]
    slots: tuple[Slot, ...]
    duties: tuple[Duty, ...]

    @cached_property
    def sees(self) -> Sees:
        """Who sees what. Jurors by name, schemes by number: both are unique in a crit."""
        minutes = self.crit.slot_parts.slot_min
        number = {slot.scheme_id: slot.scheme.number for slot in self.slots}
        of_slot = {slot.pk: slot.scheme.number for slot in self.slots}
        return Sees(
            tuple(panels.Juror(seat.name, seat.room, seat.kind) for seat in self.seats),
            tuple(_turn(slot, minutes) for slot in self.slots),
            tuple(
                panels.Interest(seat.name, number[one.scheme_id], one.may_comment)
                for seat in self.seats
                for one in seat.interests.all()
                if one.taken_back_at is None and one.scheme_id in number
            ),
            tuple(
                panels.Crossing(seat.name, of_slot[one.slot_id], one.comes)
                for seat in self.seats
                for one in seat.crossings.all()
                if one.taken_back_at is None and one.slot_id in of_slot
            ),
        )

    @cached_property
    def opening(self) -> int:
        """How many schemes stand first that all jurors see together, where rooms part later."""
        rooms = [slot.room for slot in self.slots]
        if not any(rooms):
            return 0
        return next((n for n, room in enumerate(rooms) if room), 0)

    @cached_property
    def design(self) -> Design:
        """How firmly the schemes hang together."""
        return design_of(self.sees)

    @property
    def rows(self) -> list[tuple[Slot, Panel]]:
        """Each slot with who sits there."""
        return [(slot, self.sees.panel(slot.scheme.number)) for slot in self.slots]

    def proposals(self, slot: Slot) -> tuple[Proposal, ...]:
        """Who could cross rooms for a slot whose panel is too small, the best first."""
        if not self.seats:
            return ()
        return who_could_cross(slot.scheme.number, self.sees, opening=self.opening)

    @cached_property
    def warned(self) -> tuple[Warned, ...]:
        """What of the day asks too much of somebody; duties among it."""
        parts = self.crit.slot_parts
        return warnings_of(self.sees, change_min=parts.change_min, duties=self._slot_duties())

    def _slot_duties(self) -> list[SlotDuty]:
        """Who takes notes in which slot, and what they present at this crit."""
        number = {slot.pk: slot.scheme.number for slot in self.slots}
        own = {
            member.pk: slot.scheme.number
            for slot in self.slots
            for member in slot.scheme.members.all()
        }
        return [
            SlotDuty(duty.person.name, number[duty.slot_id], own.get(duty.person_id, ""))
            for duty in self.duties
            if duty.slot_id in number
        ]


def panels_of(crit: Crit) -> CritPanels:
    """Read a crit's panels as they are kept, of slots that didn't stand down."""
    slots = list(crit.slots.select_related("scheme").prefetch_related("scheme__members"))
    for slot in slots:
        slot.crit = crit
    day = timed(crit, slots, clock.now())
    return CritPanels(
        crit=crit,
        seats=tuple(crit.seats.prefetch_related("interests", "crossings")),
        slots=tuple(each.slot for each in day if each.clock.state not in STOOD_DOWN),
        duties=tuple(crit.duties.select_related("person")),
    )


def concerns(crit: Crit) -> list[str]:
    """Say what of an order asks too much of somebody. Warnings; nothing is locked by them."""
    read = panels_of(crit)
    if not read.slots:
        return []
    if crit.kind == Crit.Kind.RECRIT:  # small by rule, and few of the studio's schemes are in it
        return [each.words for each in read.warned if each.about not in ("panel", "mixed")]
    return [*(each.words for each in read.warned), *_left_out(crit)]


def _left_out(crit: Crit) -> list[str]:
    schemes = crit.studio.schemes.standing().exclude(slots__crit=crit).order_by("number")
    return [f"{scheme} is not in the order." for scheme in schemes]


def _turn(slot: Slot, minutes: int) -> Turn:
    if slot.starts_at is None:
        return Turn(slot.scheme.number, slot.room, None, None)
    starts = slot.starts_at.hour * 60 + slot.starts_at.minute
    return Turn(slot.scheme.number, slot.room, starts, starts + minutes)
