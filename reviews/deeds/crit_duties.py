"""Who keeps time and takes notes at a crit: kept whole, remembered with the order."""

from __future__ import annotations

from typing import Any

from django.db import transaction

from reviews.deeds.crit_running_order import remember
from reviews.deeds.record_versions import is_change
from reviews.models import Crit, Duty, Person
from reviews.models.briefs import Frozen
from reviews.versions import Newer

PARTS = ("person", "kind", "slot", "room")
SHOWN = ("name", "kind", "room")
"""What is shown of a duty where somebody else kept others meanwhile."""

Line = dict[str, Any]
"""person and slot (pk; None: the whole day), kind, room ("" is all)."""


def lines_of(crit: Crit) -> list[Line]:
    """Duties as they are compared and kept."""
    return in_order([dict(each) for each in crit.duties.values(*PARTS)])


def in_order(lines: list[Line]) -> list[Line]:
    """The same lines in one order, however they are sent."""
    return sorted(lines, key=lambda line: tuple(str(line[part]) for part in PARTS))


@transaction.atomic
def keep_duties(crit: Crit, lines: list[Line], seen: int, by: Person) -> None:
    """Keep all duties of a crit. Raises Newer, Frozen once it is released."""
    held = Crit.objects.hold(crit.pk)
    now, wanted = lines_of(held), in_order(lines)
    try:
        if not is_change(now, wanted, seen):
            return
    except Newer as newer:
        raise Newer(_named(held), newer.sent) from None
    if held.is_released:
        raise Frozen("The crit is released. Who kept time and notes stays as it was.")
    for duty in held.duties.all():
        stands = {"person": duty.person_id, "kind": duty.kind, "slot": duty.slot_id}
        if stands | {"room": duty.room} not in wanted:
            duty.delete()
    for line in wanted:
        if line not in now:
            whose, kept = line["person"], {name: line[name] for name in ("kind", "room")}
            Duty.objects.create(crit=held, person_id=whose, slot_id=line["slot"], **kept)
    remember(held, by, lot=held.drawn_seed)


def _named(crit: Crit) -> list[Line]:
    """Duties with names in place of keys, as they are shown."""
    return [
        {"name": duty.person.name, "kind": duty.get_kind_display(), "room": _where(duty)}
        for duty in crit.duties.select_related("person", "slot__scheme")
    ]


def _where(duty: Duty) -> str:
    return str(duty.slot.scheme) if duty.slot else duty.room or "all rooms"
