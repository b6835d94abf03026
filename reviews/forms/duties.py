"""Who keeps time in a room and takes notes in a slot, a row each."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from django import forms

from reviews.deeds import crit_duties
from reviews.deeds.crit_duties import Line
from reviews.deeds.record_versions import version_of
from reviews.forms.crits import RowsForm, rows_of
from reviews.forms.fields import ChosenField, SeenForm, says
from reviews.models import Crit, Duty, Membership, Person, Slot

Choices = Sequence[tuple[str, str]]


class DutyForm(forms.Form):
    """One duty; without a person it isn't kept."""

    kind = ChosenField(
        "scribe or timekeeper",
        label="Duty",
        choices=[("", "–"), *Duty.Kind.choices],
        required=False,
    )
    slot = ChosenField("a slot, or the whole day", label="Slot", required=False)
    room = ChosenField("a room, or all rooms", label="Room", required=False)
    person = ChosenField("somebody of this studio", label="Who", required=False)

    def __init__(
        self,
        *args: Any,
        people: Choices,
        slots: Choices,
        rooms: Choices,
        presents: dict[str, set[str]],
        **more: Any,
    ) -> None:
        super().__init__(*args, **more)
        self.presents = presents
        for name, choices in (("person", people), ("slot", slots), ("room", rooms)):
            field = self.fields[name]
            assert isinstance(field, forms.ChoiceField)
            field.choices = choices

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or {}
        person, slot = cleaned.get("person"), cleaned.get("slot")
        if person and "kind" in cleaned and not cleaned["kind"]:
            self.add_error("kind", says("", "scribe or timekeeper"))
        if person and slot and person in self.presents.get(slot, ()):
            name = dict(self.fields["person"].choices)[person]  # type: ignore[attr-defined]
            self.add_error("person", says(name, "somebody who doesn't present in that slot"))
        return cleaned

    @property
    def line(self) -> Line:
        cleaned = self.cleaned_data
        slot = int(cleaned["slot"]) if cleaned["slot"] else None
        room = "" if slot else cleaned["room"]
        return {
            "person": int(cleaned["person"]),
            "kind": cleaned["kind"],
            "slot": slot,
            "room": room,
        }


class DutyRows(RowsForm):
    """All duties of a crit; each stands once."""

    @property
    def lines(self) -> list[Line]:
        """The rows that name somebody, each once."""
        kept = [form for form in self.forms if form.cleaned_data.get("person")]
        found = [form.line for form in kept if not form.cleaned_data.get("DELETE")]
        return [line for n, line in enumerate(found) if line not in found[:n]]


DutyFormSet = rows_of(DutyForm, DutyRows, extra=1, can_delete=True)


class DutiesPage:
    """The table of duties: those that stand, and a row for whatever has nobody yet."""

    def __init__(self, crit: Crit, data: Any) -> None:
        now = crit_duties.lines_of(crit)
        slots = list(crit.slots.select_related("scheme").prefetch_related("scheme__members"))
        self.head = SeenForm(data, initial={"seen": version_of(now)})
        self.rows = DutyFormSet(
            data,
            initial=[*_as_shown(now), *_without_anybody(now, slots)],
            form_kwargs={
                "people": [("", "nobody yet"), *_people(crit)],
                "slots": [("", "the whole day"), *((str(s.pk), _slot_words(s)) for s in slots)],
                "rooms": [("", "all rooms"), *((room, f"Room {room}") for room in _rooms(slots))],
                "presents": {str(s.pk): {str(m.pk) for m in s.scheme.members.all()} for s in slots},
            },
            prefix="rows",
        )

    def is_to_keep(self) -> bool:
        """Whether rows were sent that can be kept."""
        return self.head.is_bound and self.rows.is_valid() and self.head.is_valid()

    @property
    def lines(self) -> list[Line]:
        """The duties to keep."""
        return self.rows.lines


def _as_shown(lines: list[Line]) -> list[dict[str, str]]:
    return [{name: str(line[name] or "") for name in crit_duties.PARTS} for line in lines]


def _without_anybody(now: list[Line], slots: list[Slot]) -> list[dict[str, str]]:
    noted = {line["slot"] for line in now if line["kind"] == Duty.Kind.SCRIBE}
    timed = {line["room"] for line in now if line["kind"] == Duty.Kind.TIMEKEEPER}
    rooms = [] if "" in timed else [room for room in _rooms(slots) or [""] if room not in timed]
    return [
        *({"kind": Duty.Kind.TIMEKEEPER, "room": room} for room in rooms),
        *({"kind": Duty.Kind.SCRIBE, "slot": str(s.pk)} for s in slots if s.pk not in noted),
    ]


def _rooms(slots: list[Slot]) -> list[str]:
    return sorted({slot.room for slot in slots if slot.room})


def _people(crit: Crit) -> list[tuple[str, str]]:
    """Whoever has joined the studio: scribes first, for it is theirs to write."""
    places = Membership.objects.joined().filter(studio=crit.studio).select_related("person")
    scribes = {place.person for place in places if place.role == Membership.Role.SCRIBE}
    others = {place.person for place in places} - scribes
    there = Person.objects.filter(duties__crit=crit)
    known = [*_by_name(scribes), *_by_name((others | set(there)) - scribes)]
    return [(str(person.pk), person.name) for person in known]


def _by_name(people: set[Person]) -> list[Person]:
    return sorted(people, key=lambda person: person.name)


def _slot_words(slot: Slot) -> str:
    hour = f"{slot.starts_at:%H:%M} " if slot.starts_at else ""
    room = f", room {slot.room}" if slot.room else ""
    return f"{hour}{slot.scheme}{room}"
