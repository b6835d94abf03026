"""Somebody's own times as calendar entries: slots, crits, pens down and duties. No level, no word.

What was told and isn't so any more stays for a week as cancelled, so that a calendar that follows
takes it out. What counts changes is kept: orders (`KeptOrder`), crossings, interests, seats.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from datetime import date, datetime, time, timedelta
from itertools import pairwise
from typing import Any
from urllib.parse import urlsplit

from django.conf import settings
from django.utils import timezone

from reviews import clock
from reviews.exchange.calendar import Entry
from reviews.models import Crit, Duty, KeptOrder, Membership, Person, Scheme, Seat, Slot

CANCELLED_FOR = timedelta(days=7)
LOOKS_BACK = timedelta(days=60)
"""For how long after its day a crit stands in calendars."""

Line = dict[str, Any]


@dataclass(frozen=True)
class _Day:
    """A crit with its order as it stands, and what of it was told within the last week.

    told   what earlier orders said that were in force within that week, the last first
    """

    crit: Crit
    slots: tuple[Slot, ...]
    told: tuple[KeptOrder, ...]
    count: int
    changed_at: datetime | None

    @property
    def placed(self) -> set[int]:
        """The schemes whose slot has an hour."""
        return {slot.scheme_id for slot in self.slots if slot.starts_at}

    @property
    def span(self) -> tuple[datetime, datetime] | None:
        """From the first slot to the end of the last; None where no hour is set."""
        hours = [slot.starts_at for slot in self.slots if slot.starts_at]
        if not hours:
            return None
        return _at(self.crit.day, min(hours)), self.ends(self.crit.day, max(hours))

    def ends(self, day: date, starts: time) -> datetime:
        """When a slot is over."""
        return _at(day, starts) + timedelta(minutes=self.crit.slot_parts.slot_min)

    def entry(self, what: str, of: str, starts: datetime | date, **more: Any) -> Entry:
        """An entry of this crit, known by `of`."""
        return Entry(
            uid=f"crit-{self.crit.pk}-{of}@{urlsplit(settings.SITE_ADDRESS).hostname}",
            starts=starts,
            what=what,
            words=f"{self.crit.studio}. {self.crit}.",
            **{"sequence": self.count, "changed_at": self.changed_at} | more,
        )


def times_of_person(person: Person) -> list[Entry]:
    """The crits of somebody's studios with pens down, their own slots, their duties."""
    places = Membership.objects.joined().filter(person=person).values("studio")
    crits = Crit.objects.filter(studio__in=places, day__gte=clock.today() - LOOKS_BACK)
    found: list[Entry] = []
    for day in map(_day, crits.select_related("studio")):
        own = set(person.schemes.filter(studio=day.crit.studio).values_list("pk", flat=True))
        found += _of_crit(day)
        found.append(_pens_down(day))
        found += _slots(day, [slot for slot in day.slots if slot.scheme_id in own])
        found += _gone(day, own - day.placed)
        found += _duties(day, person)
    return found


def times_of_seat(seat: Seat) -> list[Entry]:
    """A juror's crit, and what they see of it."""
    day = _day(seat.crit)
    seen = {*Slot.objects.seen_by(seat).values_list("pk", flat=True)}
    changes, changed_at = _changes_of(seat)
    latest = max(filter(None, (day.changed_at, changed_at)), default=None)
    day = replace(day, count=day.count + changes, changed_at=latest)
    found = [*_of_crit(day), *_slots(day, [slot for slot in day.slots if slot.pk in seen])]
    unseen = [slot for slot in day.slots if slot.pk not in seen]
    if changed_at and changed_at >= clock.now() - CANCELLED_FOR:
        found += [replace(entry, is_cancelled=True) for entry in _slots(day, unseen)]
    return found + _gone(day, {line["scheme"] for line in _lines(day.told)} - day.placed)


def _changes_of(seat: Seat) -> tuple[int, datetime | None]:
    """How often it was changed which slots a juror sees, and when last."""
    when: list[datetime] = []
    for crossing in seat.crossings.all():
        when += filter(None, (crossing.at, crossing.taken_back_at))
    for interest in seat.interests.all():
        when += filter(None, (interest.declared_at, interest.taken_back_at))
    count = len(when) + seat.crit.changes.count()
    return count, max([*when, *filter(None, [seat.room_since])], default=None)


def _day(crit: Crit) -> _Day:
    slots = tuple(crit.slots.select_related("scheme"))
    orders = list(crit.orders.all())
    now = clock.now()
    told = [order for order, after in pairwise(orders) if after.kept_at >= now - CANCELLED_FOR]
    last = orders[-1].kept_at if orders else None
    return _Day(crit, slots, tuple(reversed(told)), len(orders), last)


def _of_crit(day: _Day) -> Iterator[Entry]:
    starts, ends = day.span or (day.crit.day, None)
    yield day.entry(
        f"{day.crit.get_kind_display()}, {day.crit.studio.title}", "day", starts, ends=ends
    )


def _pens_down(day: _Day) -> Entry:
    return day.entry(f"Pens down, {day.crit.studio.title}", "pens-down", day.crit.pens_down)


def _slots(day: _Day, slots: Iterable[Slot]) -> list[Entry]:
    return [
        _slot(day, slot.scheme, day.crit.day, slot.starts_at, slot.room)
        for slot in slots
        if slot.starts_at
    ]


def _slot(day: _Day, scheme: Scheme, on: date, starts: time, room: str, **more: Any) -> Entry:
    return day.entry(
        str(scheme),
        f"scheme-{scheme.pk}",
        _at(on, starts),
        ends=day.ends(on, starts),
        where=f"Room {room}" if room else "",
        **more,
    )


def _gone(day: _Day, schemes: set[int]) -> list[Entry]:
    """Slots that an order told of within the week, and that left it or have no hour any more."""
    last: dict[int, Line] = {}
    for line in _lines(day.told):
        if line["scheme"] in schemes and line["starts_at"]:
            last.setdefault(line["scheme"], line)
    found = Scheme.objects.in_bulk(list(last))
    return [
        _slot(
            day,
            found[pk],
            day.crit.day,
            time.fromisoformat(line["starts_at"]),
            line["room"],
            is_cancelled=True,
        )
        for pk, line in last.items()
        if pk in found
    ]


def _lines(told: Iterable[KeptOrder]) -> list[Line]:
    return [line for order in told for line in order.lines if "scheme" in line]


def _duties(day: _Day, person: Person) -> Iterator[Entry]:
    """Duties that stand, and those that an order told of within the week."""
    now = {_key(duty): duty for duty in day.crit.duties.filter(person=person)}
    told: dict[str, Line] = {}
    for order in day.told:
        for line in order.plan.get("duties", ()):
            if line["person"] == person.pk:
                told.setdefault(line["key"], line)
    for key, duty in now.items():
        yield from _duty(day, key, duty.get_kind_display(), duty.slot_id, duty.room)
    for key, line in told.items():
        if key not in now:
            kind = Duty.Kind(line["kind"]).label
            gone = _duty(day, key, kind, line["slot"], line["room"])
            yield from (replace(entry, is_cancelled=True) for entry in gone)


def duty_lines(crit: Crit) -> list[Line]:
    """Duties as a kept order remembers them, without a name."""
    return [
        {
            "key": _key(duty),
            "person": duty.person_id,
            "kind": str(duty.kind),
            "slot": duty.slot_id,
            "room": duty.room,
        }
        for duty in crit.duties.all()
    ]


def _key(duty: Duty) -> str:
    return f"{duty.kind}-{duty.person_id}-{duty.slot_id or 'day'}-{duty.room or 'all'}"


def _duty(day: _Day, key: str, kind: str, slot_id: int | None, room: str) -> Iterator[Entry]:
    """A duty of one slot in its time, one of the day from the first slot to the last."""
    slot = next((slot for slot in day.slots if slot.pk == slot_id), None)
    where = (slot.room if slot else room) or ""
    span = day.span
    if slot and slot.starts_at:
        starts = _at(day.crit.day, slot.starts_at)
        span = starts, day.ends(day.crit.day, slot.starts_at)
    what = f"{kind}: {slot.scheme}" if slot else f"{kind}, {day.crit.get_kind_display()}"
    begins, ends = span or (day.crit.day, None)
    where = f"Room {where}" if where else ""
    yield day.entry(what, f"duty-{key}", begins, ends=ends, where=where)


def _at(day: date, hour: time) -> datetime:
    return timezone.make_aware(datetime.combine(day, hour))
